package take

import (
	"slices"
	"strings"
	"sync"

	"wrackbook/internal/book"
)

// wider says which handling groups a word has: for a group itself that group.
func wider(word string) string {
	switch word {
	case "algae":
		return " greens reds browns calcareous "
	case "molluscs":
		return " snails bivalves "
	case "crustaceans":
		return " hermits crabs shrimps "
	case "invertebrates":
		return " hermits crabs shrimps snails bivalves anemones echinoderms "
	case "animals":
		return " hermits crabs shrimps snails bivalves anemones echinoderms fish "
	}
	return " " + word + " "
}

// kind is what a find is, as rules tell finds apart. Its names are in lower case; home is
// the handling group of the taxon where that says more than shells or rock do. A name that
// is not on the list of kinds (unlisted) may be a slip for another of its genus, and one that
// does not look like a scientific name either (loose) may be a word for anything.
type kind struct {
	taxon, group, state, home string
	unlisted, loose           bool
	named                     bool // the set that is asked has a name for it
}

func kindOf(taxon, group, state string) kind {
	taxon = nameOf(taxon)
	k := kind{taxon: strings.ToLower(taxon), group: group, state: state}
	if k.taxon == book.Unsure {
		k.taxon = ""
	}
	k.unlisted = k.taxon != "" && !listed(k.taxon)
	k.loose = k.unlisted && !scientific(taxon)
	if k.group == "" || k.group == book.Unsure {
		k.group = groupOf(k.taxon)
	} else if mixed(k.group) {
		if k.home = groupOf(k.taxon); mixed(k.home) {
			k.home = ""
		}
	}
	return k
}

// listed says whether a name is on the starting list: a kind of it, or the genus of one.
func listed(taxon string) bool {
	taxon = strings.ToLower(taxon)
	t, ok := book.TaxonNamed(taxon)
	return ok && strings.EqualFold(t.Name, taxon) || !strings.Contains(taxon, " ") && groupOf(taxon) != ""
}

// scientific says whether a name looks like a scientific one: "Nerita", "Turbo militaris", and
// neither "Periwinkles" nor "Sea lettuce". It goes by the commonest Latin endings; a name that
// it misses stays unchecked.
func scientific(name string) bool {
	lower := strings.ToLower(name)
	genus, _, _ := strings.Cut(lower, " ")
	if groupOf(genus) != "" {
		return true
	}
	if name == "" || name[0] < 'A' || name[0] > 'Z' || name[1:] != lower[1:] {
		return false
	}
	ends := func(list ...string) bool {
		return slices.ContainsFunc(list, func(end string) bool { return strings.HasSuffix(lower, end) })
	}
	return ends("us", "a", "um", "is", "i", "ae", "x", "ens", "o") && !ends("algae", "alga", " octopus", "nori")
}

// mayBe says whether a name that is not on the list may stand for another.
func (k *kind) mayBe(other string) bool {
	genus, _, _ := strings.Cut(k.taxon, " ")
	return k.unlisted && isUnder(other, genus) || k.loose
}

// nameOf gives a name with one space between its words and none about them; for a common name
// that one kind of the list has, that kind's own.
func nameOf(name string) string {
	name = strings.Join(strings.Fields(name), " ")
	if own := common()[strings.ToLower(name)]; own != "" && name != "" && !listed(name) {
		return own
	}
	return name
}

// common gives the names of kinds by their common names, as far as those are of one alone.
var common = sync.OnceValue(func() map[string]string {
	of, shared := map[string]string{}, map[string]bool{}
	for _, t := range book.Taxa() {
		name := strings.ToLower(t.Common)
		shared[name] = of[name] != ""
		of[name] = t.Name
	}
	for name, is := range shared {
		if is {
			delete(of, name)
		}
	}
	return of
})

// groupOf gives the handling group of a kind of the starting list, or of the list's first
// of a genus; "" where it has none.
func groupOf(taxon string) string {
	if taxon == "" {
		return ""
	}
	if t, ok := book.TaxonNamed(taxon); ok {
		return t.Group
	}
	if strings.Contains(taxon, " ") {
		return ""
	}
	return genera()[taxon]
}

