package window

import (
	"time"

	"wrackbook/internal/tide"
)

// miss is why one lit part, or one dark spell, is no window.
type miss struct {
	code    CauseCode
	low     tide.Water // its low water; no Kind if it has none
	minutes int        // usable, where that was too little
	offBy   OffByReason
}

// tally sums up the misses of one cause.
type tally struct {
	count   int
	low     tide.Water // the lowest
	minutes int        // the most
	offBy   OffByReason
}

type misses map[CauseCode]tally

func (all misses) add(m miss) {
	t := all[m.code]
	t.count++
	t.minutes = max(t.minutes, m.minutes)
	if m.low.Kind != "" && (t.low.Kind == "" || m.low.HeightM < t.low.HeightM) {
		t.low, t.offBy = m.low, m.offBy
	}
	all[m.code] = t
}

// wayNever is the cause for the first sea in which the way in is never bare.
var wayNever = map[Sea]CauseCode{Predicted: WayNever, ByPressure: WayNeverPressure, Raised: WayNeverRaised}

// nearestFirst orders the causes by how far a dry spell came.
var nearestFirst = []CauseCode{OtherDays, TooShort, PressureCovers, OffByNone, WayLate,
	WayNeverRaised, WayNeverPressure, WayNever, Dark, LevelNever, LightNever}

// searchSteps are the days searched for the next window, one after the other: 400 in all,
// and short ones first, since most shores have one within a fortnight.
var searchSteps = []int{14, 28, 56, 112, 190}

// explain says why the span has no window and when the next is.
func (r *reckoner) explain(missed misses) *None {
	none := &None{LowestLow: r.lowestLow()}
	if len(missed) == 0 {
		t := tally{}
		if none.LowestLow != nil {
			t.low = *none.LowestLow
		}
		missed[LevelNever] = t
	}
	if r.noLight() {
		missed[LightNever] = missed[Dark]
		delete(missed, Dark)
	}
	for _, code := range nearestFirst {
		if t, is := missed[code]; is {
			none.Causes = append(none.Causes, Cause{code, t.count, r.causeText(code, t)})
		}
	}
	none.Next, none.SearchedTo = r.next()
	none.Text = none.Causes[0].Text + " " + r.nextText(none)
	return none
}

// noLight says that no light of the kind asked for falls in the span.
func (r *reckoner) noLight() bool {
	for _, l := range r.lights {
		if overlap(l.From, l.To, r.query.From, r.query.To) {
			return false
		}
	}
	return true
}

// lowestLow is the lowest low water of the span; nil if none falls in it.
func (r *reckoner) lowestLow() *tide.Water {
	var lowest *tide.Water
	for _, w := range r.waters[r.firstWater(r.query.From):] {
		if !w.Time.Before(r.query.To) {
			break
		}
		if w.Kind == tide.Low && (lowest == nil || w.HeightM < lowest.HeightM) {
			lowest = &w
		}
	}
	return lowest
}

// next finds the first window after the span. It stops where the tide room does.
func (r *reckoner) next() (*Window, time.Time) {
	query := r.query
	query.Sky = r.sky
	for _, days := range searchSteps {
		query.From = query.To
		query.To = query.From.AddDate(0, 0, days)
		step, err := newReckoner(r.shore, r.tide, query)
		if err != nil {
			return nil, query.From
		}
		if found, _ := step.find(); len(found) > 0 {
			return found[0], query.To
		}
	}
	return nil, query.To
}
