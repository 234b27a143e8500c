package window

import (
	"math"
	"slices"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
)

const (
	mostLevels   = 40
	levelStepMM  = 100
	daysPerMonth = 30.436875 // mean Gregorian
)

// LevelQuery asks how often the water falls below each of some levels in the light.
type LevelQuery struct {
	From, To time.Time // [From, To), at most five years; a year tells most
	Light    sky.Light
	Site     sky.Site
	Zone     *time.Location // of the calendar months; required, never time.Local
	// LevelsM are the workable heights to try, at most 40, metres above chart datum; none:
	// from the lowest low of the span up to its highest high, 0.1 m apart.
	LevelsM []float64
	Sky     Sky // nil is the real one over Site
}

// LevelCount says what one workable height is worth.
type LevelCount struct {
	LevelM          float64
	WindowsPerMonth float64 // lit parts of dry spells that begin in the span, by mean months
	MedianMinutes   int     // of those lit parts, whole; 0 without any
	// FewestInAMonth is their number in the leanest whole calendar month; nil if the span
	// has no whole month.
	FewestInAMonth *int
}

// LitByLevel counts the lit parts of dry spells by workable height, for somebody who has
// to choose one. It knows no limits of a shore: what it counts is bare and lit, not yet
// usable. The error is a *fault.Error as in Reckon.
func LitByLevel(t tide.Tide, q LevelQuery) ([]LevelCount, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	q.From, q.To = wholeSecond(q.From), wholeSecond(q.To)
	if q.Sky == nil {
		q.Sky = over{q.Site}
	}
	curve, err := t.Curve(q.From.Add(-pad), q.To.Add(pad))
	if err != nil {
		return nil, err
	}
	from, to := curve.Span()
	bright, err := lights(q.Sky, q.Light, from, to)
	if err != nil {
		return nil, err
	}
	levels := q.LevelsM
	if len(levels) == 0 {
		levels = levelsFromLowest(curve, q.From, q.To)
	}
	counts := make([]LevelCount, len(levels))
	for i, level := range levels {
		level = wholeMillimetre(level)
		counts[i] = q.count(level, litParts(spellsBelow(curve, level), bright))
	}
	return counts, nil
}

func (q *LevelQuery) check() error {
	if err := checkSpan(q.From, q.To); err != nil {
		return err
	}
	if err := q.Light.Validate(); err != nil {
		return err
	}
	if len(q.LevelsM) > mostLevels {
		return fault.New(fault.BadInput, "levels", "There are %d levels; give at most %d.", len(q.LevelsM), mostLevels)
	}
	for _, level := range q.LevelsM {
		b := bound{"levels", level, -greatestHeightM, greatestHeightM, "A workable height, in metres above chart datum,"}
		if err := b.check(); err != nil {
			return err
		}
	}
	if err := q.Site.Validate(); err != nil {
		return err
	}
	return checkZone(q.Zone)
}

// levelsFromLowest lists levels at whole steps above the lowest low of the span, up to its
// highest high, at most mostLevels; none if the span has no low water.
func levelsFromLowest(curve tide.Curve, from, to time.Time) []float64 {
	lowest, highest, found := math.MaxInt, math.MinInt, false
	for _, w := range curve.Waters() {
		if w.Time.Before(from) || !w.Time.Before(to) {
			continue
		}
		mm := millimetres(w.HeightM)
		highest = max(highest, mm)
		if w.Kind == tide.Low {
			lowest, found = min(lowest, mm), true
		}
	}
	if !found {
		return nil
	}
	var levels []float64
	first := math.Floor(float64(lowest)/levelStepMM) + 1
	for i := 0; i < mostLevels; i++ {
		level := (first + float64(i)) * levelStepMM / 1000
		if i > 0 && millimetres(level) > highest {
			break
		}
		levels = append(levels, level)
	}
	return levels
}

// count sums up the lit parts of one level.
func (q *LevelQuery) count(levelM float64, parts []litPart) LevelCount {
	var lengths []int
	perMonth := map[monthKey]int{}
	for _, p := range parts {
		if p.from.Before(q.From) || !p.from.Before(q.To) {
			continue
		}
		lengths = append(lengths, minutes(p.from, p.to))
		local := p.from.In(q.Zone)
		perMonth[monthKey{local.Year(), local.Month()}]++
	}
	c := LevelCount{LevelM: levelM}
	months := q.To.Sub(q.From).Hours() / 24 / daysPerMonth
	c.WindowsPerMonth = math.Round(float64(len(lengths))/months*10) / 10
	if n := len(lengths); n > 0 {
		slices.Sort(lengths)
		c.MedianMinutes = (lengths[(n-1)/2] + lengths[n/2]) / 2
	}
	begin := q.From.In(q.Zone)
	for year, month := begin.Year(), begin.Month(); ; month++ {
		start := time.Date(year, month, 1, 0, 0, 0, 0, q.Zone)
		if time.Date(year, month+1, 1, 0, 0, 0, 0, q.Zone).After(q.To) {
			return c
		}
		if n := perMonth[monthKey{start.Year(), start.Month()}]; !start.Before(q.From) &&
			(c.FewestInAMonth == nil || n < *c.FewestInAMonth) {
			c.FewestInAMonth = &n
		}
	}
}
