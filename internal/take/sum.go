package take

// few is how many finds are counted one by one: below that, putting them together first
// costs more than it saves.
const few = 24

// group is what makes finds of the ledger alike for a rule: only their amounts differ.
type group struct {
	kind, shore, by int // their places in kinds, shoreNames and people
}

// sumKey is what makes two limits sum up alike: the same finds in the same measure.
type sumKey struct {
	first, last        int // of byTime, or -1 and 0 with an outing
	outing             string
	unit, weighed      string
	free, held, before bool
}

// sums is what was taken, put together by group.
type sums struct {
	of      []groupSum
	counted []*entry // those that count, by time
}

type groupSum struct {
	group int
	v     float64
	lacks facts
	n     int // how many finds
}

// sum puts the candidates of a limit together, once for all limits that sum up alike.
func (s *speaker) sum(key sumKey, list []*entry, l *Limit, m *Measure) *sums {
	if out := s.summed[key]; out != nil {
		return out
	}
	out := &sums{}
	places := make([]int, len(s.ledger.groups)) // in out.of, from 1
	for _, e := range list {
		v, lacks, counts := s.amount(l, m, e)
		if !counts {
			continue
		}
		at := places[e.group]
		if at == 0 {
			out.of = append(out.of, groupSum{group: e.group})
			at = len(out.of)
			places[e.group] = at
		}
		g := &out.of[at-1]
		g.v += v
		g.lacks |= lacks
		g.n++
		out.counted = append(out.counted, e)
	}
	if s.summed == nil {
		s.summed = map[sumKey]*sums{}
	}
	s.summed[key] = out
	return out
}

// amount gives what of a find of the ledger counts against a limit, in a measure; counts is
// false where nothing does.
func (s *speaker) amount(l *Limit, m *Measure, e *entry) (v float64, lacks facts, counts bool) {
	if e.ID == s.Find.ID || l.KeepFirst && !e.before(&s.Find) {
		return 0, 0, false
	}
	left := e.left(l.PutBack == "free", l.Per == "possession", s.at.Time)
	if left == 0 {
		return 0, 0, false
	}
	v, lacks = e.measure(m.Unit, m.Weighed)
	v *= left
	return v, lacks, v != 0 || lacks != 0
}

// kindIs says whether a limit of the i-th rule counts a kind of the ledger.
func (s *speaker) kindIs(i int, l *Limit, kind int) truth {
	t := s.matches(kind)[i]
	if t == no || l.Each != "taxon" {
		return t
	}
	a, b := s.kind.taxon, s.ledger.kinds[kind].taxon
	switch {
	case a == "" || b == "" || a != b && (isUnder(a, b) || isUnder(b, a) || s.kind.loose || s.ledger.kinds[kind].loose):
		return t.and(lacking(factTaxon))
	case a != b:
		return no
	}
	return t
}

// whose says how finds of a group count, whatever their kind: as those of whoever a limit of
// that base is for, and as the party's. What is kept counts for the household's own rules
// wherever it was taken.
func (s *speaker) whose(base string, kept bool, g *group) (mine, party truth) {
	if s.far(g.shore) && !(kept && s.house) {
		return no, no
	}
	party = s.inParty(g.by)
	switch base {
	case "person":
		if by := s.ledger.people[g.by]; by == "" {
			return lacking(factBy), party
		} else if by != s.Find.By {
			return no, party
		}
		return yes, party
	case "household":
		return yes, party
	}
	return party, party
}

// table is what was taken of each kind, as it counts for a base.
type table struct {
	of   []kindSum
	mine []bool // by group: whether it counts for sure, if its kind does
}

type kindSum struct {
	kind      int
	mine, may part    // what counts for sure, and what may
	party     float64 // what the party took for sure
}

type part struct {
	v     float64
	lacks facts
	n     int
}

func (p *part) add(g *groupSum) {
	p.v += g.v
	p.lacks |= g.lacks
	p.n += g.n
}

type tableKey struct {
	sumKey
	base, by string
	held     *Held // nil where the set leaves out no shore
}

// tabled makes the table, once for all limits that it is the same for.
func (s *speaker) tabled(key sumKey, base string, of *sums) *table {
	k := tableKey{key, base, s.Find.By, nil}
	if s.anyFar() {
		k.held = s.held
	}
	if t := s.tables[k]; t != nil {
		return t
	}
	t := &table{mine: make([]bool, len(s.ledger.groups))}
	places := make([]int, len(s.ledger.kinds)) // in t.of, from 1
	for i := range of.of {
		sum := &of.of[i]
		g := &s.ledger.groups[sum.group]
		mine, party := s.whose(base, key.held, g)
		if mine == no && party == no {
			continue
		}
		at := places[g.kind]
		if at == 0 {
			t.of = append(t.of, kindSum{kind: g.kind})
			at = len(t.of)
			places[g.kind] = at
		}
		row := &t.of[at-1]
		if party == yes {
			row.party += sum.v
		}
		switch {
		case mine == yes:
			row.mine.add(sum)
			t.mine[sum.group] = true
		case mine != no:
			row.may.add(sum)
		}
	}
	if s.tables == nil {
		s.tables = map[tableKey]*table{}
	}
	s.tables[k] = t
	return t
}

// count adds finds of a group.
func (c *counter) count(mine, party truth, v float64, lacks facts) {
	if party == yes {
		c.party += v
	}
	switch {
	case mine == yes:
		c.Taken += v
		c.lacks |= lacks
	case mine != no:
		c.MayAlso += v
		if lacks != 0 {
			c.lacks |= lacks | mine.lacks()
		}
	}
}

// countAll counts the candidates of a limit by kinds.
func (s *speaker) countAll(i int, l *Limit, c *counter, of *sums, t *table) {
	sure := make([]bool, len(s.ledger.kinds))
	for k := range t.of {
		row := &t.of[k]
		is := s.kindIs(i, l, row.kind)
		if is == no {
			continue
		}
		if is == yes {
			sure[row.kind] = true
			c.many += row.mine.n
			c.party += row.party
		}
		if row.mine.n > 0 {
			c.count(is, no, row.mine.v, row.mine.lacks)
		}
		if row.may.n > 0 {
			c.count(is.and(lacking(factBy)), no, row.may.v, row.may.lacks)
		}
	}
	want := min(c.many, maxNamed)
	c.named = make([]string, want)
	for k := len(of.counted) - 1; want > 0; k-- {
		if e := of.counted[k]; t.mine[e.group] && sure[s.ledger.groups[e.group].kind] {
			want--
			c.named[want] = e.ID
		}
	}
}

// countEach counts the candidates of a limit one by one.
func (s *speaker) countEach(i int, l *Limit, c *counter, list []*entry) {
	for _, e := range list {
		v, lacks, counts := s.amount(l, c.Measure, e)
		if !counts {
			continue
		}
		g := &s.ledger.groups[e.group]
		is := s.kindIs(i, l, g.kind)
		mine, party := s.whose(l.Base, l.Per == "possession", g)
		if mine, party = is.and(mine), is.and(party); mine == no && party == no {
			continue
		}
		if c.Measure.Unit == "containers" {
			if v, lacks = c.container(e.Container); v == 0 && lacks == 0 {
				continue
			}
		}
		c.count(mine, party, v, lacks)
		if mine == yes {
			c.many++
			c.named = append(c.named, e.ID)
		}
	}
}
