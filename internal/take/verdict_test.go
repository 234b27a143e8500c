package take

import (
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var noon = time.Date(2026, 6, 10, 10, 0, 0, 0, time.UTC)

func winkle(id string, n float64) Find {
	return Find{ID: id, At: noon, By: "ada", Shore: "bay", Taxon: "Littorina littorea", State: "living", Amount: &Amount{n, "count"}, Outing: "outing"}
}

// lawOf is a set that holds everywhere and was checked today.
func lawOf(id string, layer Layer, rules map[string]Rule) *Held {
	return &Held{ID: id, Shores: []string{"bay"}, Checked: &Checked{On: "2026-06-10", By: "Ada"},
		Set: &Set{Form: Form, Name: id, Layer: layer, Authority: "the office of " + id, Ask: "at the quay", Source: "an invented notice",
			SourceDate: "2026-01-01", Area: Area{Place: "the bay", Everywhere: true}, Rules: rules}}
}

func fiveADay() map[string]Rule {
	return map[string]Rule{"winkles": {Of: Subject{Taxa: []string{"Littorina littorea"}}, Take: "allowed",
		Limits: []Limit{{Most: 5, Unit: "count", Base: "person", Per: "day"}}}}
}

// judge asks with changes to the question.
func judge(t *testing.T, sets []*Held, find Find, taken []Find, change func(*Question, *Ledger)) Verdict {
	t.Helper()
	q := &Question{Find: find, Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"), Purpose: "home"}
	l := NewLedger()
	for _, f := range taken {
		l.Put(f)
	}
	if change != nil {
		change(q, l)
	}
	v, err := Evaluate(sets, l, q)
	require.NoError(t, err)
	return v
}

func spoke(v *Verdict, what string) *Spoke {
	i := slices.IndexFunc(v.Spoke, func(s Spoke) bool { return s.What == what })
	if i < 0 {
		return nil
	}
	return &v.Spoke[i]
}

// TestTwoPhonesTakeTheLastOne: each of two phones without signal takes the last that is
// within the limit; after they have met, each find is over, with both named.
func TestTwoPhonesTakeTheLastOne(t *testing.T) {
	law := []*Held{lawOf("law", National, fiveADay())}
	earlier, one, two := winkle("a", 4), winkle("b", 1), winkle("c", 1)
	two.At = noon.Add(time.Hour)
	assert.Equal(t, AtLimit, judge(t, law, one, []Find{earlier, one}, nil).Verdict)
	assert.Equal(t, AtLimit, judge(t, law, two, []Find{earlier, two}, nil).Verdict)
	for _, f := range []Find{one, two} {
		v := judge(t, law, f, []Find{two, one, earlier}, nil)
		assert.Equal(t, Over, v.Verdict)
		count := spoke(&v, "limit").Count
		assert.ElementsMatch(t, []string{"a", "b", "c"}, count.Finds)
		assert.Equal(t, 6.0, count.Total)
		assert.Equal(t, "6 taken today; limit on file 5.", spoke(&v, "limit").Text)
	}
}

// TestKeepTheFirst goes by the time taken, whichever phone told first.
func TestKeepTheFirst(t *testing.T) {
	rules := fiveADay()
	rules["winkles"].Limits[0].KeepFirst = true
	law := []*Held{lawOf("law", National, rules)}
	first, last := winkle("z", 5), winkle("a", 1)
	last.At = noon.Add(time.Minute)
	v := judge(t, law, first, []Find{last, first}, nil)
	assert.Equal(t, AtLimit, v.Verdict)
	assert.Equal(t, "forbidden", v.PutBack)
	assert.Equal(t, Over, judge(t, law, last, []Find{last, first}, nil).Verdict)
}

// TestACheckGrowsOld: a text in 180 days, a closure in one, or as the household sets it.
func TestACheckGrowsOld(t *testing.T) {
	for _, c := range []struct {
		name, on string
		text     int
		want     Grade
	}{
		{"today", "2026-06-10", 0, Within},
		{"180 days ago", "2025-12-12", 0, Within},
		{"181 days ago", "2025-12-11", 0, Unchecked},
		{"31 days ago, of 30", "2026-05-10", 30, Unchecked},
		{"30 days ago, of 30", "2026-05-11", 30, Within},
		{"after the find was made", "2026-06-12", 0, Within},
		{"a day that lies ahead of now", "2062-06-10", 0, Unchecked},
		{"no day", "yesterday", 0, Unchecked},
		{"never", "", 0, Unchecked},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := lawOf("law", National, fiveADay())
			h.Checked = &Checked{On: c.on, By: "Bo"}
			if c.on == "" {
				h.Checked = nil
			}
			v := judge(t, []*Held{h}, winkle("", 1), nil, func(q *Question, _ *Ledger) {
				q.TextDays, q.Now = c.text, time.Date(2026, 6, 13, 0, 0, 0, 0, time.UTC)
			})
			assert.Equal(t, c.want, v.Verdict, v.Text)
			assert.Equal(t, c.want == Unchecked, v.Sets[0].Stale)
		})
	}
	closure := lawOf("closure", Closure, map[string]Rule{"mussels": {Of: Subject{Taxa: []string{"Mytilus"}}, Take: "forbidden"}})
	law := lawOf("law", National, fiveADay())
	for on, want := range map[string]Grade{"2026-06-10": Within, "2026-06-09": Within, "2026-06-08": Unchecked} {
		closure.Checked = &Checked{On: on, By: "Bo"}
		assert.Equal(t, want, judge(t, []*Held{law, closure}, winkle("", 1), nil, nil).Verdict, on)
	}
	mussel := winkle("", 1)
	mussel.Taxon = "Mytilus edulis"
	assert.Equal(t, Forbidden, judge(t, []*Held{law, closure}, mussel, nil, nil).Verdict, "a stale closure still forbids")
}

