package take

import (
	"math"
)

const (
	// farM is how far from the area of a set a shore must lie for what was taken there not
	// to be counted: ours, well past the length of a shore.
	farM = 25_000
	// awayM is how far from its shore's mark a find is on another shore: ours.
	awayM = 10_000
	// maxNamed bounds the finds that a count names.
	maxNamed = 50
	// slack is how far sums of decimal fractions may be off.
	slack = 1e-6
)

// tally counts against a limit of the i-th rule of the set.
func (s *speaker) tally(r *compiled, i int, l *Limit) (Grade, *Count, facts) {
	g, c, lacks := s.tallyIn(r, i, l, &Measure{l.Most, l.Unit, l.Weighed})
	if l.Or != nil && g == Unchecked && lacks&(factAmount|factMass) != 0 {
		if h, d, other := s.tallyIn(r, i, l, l.Or); other&(factAmount|factMass) == 0 {
			return h, d, other
		}
	}
	return g, c, lacks
}

// counter sums up finds in one measure.
type counter struct {
	*Measure
	Count
	lacks      facts
	party      float64
	containers []string
	named      []string // the last of them, by time
	many       int      // all of them
}

func (s *speaker) tallyIn(r *compiled, i int, l *Limit, m *Measure) (Grade, *Count, facts) {
	c := counter{Measure: m, Count: Count{Limit: m.Most, Unit: m.Unit, Base: l.Base, Per: l.Per}}
	if l.Base == "person" && s.Find.By == "" {
		c.lacks |= factBy
	}
	if p := s.person; l.Base == "person" && l.Who == "adults" && s.Find.By != "" && (p == nil || p.As == "") {
		c.lacks |= factAge
	} else if p != nil && l.Base == "person" {
		switch {
		case l.Who == "adults" && p.As == "child":
			c.Limit = 0
		case l.Who != "all" && p.Does != "" && p.Does != "gathers":
			c.lacks |= factDoes
		}
	}
	if len(s.ledger.unread) > 0 {
		c.lacks |= factTakers
	}
	list, key := s.candidates(r, l, &c)
	if len(list) < s.ledger.few || m.Unit == "containers" {
		s.countEach(i, l, &c, list)
	} else {
		key.unit, key.weighed = m.Unit, m.Weighed
		sums := s.sum(key, list, l, m)
		s.countAll(i, l, &c, sums, s.tabled(key, l.Base, sums))
	}
	if !s.nothing {
		s.Find.weighThis(l, &c)
	}
	c.Taken, c.This, c.MayAlso = round(c.Taken), round(c.This), round(c.MayAlso)
	c.Total = round(c.Taken + c.This)
	if c.lacks == 0 {
		c.Left = round(max(c.Limit-c.Total-c.MayAlso, 0))
	}
	if n := s.shares(l); l.Base == "person" && n > 1 {
		party, of := round(c.party+c.This), round(c.Limit*float64(n))
		c.Party, c.PartyOf = &party, &of
	}
	c.Finds = append([]string{}, c.named[max(len(c.named)-maxNamed, 0):]...)
	c.FindsMore = c.many - len(c.Finds)
	most := c.Limit
	switch worst := c.Total + c.MayAlso; {
	case c.Total > most+slack:
		return Over, &c.Count, c.lacks
	case c.lacks != 0:
		return Unchecked, &c.Count, c.lacks
	case worst > most+slack:
		return Unchecked, &c.Count, factTakers
	case worst > most-slack:
		return AtLimit, &c.Count, 0
	}
	return Within, &c.Count, 0
}

func round(v float64) float64 { return math.Round(v/slack) * slack }

// shares counts who of the party has a share of a limit a person.
func (s *speaker) shares(l *Limit) (n int) {
	for i := range s.Party {
		p := &s.Party[i]
		if l.Who == "all" || l.Who == "adults" && p.As == "adult" || l.Who != "adults" && (p.Does == "" || p.Does == "gathers") {
			n += min(max(p.Number, 1), 10_000)
		}
	}
	return n
}

// candidates lists the finds of the limit's time, as far as that is known, and by what they
// were chosen.
func (s *speaker) candidates(r *compiled, l *Limit, c *counter) ([]*entry, sumKey) {
	key := sumKey{free: l.PutBack == "free", held: l.Per == "possession", before: l.KeepFirst}
	switch {
	case l.Per == "outing" && s.Find.Outing == "":
		c.lacks |= factOuting
		return nil, key
	case l.Per == "outing":
		key.first, key.outing = -1, s.Find.Outing
		return s.ledger.byOuting[s.Find.Outing], key
	case l.Per == "tide" && s.TideAt == nil:
		c.lacks |= factTides
		return nil, key
	}
	from, to := s.span(r, l)
	key.last = s.ledger.since(to)
	key.first = min(s.ledger.since(from), key.last)
	return s.ledger.byTime[key.first:key.last], key
}

// weighThis counts the find that is asked about.
func (f *Find) weighThis(l *Limit, c *counter) {
	v, lacks := f.measure(c.Measure.Unit, c.Weighed)
	if c.Measure.Unit == "containers" {
		v, lacks = c.container(f.Container)
	}
	left := f.left(l.PutBack == "free", l.Per == "possession", f.At)
	c.This = v * left
	if left > 0 {
		c.lacks |= lacks
	}
	if f.ID != "" && left > 0 {
		c.named = append(c.named, f.ID)
		c.many++
	}
}

// container counts a container once.
func (c *counter) container(name string) (float64, facts) {
	switch {
	case name == "":
		return 1, factContainer
	case has(c.containers, name):
		return 0, 0
	}
	c.containers = append(c.containers, name)
	return 1, 0
}

// inParty says whether somebody whom finds name, by place, is of the party: on its list, or
// with a find of the same outing.
func (s *speaker) inParty(by int) truth {
	if s.party == nil || s.partyOf != s.Find.By {
		s.party, s.partyOf = make([]truth, len(s.ledger.people)), s.Find.By
		for i, id := range s.ledger.people {
			switch {
			case len(s.Party) == 0 || id == s.Find.By && id != "":
				s.party[i] = yes
			case id == "":
				s.party[i] = lacking(factBy)
			default:
				s.party[i] = is(s.partyMember(id) != nil)
			}
		}
		if s.Find.Outing != "" {
			for _, e := range s.ledger.byOuting[s.Find.Outing] {
				if i := s.ledger.groups[e.group].by; s.party[i] == no {
					s.party[i] = yes
				}
			}
		}
	}
	return s.party[by]
}

// far says whether a shore of the ledger is known to lie far outside the set's area.
func (s *speaker) far(shore int) bool { return s.anyFar() && s.farAway[shore] }

// anyFar says whether any does.
func (s *speaker) anyFar() bool {
	if s.farAway == nil {
		s.farAway, s.someFar = make([]bool, len(s.ledger.shoreNames)), false
		for i, name := range s.ledger.shoreNames {
			s.farAway[i] = s.farFrom(name)
			s.someFar = s.someFar || s.farAway[i]
		}
	}
	return s.someFar
}

func (s *speaker) farFrom(shore string) bool {
	set := s.held.Set
	spot, known := s.ledger.shores[shore]
	if set.Area.Everywhere {
		return shore != "" && s.held.lies(shore) == no
	}
	if !known {
		return false
	}
	spot.WithinM = farM
	return within(set.Area.Polygons, &spot) == no
}
