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

// whose says how finds of a group count against a limit of the i-th rule: as those of
// whoever the limit is for, and as the party's.
func (s *speaker) whose(i int, l *Limit, g *group) (mine, party truth) {
	t := s.matches(g.kind)[i]
	if t == no || s.far(g.shore) {
		return no, no
	}
	if l.Each == "taxon" {
		a, b := s.kind.taxon, s.ledger.kinds[g.kind].taxon
		switch {
		case a == "" || b == "" || a != b && (isUnder(a, b) || isUnder(b, a)):
			t = t.and(lacking(factTaxon))
		case a != b:
			return no, no
		}
	}
	mine, party = t, t.and(s.inParty(g.by))
	switch l.Base {
	case "person":
		if by := s.ledger.people[g.by]; by == "" {
			mine = lacking(factBy)
		} else if by != s.Find.By {
			mine = no
		}
	case "household":
	default:
		mine = party
	}
	return mine, party
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

// countAll counts the candidates of a limit by groups.
func (s *speaker) countAll(i int, l *Limit, c *counter, of *sums) {
	mark := make([]bool, len(s.ledger.groups))
	for k := range of.of {
		g := &of.of[k]
		mine, party := s.whose(i, l, &s.ledger.groups[g.group])
		if mine == no && party == no {
			continue
		}
		c.count(mine, party, g.v, g.lacks)
		if mine == yes {
			mark[g.group] = true
			c.many += g.n
		}
	}
	want := min(c.many, maxNamed)
	c.named = make([]string, want)
	for k := len(of.counted) - 1; want > 0; k-- {
		if e := of.counted[k]; mark[e.group] {
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
		mine, party := s.whose(i, l, &s.ledger.groups[e.group])
		if mine == no && party == no {
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
