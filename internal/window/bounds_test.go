package window_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// TestBounds: every input has its limits, and the error names the field.
func TestBounds(t *testing.T) {
	nan := math.NaN()
	rows := []struct {
		name   string
		code   fault.Code
		field  string
		change func(s *window.Shore, q *window.Query)
	}{
		{"workable height too high", fault.BadInput, "below", func(s *window.Shore, q *window.Query) { s.BelowM = 20.001 }},
		{"workable height too low", fault.BadInput, "below", func(s *window.Shore, q *window.Query) { s.BelowM = -20.001 }},
		{"workable height no number", fault.BadInput, "below", func(s *window.Shore, q *window.Query) { s.BelowM = nan }},
		{"workable height infinite", fault.BadInput, "below", func(s *window.Shore, q *window.Query) { s.BelowM = math.Inf(-1) }},
		{"way-off height too high", fault.BadInput, "wayOff", func(s *window.Shore, q *window.Query) { s.WayOffM = metre(21) }},
		{"way-off height no number", fault.BadInput, "wayOff", func(s *window.Shore, q *window.Query) { s.WayOffM = &nan }},
		{"margin negative", fault.BadInput, "margin", func(s *window.Shore, q *window.Query) { s.Margin = -time.Second }},
		{"margin too long", fault.BadInput, "margin", func(s *window.Shore, q *window.Query) { s.Margin = 3*time.Hour + time.Second }},
		{"walk out negative", fault.BadInput, "walkOut", func(s *window.Shore, q *window.Query) { s.WalkOut = -time.Minute }},
		{"walk out too long", fault.BadInput, "walkOut", func(s *window.Shore, q *window.Query) { s.WalkOut = math.MaxInt64 }},
		{"travel negative", fault.BadInput, "travel", func(s *window.Shore, q *window.Query) { s.Travel = math.MinInt64 }},
		{"travel too long", fault.BadInput, "travel", func(s *window.Shore, q *window.Query) { s.Travel = 25 * time.Hour }},
		{"raise negative", fault.BadInput, "raise", func(s *window.Shore, q *window.Query) { s.RaiseM = metre(-0.1) }},
		{"raise too much", fault.BadInput, "raise", func(s *window.Shore, q *window.Query) { s.RaiseM = metre(1.01) }},
		{"pressure too low", fault.BadInput, "pressure", func(s *window.Shore, q *window.Query) { s.PressureHPa = metre(869) }},
		{"pressure too high", fault.BadInput, "pressure", func(s *window.Shore, q *window.Query) { s.PressureHPa = metre(1086) }},
		{"form number negative", fault.BadInput, "formNumber", func(s *window.Shore, q *window.Query) { s.FormNumber = -1 }},
		{"form number infinite", fault.BadInput, "formNumber", func(s *window.Shore, q *window.Query) { s.FormNumber = math.Inf(1) }},
		{"latitude", fault.BadInput, "latDeg", func(s *window.Shore, q *window.Query) { s.Site.LatDeg = 90.1 }},
		{"longitude", fault.BadInput, "lonEastDeg", func(s *window.Shore, q *window.Query) { s.Site.LonEastDeg = -180.1 }},
		{"no zone", fault.BadInput, "zone", func(s *window.Shore, q *window.Query) { s.Zone = nil }},
		{"the host's zone", fault.BadInput, "zone", func(s *window.Shore, q *window.Query) { s.Zone = time.Local }},
		{"light", fault.BadInput, "light", func(s *window.Shore, q *window.Query) { q.Light = "moon" }},
		{"no light", fault.BadInput, "light", func(s *window.Shore, q *window.Query) { q.Light = "" }},
		{"ends before it begins", fault.BadInput, "to", func(s *window.Shore, q *window.Query) { q.To = q.From.Add(-time.Hour) }},
		{"empty", fault.BadInput, "to", func(s *window.Shore, q *window.Query) { q.To = q.From }},
		{"over five years", fault.SpanTooLong, "to", func(s *window.Shore, q *window.Query) { q.To = q.From.Add(5*366*24*time.Hour + time.Second) }},
		{"over all of time", fault.SpanTooLong, "to", func(s *window.Shore, q *window.Query) {
			q.From, q.To = time.Time{}, time.Unix(1<<60, 0)
		}},
		{"least negative", fault.BadInput, "least", func(s *window.Shore, q *window.Query) { q.Least = -1 }},
		{"least too long", fault.BadInput, "least", func(s *window.Shore, q *window.Query) { q.Least = 25 * time.Hour }},
		{"a weekday that is none", fault.BadInput, "days", func(s *window.Shore, q *window.Query) { q.Days = []time.Weekday{7} }},
		{"what the tide says", fault.BadInput, "from", func(s *window.Shore, q *window.Query) {
			q.From, q.To = at("1850-01-01 00:00"), at("1850-01-02 00:00")
		}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			shore, query := shoreBelow(1), wednesday
			row.change(&shore, &query)
			_, err := window.Reckon(shore, wide, query)
			require.Error(t, err)
			var f *fault.Error
			require.True(t, errors.As(err, &f), "%T", err)
			assert.Equal(t, row.code, f.Code)
			assert.Equal(t, row.field, f.Field)
			assert.NotEmpty(t, f.Message)
		})
	}
	t.Run("the limits themselves are allowed", func(t *testing.T) {
		shore, query := shoreBelow(20), wednesday
		shore.WayOffM, shore.RaiseM, shore.PressureHPa = metre(-20), metre(1), metre(870)
		shore.Margin, shore.WalkOut, shore.Travel, shore.FormNumber = 3*time.Hour, 3*time.Hour, 24*time.Hour, 1000
		shore.Site = sky.Site{LatDeg: -90, LonEastDeg: 180}
		query.Least = 24 * time.Hour
		_, err := window.Reckon(shore, wide, query)
		require.NoError(t, err)
	})
	t.Run("fractions of a second are rounded away", func(t *testing.T) {
		query := wednesday
		query.From, query.To = query.From.Add(300*time.Millisecond), query.To.Add(-300*time.Millisecond)
		assert.Equal(t, reckon(t, shoreBelow(1), wide, wednesday), reckon(t, shoreBelow(1), wide, query))
	})
}

