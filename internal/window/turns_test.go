package window_test

import (
	"errors"
	"math"
	"sort"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
	"wrackbook/internal/window"
)

// turns is a tide drawn by hand: high and low waters joined by half cosines, so that every
// height and crossing has a closed form (the harmonic-curve interpolation of common
// practice: h = LW + (HW-LW)(1 - cos(pi t/T))/2).
type turns []tide.Water

// regular repeats a pattern of heights, one water every half period, low waters at even
// places; the first water of the pattern stands at first, and the tide reaches 100 days to
// either side.
func regular(first time.Time, half time.Duration, pattern ...float64) turns {
	return regularFor(100, first, half, pattern...)
}

func regularFor(days int, first time.Time, half time.Duration, pattern ...float64) turns {
	n := len(pattern)
	reach := int(time.Duration(days) * 24 * time.Hour / half)
	var t turns
	for i := -reach; i <= reach; i++ {
		w := tide.Water{Time: first.Add(time.Duration(i) * half), HeightM: pattern[((i%n)+n)%n], Kind: tide.Low}
		if i%2 != 0 {
			w.Kind = tide.High
		}
		t = append(t, w)
	}
	return t
}

func (t turns) Curve(from, to time.Time) (tide.Curve, error) {
	if from.Before(t[0].Time) || to.After(t[len(t)-1].Time) {
		return nil, fault.New(fault.BadInput, "from", "The drawn tide does not reach there.")
	}
	return &turnsCurve{t, from, to}, nil
}

type turnsCurve struct {
	turns    turns
	from, to time.Time
}

func (c *turnsCurve) Span() (from, to time.Time) { return c.from, c.to }

// limb is the pair of waters around t.
func (c *turnsCurve) limb(t time.Time) (a, b tide.Water) {
	i := sort.Search(len(c.turns), func(i int) bool { return c.turns[i].Time.After(t) })
	i = min(max(i, 1), len(c.turns)-1)
	return c.turns[i-1], c.turns[i]
}

func (c *turnsCurve) HeightM(t time.Time) float64 {
	a, b := c.limb(t)
	x := float64(t.Sub(a.Time)) / float64(b.Time.Sub(a.Time))
	return a.HeightM + (b.HeightM-a.HeightM)*(1-math.Cos(math.Pi*x))/2
}

func (c *turnsCurve) RateMPerHour(t time.Time) float64 {
	a, b := c.limb(t)
	hours := b.Time.Sub(a.Time).Hours()
	x := t.Sub(a.Time).Hours() / hours
	return (b.HeightM - a.HeightM) * math.Pi / 2 / hours * math.Sin(math.Pi*x)
}

func (c *turnsCurve) Waters() []tide.Water {
	var waters []tide.Water
	for _, w := range c.turns {
		if !w.Time.Before(c.from) && w.Time.Before(c.to) {
			waters = append(waters, w)
		}
	}
	return waters
}

func (c *turnsCurve) Table() []tide.Water { return c.Waters() }

func (c *turnsCurve) Crossings(levelM float64) []tide.Crossing {
	var crossings []tide.Crossing
	for i := 1; i < len(c.turns); i++ {
		a, b := c.turns[i-1], c.turns[i]
		if (a.HeightM < levelM) == (b.HeightM < levelM) {
			continue
		}
		x := math.Acos(1-2*(levelM-a.HeightM)/(b.HeightM-a.HeightM)) / math.Pi
		t := a.Time.Add(time.Duration(x * float64(b.Time.Sub(a.Time)))).Round(time.Second)
		if !t.Before(c.from) && t.Before(c.to) {
			crossings = append(crossings, tide.Crossing{Time: t, Rising: a.HeightM < b.HeightM})
		}
	}
	return crossings
}

// daylight is a sky made to order: each UTC day is lit from rise to set, and civil
// twilight adds as much to either side. Every day alike, but for the nights that last.
type daylight struct {
	rise, set, twilight time.Duration
	night               bool      // the sun never rises
	day                 bool      // the sun never sets
	nightUntil          time.Time // no light before it
	phases              []sky.PhaseEvent
	declinations        []sky.DeclinationExtreme
}

// from6To18 is equinox weather.
var from6To18 = daylight{rise: 6 * time.Hour, set: 18 * time.Hour, twilight: 30 * time.Minute}

func (d daylight) Lit(light sky.Light, from, to time.Time) ([]sky.Span, error) {
	if light == sky.LightAny {
		return nil, errors.New("the room must not ask for any light")
	}
	if d.day {
		return []sky.Span{{From: from, To: to, FromIsEdge: true, ToIsEdge: true}}, nil
	}
	if d.night {
		return nil, nil
	}
	rise, set := d.rise, d.set
	if light == sky.LightCivil {
		rise, set = rise-d.twilight, set+d.twilight
	}
	var spans []sky.Span
	for day := from.Truncate(24 * time.Hour).Add(-24 * time.Hour); day.Before(to); day = day.Add(24 * time.Hour) {
		s := sky.Span{From: day.Add(rise), To: day.Add(set)}
		if s.From.Before(from) {
			s.From, s.FromIsEdge = from, true
		}
		if s.To.After(to) {
			s.To, s.ToIsEdge = to, true
		}
		if s.From.Before(s.To) && !s.From.Before(d.nightUntil) {
			spans = append(spans, s)
		}
	}
	return spans, nil
}

