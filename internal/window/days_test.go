package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
	"wrackbook/internal/zone"
)

// TestDays: a window belongs to the shore's local day of its low water, on either side of
// the date line and over a change of the clocks.
func TestDays(t *testing.T) {
	rows := []struct {
		name    string
		zone    *time.Location
		low     time.Time
		day     string
		weekday time.Weekday
		weekend bool
	}{
		{"Greenwich", time.UTC, at("2027-03-03 12:00"), "2027-03-03", time.Wednesday, false},
		{"west of the date line it is Saturday still", time.FixedZone("-11", -11*3600), at("2027-03-07 10:30"), "2027-03-06", time.Saturday, true},
		{"east of it, Sunday is half done", time.FixedZone("+13", 13*3600), at("2027-03-06 23:30"), "2027-03-07", time.Sunday, true},
		{"east of it, Monday has begun", time.FixedZone("+14", 14*3600), at("2027-03-07 10:30"), "2027-03-08", time.Monday, false},
		// Clocks in London go from 01:00 to 02:00 at 01:00 UT on Sunday 28 March 2027.
		{"before the clocks go forward", london(t), at("2027-03-27 23:30"), "2027-03-27", time.Saturday, true},
		{"the night they go forward", london(t), at("2027-03-28 22:59"), "2027-03-28", time.Sunday, true},
		{"an hour of summer time makes it Monday", london(t), at("2027-03-28 23:01"), "2027-03-29", time.Monday, false},
		// And back at 01:00 UT on Sunday 31 October 2027.
		{"the night they go back", london(t), at("2027-10-31 23:30"), "2027-10-31", time.Sunday, true},
		{"summer time still, Sunday early", london(t), at("2027-10-30 23:30"), "2027-10-31", time.Sunday, true},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			shore := shoreBelow(1.0)
			shore.Zone = row.zone
			query := window.Query{From: row.low.Add(-2 * time.Hour), To: row.low.Add(2 * time.Hour), Light: sky.LightAny, Sky: from6To18}
			drawn := regular(row.low, half, 0.40, 5.20)
			w := only(t, reckon(t, shore, drawn, query))
			assert.Equal(t, row.day, w.Day)
			assert.Equal(t, row.weekend, w.Weekend)
			assert.Equal(t, time.UTC, w.Low.Time.Location())

			query.Days = []time.Weekday{row.weekday}
			assert.Equal(t, row.day, only(t, reckon(t, shore, drawn, query)).Day)

			for day := time.Sunday; day <= time.Saturday; day++ {
				if day != row.weekday {
					query.Days = append(query.Days[:0:0], day)
					answer := reckon(t, shore, drawn, query)
					require.NotNil(t, answer.None, day)
					assert.Equal(t, window.OtherDays, answer.None.Causes[0].Code)
				}
			}
		})
	}
}

// TestLeast drops what is too short, by whole usable minutes.
func TestLeast(t *testing.T) {
	query := wednesday
	query.Sky = daylight{rise: 11 * time.Hour, set: 18 * time.Hour}
	// Usable from 11:00 to 13:00.
	for _, row := range []struct {
		least time.Duration
		found bool
	}{{0, true}, {time.Minute, true}, {120 * time.Minute, true}, {121 * time.Minute, false}, {120*time.Minute + time.Second, false}} {
		query.Least = row.least
		answer := reckon(t, shoreBelow(1.0), wide, query)
		assert.Equal(t, row.found, answer.None == nil, row.least)
		if !row.found {
			assert.Equal(t, window.TooShort, answer.None.Causes[0].Code)
			assert.Contains(t, answer.None.Text, "120 min")
		}
	}
}

func london(t *testing.T) *time.Location {
	t.Helper()
	l, err := zone.Load("Europe/London")
	require.NoError(t, err)
	return l
}
