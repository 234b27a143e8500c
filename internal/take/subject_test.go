package take

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wrackbook/internal/book"
)

// TestWhatAShellOrAStoneIs: a group that says less than the name does not hide what a thing
// is; without a name it does.
func TestWhatAShellOrAStoneIs(t *testing.T) {
	has := func(taxon, group string, groups ...string) truth {
		var n names
		n.add(nil, groups)
		return n.has(kindOf(taxon, group, "empty"))
	}
	assert.Equal(t, yes, has("Littorina littorea", "shells", "molluscs"))
	assert.Equal(t, no, has("Littorina littorea", "shells", "algae"))
	assert.Equal(t, yes, has("Littorina littorea", "shells", "shells"))
	assert.Equal(t, yes, has("Ulva lactuca", "rock", "algae"))
	assert.Equal(t, yes, has("Ulva lactuca", "rock", "rock"))
	assert.Equal(t, lacking(factGroup), has("unsure", "shells", "algae"))
	assert.Equal(t, lacking(factGroup), has("Trivia monacha", "shells", "molluscs"), "the list itself says no more than shells")
	assert.Equal(t, no, has("Conus textile", "", "algae"), "by its genus")
}

// TestANameOfOnesOwn: what somebody typed that is not on the list of kinds may be another
// word for what a rule names. It is not taken for something else, unless the set itself uses
// the name or the groups differ.
func TestANameOfOnesOwn(t *testing.T) {
	about := func(taxon, group string, rules ...Rule) []truth {
		s := &Set{Rules: map[string]Rule{}}
		for i, r := range rules {
			s.Rules[string(rune('a'+i))] = r
		}
		return rulesAbout(s.compile(), kindOf(taxon, group, "living"))
	}
	never := func(taxa ...string) Rule { return Rule{Of: Subject{Taxa: taxa}, Take: "forbidden"} }
	may := func(taxa ...string) Rule { return Rule{Of: Subject{Taxa: taxa}, Take: "allowed"} }
	unsure := lacking(factTaxon)

	assert.Equal(t, unsure, about("Periwinkles", "", never("Littorina littorea"))[0], "a common name")
	assert.Equal(t, unsure, about("Periwinkles", "snails", never("Littorina littorea"))[0])
	assert.Equal(t, no, about("Periwinkles", "snails", never("Ulva lactuca"))[0], "the group says that it is not")
	assert.Equal(t, unsure, about("Littorina litorea", "snails", never("Littorina littorea"))[0], "a slip of the pen")
	assert.Equal(t, unsure, about("Sea ear", "", may("Haliotis tuberculata"))[0], "nor is it a permission")
	assert.Equal(t, no, about("Mytilus edulis", "bivalves", never("Siliqua patula"))[0], "what is on the list is itself")
	assert.Equal(t, []truth{yes, no}, about("Siliqua patula", "bivalves", may("Siliqua patula"), never("Panopea")), "the set knows the name")
	assert.Equal(t, []truth{yes, no}, about("Siliqua patula", "bivalves", may("Siliqua"), never("Panopea")), "by its genus")
}

// TestARuleInItsOwnWords: a rule that was written with a common name is not passed over; it may
// be about whatever the set does not name otherwise.
func TestARuleInItsOwnWords(t *testing.T) {
	s := &Set{Rules: map[string]Rule{
		"a": {Of: Subject{Taxa: []string{"Limpets"}}, Take: "forbidden"},
		"b": {Of: Subject{Taxa: []string{"Littorina littorea"}}, Take: "allowed"},
		"c": {Of: Subject{Groups: []string{"snails"}, Except: &Kinds{Taxa: []string{"limpets"}}}, Take: "allowed"},
		"d": {Of: Subject{Taxa: []string{"Turbo sarmaticus"}}, Take: "forbidden"},
	}}
	about := func(taxon, group string) []truth { return rulesAbout(s.compile(), kindOf(taxon, group, "living")) }
	unsure := lacking(factTaxon)
	assert.Equal(t, []truth{unsure, no, unsure, no}, about("Patella vulgata", "snails"))
	assert.Equal(t, []truth{no, yes, yes, no}, about("Littorina littorea", "snails"), "the set names it")
	assert.Equal(t, []truth{yes, no, no, no}, about("limpets", "snails"), "the same word")

	set := lawOf("law", National, map[string]Rule{"limpets": {Of: Subject{Taxa: []string{"limpets"}}, Take: "forbidden"}})
	set.Set.Otherwise = BlackList
	limpet := winkle("", 1)
	limpet.Taxon = "Patella vulgata"
	assert.Equal(t, Unchecked, judge(t, []*Held{set}, limpet, nil, nil).Verdict)
}

// TestCommonNames that one kind of the list has stand for it, in a find as in a rule.
func TestCommonNames(t *testing.T) {
	dulse, ok := book.TaxonNamed("Palmaria palmata")
	assert.True(t, ok)
	assert.Equal(t, "palmaria palmata", kindOf(strings.ToUpper(dulse.Common), "", "attached").taxon)
	assert.Equal(t, "reds", kindOf(dulse.Common, "", "attached").group)
	assert.False(t, kindOf(dulse.Common, "", "attached").unlisted)
	var n names
	n.add([]string{dulse.Common}, nil)
	assert.Equal(t, yes, n.has(kindOf("Palmaria palmata", "reds", "attached")))
	assert.Equal(t, no, n.has(kindOf("Chondrus crispus", "reds", "attached")))
	count := map[string]int{}
	for _, one := range book.Taxa() {
		count[strings.ToLower(one.Common)]++
	}
	for _, one := range book.Taxa() {
		want := strings.ToLower(one.Name)
		if count[strings.ToLower(one.Common)] > 1 || one.Common == "" || listed(one.Common) && !strings.EqualFold(one.Common, one.Name) {
			want = strings.ToLower(one.Common)
		}
		assert.Equal(t, want, kindOf(one.Common, "", "").taxon, "%s: what several share is nobody's", one.Common)
	}
}