func (d daylight) Phases(from, to time.Time) ([]sky.PhaseEvent, error) { return d.phases, nil }

func (d daylight) Declinations(from, to time.Time) ([]sky.DeclinationExtreme, error) {
	return d.declinations, nil
}

// at reads a UTC instant, 2006-01-02 15:04 or with seconds.
func at(s string) time.Time {
	for _, layout := range []string{"2006-01-02 15:04:05", "2006-01-02 15:04"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t
		}
	}
	panic("not an instant: " + s)
}

func metre(m float64) *float64 { return &m }

// side is the time from a low water until the level is reached, by the closed form.
func side(lowM, highM float64, half time.Duration, levelM float64) time.Duration {
	x := math.Acos(1-2*(levelM-lowM)/(highM-lowM)) / math.Pi
	return time.Duration(x * float64(half)).Round(time.Second)
}

// heightAfter is the height some time after a low water, by the same form.
func heightAfter(lowM, highM float64, half, after time.Duration) float64 {
	return lowM + (highM-lowM)*(1-math.Cos(math.Pi*float64(after)/float64(half)))/2
}

// reckon fails the test on an error.
func reckon(t *testing.T, shore window.Shore, drawn tide.Tide, query window.Query) window.Answer {
	t.Helper()
	answer, err := window.Reckon(shore, drawn, query)
	require.NoError(t, err)
	require.Equal(t, len(answer.Windows) == 0, answer.None != nil, "none or windows, never both")
	for _, w := range answer.Windows {
		checkOrder(t, shore, w)
	}
	return answer
}

// only fails the test unless there is exactly one window.
func only(t *testing.T, a window.Answer) window.Window {
	t.Helper()
	if a.None != nil {
		require.Fail(t, "no window", a.None.Text)
	}
	require.Len(t, a.Windows, 1)
	return a.Windows[0]
}

// near asserts an instant to within the second that rounding may move it.
func near(t *testing.T, want, got time.Time, what string) {
	t.Helper()
	require.WithinDuration(t, want, got, time.Second, what)
}

type fataler interface {
	Helper()
	Errorf(format string, args ...any)
	FailNow()
}

// checkOrder asserts what holds of every window there is.
func checkOrder(t fataler, shore window.Shore, w window.Window) {
	t.Helper()
	inOrder := func(what string, instants ...time.Time) {
		t.Helper()
		for i := 1; i < len(instants); i++ {
			require.False(t, instants[i].Before(instants[i-1]), "%s: place %d", what, i)
		}
	}
	inOrder("window", w.LitFrom, w.UsableFrom, w.UsableTo, w.LitTo)
	inOrder("way home", w.UsableTo, w.StartBack, w.OffBy)
	if w.Opens != nil {
		inOrder("opens", *w.Opens, w.LitFrom)
	}
	if w.Shuts != nil {
		inOrder("shuts", w.LitTo, *w.Shuts)
	}
	require.Equal(t, shore.WalkOut, w.OffBy.Sub(w.StartBack), "start back is off by less the walk out")
	require.Equal(t, shore.Travel, w.UsableFrom.Sub(w.LeaveHome), "leave home is the travel time before")
	require.Equal(t, int(w.UsableTo.Sub(w.UsableFrom)/time.Minute), w.UsableMinutes)
	require.GreaterOrEqual(t, w.UsableMinutes, 1)
	require.False(t, w.OffBy.After(w.Low.Time.Add(time.Hour)), "off by within the hour after low water")
	if shore.CanBeCutOff || shore.WayOffM == nil {
		require.False(t, w.StartBack.After(w.Low.Time), "starts back at low water")
	}
	for _, twin := range []*window.Twin{w.Raised, w.Pressure} {
		if twin != nil {
			inOrder("twin", w.UsableFrom, twin.UsableFrom, twin.UsableTo, w.UsableTo)
			require.Equal(t, int(twin.UsableTo.Sub(twin.UsableFrom)/time.Minute), twin.UsableMinutes)
			require.LessOrEqual(t, twin.UsableMinutes, w.UsableMinutes)
		}
	}
	require.NotEmpty(t, w.OffByReason.Text)
	for _, n := range append(append([]window.Note{}, w.Cautions...), w.Reasons...) {
		require.NotEmpty(t, n.Text, "%s", n.Code)
		require.NotContains(t, n.Text, "!")
		require.NotContains(t, n.Text, "%")
	}
}
