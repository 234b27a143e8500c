package window_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/tide"
	"wrackbook/internal/window"
)

// scene is a random question.
type scene struct {
	tide  cosines
	shore window.Shore
	query window.Query
}

func anyScene(t *rapid.T) scene {
	var s scene
	s.tide = anyCosines().Draw(t, "tide")
	s.shore = anyShore(t, s.tide.z0M)
	s.query.Light, s.query.Sky = anySky(t)
	s.query.From = epoch.Add(time.Duration(rapid.IntRange(0, 40*24*60).Draw(t, "from")) * time.Minute)
	s.query.To = s.query.From.AddDate(0, 0, rapid.IntRange(1, 6).Draw(t, "days"))
	return s
}

func (s scene) reckon(t *rapid.T) window.Answer {
	answer, err := window.Reckon(s.shore, s.tide, s.query)
	require.NoError(t, err)
	return answer
}

// match finds in b the window of the same low water that shares lit time with w.
func match(w window.Window, b []window.Window) (window.Window, bool) {
	for _, o := range b {
		if o.Low == w.Low && o.LitFrom.Before(w.LitTo) && w.LitFrom.Before(o.LitTo) {
			return o, true
		}
	}
	return window.Window{}, false
}

// TestInvariants: what holds of every window of every tide and shore.
func TestInvariants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		curve, _ := s.tide.Curve(s.query.From.AddDate(0, 0, -45), s.query.To.AddDate(0, 0, 45))
		lit, _ := s.query.Sky.Lit("civil", s.query.From.AddDate(0, 0, -4), s.query.To.AddDate(0, 0, 4))
		answer := s.reckon(t)
		require.Equal(t, len(answer.Windows) == 0, answer.None != nil)
		for i, w := range answer.Windows {
			checkOrder(t, s.shore, w)
			require.True(t, w.LitFrom.Before(s.query.To) && s.query.From.Before(w.LitTo), "it overlaps the span")
			for _, o := range answer.Windows[:i] {
				require.False(t, o.LitFrom.Before(w.LitTo) && w.LitFrom.Before(o.LitTo), "windows are disjoint")
			}
			// The shore is bare, as predicted, all the usable time.
			for u := w.UsableFrom.Add(time.Minute); u.Before(w.UsableTo); u = u.Add(7 * time.Minute) {
				require.Less(t, s.tide.heightM(u), s.shore.BelowM+0.001, "bare at %v", u)
			}
			for _, rise := range risesOf(s.shore) {
				checkWayOut(t, s, curve, w, rise)
			}
			if s.query.Light == "sun" {
				for _, l := range lit {
					if !l.ToIsEdge && w.LitFrom.Before(l.To) && l.From.Before(w.LitTo) {
						require.False(t, w.OffBy.After(l.To.Add(-s.shore.WalkOut)), "off by before the dark")
					}
				}
			}
		}
	})
}

func risesOf(shore window.Shore) []float64 {
	k := walker{shore: shore}
	return k.rises()
}

// checkWayOut asserts that a sea standing riseM above prediction, or half that, does not
// come over the way between the beginning of the usable time and off by less the margin.
func checkWayOut(t *rapid.T, s scene, curve tide.Curve, w window.Window, riseM float64) {
	if s.shore.WayOffM == nil {
		return
	}
	for _, rise := range []float64{riseM, toMillimetre(riseM / 2), 0} {
		for _, c := range curve.Crossings(*s.shore.WayOffM - rise) {
			if c.Rising && c.Time.After(w.UsableFrom.Add(2*time.Second)) {
				require.False(t, w.OffBy.After(c.Time.Add(-s.shore.Margin+2*time.Second)),
					"the sea %v m higher cuts the way at %v: off by %v", rise, c.Time, w.OffBy)
				break
			}
		}
	}
}

