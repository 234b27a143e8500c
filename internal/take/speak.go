package take

import (
	"cmp"
	"fmt"
	"strings"
)

// speaker goes through the sets for one question.
type speaker struct {
	*Question
	ledger *Ledger
	at     at
	kind   kind
	spot   *Spot   // of the find, or of its shore
	person *Person // who takes; nil where not known

	visitDays []civil // of Visits; nil before they are asked for

	nothing bool // no find is asked about, only what was taken

	held    *Held  // the set that is asked
	covers  truth  // whether it covers the place
	rule    string // its rule that speaks; "" for the set itself
	applies truth  // whether that is about the find
	permits bool   // whether what the set allows is a permission
	house   bool   // whether it is the household's
	farAway []bool // whether the ledger's shores lie far from it; nil until asked
	someFar bool   // whether any does, then

	party   []truth          // whether the ledger's people are of the party, for partyOf; nil until asked
	partyOf string           // the id of who takes
	summed  map[sumKey]*sums // of the ledger, as far as asked
	tables  map[tableKey]*table

	spoke   []*Spoke
	sets    []SetRef
	missing facts
	duties  []Told
	returns []string
	lifted  bool  // by a set in force that allows the kind
	refused bool  // by some law, or not known of it
	nearly  facts // what a set that would allow it lacks
}

func newSpeaker(l *Ledger, q *Question) *speaker {
	s := &speaker{Question: q, ledger: l, at: moment(q.Find.At, q.Zone), spot: q.Find.spot()}
	s.Find.clean()
	s.kind = kindOf(q.Find.Taxon, q.Find.Group, q.Find.State)
	if s.spot == nil {
		s.spot = q.Shore
	}
	s.person = s.partyMember(q.Find.By)
	if s.kind.taxon == "" {
		s.say("kind", Unchecked, factTaxon, "It is not known what kind this is. Leave it, or find out first.")
	}
	if n := len(l.unread); n > 0 {
		s.say("ledger", Unchecked, factTakers, fmt.Sprintf("%d finds on file cannot be read and may count. Mend them first.", n))
	}
	return s
}

// say adds what a rule says. Where it is not known whether the rule is about the find at
// all (applies), what would refuse it gives unchecked.
func (s *speaker) say(what string, g Grade, lacks facts, text string) *Spoke {
	if g >= Unchecked {
		if g != Unchecked && s.applies != yes {
			g, text = Unchecked, "If this rule is about it: "+text
		}
		if g == Unchecked {
			lacks |= s.applies.lacks()
			s.missing |= lacks
		} else {
			lacks = 0
		}
		s.refused = s.refused || !s.house && what != "kind"
	} else {
		lacks = 0
	}
	o := &Spoke{Rule: s.rule, What: what, Verdict: g, Text: text, House: s.house}
	if lacks != 0 {
		o.Facts = lacks.names()
	}
	if s.held != nil {
		o.Set = s.held.ID
	}
	s.spoke = append(s.spoke, o)
	return o
}

// turn turns to a set that can be read.
func (s *speaker) turn(h *Held) {
	s.held, s.house, s.farAway, s.rule, s.applies = h, h.Set.Layer == Household, nil, "", yes
	s.covers = s.covered(h.Set)
	if h.rules == nil {
		h.rules = h.Set.compile()
	}
}

// refer says whose rules the set that is asked has.
func (s *speaker) refer() SetRef {
	h, set := s.held, s.held.Set
	return SetRef{ID: h.ID, Name: set.Name, Layer: set.Layer, Authority: set.Authority, Ask: set.Ask,
		Source: set.Source, SourceDate: set.SourceDate, Checked: h.Checked, Covers: s.covers.word()}
}