// TestSilence: what nobody speaks of is unchecked, in words that say what to do.
func TestSilence(t *testing.T) {
	v := judge(t, nil, winkle("", 1), nil, nil)
	assert.Equal(t, Unchecked, v.Verdict)
	assert.Equal(t, "Not checked: do not take it. No current rules are known here; ask who is in charge of this shore.", v.Text)

	other := winkle("", 1)
	other.Taxon = "Nucella lapillus"
	v = judge(t, []*Held{lawOf("law", National, fiveADay())}, other, nil, nil)
	assert.Equal(t, Unchecked, v.Verdict)
	assert.Equal(t, "Not checked: do not take it. Ask the office of law (at the quay).", v.Text)

	park := lawOf("park", Park, fiveADay())
	v = judge(t, []*Held{lawOf("law", National, map[string]Rule{"all": {Of: Subject{All: true}, Take: "allowed"}}), park}, other, nil, nil)
	assert.Equal(t, Unchecked, v.Verdict, "one set allows it, and another that covers the shore is silent")

	house := lawOf("house", Household, map[string]Rule{"all": {Of: Subject{All: true}, Take: "allowed"}})
	assert.Equal(t, Unchecked, judge(t, []*Held{house}, winkle("", 1), nil, nil).Verdict, "the household's word is no law")

	v = judge(t, []*Held{lawOf("law", National, fiveADay()), {ID: "new", Fault: "It is of form 2."}}, winkle("", 1), nil, nil)
	assert.Equal(t, Unchecked, v.Verdict, "a set that cannot be read may forbid it")
	assert.Contains(t, spoke(&v, "unread").Text, "form 2")

	v = judge(t, []*Held{lawOf("law", National, fiveADay())}, winkle("", 1), nil, func(q *Question, _ *Ledger) { q.Find.Shore = "elsewhere" })
	assert.Equal(t, Unchecked, v.Verdict)
	assert.Empty(t, v.Sets, "a set that does not cover the shore is named")
}

func TestWordsOfPermission(t *testing.T) {
	v := judge(t, []*Held{lawOf("law", National, fiveADay())}, winkle("", 1), []Find{winkle("x", 3)}, func(q *Question, _ *Ledger) {
		q.Party = []Person{{ID: "ada", As: "adult", Does: "gathers"}, {ID: "bo", As: "child", Does: "gathers"}, {ID: "cy", As: "child", Does: "watches"}}
	})
	assert.Equal(t, "Within the rules on file, checked on 2026-06-10 by Ada. The word of the office of law (at the quay) and the signs on the shore stand above this.", v.Text)
	assert.Equal(t, "3 taken today, 4 with this; limit on file 5; the party 4 of 10.", spoke(&v, "limit").Text)
}