// TestCautionNeverLengthens: every input that stands for more caution leaves each window
// as it is or shortens it, and makes none.
func TestCautionNeverLengthens(t *testing.T) {
	harder := map[string]func(t *rapid.T, s *window.Shore){
		"lower workable height": func(t *rapid.T, s *window.Shore) {
			s.BelowM = toMillimetre(s.BelowM - rapid.Float64Range(0, 0.5).Draw(t, "by"))
		},
		"lower way-off height": func(t *rapid.T, s *window.Shore) {
			if s.WayOffM != nil {
				s.WayOffM = metre(toMillimetre(*s.WayOffM - rapid.Float64Range(0, 0.5).Draw(t, "by")))
			}
		},
		"can be cut off": func(t *rapid.T, s *window.Shore) { s.CanBeCutOff = true },
		"more margin":    func(t *rapid.T, s *window.Shore) { s.Margin += 25 * time.Minute },
		"longer walk":    func(t *rapid.T, s *window.Shore) { s.WalkOut += 25 * time.Minute },
		"rougher sea":    func(t *rapid.T, s *window.Shore) { s.RaiseM = metre(min(1, risesOf(*s)[1]+0.15)) },
		"lower pressure": func(t *rapid.T, s *window.Shore) {
			p := 1013.0
			if s.PressureHPa != nil {
				p = *s.PressureHPa
			}
			s.PressureHPa = metre(p - rapid.Float64Range(0, 40).Draw(t, "by"))
		},
		"higher pressure than mean": func(t *rapid.T, s *window.Shore) {
			if s.PressureHPa == nil {
				s.PressureHPa = metre(1035)
			}
		},
	}
	for name, change := range harder {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				easy := anyScene(t)
				hard := easy
				change(t, &hard.shore)
				wider := easy.reckon(t).Windows
				for _, w := range hard.reckon(t).Windows {
					o, is := match(w, wider)
					if !is {
						// A lit part without a low water of its own takes the nearest of its
						// spell, and of a shorter spell there may be another; likewise a
						// shorter lit part may lack the lowest.
						require.Equal(t, "lower workable height", name, "a window out of nothing: %+v", w)
						continue
					}
					if o.Opens == nil || o.Shuts == nil {
						continue // bare for weeks: there the span itself bounds what is reckoned
					}
					require.False(t, w.UsableFrom.Before(o.UsableFrom), "begins earlier")
					require.False(t, w.UsableTo.After(o.UsableTo), "ends later")
					require.False(t, w.StartBack.After(o.StartBack), "starts back later")
					require.LessOrEqual(t, w.UsableMinutes, o.UsableMinutes)
					if w.Raised != nil {
						require.NotNil(t, o.Raised)
						require.LessOrEqual(t, w.Raised.UsableMinutes, o.Raised.UsableMinutes)
					}
				}
			})
		})
	}
}

// TestSplitSpan: two halves of a span find the same windows as the whole.
func TestSplitSpan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		whole := byLitFrom(s.reckon(t).Windows)
		first, second := s, s
		cut := s.query.From.Add(time.Duration(rapid.Float64Range(0.01, 0.99).Draw(t, "cut") * float64(s.query.To.Sub(s.query.From))))
		first.query.To, second.query.From = cut, cut
		halves := byLitFrom(first.reckon(t).Windows)
		for k, w := range byLitFrom(second.reckon(t).Windows) {
			halves[k] = w
		}
		for k, w := range whole {
			if w.Opens == nil || w.Shuts == nil {
				return // bare for weeks: there the span itself bounds what is reckoned
			}
			o, is := halves[k]
			require.True(t, is, "lost: %+v", w)
			w.EdgeFrom, w.EdgeTo, o.EdgeFrom, o.EdgeTo = false, false, false, false
			w.Cautions, o.Cautions = nil, nil
			require.Equal(t, w, o)
		}
		require.Len(t, halves, len(whole))
	})
}

func byLitFrom(windows []window.Window) map[time.Time]window.Window {
	m := map[time.Time]window.Window{}
	for _, w := range windows {
		m[w.LitFrom] = w
	}
	return m
}

// TestFastestRise: the rate that is told is the greatest that a fine scan finds, within the
// 5 % of a rise with two peaks.
func TestFastestRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		for _, w := range s.reckon(t).Windows {
			if w.NextHigh == nil {
				continue
			}
			fastest := 0.0
			for u := w.Low.Time; u.Before(w.NextHigh.Time); u = u.Add(time.Minute) {
				fastest = math.Max(fastest, s.tide.rateMPerHour(u))
			}
			require.InDelta(t, fastest, w.RiseMPerHour, 0.001+0.05*fastest, "%+v", w)
		}
	})
}
