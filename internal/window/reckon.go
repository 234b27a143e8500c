package window

import (
	"cmp"
	"slices"
	"time"

	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
)

const (
	// pad is reckoned on either side of the span, so that what reaches over its edges is
	// seen whole; widePad where a dry spell is still open at the end of pad.
	pad     = 3 * 24 * time.Hour
	widePad = 40 * 24 * time.Hour
)

// Reckon finds the windows of a shore that overlap [query.From, query.To).
//
// The error is a *fault.Error: BadInput with the field at fault, SpanTooLong, or what the
// tide says of the span.
func Reckon(shore Shore, t tide.Tide, query Query) (Answer, error) {
	r, err := newReckoner(shore, t, query)
	if err != nil {
		return Answer{}, err
	}
	answer := Answer{Cautions: []Note{{Astronomical, textAstronomical}}}
	found, misses := r.find()
	if len(found) == 0 {
		answer.None = r.explain(misses)
		return answer, nil
	}
	slices.SortFunc(found, byMerit)
	for _, w := range found {
		answer.Windows = append(answer.Windows, *w)
	}
	return answer, nil
}

// byMerit puts the safest and fullest window first, by nothing but what each one shows.
func byMerit(a, b *Window) int {
	return cmp.Or(
		cmp.Compare(b.Raised.minutes(), a.Raised.minutes()),
		cmp.Compare(a.LowestUsableM, b.LowestUsableM),
		cmp.Compare(weekday(a.Weekend), weekday(b.Weekend)),
		a.LitFrom.Compare(b.LitFrom),
	)
}

func weekday(weekend bool) int {
	if weekend {
		return 0
	}
	return 1
}

func (t *Twin) minutes() int {
	if t == nil {
		return 0
	}
	return t.UsableMinutes
}

// reckoner holds what one question needs, each thing reckoned once.
type reckoner struct {
	shore Shore
	query Query
	tide  tide.Tide
	sky   Sky

	curve  tide.Curve
	waters []tide.Water
	lights []sky.Span
	seas   []sea // predicted first, raised last

	sunlit, civil []sky.Span // only where a caution needs them
	moons         []moonEvent
	months        map[monthKey][]int // heights of lows in mm, rising
}

// sea is one reckoning of the water.
type sea struct {
	name  Sea
	riseM float64
	bare  []spell // below the workable height
	way   []spell // below the way-off height; nil where that is unknown
}

func newReckoner(shore Shore, t tide.Tide, query Query) (*reckoner, error) {
	if err := shore.check(); err != nil {
		return nil, err
	}
	if err := query.check(); err != nil {
		return nil, err
	}
	query.From, query.To = wholeSecond(query.From), wholeSecond(query.To)
	r := &reckoner{shore: shore, query: query, tide: t, sky: query.Sky, months: map[monthKey][]int{}}
	if r.sky == nil {
		r.sky = over{shore.Site}
	}
	if err := r.draw(); err != nil {
		return nil, err
	}
	r.waters = r.curve.Waters()
	from, to := r.curve.Span()
	var err error
	if r.lights, err = lights(r.sky, query.Light, from, to); err != nil {
		return nil, err
	}
	if query.Light != sky.LightSun {
		if r.sunlit, err = lights(r.sky, sky.LightSun, from, to); err != nil {
			return nil, err
		}
	}
	if query.Light == sky.LightAny {
		if r.civil, err = lights(r.sky, sky.LightCivil, from, to); err != nil {
			return nil, err
		}
	}
	r.moons = moonEvents(r.sky, shore.FormNumber, from, to)
	return r, nil
}

// draw reckons the curve over the span and its pads, and the spells of each sea.
func (r *reckoner) draw() error {
	curve, err := r.tide.Curve(r.query.From.Add(-pad), r.query.To.Add(pad))
	if err != nil {
		return err
	}
	if bare := spellsBelow(curve, wholeMillimetre(r.shore.BelowM)); r.reachesOut(bare) {
		// The wider curve may lie outside the years of the tide room; then the spell
		// stays open-ended.
		if wider, err := r.tide.Curve(r.query.From.Add(-widePad), r.query.To.Add(widePad)); err == nil {
			curve = wider
		}
	}
	r.curve = curve
	r.seas = append(r.seas, r.seaAt(Predicted, 0))
	if rise := r.shore.pressureRiseM(); rise > 0 {
		r.seas = append(r.seas, r.seaAt(ByPressure, rise))
	}
	r.seas = append(r.seas, r.seaAt(Raised, r.shore.raiseM()))
	return nil
}

// reachesOut says that a spell of the span is still open where the curve stops.
func (r *reckoner) reachesOut(spells []spell) bool {
	for _, s := range spells {
		if (s.fromEdge || s.toEdge) && overlap(s.from, s.to, r.query.From, r.query.To) {
			return true
		}
	}
	return false
}

// seaAt reckons the spells with the water riseM higher than predicted: it passes a height
// when the prediction passes that height less riseM.
func (r *reckoner) seaAt(name Sea, riseM float64) sea {
	s := sea{name: name, riseM: wholeMillimetre(riseM)}
	s.bare = spellsBelow(r.curve, wholeMillimetre(r.shore.BelowM-s.riseM))
	if r.shore.WayOffM != nil {
		s.way = spellsBelow(r.curve, wholeMillimetre(*r.shore.WayOffM-s.riseM))
	}
	return s
}

// find weighs every lit part that overlaps the span, in time order, and keeps count of
// what came to nothing and why.
func (r *reckoner) find() ([]*Window, misses) {
	var found []*Window
	missed := misses{}
	bare := r.seas[0].bare
	wasLit := make([]bool, len(bare))
	for _, p := range litParts(bare, r.lights) {
		if !overlap(p.from, p.to, r.query.From, r.query.To) {
			continue
		}
		wasLit[p.nth] = true
		w, stopped := r.weigh(p)
		if stopped.code != "" {
			missed.add(stopped)
			continue
		}
		r.describe(w)
		found = append(found, w)
	}
	for i, s := range bare {
		if !wasLit[i] && overlap(s.from, s.to, r.query.From, r.query.To) {
			low, _ := r.lowOf(litPart{spell: s, from: s.from, to: s.to})
			missed.add(miss{code: Dark, low: low})
		}
	}
	return found, missed
}