// TestWhatIsNotKnownOfOthers: earlier finds that may count keep a limit from being within.
func TestWhatIsNotKnownOfOthers(t *testing.T) {
	law := []*Held{lawOf("law", National, fiveADay())}
	nobody := winkle("x", 4)
	nobody.By = ""
	v := judge(t, law, winkle("", 1), []Find{nobody}, nil)
	assert.Equal(t, AtLimit, v.Verdict, "at worst it is at the limit")
	v = judge(t, law, winkle("", 2), []Find{nobody}, nil)
	assert.Equal(t, Unchecked, v.Verdict)
	assert.Equal(t, "takers", v.Missing[0].Fact)
	some := winkle("x", 4)
	some.Amount = nil
	assert.Equal(t, Unchecked, judge(t, law, winkle("", 1), []Find{some}, nil).Verdict, "some winkles, nobody knows how many")
	unsure := winkle("x", 5)
	unsure.Taxon = "unsure"
	assert.Equal(t, Unchecked, judge(t, law, winkle("", 1), []Find{unsure}, nil).Verdict)
	unsure.Group = "reds"
	assert.Equal(t, Within, judge(t, law, winkle("", 1), []Find{unsure}, nil).Verdict, "an unsure red weed is no winkle")
	negative := winkle("x", -100)
	assert.Equal(t, Unchecked, judge(t, law, winkle("", 1), []Find{negative}, nil).Verdict, "an amount under nothing lowers no total")
	seen := winkle("x", 5)
	seen.Fate = "seen"
	assert.Equal(t, Within, judge(t, law, winkle("", 1), []Find{seen}, nil).Verdict)
	v = judge(t, law, winkle("", 1), nil, func(_ *Question, l *Ledger) { l.PutUnread("y") })
	assert.Equal(t, Unchecked, v.Verdict)
}

// TestFarShoresDoNotCount: what was taken 25 km and more outside the area.
func TestFarShoresDoNotCount(t *testing.T) {
	h := lawOf("law", National, fiveADay())
	h.Set.Area = Area{Place: "the bay", Polygons: []Ring{{{10, 60}, {11, 60}, {11, 61}, {10, 61}}}}
	taken := winkle("x", 5)
	taken.Shore = "other"
	for lat, want := range map[float64]Grade{60.5: Over, 59.9: Over, 59.7: Within} {
		v := judge(t, []*Held{h}, winkle("", 1), []Find{taken}, func(_ *Question, l *Ledger) { l.PutShore("other", Spot{LatDeg: lat, LonEastDeg: 10.5}) })
		assert.Equal(t, want, v.Verdict, "at %v", lat)
	}
	assert.Equal(t, Over, judge(t, []*Held{h}, winkle("", 1), []Find{taken}, nil).Verdict, "a shore that nobody placed counts")
}

// TestHouseholdRules stand apart: they change nothing of the law's verdict.
func TestHouseholdRules(t *testing.T) {
	law := lawOf("law", National, fiveADay())
	house := lawOf("house", Household, map[string]Rule{
		"rest":    {Of: Subject{All: true}, Rest: 90},
		"in care": {Of: Subject{Taxa: []string{"Littorina"}}, Limits: []Limit{{Most: 8, Unit: "count", Base: "household", Per: "possession"}}},
	})
	house.Checked = nil
	ask := func(days int, n float64, visits ...time.Time) Verdict {
		earlier := winkle("x", n)
		earlier.At, earlier.By = noon.AddDate(0, 0, -days), "bo"
		return judge(t, []*Held{law, house}, winkle("", 1), []Find{earlier}, func(q *Question, _ *Ledger) { q.Visits = visits })
	}
	v := ask(91, 1)
	assert.Equal(t, []Grade{Within, Within}, []Grade{v.Verdict, v.Household})
	v = ask(90, 1)
	assert.Equal(t, []Grade{Within, Forbidden}, []Grade{v.Verdict, v.Household})
	assert.Equal(t, "The shore rests for 90 days after a visit; the last was on 2026-03-12.", spoke(&v, "rest").Text)
	v = ask(0, 1)
	assert.Equal(t, Within, v.Household, "today's own finds are no earlier visit")
	v = ask(0, 1, noon.AddDate(0, 0, -3))
	assert.Equal(t, Forbidden, v.Household, "a visit without a find")
	v = ask(91, 7)
	assert.Equal(t, AtLimit, v.Household)
	v = ask(91, 8)
	assert.Equal(t, []Grade{Within, Over}, []Grade{v.Verdict, v.Household})
}

