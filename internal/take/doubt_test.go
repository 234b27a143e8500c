package take

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/sky"
)

// TestAnEmptyListOfGearIsNotSaid: whoever ticked a word and took it back has said nothing;
// only "what comes off with it" may be nothing. Words are compared without regard to capitals.
func TestAnEmptyListOfGearIsNotSaid(t *testing.T) {
	ask := func(change func(*Rule), gear, use, substrate []string) Grade {
		rules := fiveADay()
		r := rules["winkles"]
		change(&r)
		rules["winkles"] = r
		f := winkle("", 1)
		f.Gear, f.Use, f.Substrate = gear, use, substrate
		return judge(t, []*Held{lawOf("law", National, rules)}, f, nil, nil).Verdict
	}
	none := []string{}
	only := func(r *Rule) { r.Gear = &Words{Only: []string{"hand"}} }
	never := func(r *Rule) { r.Gear = &Words{Never: []string{"Rake"}} }
	assert.Equal(t, Unchecked, ask(only, none, nil, nil))
	assert.Equal(t, Unchecked, ask(never, none, nil, nil))
	assert.Equal(t, Unchecked, ask(func(r *Rule) { r.Use = &Words{Only: []string{"bait"}} }, nil, none, nil))
	assert.Equal(t, Within, ask(func(r *Rule) { r.Substrate = &Words{Never: []string{"live rock"}} }, nil, nil, none))
	assert.Equal(t, Forbidden, ask(never, []string{"rake"}, nil, nil))
	assert.Equal(t, Within, ask(only, []string{"Hand "}, nil, nil))
}

// TestNothingIsNoAmount: what was taken is more than nothing.
func TestNothingIsNoAmount(t *testing.T) {
	law := []*Held{lawOf("law", National, fiveADay())}
	v := judge(t, law, winkle("", 0), []Find{winkle("a", 5)}, nil)
	assert.Equal(t, Over, v.Verdict, "it is one at least")
	v = judge(t, law, winkle("", 1), []Find{winkle("a", 0)}, nil)
	assert.Equal(t, Unchecked, v.Verdict)
	assert.Equal(t, 1.0, spoke(&v, "limit").Count.Taken)
}

// TestWhoMaySayPutItBack: putting back is suggested only by rules that may permit something:
// not by a set that is overdue, nor by the household's own, nor where it is not known whether
// the rule is about it.
func TestWhoMaySayPutItBack(t *testing.T) {
	back := func(layer Layer, word string, change func(*Held, *Find)) string {
		rules := fiveADay()
		r := rules["winkles"]
		r.Return = word
		rules["winkles"] = r
		h, f := lawOf("set", layer, rules), winkle("", 1)
		if change != nil {
			change(h, &f)
		}
		return judge(t, []*Held{h}, f, nil, nil).PutBack
	}
	old := func(h *Held, _ *Find) { h.Checked.On = "2025-06-10" }
	genus := func(_ *Held, f *Find) { f.Taxon = "Littorina" }
	assert.Equal(t, "allowed", back(National, "allowed", nil))
	assert.Equal(t, "unknown", back(National, "allowed", old))
	assert.Equal(t, "unknown", back(Household, "allowed", nil))
	assert.Equal(t, "unknown", back(Household, "demanded", nil))
	assert.Equal(t, "demanded", back(National, "demanded", old), "what it demands it still demands")
	assert.Equal(t, "unknown", back(National, "demanded", genus))
	assert.Equal(t, "forbidden", back(National, "forbidden", genus))
}

// TestAnAdultsLimitAsksWhoIsOne: of somebody who may be a child it is not known.
func TestAnAdultsLimitAsksWhoIsOne(t *testing.T) {
	rules := fiveADay()
	rules["winkles"].Limits[0].Who = "adults"
	ask := func(party ...Person) Verdict {
		return judge(t, []*Held{lawOf("law", National, rules)}, winkle("", 1), nil, func(q *Question, _ *Ledger) { q.Party = party })
	}
	for _, v := range []Verdict{ask(), ask(Person{ID: "ada"})} {
		assert.Equal(t, Unchecked, v.Verdict)
		assert.Equal(t, "age", v.Missing[0].Fact)
	}
	assert.Equal(t, Within, ask(Person{ID: "ada", As: "adult"}).Verdict)
	assert.Equal(t, Over, ask(Person{ID: "ada", As: "child"}).Verdict)
}

