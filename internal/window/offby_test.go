package window_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"wrackbook/internal/sky"
	"wrackbook/internal/window"
)

// TestOffBy lets each rule decide in turn on the same tide: 0.40 to 5.20 m in 6.21 h.
func TestOffBy(t *testing.T) {
	until := func(set time.Duration) daylight { return daylight{rise: 6 * time.Hour, set: set} }
	rows := []struct {
		name    string
		shore   window.Shore
		light   sky.Light
		sky     daylight
		offBy   time.Time
		code    window.OffByCode
		sea     window.Sea
		because string // in the text
	}{
		{"an hour after low water",
			window.Shore{WayOffM: metre(1.4), Margin: 20 * time.Minute, WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min after low water"},
		{"the raised sea cuts the way",
			window.Shore{WayOffM: metre(1.4), Margin: 45 * time.Minute, WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.2) - 45*time.Minute), window.ByWayOff, window.Raised,
			"the way back is cut at 1.4 m with the sea 0.2 m above prediction, less 45 min margin"},
		{"the predicted sea cuts the way, none raised",
			window.Shore{WayOffM: metre(1.4), Margin: 60 * time.Minute, RaiseM: metre(0)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.4) - 60*time.Minute), window.ByWayOff, window.Predicted,
			"with the sea as predicted, less 60 min margin"},
		{"the sea by air pressure cuts the way",
			window.Shore{WayOffM: metre(1.4), Margin: 45 * time.Minute, PressureHPa: metre(973)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.0) - 45*time.Minute), window.ByWayOff, window.ByPressure,
			"with the sea 0.4 m above prediction at 973 hPa"},
		{"the raised sea, though the pressure is low",
			window.Shore{WayOffM: metre(1.4), Margin: 45 * time.Minute, PressureHPa: metre(1003)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.2) - 45*time.Minute), window.ByWayOff, window.Raised, "0.2 m above prediction"},
		{"high pressure gives nothing back",
			window.Shore{WayOffM: metre(1.4), Margin: 60 * time.Minute, RaiseM: metre(0), PressureHPa: metre(1043)}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 1.4) - 60*time.Minute), window.ByWayOff, window.Predicted, "as predicted"},
		{"the light ends within the spell",
			window.Shore{WayOffM: metre(3), WalkOut: 15 * time.Minute}, sky.LightSun, until(13*time.Hour + 10*time.Minute),
			at("2027-03-03 12:55"), window.ByLight, window.Predicted, "the light ends, less 15 min"},
		{"the light ends after the spell shuts",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightSun, until(13*time.Hour + 40*time.Minute),
			at("2027-03-03 12:40"), window.ByLight, window.Predicted, "the light ends, less 60 min"},
		{"civil twilight counts where it is asked for",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightCivil,
			daylight{rise: 6 * time.Hour, set: 13*time.Hour + 10*time.Minute, twilight: 30 * time.Minute},
			at("2027-03-03 12:40"), window.ByLight, window.Predicted, "the light ends"},
		{"no light ends it where any will do",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightAny, until(13 * time.Hour),
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min"},
		{"no light ends it in the polar day",
			window.Shore{WayOffM: metre(3), WalkOut: 60 * time.Minute}, sky.LightSun, daylight{day: true},
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min"},
		{"a shore that can be cut off",
			window.Shore{WayOffM: metre(3), CanBeCutOff: true, WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			at("2027-03-03 12:15"), window.ByCutOff, window.Predicted, "start back at low water"},
		{"a way-off height nobody knows",
			window.Shore{WalkOut: 15 * time.Minute}, sky.LightSun, from6To18,
			at("2027-03-03 12:15"), window.ByWayUnknown, window.Predicted, "not known"},
		{"the hour binds a party that walks for longer",
			window.Shore{CanBeCutOff: true, WayOffM: metre(3), WalkOut: 80 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(time.Hour), window.ByLowHour, window.Predicted, "60 min"},
		{"a way-off height below the workable one",
			window.Shore{WayOffM: metre(0.8), Margin: 10 * time.Minute}, sky.LightSun, from6To18,
			noon.Add(side(0.4, 5.2, half, 0.6) - 10*time.Minute), window.ByWayOff, window.Raised, "cut at 0.8 m"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			row.shore.BelowM, row.shore.Zone = 1.0, time.UTC
			query := wednesday
			query.Light, query.Sky = row.light, row.sky
			query.From, query.To = at("2027-03-03 09:00"), at("2027-03-03 15:00")
			w := only(t, reckon(t, row.shore, wide, query))
			near(t, row.offBy, w.OffBy, "off by")
			near(t, row.offBy.Add(-row.shore.WalkOut), w.StartBack, "start back")
			assert.Equal(t, row.code, w.OffByReason.Code)
			assert.Equal(t, row.sea, w.OffByReason.Sea)
			assert.Contains(t, w.OffByReason.Text, row.because)
		})
	}
}