// TestTimesOfLimits: each limit counts over its own time.
func TestTimesOfLimits(t *testing.T) {
	for _, c := range []struct {
		name  string
		limit Limit
		taken time.Time
		put   func(*Find)
		want  Grade
	}{
		{"two days, yesterday", Limit{Per: "days", Days: 2}, noon.AddDate(0, 0, -1), nil, Over},
		{"two days, the day before", Limit{Per: "days", Days: 2}, noon.AddDate(0, 0, -2), nil, Within},
		{"outing, the same", Limit{Per: "outing"}, noon.AddDate(0, 0, -3), nil, Over},
		{"outing, another", Limit{Per: "outing"}, noon, func(f *Find) { f.Outing = "x" }, Within},
		{"year, new year's morning there", Limit{Per: "year"}, time.Date(2025, 12, 31, 23, 30, 0, 0, time.UTC), nil, Over},
		{"year, the old one there", Limit{Per: "year"}, time.Date(2025, 12, 31, 22, 30, 0, 0, time.UTC), nil, Within},
		{"season, its first day", Limit{Per: "season"}, time.Date(2026, 5, 1, 8, 0, 0, 0, time.UTC), nil, Over},
		{"season, before it", Limit{Per: "season"}, time.Date(2026, 4, 30, 8, 0, 0, 0, time.UTC), nil, Within},
		{"possession, years ago", Limit{Per: "possession"}, noon.AddDate(-4, 0, 0), nil, Over},
		{"possession, put back", Limit{Per: "possession"}, noon, func(f *Find) { f.PutBack = &Parted{At: noon} }, Within},
		{"day, put back", Limit{Per: "day"}, noon, func(f *Find) { f.PutBack = &Parted{At: noon} }, Over},
		{"day, put back where that is free", Limit{Per: "day", PutBack: "free"}, noon, func(f *Find) { f.PutBack = &Parted{At: noon} }, Within},
		{"day, a part put back where that is free", Limit{Per: "day", PutBack: "free"}, noon, func(f *Find) { f.PutBack = &Parted{At: noon, Amount: &Amount{1, "count"}} }, AtLimit},
		{"tide, the same", Limit{Per: "tide"}, noon.Add(-3 * time.Hour), nil, Over},
		{"tide, the one before", Limit{Per: "tide"}, noon.Add(-7 * time.Hour), nil, Within},
		{"household, somebody else", Limit{Per: "day", Base: "household"}, noon, func(f *Find) { f.By = "bo" }, Over},
		{"person, somebody else", Limit{Per: "day"}, noon, func(f *Find) { f.By = "bo" }, Within},
		{"of each kind, another", Limit{Per: "day", Each: "taxon"}, noon, func(f *Find) { f.Taxon = "Littorina saxatilis" }, Within},
		{"kinds together", Limit{Per: "day"}, noon, func(f *Find) { f.Taxon = "Littorina saxatilis" }, Over},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.limit.Most, c.limit.Unit = 5, "count"
			if c.limit.Base == "" {
				c.limit.Base = "person"
			}
			rules := map[string]Rule{"winkles": {Of: Subject{Taxa: []string{"Littorina"}}, Take: "allowed", Limits: []Limit{c.limit}, Season: &Season{Open: []Span{{From: "05-01", To: "10-31"}}}}}
			taken := winkle("x", 5)
			taken.At = c.taken
			if c.put != nil {
				c.put(&taken)
			}
			v := judge(t, []*Held{lawOf("law", National, rules)}, winkle("", 1), []Find{taken}, func(q *Question, _ *Ledger) {
				q.TideAt = &[2]time.Time{noon.Add(-6 * time.Hour), noon.Add(6 * time.Hour)}
			})
			assert.Equal(t, c.want, v.Verdict, spoke(&v, "limit").Text)
		})
	}
}

// TestReadFind: what is of the wrong form in a kept record is not known, and the rest is.
func TestReadFind(t *testing.T) {
	f, ok := ReadFind([]byte(`{"id": "x", "at": "2026-06-10T10:00:00Z", "taxon": "Ulva", "amount": "many", "position": "noFix", "photos/ab": true, "shore": null}`))
	assert.True(t, ok)
	assert.Equal(t, Find{ID: "x", At: noon, Taxon: "Ulva", Position: &Position{}}, f)
	f, ok = ReadFind([]byte(`{"id": "x", "at": "soon"}`))
	assert.False(t, ok)
	assert.Equal(t, "x", f.ID)
}

// TestContainers counts each container once.
func TestContainers(t *testing.T) {
	rules := map[string]Rule{"weed": {Of: Subject{All: true}, Take: "allowed", Limits: []Limit{{Most: 2, Unit: "containers", Base: "person", Per: "day"}}}}
	in := func(id, name string) Find { f := winkle(id, 1); f.Container = name; return f }
	law := []*Held{lawOf("law", National, rules)}
	assert.Equal(t, Within, judge(t, law, in("", "red"), []Find{in("a", "red")}, nil).Verdict)
	assert.Equal(t, AtLimit, judge(t, law, in("", "red"), []Find{in("a", "red"), in("b", "blue")}, nil).Verdict)
	assert.Equal(t, Over, judge(t, law, in("", "red"), []Find{in("a", "blue"), in("b", "green")}, nil).Verdict)
	assert.Equal(t, Unchecked, judge(t, law, in("", ""), []Find{in("a", "blue")}, nil).Verdict)
}