// TestLevelBounds: the same for the count by level.
func TestLevelBounds(t *testing.T) {
	good := window.LevelQuery{From: at("2027-03-01 00:00"), To: at("2027-04-01 00:00"), Light: sky.LightSun, Zone: time.UTC, Sky: from6To18}
	rows := []struct {
		name  string
		code  fault.Code
		field string
		q     func(q *window.LevelQuery)
	}{
		{"too many levels", fault.BadInput, "levels", func(q *window.LevelQuery) { q.LevelsM = make([]float64, 41) }},
		{"a level that is no number", fault.BadInput, "levels", func(q *window.LevelQuery) { q.LevelsM = []float64{0, math.NaN()} }},
		{"a level out of the sea", fault.BadInput, "levels", func(q *window.LevelQuery) { q.LevelsM = []float64{25} }},
		{"no zone", fault.BadInput, "zone", func(q *window.LevelQuery) { q.Zone = nil }},
		{"light", fault.BadInput, "light", func(q *window.LevelQuery) { q.Light = "lamp" }},
		{"latitude", fault.BadInput, "latDeg", func(q *window.LevelQuery) { q.Site.LatDeg = math.NaN() }},
		{"over five years", fault.SpanTooLong, "to", func(q *window.LevelQuery) { q.To = q.From.AddDate(6, 0, 0) }},
		{"backwards", fault.BadInput, "to", func(q *window.LevelQuery) { q.To = q.From.AddDate(0, 0, -1) }},
		{"what the tide says", fault.BadInput, "from", func(q *window.LevelQuery) {
			q.From, q.To = at("1850-01-01 00:00"), at("1850-01-02 00:00")
		}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			q := good
			row.q(&q)
			_, err := window.LitByLevel(wide, q)
			var f *fault.Error
			require.True(t, errors.As(err, &f), "%v", err)
			assert.Equal(t, row.code, f.Code)
			assert.Equal(t, row.field, f.Field)
		})
	}
}