// enter turns to one set, if it is in force at the time and may cover the place. permits
// says whether what it allows is a permission.
func (s *speaker) enter(h *Held) (ref SetRef, permits, there bool) {
	set := h.Set
	if set == nil {
		s.held, s.house, s.rule, s.applies = h, false, "", yes
		s.say("unread", Unchecked, 0, "A rule set on file cannot be read here, so what it forbids is not known. "+h.Fault)
		return ref, false, false
	}
	day := s.at.day.String()
	if set.From != "" && day < set.From || set.To != "" && day > set.To {
		return ref, false, false
	}
	if s.turn(h); s.covers == no {
		return ref, false, false
	}
	ref = s.refer()
	permits = s.covers == yes
	if permits && set.Area.Everywhere && s.away() {
		permits, s.nearly = false, s.nearly|factShore
	}
	if !s.house {
		if why := s.stale(h, &ref); ref.Stale {
			permits = false
			s.say("stale", Unchecked, 0, why)
		}
		if fits := set.purposes(s.Purpose); fits != yes {
			permits = false
			s.say("purpose", Unchecked, fits.lacks(), outside(set, s.Purpose))
		}
	}
	return ref, permits, true
}

// set asks one set.
func (s *speaker) set(h *Held) {
	ref, permits, there := s.enter(h)
	if !there {
		return
	}
	set := h.Set
	s.permits = permits
	s.sets = append(s.sets, ref)

	about := rulesAbout(h.rules, s.kind)
	allowed := no
	for i := range h.rules {
		r := &h.rules[i]
		applies := about[i].and(s.where(r.Where)).and(is(r.During.open(s.at.day, s.Zone))).and(s.exempt(r.Unless).not())
		if r.Take == "allowed" {
			allowed = allowed.or(applies)
		}
		if applies != no {
			s.rule, s.applies = r.name, s.covers.and(applies)
			s.part(r, i)
		}
	}
	s.rule, s.applies = "", yes
	s.permission(set, allowed, permits)
}

func (s *speaker) covered(set *Set) truth {
	out := set.Area.holds(s.spot).and(set.Area.Strip.holds(s.Find.Level, s.Levels))
	if !set.Area.Everywhere {
		return out
	}
	return out.and(s.held.lies(s.Find.Shore))
}

// away says whether the find was made too far from its shore for what the household said of
// that shore to permit anything.
func (s *speaker) away() bool {
	return s.Shore != nil && s.spot != s.Shore && s.spot.metresTo(s.Shore) > awayM+s.spot.WithinM
}

// lies says whether a shore lies in the place of a set that holds everywhere in it, by what
// the household has said.
func (h *Held) lies(shore string) truth {
	switch {
	case shore != "" && has(h.Shores, shore):
		return yes
	case shore != "" && h.Shores != nil && (h.Elsewhere == nil || has(h.Elsewhere, shore)):
		return no
	}
	return lacking(factShore)
}

func (s *speaker) where(a *Area) truth {
	if a == nil {
		return yes
	}
	return a.holds(s.spot).and(a.Strip.holds(s.Find.Level, s.Levels))
}

// permission says what follows from whether a rule of the set allows the kind.
func (s *speaker) permission(set *Set, allowed truth, permits bool) {
	otherwise := set.otherwise()
	if otherwise == BlackList {
		allowed = yes
	}
	if otherwise == Others {
		return // it only adds to other sets, whatever it allows
	}
	if allowed == yes {
		if permits {
			s.lifted = s.lifted || !s.house
			s.say("take", Within, 0, "The rules on file allow taking this kind, within what else they say.")
		} else {
			s.nearly |= s.covers.lacks()
		}
		return
	}
	switch otherwise {
	case WhiteList:
		if s.applies = s.covers.and(allowed.not()); s.applies != no {
			s.say("otherwise", Forbidden, 0, "Only what the rules name may be taken here, and they do not allow this.")
		}
	case Unlisted:
		s.say("silent", Unchecked, allowed.lacks()|s.covers.lacks(), silence(set, allowed))
	}
}

