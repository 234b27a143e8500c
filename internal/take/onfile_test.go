package take

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func hasAt(t *testing.T, sets []*Held, taken []Find, change func(*Question)) OnFile {
	t.Helper()
	l := NewLedger()
	for _, f := range taken {
		l.Put(f)
	}
	q := &Question{Find: Find{At: noon, Shore: "bay", Outing: "outing"}, Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"), Purpose: "home", Now: noon,
		Party: []Person{{ID: "ada", As: "adult"}, {ID: "bo", As: "child"}}}
	if change != nil {
		change(q)
	}
	out, err := Has(sets, l, q)
	require.NoError(t, err)
	return out
}

// TestWhatHoldsOnADay: by hand: five winkles a person a day, of which Ada has three and Bo
// five; twenty in possession; a season that is shut in June.
func TestWhatHoldsOnADay(t *testing.T) {
	law := lawOf("law", National, map[string]Rule{
		"winkles": {Of: Subject{Taxa: []string{"Littorina littorea"}, States: []string{"living"}}, Take: "allowed", Limits: []Limit{
			{Most: 5, Unit: "count", Base: "person", Per: "day"}, {Most: 20, Unit: "count", Base: "household", Per: "possession"}}},
		"weed": {Of: Subject{Groups: []string{"algae"}}, Season: &Season{Open: []Span{{From: "08-01", To: "04-30"}}}},
		"pots": {Of: Subject{Groups: []string{"crabs"}}, During: &Season{Open: []Span{{Months: []int{1}}}}, Limits: []Limit{{Most: 1, Unit: "count", Base: "person", Per: "day"}}},
	})
	far := lawOf("far", Regional, fiveADay())
	far.Shores = []string{"cove"}
	old := lawOf("old", Park, fiveADay())
	old.Checked = &Checked{On: "2025-01-01", By: "Ada"}
	unread := &Held{ID: "unread", Fault: "It is of a later form."}
	yesterday := winkle("c", 7)
	yesterday.At = noon.Add(-24 * time.Hour)
	bos := winkle("b", 5)
	bos.By = "bo"
	out := hasAt(t, []*Held{unread, old, far, law}, []Find{winkle("a", 3), bos, yesterday}, nil)

	assert.Equal(t, "2026-06-10", out.Day)
	require.Len(t, out.Sets, 3, "the set of another shore is left out")
	set := out.Sets[0]
	assert.Equal(t, "law", set.ID)
	assert.True(t, set.InForce)
	assert.Equal(t, "yes", set.Fits)
	assert.Equal(t, 0, *set.AgeDays)
	assert.Equal(t, 180, set.ForDays)
	require.Len(t, set.Rules, 3)

	pots, weed, winkles := set.Rules[0], set.Rules[1], set.Rules[2]
	assert.Equal(t, "no", pots.Applies)
	assert.Empty(t, pots.Tallies)
	assert.Equal(t, "algae", weed.Of)
	require.Len(t, weed.Says, 1)
	assert.Equal(t, Says{"season", "Open from 1 August to 30 April.", Forbidden}, weed.Says[0])

	assert.Equal(t, "Littorina littorea; only living", winkles.Of)
	require.Len(t, winkles.Tallies, 2)
	day := winkles.Tallies[0]
	assert.Equal(t, "5 a person a day", day.Text)
	require.Len(t, day.Lines, 2)
	for i, want := range []struct {
		by    string
		taken float64
		is    Grade
	}{{"ada", 3, Within}, {"bo", 5, AtLimit}} {
		line := day.Lines[i]
		assert.Equal(t, want.by, line.By)
		assert.Equal(t, want.taken, line.Count.Total)
		assert.Equal(t, want.is, line.Verdict)
		assert.Equal(t, 8.0, *line.Count.Party)
		assert.Equal(t, 10.0, *line.Count.PartyOf)
	}
	assert.Equal(t, "3 taken today; limit on file 5; the party 8 of 10.", day.Lines[0].Text)
	assert.Equal(t, 2.0, day.Lines[0].Count.Left)
	kept := winkles.Tallies[1]
	require.Len(t, kept.Lines, 1)
	assert.Equal(t, 15.0, kept.Lines[0].Count.Total)
	assert.Equal(t, "", kept.Lines[0].By)

	assert.Equal(t, "old", out.Sets[1].ID)
	assert.True(t, out.Sets[1].Stale)
	assert.False(t, out.Sets[1].InForce)
	assert.Equal(t, 525, *out.Sets[1].AgeDays, "1 January 2025 to 10 June 2026: 365 + 160 days")
	assert.Equal(t, "It is of a later form.", out.Sets[2].Fault)
}

