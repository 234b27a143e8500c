package take

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/zone"
)

// What the generators draw from: few kinds, people and days, so that things meet.
var (
	someKinds  = []string{"Littorina littorea", "Littorina saxatilis", "Mytilus edulis", "Ulva lactuca", "Ulva", "unsure"}
	somePeople = []string{"ada", "bo", ""}
	someStates = []string{"attached", "drift", "living", "empty", ""}
	firstNoon  = time.Date(2026, 3, 28, 12, 0, 0, 0, time.UTC) // the day before Europe's clocks change
)

func pick[T any](t *rapid.T, name string, from []T) T { return rapid.SampledFrom(from).Draw(t, name) }

func drawFind(t *rapid.T, id string) Find {
	f := Find{
		ID: id, Shore: "shore", Outing: "outing", By: pick(t, "by", somePeople), Taxon: pick(t, "taxon", someKinds), State: pick(t, "state", someStates),
		At: firstNoon.Add(time.Duration(rapid.IntRange(-72, 72).Draw(t, "hours")) * time.Hour),
	}
	if rapid.Bool().Draw(t, "amount known") {
		f.Amount = &Amount{float64(rapid.IntRange(0, 8).Draw(t, "amount")), "count"}
	}
	if rapid.Bool().Draw(t, "mass known") {
		f.Mass = &Mass{float64(rapid.IntRange(0, 500).Draw(t, "mass")), pick(t, "weighed", []string{"wet", "drained"})}
	}
	if rapid.Bool().Draw(t, "size known") {
		f.Size = &Measured{float64(rapid.IntRange(10, 50).Draw(t, "size")), "shell"}
	}
	if rapid.Bool().Draw(t, "gear known") {
		f.Gear = []string{pick(t, "gear", []string{"hand", "rake"})}
	}
	if rapid.IntRange(0, 3).Draw(t, "put back") == 0 {
		f.PutBack = &Parted{At: f.At.Add(time.Hour)}
	}
	if rapid.Bool().Draw(t, "fix") {
		lat, lon, acc := 60+rapid.Float64Range(-0.2, 1.2).Draw(t, "lat"), 10+rapid.Float64Range(-0.2, 1.2).Draw(t, "lon"), 20.0
		f.Position = &Position{&lat, &lon, &acc}
	}
	return f
}

func drawSubject(t *rapid.T) Subject {
	s := Subject{}
	switch rapid.IntRange(0, 3).Draw(t, "subject") {
	case 0:
		s.All = true
	case 1:
		s.Rest = true
	case 2:
		s.Groups = []string{pick(t, "group", []string{"snails", "molluscs", "algae", "animals"})}
	default:
		s.Taxa = []string{pick(t, "subject taxon", []string{"Littorina littorea", "Littorina", "Mytilus", "Ulva lactuca"})}
	}
	if rapid.IntRange(0, 3).Draw(t, "states") == 0 {
		s.States = []string{pick(t, "subject state", []string{"living", "attached", "empty"})}
	}
	return s
}

// drawRestriction draws a rule that allows nothing.
func drawRestriction(t *rapid.T) Rule {
	r := Rule{Of: drawSubject(t)}
	if rapid.IntRange(0, 3).Draw(t, "where") == 0 {
		r.Where = &Area{Polygons: []Ring{{{10, 60}, {10.5, 60}, {10.5, 61}, {10, 61}}}}
	}
	if rapid.IntRange(0, 3).Draw(t, "during") == 0 {
		r.During = &Season{Open: []Span{{From: "03-28", To: "03-29"}}}
	}
	switch rapid.IntRange(0, 7).Draw(t, "restriction") {
	case 0:
		r.Take = "forbidden"
	case 1:
		least := float64(rapid.IntRange(10, 50).Draw(t, "least"))
		r.Sizes = []Size{{Axis: "shell", LeastMM: &least}}
	case 2:
		r.Season = &Season{Open: []Span{{From: "03-27", To: "03-29"}}}
	case 3:
		r.Hours = &Hours{From: "08:00", To: "18:00"}
	case 4:
		r.Gear = &Words{Only: []string{"hand"}}
	case 5:
		r.Person = &Needs{Licence: "card"}
	case 6:
		r.Duties = []Duty{{Do: "Ask.", Ask: "Was it asked?"}}
	default:
		l := Limit{Most: float64(rapid.IntRange(0, 12).Draw(t, "most")), Unit: "count",
			Base: pick(t, "base", []string{"person", "party", "household"}),
			Per:  pick(t, "per", []string{"day", "outing", "days", "possession", "year", "tide"})}
		if rapid.Bool().Draw(t, "by mass") {
			l.Most, l.Unit, l.Weighed = l.Most*60, "g", "wet"
		}
		if l.Per == "days" {
			l.Days = 2
		}
		switch rapid.IntRange(0, 3).Draw(t, "kind of limit") {
		case 0:
			l.PutBack = "free"
		case 1:
			l.KeepFirst = true
		case 2:
			l.Each = "taxon"
		}
		r.Limits = []Limit{l}
	}
	return r
}

