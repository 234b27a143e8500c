package window

import (
	"sort"
	"time"

	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
)

// lingerAfterLow is the longest that anybody stays out after low water: the hard exit of
// common practice.
const lingerAfterLow = time.Hour

// weigh makes a window of a lit part, or says what stopped it.
func (r *reckoner) weigh(p litPart) (*Window, miss) {
	if p.fromEdge {
		p.from = r.query.From
	}
	if p.toEdge {
		p.to = r.query.To
	}
	low, ok := r.lowOf(p)
	if !ok {
		// The curve steps by millimetres at the turn of the year; a spell that the step
		// alone makes or ends has no low water, and nothing could be said of its end.
		return nil, miss{code: TooShort}
	}
	stop := func(code CauseCode) (*Window, miss) { return nil, miss{code: code, low: low} }

	ways, covered := r.waysTo(low)
	if covered != "" {
		return stop(wayNever[covered])
	}
	w := r.windowAt(p, low)
	w.OffBy, w.OffByReason = r.offBy(low, ways, p.light)
	w.StartBack = w.OffBy.Add(-r.shore.WalkOut)
	w.UsableFrom = later(later(p.from, ways[0].from), r.lastRiseBefore(low, p.from))
	w.UsableTo = earlier(p.to, w.StartBack)
	switch {
	case !w.UsableFrom.Before(p.to):
		return stop(WayLate)
	case w.UsableFrom.Add(time.Minute).After(p.to):
		return stop(TooShort)
	case minutes(w.UsableFrom, w.UsableTo) == 0:
		return nil, miss{code: OffByNone, low: low, offBy: w.OffByReason}
	}
	for i, s := range r.seas {
		twin := w.twin(s, ways[i])
		switch s.name {
		case ByPressure:
			if twin == nil {
				return stop(PressureCovers)
			}
			w.Pressure = twin
			w.UsableFrom, w.UsableTo = twin.UsableFrom, twin.UsableTo
		case Raised:
			w.Raised = twin
		}
	}
	w.UsableMinutes = minutes(w.UsableFrom, w.UsableTo)
	w.LeaveHome = w.UsableFrom.Add(-r.shore.Travel)
	w.LowestUsableM = r.lowestBetween(w.UsableFrom, w.UsableTo)
	if least := max(r.query.Least, defaultLeast); time.Duration(w.UsableMinutes)*time.Minute < least {
		return nil, miss{code: TooShort, low: low, minutes: w.UsableMinutes}
	}
	if !r.query.wants(low.Time.In(r.shore.Zone).Weekday()) {
		return stop(OtherDays)
	}
	return w, miss{}
}

// windowAt is the window of a lit part and its low water, without its limits.
func (r *reckoner) windowAt(p litPart, low tide.Water) *Window {
	local := low.Time.In(r.shore.Zone)
	w := &Window{
		Day:     local.Format(time.DateOnly),
		Weekend: local.Weekday() == time.Saturday || local.Weekday() == time.Sunday,
		LitFrom: p.from, LitTo: p.to,
		Low: low, LowIsLit: !low.Time.Before(p.from) && !low.Time.After(p.to),
		EdgeFrom: p.from.Before(r.query.From) || p.fromEdge,
		EdgeTo:   r.query.To.Before(p.to) || p.toEdge,
	}
	w.Opens, w.Shuts = p.spell.ends()
	return w
}

// lowOf is the low water of a lit part: the lowest within it, or else the nearest of its
// spell; of equals the earlier. False if the spell has none.
func (r *reckoner) lowOf(p litPart) (tide.Water, bool) {
	var low tide.Water
	found := false
	first := r.firstWater(p.from)
	for _, w := range r.waters[first:] {
		if w.Time.After(p.to) {
			break
		}
		if w.Kind == tide.Low && (!found || w.HeightM < low.HeightM) {
			low, found = w, true
		}
	}
	if found {
		return low, true
	}
	for i := first - 1; i >= 0 && !r.waters[i].Time.Before(p.spell.from); i-- {
		if r.waters[i].Kind == tide.Low {
			low, found = r.waters[i], true
			break
		}
	}
	for _, w := range r.waters[first:] {
		if w.Time.After(p.spell.to) {
			break
		}
		if w.Kind == tide.Low {
			if !found || w.Time.Sub(p.to) < p.from.Sub(low.Time) {
				low, found = w, true
			}
			break
		}
	}
	return low, found
}