// TestWhatEachKindCounts: where each kind counts by itself there is a line for each taken.
func TestWhatEachKindCounts(t *testing.T) {
	law := lawOf("law", National, map[string]Rule{"all": {Of: Subject{All: true}, Take: "allowed", Unless: &Unless{AgeUnder: ptr(16)},
		Limits: []Limit{{Most: 2, Unit: "count", Base: "person", Per: "day", Each: "taxon"}}}})
	mussel := winkle("m", 3)
	mussel.Taxon = "Mytilus edulis"
	out := hasAt(t, []*Held{law}, []Find{winkle("a", 2), mussel}, func(q *Question) {
		q.Party[1].Born = ptr(2016) // exempt
	})
	lines := out.Sets[0].Rules[0].Tallies[0].Lines
	require.Len(t, lines, 2)
	assert.Equal(t, "littorina littorea", lines[0].Taxon)
	assert.Equal(t, AtLimit, lines[0].Verdict)
	assert.Equal(t, Over, lines[1].Verdict)
}

func ptr[T any](v T) *T { return &v }

// TestTheTallyIsWhatTheVerdictCounts: of every limit that a verdict counts, the tally of the
// day has the same, without the find.
func TestTheTallyIsWhatTheVerdictCounts(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		s.q.Find.ID, s.q.Find.By, s.q.Find.Position, s.q.Find.Taxon = "", "ada", nil, "Littorina littorea"
		s.q.Party[1].Does = "gathers"
		v := s.ask(t, s.sets, s.finds)
		l := NewLedger()
		for _, f := range s.finds {
			l.Put(f)
		}
		q := s.q
		out, err := Has(s.sets, l, &q)
		require.NoError(t, err)
		for _, o := range v.Spoke {
			if o.Count == nil || o.What != "limit" {
				continue
			}
			same, byKind := 0, 0
			for _, set := range out.Sets {
				for _, r := range set.Rules {
					if set.ID != o.Set || r.ID != o.Rule {
						continue
					}
					for _, tally := range r.Tallies {
						if len(tally.Lines) == 0 {
							byKind++ // and nothing was taken
						}
						for _, line := range tally.Lines {
							if line.Taxon != "" {
								byKind++ // another test's
							} else if (line.By == "" || line.By == "ada") && tally.Base == o.Count.Base && tally.Per == o.Count.Per && line.Count.Taken == o.Count.Taken && line.Count.Limit == o.Count.Limit && line.Count.Unit == o.Count.Unit {
								same++
							}
						}
					}
				}
			}
			require.Positive(t, same+byKind, "%+v is in no tally", o.Count)
			compared += min(same, 1)
		}
	})
	require.Positive(t, compared)
}

// TestEveryRuleHasWords: no part of a public rule goes unsaid.
func TestEveryRuleHasWords(t *testing.T) {
	for name, set := range models(t) {
		for _, r := range set.InWords() {
			assert.NotEmpty(t, r.Of, "%s %s", name, r.ID)
			rule := set.Rules[r.ID]
			want := len(rule.Limits) + len(rule.Sizes) + len(rule.Duties)
			for _, there := range []bool{rule.Take != "", rule.Season != nil, rule.Hours != nil, rule.Gear != nil, rule.Use != nil, rule.Substrate != nil,
				rule.Rest != 0, rule.Cut != nil, rule.Return != ""} {
				if there {
					want++
				}
			}
			if p := rule.Person; p != nil {
				for _, there := range []bool{p.Licence != "", p.Consent != "", p.AgeFrom != nil, p.AgeTo != nil} {
					if there {
						want++
					}
				}
			}
			assert.Len(t, r.Says, want, "%s %s", name, r.ID)
			for _, s := range r.Says {
				assert.NotEmpty(t, s.Text, "%s %s", name, r.ID)
			}
		}
	}
}