func drawRule(t *rapid.T) Rule {
	r := drawRestriction(t)
	if r.Take == "" && rapid.Bool().Draw(t, "allows") {
		r.Take = "allowed"
	}
	return r
}

// drawHeld draws a set, with the shore in its area, checked the day before or long ago.
func drawHeld(t *rapid.T, id string, rule func(*rapid.T) Rule) *Held {
	s := &Set{Form: Form, Name: id, Authority: "the office", Ask: "at the quay", Source: "an invented notice", SourceDate: "2026-01-01",
		Layer:     pick(t, "layer", []Layer{National, Regional, Park, Closure, Household}),
		Otherwise: pick(t, "otherwise", []Otherwise{"", Unlisted, WhiteList, Others}),
		Area:      Area{Place: "the bay", Everywhere: true}, Rules: map[string]Rule{}}
	if rapid.IntRange(0, 3).Draw(t, "area") == 0 {
		s.Area = Area{Place: "the bay", Polygons: []Ring{{{10, 60}, {11, 60}, {11, 61}, {10, 61}}}}
	}
	for i := range rapid.IntRange(0, 5).Draw(t, "rules") {
		s.Rules[fmt.Sprint("rule ", i)] = rule(t)
	}
	return &Held{ID: id, Set: s, Shores: []string{"shore"}, Checked: &Checked{On: pick(t, "checked", []string{"2026-03-25", "2025-01-01"}), By: "Ada"}}
}

type scene struct {
	sets  []*Held
	finds []Find
	q     Question
}

func drawScene(t *rapid.T) scene {
	s := scene{q: Question{Find: drawFind(t, pick(t, "id", []string{"", "find"})), Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"),
		Purpose: pick(t, "purpose", []string{"home", "home", "teaching"}), Answers: map[string]bool{},
		Party: []Person{{ID: "ada", As: "adult", Does: "gathers", Licences: Papers{{What: "card"}}}, {ID: "bo", As: "child", Does: pick(t, "does", []string{"gathers", "watches"})}}}}
	if rapid.Bool().Draw(t, "tide known") {
		s.q.TideAt = &[2]time.Time{s.q.Find.At.Add(-5 * time.Hour), s.q.Find.At.Add(7 * time.Hour)}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "sets") {
		s.sets = append(s.sets, drawHeld(t, fmt.Sprint("set ", i), drawRule))
	}
	for i := range rapid.IntRange(0, 8).Draw(t, "finds") {
		s.finds = append(s.finds, drawFind(t, fmt.Sprint("taken ", i)))
	}
	return s
}

func mustZone(name string) *time.Location {
	z, err := zone.Load(name)
	if err != nil {
		panic(err)
	}
	return z
}

func (s *scene) ask(t require.TestingT, sets []*Held, finds []Find) Verdict {
	l := NewLedger()
	for _, f := range finds {
		l.Put(f)
	}
	q := s.q
	v, err := Evaluate(sets, l, &q)
	require.NoError(t, err)
	return v
}

// with gives a held set with one rule more.
func (h *Held) with(r Rule) *Held {
	set := *h.Set
	set.Rules = map[string]Rule{"added": r}
	for name, other := range h.Set.Rules {
		set.Rules[name] = other
	}
	return &Held{ID: h.ID, Set: &set, Checked: h.Checked, Shores: h.Shores}
}

// TestARestrictionNeverPermits: a restriction more in any set, or a set of restrictions
// more, never makes the verdict more permissive.
func TestARestrictionNeverPermits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		before := s.ask(t, s.sets, s.finds)
		layered := append(slices.Clone(s.sets), drawHeld(t, "over", drawRestriction))
		after := s.ask(t, layered, s.finds)
		require.False(t, before.Verdict > after.Verdict, "a layer: %s, then %s", before.Text, after.Text)
		require.False(t, before.Household > after.Household)
		if len(s.sets) > 0 {
			i := rapid.IntRange(0, len(s.sets)-1).Draw(t, "which")
			more := slices.Clone(s.sets)
			more[i] = s.sets[i].with(drawRestriction(t))
			after = s.ask(t, more, s.finds)
			require.False(t, before.Verdict > after.Verdict, "a rule: %s, then %s", before.Text, after.Text)
			require.False(t, before.Household > after.Household)
		}
	})
}