// stale notes in ref whether the check is too old to permit anything, and says why.
func (s *speaker) stale(h *Held, ref *SetRef) (why string) {
	what := "rules"
	ref.ForDays = cmp.Or(s.TextDays, 180)
	if h.Set.Layer == Closure {
		what, ref.ForDays = "closures", cmp.Or(s.ClosureDays, 1)
	}
	ref.Stale = true
	if h.Checked == nil || !isDay(h.Checked.On) || strings.TrimSpace(h.Checked.By) == "" {
		return "Nobody has checked these rules against their source, so they permit nothing. " + askOf(h.Set)
	}
	on := civilNamed(h.Checked.On)
	age := on.until(s.at.day)
	ref.AgeDays = &age
	if !s.Now.IsZero() && moment(s.Now, s.Zone).day.until(on) > 1 {
		return "The day on which these rules are said to be checked lies ahead. Check them, and write the day."
	}
	if age > ref.ForDays {
		return staleWords(h, what, age, ref.ForDays)
	}
	ref.Stale = false
	return ""
}

// verdict sums up.
func (s *speaker) verdict() Verdict {
	s.held, s.house, s.applies = nil, false, yes
	if !s.lifted && !s.refused {
		s.say("none", Unchecked, s.nearly, "No current rules on file allow this kind here. Silence is no permission: do not take it.")
	}
	v := Verdict{Missing: []Fact{}, Duties: s.duties, Spoke: make([]Spoke, 0, len(s.spoke)), Sets: s.sets, PutBack: s.putBack()}
	if v.Duties == nil {
		v.Duties = []Told{}
	}
	if v.Sets == nil {
		v.Sets = []SetRef{}
	}
	for i, w := range factWords {
		if s.missing&(1<<i) != 0 {
			v.Missing = append(v.Missing, Fact{w[0], w[1]})
		}
	}
	for _, g := range [...]Grade{Forbidden, Over, Unchecked, AtLimit, Within} {
		for _, o := range s.spoke {
			if o.Verdict != g {
				continue
			}
			v.Spoke = append(v.Spoke, *o)
			if o.House && v.Household == 0 {
				v.Household = g
			}
			if !o.House && v.Verdict == 0 {
				v.Verdict = g
			}
		}
	}
	v.Text = v.words(s.missing)
	return v
}

func (s *speaker) putBack() string {
	for _, word := range []string{"forbidden", "demanded", "allowed"} {
		if has(s.returns, word) {
			return word
		}
	}
	return "unknown"
}

// lastVisit gives the last day before that of the find on which somebody was on its shore
// for what the i-th rule of the set is about, by the finds as far back as oldest.
func (s *speaker) lastVisit(i int, oldest civil) (civil, bool) {
	if s.visitDays == nil {
		s.visitDays = []civil{}
		for _, t := range s.Visits {
			s.visitDays = append(s.visitDays, civilOf(t.In(s.Zone)))
		}
	}
	var last civil
	for _, d := range s.visitDays {
		if d.Before(s.at.day.Time) && d.After(last.Time) {
			last = d
		}
	}
	shore, there := s.ledger.shorePlaces[s.Find.Shore]
	if !there || s.Find.Shore == "" {
		return last, !last.IsZero()
	}
	from := oldest.in(s.Zone)
	for n := s.ledger.since(s.at.day.in(s.Zone)) - 1; n >= 0; n-- {
		e := s.ledger.byTime[n]
		if e.At.Before(from) {
			break
		}
		if g := &s.ledger.groups[e.group]; g.shore == shore && e.ID != s.Find.ID && s.matches(g.kind)[i] != no {
			if d := civilOf(e.At.In(s.Zone)); d.After(last.Time) {
				last = d
			}
			break
		}
	}
	return last, !last.IsZero()
}

// matches says of the rules of the set whether they are about a kind of the ledger. The set
// keeps it for the next question.
func (s *speaker) matches(kind int) []truth {
	h := s.held
	if h.aboutIn != s.ledger {
		h.aboutIn, h.about = s.ledger, nil
	}
	for len(h.about) < len(s.ledger.kinds) {
		h.about = append(h.about, nil)
	}
	if h.about[kind] == nil {
		h.about[kind] = rulesAbout(h.rules, s.ledger.kinds[kind])
	}
	return h.about[kind]
}
