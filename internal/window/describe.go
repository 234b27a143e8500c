package window

import (
	"slices"
	"sort"
	"time"

	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
)

const (
	fastRiseMPerHour = 1 // common practice, no published figure
	smallRangeM      = 1 // weather of a few decimetres eats most of the window
)

// describe adds to a window what it tells beside its times.
func (r *reckoner) describe(w *Window) {
	i := r.firstWater(w.Low.Time) + 1
	if i < len(r.waters) && r.waters[i].Kind == tide.High {
		high := r.waters[i]
		w.NextHigh = &high
		w.RiseMPerHour = r.fastestRise(w.Low.Time, high.Time)
	}
	w.Rank = r.rankOf(w.Low)
	w.Moon = r.moonAt(w.Low.Time)
	w.Cautions = r.cautionsOf(w)
	w.Reasons = r.reasonsOf(w)
}

// fastestRise is the greatest rate of rise from a low water to the next high, metres an
// hour: the greatest at twelve steps or more, of at most half an hour, then climbed to the
// minute. Exact to rounding where the rate has one peak; where shallow water gives it two
// that are nearly alike, the lesser may be taken, 5 % less at most.
func (r *reckoner) fastestRise(low, high time.Time) float64 {
	steps := max(12, high.Sub(low)/(30*time.Minute)+1)
	step := high.Sub(low) / steps
	top, fastest := low, 0.0
	try := func(t time.Time) {
		if rate := r.curve.RateMPerHour(t); rate > fastest {
			top, fastest = t, rate
		}
	}
	for t := low.Add(step); t.Before(high); t = t.Add(step) {
		try(t)
	}
	for step /= 2; step >= 30*time.Second; step /= 2 {
		middle := top
		try(middle.Add(-step))
		try(middle.Add(step))
	}
	return wholeMillimetre(fastest)
}

// monthKey is a calendar month of the shore.
type monthKey struct {
	year  int
	month time.Month
}

// rankOf places a low water among the lows of its local calendar month.
func (r *reckoner) rankOf(low tide.Water) Rank {
	local := low.Time.In(r.shore.Zone)
	key := monthKey{local.Year(), local.Month()}
	heights, known := r.months[key]
	if !known {
		heights = r.lowsOf(key)
		r.months[key] = heights
	}
	return Rank{
		Place: sort.SearchInts(heights, millimetres(low.HeightM)) + 1,
		Of:    len(heights),
		Month: key.month, Year: key.year,
	}
}

// lowsOf lists the heights of a month's low waters in millimetres, the lowest first; none
// if the month lies outside the years of the tide room.
func (r *reckoner) lowsOf(key monthKey) []int {
	begin := time.Date(key.year, key.month, 1, 0, 0, 0, 0, r.shore.Zone)
	end := time.Date(key.year, key.month+1, 1, 0, 0, 0, 0, r.shore.Zone)
	waters := r.waters
	if from, to := r.curve.Span(); begin.Before(from) || end.After(to) {
		curve, err := r.tide.Curve(begin.UTC(), end.UTC())
		if err != nil {
			return nil
		}
		waters = curve.Waters()
	}
	var heights []int
	for _, w := range waters {
		if w.Kind == tide.Low && !w.Time.Before(begin) && w.Time.Before(end) {
			heights = append(heights, millimetres(w.HeightM))
		}
	}
	slices.Sort(heights)
	return heights
}

// cautionsOf lists every caution that applies, the ones that may cost a life first.
func (r *reckoner) cautionsOf(w *Window) []Note {
	var notes []Note
	add := func(applies bool, code NoteCode, text string) {
		if applies {
			notes = append(notes, Note{code, text})
		}
	}
	add(r.shore.CanBeCutOff, CutOff, textCutOff)
	add(r.shore.WayOffM == nil, WayOffUnknown, textWayOffUnknown)
	add(w.Raised == nil, RaisedNone, r.raisedNoneText())
	add(w.Raised != nil && 2*w.Raised.minutes() < w.UsableMinutes, RaisedShort, r.raisedShortText(w))
	add(w.Pressure != nil, LowPressure, r.lowPressureText(w))
	add(w.RiseMPerHour > fastRiseMPerHour, FastRise, fastRiseText(w.RiseMPerHour))
	add(w.NextHigh != nil && millimetres(w.NextHigh.HeightM-w.Low.HeightM) < millimetres(smallRangeM), SmallRange, smallRangeText(w))
	add(r.query.Light == sky.LightAny && !lit(r.civil, w.UsableFrom, w.OffBy), Night, textNight)
	add(r.query.Light != sky.LightSun && !lit(r.sunlit, w.UsableFrom, w.OffBy), LowLight, textLowLight)
	add(w.Opens == nil || w.Shuts == nil, AlwaysBare, textAlwaysBare)
	add(w.EdgeFrom || w.EdgeTo, Edge, textEdge)
	return notes
}

// reasonsOf lists what speaks for the window and what decided its end.
func (r *reckoner) reasonsOf(w *Window) []Note {
	var notes []Note
	if w.Rank.Of > 0 {
		notes = append(notes, Note{ReasonRank, w.Rank.text()})
	}
	if w.Moon.Kind != "" {
		notes = append(notes, Note{ReasonMoon, w.Moon.text()})
	}
	if w.Weekend {
		notes = append(notes, Note{ReasonWeekend, textWeekend})
	}
	return append(notes, Note{ReasonOffBy, w.OffByReason.Text})
}