// TestALayerOverAPermissionNeverPermits: where a set in force already allows the kind, any
// set more, with what it allows too, never makes the verdict more permissive.
func TestALayerOverAPermissionNeverPermits(t *testing.T) {
	permitted := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		base := drawHeld(t, "base", drawRestriction).with(Rule{Of: Subject{All: true}, Take: "allowed"})
		base.Set.Layer, base.Set.Area, base.Checked.On = National, Area{Place: "the bay", Everywhere: true}, "2026-03-25"
		if base.Set.Otherwise == Others { // which only adds to others
			base.Set.Otherwise = Unlisted
		}
		s.q.Purpose, s.q.Find.Taxon = "home", "Littorina littorea"
		s.q.Find.Position = nil // far from its shore nothing is permitted by what was said of that shore
		sets := append(s.sets, base)
		before := s.ask(t, sets, s.finds)
		after := s.ask(t, append(slices.Clone(sets), drawHeld(t, "over", drawRule)), s.finds)
		require.False(t, before.Verdict > after.Verdict, "%s, then %s", before.Text, after.Text)
		if before.Verdict == Within {
			permitted++
		}
	})
	assert.Greater(t, permitted, 0, "nothing was ever permitted, so nothing was tested")
}

// TestOnlyASetInForceLifts: without a set that is checked, covers the shore for sure, is
// for this purpose and allows the kind, nothing is within.
func TestOnlyASetInForceLifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		for _, h := range s.sets {
			switch rapid.IntRange(0, 4).Draw(t, "how it is not in force") {
			case 0:
				h.Checked = nil
			case 1:
				h.Set.From = "2026-05-01"
			case 2:
				h.Shores, h.Set.Area = nil, Area{Place: "the bay", Everywhere: true}
			case 3:
				h.Set.Layer = Household
			default:
				h.Set, h.Fault = nil, "It is of a later form."
			}
		}
		v := s.ask(t, s.sets, s.finds)
		require.True(t, v.Verdict >= Unchecked, "%s: %s", v.Verdict, v.Text)
	})
}

// TestOrderDoesNotMatter: of the sets, and of the finds as they reach a phone.
func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		want := s.ask(t, s.sets, s.finds)
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		sets, finds := slices.Clone(s.sets), slices.Clone(s.finds)
		r.Shuffle(len(sets), func(i, j int) { sets[i], sets[j] = sets[j], sets[i] })
		r.Shuffle(len(finds), func(i, j int) { finds[i], finds[j] = finds[j], finds[i] })
		require.Equal(t, want, s.ask(t, sets, append(finds, finds...)))
	})
}

// TestSplittingAFind gives the same totals.
func TestSplittingAFind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		for i := range s.finds {
			// An amount of nothing is not known, and counts as one at least.
			s.finds[i].Amount = &Amount{float64(rapid.IntRange(1, 80).Draw(t, "tenths")) / 10, "count"}
			s.finds[i].Mass = nil
		}
		if len(s.finds) == 0 {
			return
		}
		i := rapid.IntRange(0, len(s.finds)-1).Draw(t, "which")
		a, b := s.finds[i], s.finds[i]
		part := rapid.Float64Range(0.01, 0.99).Draw(t, "part") * a.Amount.Value
		b.ID, a.Amount, b.Amount = "taken 99", &Amount{part, "count"}, &Amount{a.Amount.Value - part, "count"}
		split := append(slices.Clone(s.finds), b)
		split[i] = a
		one, two := s.ask(t, s.sets, s.finds), s.ask(t, s.sets, split)
		require.Equal(t, one.Verdict, two.Verdict)
		require.Equal(t, len(one.Spoke), len(two.Spoke))
		for k := range one.Spoke {
			if c, d := one.Spoke[k].Count, two.Spoke[k].Count; c != nil && c.Unit == "count" {
				require.Equal(t, c.Total, d.Total)
				require.Equal(t, c.MayAlso, d.MayAlso)
			}
		}
	})
}