// TestWhoTookOnTheOutingIsOfTheParty, on its list or not.
func TestWhoTookOnTheOutingIsOfTheParty(t *testing.T) {
	rules := fiveADay()
	rules["winkles"].Limits[0].Base = "party"
	ask := func(outing string) Verdict {
		other := winkle("a", 5)
		other.By, other.Outing = "cy", outing
		return judge(t, []*Held{lawOf("law", National, rules)}, winkle("", 1), []Find{other}, func(q *Question, _ *Ledger) { q.Party = []Person{{ID: "ada"}} })
	}
	assert.Equal(t, Over, ask("outing").Verdict)
	assert.Equal(t, Within, ask("another").Verdict)
}

// TestTalliesOfWhatIsNotInForce: a line of a set that permits nothing, of a rule that may not
// hold, or beside finds that cannot be read says no "within".
func TestTalliesOfWhatIsNotInForce(t *testing.T) {
	line := func(n float64, change func(*Held, *Question, *Ledger)) Grade {
		h, l := lawOf("law", National, fiveADay()), NewLedger()
		l.Put(winkle("a", n))
		q := &Question{Find: Find{At: noon, Shore: "bay"}, Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"), Purpose: "home", Party: []Person{{ID: "ada"}}}
		change(h, q, l)
		has, err := Has([]*Held{h}, l, q)
		require.NoError(t, err)
		return has.Sets[0].Rules[0].Tallies[0].Lines[0].Verdict
	}
	assert.Equal(t, Within, line(3, func(*Held, *Question, *Ledger) {}))
	assert.Equal(t, Unchecked, line(3, func(h *Held, _ *Question, _ *Ledger) { h.Checked = nil }))
	assert.Equal(t, Unchecked, line(5, func(h *Held, _ *Question, _ *Ledger) { h.Checked.On = "2025-06-10" }))
	assert.Equal(t, Over, line(6, func(h *Held, _ *Question, _ *Ledger) { h.Checked.On = "2025-06-10" }))
	assert.Equal(t, Unchecked, line(3, func(h *Held, _ *Question, _ *Ledger) { h.Shores = nil }))
	assert.Equal(t, Unchecked, line(3, func(_ *Held, q *Question, _ *Ledger) { q.Purpose = "" }))
	assert.Equal(t, Unchecked, line(3, func(h *Held, _ *Question, _ *Ledger) {
		r := h.Set.Rules["winkles"]
		r.Where = &Area{Strip: &Strip{Below: &Level{PlusM: 1}}} // at which level is not known
		h.Set.Rules["winkles"] = r
	}))
	assert.Equal(t, Unchecked, line(3, func(_ *Held, _ *Question, l *Ledger) { l.PutUnread("b") }))
}

// TestInCareIsWhereverItCameFrom: what the household keeps counts for its own rule whichever
// of its shores it was taken on.
func TestInCareIsWhereverItCameFrom(t *testing.T) {
	rule := map[string]Rule{"few": {Of: Subject{All: true}, Limits: []Limit{{Most: 5, Unit: "count", Base: "household", Per: "possession"}}}}
	far := winkle("a", 5)
	far.Shore = "cove"
	v := judge(t, []*Held{lawOf("ours", Household, rule)}, winkle("", 1), []Find{far}, nil)
	assert.Equal(t, Over, v.Household)
	v = judge(t, []*Held{lawOf("law", National, rule)}, winkle("", 1), []Find{far}, nil)
	assert.Equal(t, Unchecked, v.Verdict, "a law's area is the law's")
}

// TestAShoreOfWhichNobodySaid: where the household has said of some shores that they lie in
// the place, and of others that they do not, it is not known of a third.
func TestAShoreOfWhichNobodySaid(t *testing.T) {
	h := lawOf("law", National, map[string]Rule{"never": {Of: Subject{All: true}, Take: "forbidden"}})
	h.Shores, h.Elsewhere = []string{"cove"}, []string{"pier"}
	at := func(shore string) string {
		f := winkle("", 1)
		f.Shore = shore
		v := judge(t, []*Held{h}, f, nil, nil)
		if len(v.Sets) == 0 {
			return ""
		}
		return v.Sets[0].Covers + " " + v.Verdict.String()
	}
	assert.Equal(t, "yes forbidden", at("cove"))
	assert.Equal(t, "", at("pier"))
	assert.Equal(t, "unsure unchecked", at("bay"))
}

// TestSeasonsThatTouchAreOne: a limit a season does not begin anew where one span of it ends
// and the next begins.
func TestSeasonsThatTouchAreOne(t *testing.T) {
	s := Season{Open: []Span{{From: "01-01", To: "03-31"}, {From: "10-01", To: "12-31"}, {From: "06-01", To: "06-30"}}}
	assert.Equal(t, "2025-10-01", s.began(civilNamed("2026-02-01")).String())
	assert.Equal(t, "2026-06-01", s.began(civilNamed("2026-06-10")).String())
	year := Season{Open: []Span{{From: "01-01", To: "12-31"}}}
	assert.Equal(t, "2026-01-01", year.began(civilNamed("2026-02-01")).String())
}

// TestAVisitOfThatDayIsNoneBefore: whoever is on the shore today, or notes a later day, has not
// been there before.
func TestAVisitOfThatDayIsNoneBefore(t *testing.T) {
	ours := lawOf("ours", Household, map[string]Rule{"rest": {Of: Subject{All: true}, Rest: 5}})
	after := func(visit time.Time) Grade {
		return judge(t, []*Held{ours}, winkle("", 1), nil, func(q *Question, _ *Ledger) { q.Visits = []time.Time{visit} }).Household
	}
	assert.Equal(t, Forbidden, after(noon.AddDate(0, 0, -5)))
	assert.Equal(t, Within, after(noon.AddDate(0, 0, -6)))
	assert.Zero(t, after(noon.Add(-time.Hour)))
	assert.Zero(t, after(noon.AddDate(0, 0, 1)))
}

// TestACheckHasSomebodysName: one by nobody is none.
func TestACheckHasSomebodysName(t *testing.T) {
	h := lawOf("law", National, fiveADay())
	h.Checked.By = " "
	assert.Equal(t, Unchecked, judge(t, []*Held{h}, winkle("", 1), nil, nil).Verdict)
}

// TestNamesThatNoFindHas are refused in a set: a rule for a family or for "spp." would be
// about nothing that anybody finds, and forbid nothing.
func TestNamesThatNoFindHas(t *testing.T) {
	set := lawOf("law", National, fiveADay()).Set
	read := func(change func(*Rule)) error {
		r := fiveADay()["winkles"]
		change(&r)
		set.Rules = map[string]Rule{"winkles": r}
		data, err := json.Marshal(set)
		require.NoError(t, err)
		_, err = Decode(data)
		return err
	}
	for _, name := range []string{"Patella spp.", "Patella sp", "Patellidae", "Laminariales", "Scleractinia", "Bivalvia", "Patella vulgata Linnaeus, 1758", "Patella (Patella) vulgata", "Mytilus edulis/galloprovincialis"} {
		err := read(func(r *Rule) { r.Of.Taxa = []string{"Ulva", name} })
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), "rules.winkles.of.taxa[1]")
		assert.Error(t, read(func(r *Rule) { r.Of.Except = &Kinds{Taxa: []string{name}} }), name)
	}
	for _, name := range []string{"Patella", "Patella vulgata", "Porphyra umbilicalis f. laciniata", "Caulerpa taxifolia var. distichophylla"} {
		assert.NoError(t, read(func(r *Rule) { r.Of.Taxa = []string{name} }), name)
	}
}