// firstWater is the index of the first high or low water at or after t.
func (r *reckoner) firstWater(t time.Time) int {
	return sort.Search(len(r.waters), func(i int) bool { return !r.waters[i].Time.Before(t) })
}

// waysTo gives for each sea the stretch around a low water in which the way in and back is
// bare; a stretch without ends where the way-off height is unknown. If some sea covers the
// way even at that low water, it names that sea.
func (r *reckoner) waysTo(low tide.Water) ([]spell, Sea) {
	ways := make([]spell, len(r.seas))
	for i, s := range r.seas {
		if r.shore.WayOffM == nil {
			ways[i].toEdge = true
			continue
		}
		way, ok := holding(s.way, low.Time)
		if !ok {
			return nil, s.name
		}
		ways[i] = way
	}
	return ways, ""
}

// offBy is the time to be off the rocks: the earliest that any rule gives in any sea.
func (r *reckoner) offBy(low tide.Water, ways []spell, light sky.Span) (time.Time, OffByReason) {
	by, why := low.Time.Add(lingerAfterLow), OffByReason{Code: ByLowHour, Sea: Predicted}
	consider := func(t time.Time, code OffByCode, sea Sea) {
		if t.Before(by) {
			by, why = t, OffByReason{Code: code, Sea: sea}
		}
	}
	for i, s := range r.seas {
		if !ways[i].toEdge {
			consider(ways[i].to.Add(-r.shore.Margin), ByWayOff, s.name)
		}
	}
	switch {
	case r.shore.CanBeCutOff:
		consider(low.Time.Add(r.shore.WalkOut), ByCutOff, Predicted)
	case r.shore.WayOffM == nil:
		consider(low.Time.Add(r.shore.WalkOut), ByWayUnknown, Predicted)
	}
	if !light.ToIsEdge {
		consider(light.To.Add(-r.shore.WalkOut), ByLight, Predicted)
	}
	why.Text = r.offByText(why)
	return by, why
}

// lastRiseBefore guards a dry spell with several low waters: no party may be out on a rise
// that could cut the way before the low water that its window is reckoned for. It is the
// last high water before that low, no earlier than from, that reaches the way-off height
// in the highest sea; any high water where that height is unknown. Zero if there is none.
//
// From that high water on, no sea between the predicted and the highest rises over the way
// before the low water.
func (r *reckoner) lastRiseBefore(low tide.Water, from time.Time) time.Time {
	for i := r.firstWater(low.Time) - 1; i >= 0 && r.waters[i].Time.After(from); i-- {
		w := r.waters[i]
		if w.Kind == tide.High && r.mayCutWay(w.HeightM) {
			return w.Time
		}
	}
	return time.Time{}
}

// mayCutWay says that a high water predicted at heightM cuts the way in some sea, or that
// nobody knows.
func (r *reckoner) mayCutWay(heightM float64) bool {
	if r.shore.WayOffM == nil {
		return true
	}
	for _, s := range r.seas {
		if millimetres(heightM+s.riseM) >= millimetres(*r.shore.WayOffM) {
			return true
		}
	}
	return false
}

// twin is the window with the water as s has it; nil without one usable minute.
func (w *Window) twin(s sea, way spell) *Twin {
	bare, ok := holding(s.bare, w.Low.Time)
	if !ok {
		return nil
	}
	t := Twin{
		RiseM:      s.riseM,
		UsableFrom: later(w.UsableFrom, later(bare.from, way.from)),
		UsableTo:   earlier(w.UsableTo, bare.to),
	}
	t.Opens, t.Shuts = bare.ends()
	t.UsableMinutes = minutes(t.UsableFrom, t.UsableTo)
	if t.UsableMinutes == 0 {
		return nil
	}
	return &t
}

// lowestBetween is the lowest height of the water in [from, to], metres.
func (r *reckoner) lowestBetween(from, to time.Time) float64 {
	lowest := min(r.curve.HeightM(from), r.curve.HeightM(to))
	for _, w := range r.waters[r.firstWater(from):] {
		if w.Time.After(to) {
			break
		}
		lowest = min(lowest, w.HeightM)
	}
	return wholeMillimetre(lowest)
}

// ends are the passages of the level that bound a spell; nil for an edge.
func (s spell) ends() (from, to *time.Time) {
	if !s.fromEdge {
		from = &s.from
	}
	if !s.toEdge {
		to = &s.to
	}
	return from, to
}

// minutes counts whole minutes from a to b, none if b is before a.
func minutes(a, b time.Time) int { return max(0, int(b.Sub(a)/time.Minute)) }
