package take

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPapersAsTheBookHasThem: a licence counts on its last day and not after; none on file
// is not known, an empty list is none.
func TestPapersAsTheBookHasThem(t *testing.T) {
	rules := fiveADay()
	r := rules["winkles"]
	r.Person = &Needs{Licence: "card"}
	rules["winkles"] = r
	law := []*Held{lawOf("law", National, rules)}
	for papers, want := range map[string]Grade{
		`[{"what":"card","number":"7","until":"2026-06-10"}]`: Within,
		`[{"what":"card","until":null}]`:                      Within,
		`["card"]`:                                            Within,
		`[{"what":"card","until":"2026-06-09"}]`:              Forbidden,
		`[{"what":"other"}]`:                                  Forbidden,
		`[]`:                                                  Forbidden,
		`null`:                                                Unchecked,
	} {
		var p Person
		require.NoError(t, json.Unmarshal([]byte(`{"id":"ada","licences":`+papers+`}`), &p), papers)
		v := judge(t, law, winkle("", 1), nil, func(q *Question, _ *Ledger) { q.Party = []Person{p} })
		assert.Equal(t, want, v.Verdict, papers)
	}
}

// TestAgesByTheYearOfBirth: on 10 June 2026 who was born in 2010 is 15 or 16.
func TestAgesByTheYearOfBirth(t *testing.T) {
	rules := fiveADay()
	r := rules["winkles"]
	r.Person = &Needs{AgeFrom: ptr(16)}
	rules["winkles"] = r
	law := []*Held{lawOf("law", National, rules)}
	for born, want := range map[int]Grade{2009: Within, 2010: Unchecked, 2011: Forbidden, 1950: Within} {
		v := judge(t, law, winkle("", 1), nil, func(q *Question, _ *Ledger) { q.Party = []Person{{ID: "ada", Born: &born}} })
		assert.Equal(t, want, v.Verdict, born)
	}
}

// TestAFindAsTheBookFoldsIt: the fields of a record as they are, with what no rule reads and
// what is of the wrong form.
func TestAFindAsTheBookFoldsIt(t *testing.T) {
	f, ok := ReadFind([]byte(`{"id":"a","at":"2026-06-10T10:00:00Z","outing":null,"shore":"bay","by":"ada","taxon":"unsure","group":"unsure","state":"living",
		"amount":{"value":12,"unit":"count"},"mass":null,"size":{"mm":20,"axis":"shell"},"fate":"taken",
		"putBack":{"at":"2026-06-10T10:05:00Z","by":null,"amount":{"value":2,"unit":"count"}},"position":"noFix","container":"tub","noted":"slate","unfinished":true,
		"photos/aa":true,"gear":["hand"],"use":null,"substrate":[],"level":{"from":0.2,"to":0.4},"gone":{"at":"2026-06-12T10:00:00Z","by":null},
		"identified/1":{"at":"2026-06-10T20:00:00Z","by":null,"taxon":"Littorina littorea","group":"snails"},
		"identified/2":{"at":"2026-06-10T19:00:00Z","by":null,"taxon":"Littorina saxatilis","group":"snails"},
		"identified/3":null,"from-later":{"x":1}}`))
	require.True(t, ok)
	assert.Equal(t, "Littorina littorea", f.Taxon)
	assert.Equal(t, "snails", f.Group)
	assert.Equal(t, 12.0, f.Amount.Value)
	assert.Equal(t, 2.0, f.PutBack.Amount.Value)
	assert.Nil(t, f.Mass)
	assert.Nil(t, f.Use, "not known")
	assert.NotNil(t, f.Substrate, "nothing came off with it")
	assert.Equal(t, 0.2, *f.Level.FromM)
	assert.NotNil(t, f.Gone)
	assert.Nil(t, f.spot())

	f, ok = ReadFind([]byte(`{"id":"a","at":"2026-06-10T10:00:00Z","amount":"many","taxon":"Ulva","we\"ird":1,"identified/1":{"at":"2026-06-10T20:00:00Z","taxon":"Ulva lactuca","group":"greens"}}`))
	require.True(t, ok)
	assert.Nil(t, f.Amount)
	assert.Equal(t, "Ulva lactuca", f.Taxon)
	_, ok = ReadFind([]byte(`{"id":"a","at":"in spring"}`))
	assert.False(t, ok)
	l := NewLedger()
	f.Deleted = true
	l.Put(f)
	assert.Zero(t, l.Len())
}

// TestWhatIsAllPutBackLacksNothing: a find of unknown amount that was all put back does not
// count where that is free, and no fact of it is missing.
func TestWhatIsAllPutBackLacksNothing(t *testing.T) {
	rules := fiveADay()
	rules["winkles"].Limits[0].PutBack = "free"
	taken := winkle("a", 1)
	taken.Amount = nil
	law := []*Held{lawOf("law", National, rules)}
	assert.Equal(t, Unchecked, judge(t, law, winkle("", 1), []Find{taken}, nil).Verdict)
	taken.PutBack = &Parted{At: noon}
	assert.Equal(t, Within, judge(t, law, winkle("", 1), []Find{taken}, nil).Verdict)
}