// TestMinutesThatTurnHoursRound are refused: "10:00 to 12:00 − 180 min" would read as all but
// an hour.
func TestMinutesThatTurnHoursRound(t *testing.T) {
	set := lawOf("law", National, fiveADay()).Set
	read := func(h Hours) error {
		r := fiveADay()["winkles"]
		r.Hours = &h
		set.Rules = map[string]Rule{"winkles": r}
		data, err := json.Marshal(set)
		require.NoError(t, err)
		_, err = Decode(data)
		return err
	}
	assert.ErrorContains(t, read(Hours{"10:00", "12:00", 0, -180}), "rules.winkles.hours")
	assert.ErrorContains(t, read(Hours{"10:00", "12:00", 120, 0}), "rules.winkles.hours")
	assert.ErrorContains(t, read(Hours{"22:00", "04:00", 180, 0}), "rules.winkles.hours", "past midnight")
	assert.NoError(t, read(Hours{"10:00", "12:00", -30, 30}))
	assert.NoError(t, read(Hours{"22:00", "04:00", 30, -30}))
	assert.NoError(t, read(Hours{"sunrise", "12:00", 30, -30}))
}

// TestSpacesInNames mean nothing.
func TestSpacesInNames(t *testing.T) {
	f := winkle("", 1)
	f.Taxon = "Littorina\u00a0 littorea "
	law := lawOf("law", National, map[string]Rule{"never": {Of: Subject{Taxa: []string{" Littorina  littorea"}}, Take: "forbidden"}})
	assert.Equal(t, Forbidden, judge(t, []*Held{law}, f, nil, nil).Verdict)
	assert.False(t, strings.Contains(kindOf(f.Taxon, "", "").taxon, "\u00a0"))
}