// genera gives the handling group of each genus: that of the list's first kind of it.
var genera = sync.OnceValue(func() map[string]string {
	of := map[string]string{}
	for _, t := range book.Taxa() {
		genus, _, _ := strings.Cut(strings.ToLower(t.Name), " ")
		if of[genus] == "" {
			of[genus] = t.Group
		}
	}
	return of
})

// isUnder says whether a name is the other or stands under it: a species under its genus.
func isUnder(name, other string) bool {
	return strings.HasPrefix(name, other) && (len(name) == len(other) || name[len(other)] == ' ')
}

// mixed are the groups that say less than what a thing is.
func mixed(group string) bool { return group == "shells" || group == "rock" }

// names are the taxa and groups of a subject, made ready.
type names struct {
	taxa   []string // lower case
	homes  []string // their handling groups, where known
	loose  []bool   // whether they may be words for anything, as those of a kind
	groups []string // handling groups, of each word all with spaces about them
}

func (n *names) add(taxa, groups []string) {
	for _, t := range taxa {
		t = nameOf(t)
		n.loose = append(n.loose, !listed(t) && !scientific(t))
		t = strings.ToLower(t)
		n.taxa = append(n.taxa, t)
		n.homes = append(n.homes, groupOf(t))
	}
	for _, g := range groups {
		n.groups = append(n.groups, wider(g))
	}
}

// name says whether the taxa name a kind.
func (n *names) name(k kind) bool {
	for _, t := range n.taxa {
		if k.taxon != "" && isUnder(k.taxon, t) {
			return true
		}
	}
	return false
}

// has says whether a kind is one of the names.
func (n *names) has(k kind) truth {
	out := no
	for i, t := range n.taxa {
		switch {
		case k.taxon != "" && isUnder(k.taxon, t):
			return yes
		case k.taxon != "" && !isUnder(t, k.taxon) && !k.mayBe(t) && (k.named || !n.loose[i]):
		case k.group != "" && n.homes[i] != "" && k.group != n.homes[i] && !mixed(k.group) && !mixed(n.homes[i]):
		default: // not named, or only by the genus, or by a name of one's own
			out = out.or(lacking(factTaxon))
		}
	}
	for _, g := range n.groups {
		switch {
		case k.group != "" && strings.Contains(g, " "+k.group+" "), k.home != "" && strings.Contains(g, " "+k.home+" "):
			return yes
		case k.group == "" || mixed(k.group) && k.home == "" || g == " shells " || g == " rock ":
			out = out.or(lacking(factGroup))
		}
	}
	return out
}

// compiled is a rule made ready to be asked.
type compiled struct {
	name string
	*Rule
	of, except names
}

func (s *Set) compile() []compiled {
	out := make([]compiled, 0, len(s.Rules))
	for _, name := range s.names() {
		r := s.Rules[name]
		c := compiled{name: name, Rule: &r}
		c.of.add(r.Of.Taxa, r.Of.Groups)
		if r.Of.Except != nil {
			c.except.add(r.Of.Except.Taxa, r.Of.Except.Groups)
		}
		out = append(out, c)
	}
	return out
}

// about says whether the rule is about a kind; the rest is asked by rulesAbout.
func (c *compiled) about(k kind) truth {
	out := yes
	if c.of.taxa != nil || c.of.groups != nil {
		out = c.of.has(k)
	}
	if c.Of.Except != nil {
		out = out.and(c.except.has(k).not())
	}
	if c.Of.States != nil {
		switch {
		case k.state == "":
			out = out.and(lacking(factState))
		case !has(c.Of.States, k.state):
			out = no
		}
	}
	return out
}

// rulesAbout says of every rule of a set whether it is about a kind. The rest is what no
// rule that names kinds allows, whatever the season and the place.
func rulesAbout(rules []compiled, k kind) []truth {
	for i := range rules { // a name that the set itself uses means what it means there
		k.named = k.named || rules[i].of.name(k) || rules[i].except.name(k)
	}
	if k.named {
		k.unlisted, k.loose = false, false
	}
	out := make([]truth, len(rules))
	listed := no
	for i := range rules {
		out[i] = rules[i].about(k)
		if of := &rules[i].Of; rules[i].Take == "allowed" && !of.Rest && !of.All {
			listed = listed.or(out[i])
		}
	}
	for i := range rules {
		if rules[i].Of.Rest {
			out[i] = out[i].and(listed.not())
		}
	}
	return out
}