// TestAStaleSetForbidsAndPermitsNothing: what it forbids it still forbids; within and at the
// limit become unchecked.
func TestAStaleSetForbidsAndPermitsNothing(t *testing.T) {
	seen := map[Grade]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		h := drawHeld(t, "set", drawRule)
		h.Set.Layer = pick(t, "law", []Layer{National, Regional, Park, Closure})
		if rapid.Bool().Draw(t, "plain") { // so that every grade comes up
			h.Set.Rules = fiveADay()
			h.Set.Area, s.q.Find.Shore = Area{Place: "the bay", Everywhere: true}, "shore"
			s.q.Find = winkle("", float64(rapid.IntRange(4, 6).Draw(t, "winkles")))
			s.q.Find.Shore, s.q.Purpose, s.finds = "shore", "home", nil
			s.q.Party = nil
			if rapid.IntRange(0, 3).Draw(t, "closed") == 0 {
				h = h.with(Rule{Of: Subject{All: true}, Take: "forbidden"})
			}
		}
		h.Checked = &Checked{On: moment(s.q.Find.At, s.q.Zone).day.String(), By: "Ada"}
		fresh := s.ask(t, []*Held{h}, s.finds)
		h.Checked = &Checked{On: "2025-01-01", By: "Ada"}
		stale := s.ask(t, []*Held{h}, s.finds)
		seen[fresh.Verdict]++
		if fresh.Verdict > Unchecked {
			require.Equal(t, fresh.Verdict, stale.Verdict)
		} else {
			require.Equal(t, Unchecked, stale.Verdict)
		}
	})
	for _, g := range []Grade{Within, AtLimit, Over, Forbidden} {
		assert.Greater(t, seen[g], 0, "%s never came up", g)
	}
}

// TestADayIsALocalDay: a day's limit starts anew at the shore's midnight and at no other
// time, also on the days of 23 and 25 hours, and counts 24 local hours by the clock.
func TestADayIsALocalDay(t *testing.T) {
	set := &Set{Form: Form, Name: "x", Layer: National, Area: Area{Everywhere: true}, Rules: map[string]Rule{
		"winkles": {Of: Subject{All: true}, Take: "allowed", Limits: []Limit{{Most: 1, Unit: "count", Base: "person", Per: "day"}}}}}
	rapid.Check(t, func(t *rapid.T) {
		z := mustZone(pick(t, "zone", []string{"Europe/Oslo", "America/New_York", "Australia/Lord_Howe", "Pacific/Apia", "America/Santiago", "America/Havana", "Asia/Beirut"}))
		from := pick(t, "around", []time.Time{
			time.Date(2026, 3, 29, 0, 0, 0, 0, time.UTC), time.Date(2026, 10, 25, 0, 0, 0, 0, time.UTC), // Oslo
			time.Date(2026, 3, 8, 0, 0, 0, 0, time.UTC), time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC), // New York
			time.Date(2026, 4, 5, 0, 0, 0, 0, time.UTC), time.Date(2026, 10, 4, 0, 0, 0, 0, time.UTC), // Lord Howe
			time.Date(2011, 12, 30, 0, 0, 0, 0, time.UTC),                                            // Apia, which had no 30 December 2011
			time.Date(2026, 9, 6, 0, 0, 0, 0, time.UTC), time.Date(2026, 4, 5, 0, 0, 0, 0, time.UTC), // Santiago, which skips midnight
			time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC), time.Date(2026, 3, 8, 0, 0, 0, 0, time.UTC), // Havana, where midnight comes twice
			time.Date(2026, 3, 29, 0, 0, 0, 0, time.UTC), // Beirut, which skips midnight
		})
		a := from.Add(time.Duration(rapid.IntRange(-48*60, 48*60).Draw(t, "a")) * time.Minute)
		b := from.Add(time.Duration(rapid.IntRange(-48*60, 48*60).Draw(t, "b")) * time.Minute)
		s := scene{q: Question{Find: Find{At: a, By: "ada", Shore: "shore", Taxon: "Littorina littorea", Amount: &Amount{1, "count"}}, Zone: z, Purpose: "home"}}
		v := s.ask(t, []*Held{{ID: "set", Set: set, Shores: []string{"shore"}, Checked: &Checked{On: moment(a, z).day.String(), By: "Ada"}}},
			[]Find{{ID: "other", At: b, By: "ada", Shore: "shore", Taxon: "Littorina littorea", Amount: &Amount{1, "count"}}})
		want := AtLimit
		if a.In(z).Format(time.DateOnly) == b.In(z).Format(time.DateOnly) {
			want = Over
		}
		require.Equal(t, want, v.Verdict, "%s and %s", a.In(z), b.In(z))
	})
}