// TestASetThatOnlyAddsPermitsNothing, whatever a rule of it allows: its words say so, and a
// closure has them by default.
func TestASetThatOnlyAddsPermitsNothing(t *testing.T) {
	adds := lawOf("adds", National, fiveADay())
	adds.Set.Otherwise = Others
	for _, h := range []*Held{adds, lawOf("closure", Closure, fiveADay())} {
		v := judge(t, []*Held{h}, winkle("", 1), nil, nil)
		assert.Equal(t, Unchecked, v.Verdict)
		assert.NotNil(t, spoke(&v, "none"))
		v = judge(t, []*Held{h, lawOf("law", National, fiveADay())}, winkle("", 1), nil, nil)
		assert.Equal(t, Within, v.Verdict)
		v = judge(t, []*Held{h, lawOf("law", National, fiveADay())}, winkle("", 6), nil, nil)
		assert.Equal(t, Over, v.Verdict)
	}
}

// TestAFixFarFromItsShore: whoever began an outing on one shore and is by now on another is
// not where the household said that the rules hold. (0.2° of latitude are 22 km.)
func TestAFixFarFromItsShore(t *testing.T) {
	at := func(lat float64, shore *Spot) Verdict {
		f, lon := winkle("", 1), 10.5
		f.Position = &Position{Lat: &lat, Lon: &lon}
		return judge(t, []*Held{lawOf("law", National, fiveADay())}, f, nil, func(q *Question, _ *Ledger) { q.Shore = shore })
	}
	mark := &Spot{60.5, 10.5, 1000}
	v := at(60.5, mark)
	assert.Equal(t, Within, v.Verdict)
	v = at(60.55, mark)
	assert.Equal(t, Within, v.Verdict, "a long shore")
	v = at(60.7, mark)
	assert.Equal(t, Unchecked, v.Verdict)
	assert.Equal(t, []Fact{{"shore", "whether this shore lies in the place of the rules"}}, v.Missing)
	v = at(60.7, nil)
	assert.Equal(t, Within, v.Verdict, "a shore without a place: what the household says")
}

// TestLightPastMidnight: on the polar circle the sun sets after midnight in June. An hour before
// sunset, or eight in the evening, is not put off by that to the end of the day, and what is lit
// after midnight is no part of a day that closed at eight.
func TestLightPastMidnight(t *testing.T) {
	oslo := mustZone("Europe/Oslo")
	spot := &Spot{66.2, 18, 0}
	lit, err := sky.Lit(sky.Site{LatDeg: spot.LatDeg, LonEastDeg: spot.LonEastDeg}, sky.LightSun, instant(t, "2026-06-07T12:00:00+02:00"), instant(t, "2026-06-08T12:00:00+02:00"))
	require.NoError(t, err)
	sunset := lit[0].To
	require.Equal(t, civilNamed("2026-06-08"), civilOf(sunset.In(oslo)), "it sets after midnight")
	open := func(h Hours, at time.Time) truth { return h.open(moment(at, oslo), spot, oslo) }
	early := Hours{From: "sunrise", To: "sunset", ToMin: -60}
	assert.Equal(t, yes, open(early, sunset.Add(-61*time.Minute)))
	assert.Equal(t, no, open(early, sunset.Add(-30*time.Minute)))
	assert.Equal(t, no, open(early, sunset.Add(-1*time.Minute)))
	evening := Hours{From: "sunrise", To: "20:00"}
	assert.Equal(t, yes, open(evening, instant(t, "2026-06-07T19:59:00+02:00")))
	assert.Equal(t, no, open(evening, instant(t, "2026-06-07T20:00:00+02:00")))
	assert.Equal(t, no, open(evening, instant(t, "2026-06-08T00:05:00+02:00")))
	// Under the midnight sun there is neither sunrise nor sunset, and the clock alone closes.
	assert.Equal(t, yes, open(early, instant(t, "2026-06-21T00:05:00+02:00")))
	assert.Equal(t, no, open(evening, instant(t, "2026-06-21T20:05:00+02:00")))
	assert.Equal(t, yes, open(evening, instant(t, "2026-06-21T00:05:00+02:00")))
}
