package take

import (
	"fmt"
	"strings"
)

// maxLines bounds the lines of one tally, and maxEach the kinds that it counts by themselves.
const maxLines, maxEach = 200, 60

// OnFile is what holds at a shore on a day.
type OnFile struct {
	Day  string   `json:"day"` // the shore's local day
	Sets []SetHas `json:"sets"`
}

// SetHas is a set that covers the shore, or may, with what it says.
type SetHas struct {
	SetRef
	Note      string    `json:"note"`
	Fits      string    `json:"fits"`    // yes, no or unsure: the purpose
	InForce   bool      `json:"inForce"` // checked in time, covers the shore, for this purpose
	Otherwise Otherwise `json:"otherwise"`
	Fault     string    `json:"fault"` // why it cannot be read
	Rules     []RuleHas `json:"rules"`
}

// RuleHas is a rule in words, and what was counted of its limits.
type RuleHas struct {
	ID      string  `json:"id"`
	Of      string  `json:"of"`
	Applies string  `json:"applies"` // yes, no or unsure: here, on that day
	Take    string  `json:"take"`
	Note    string  `json:"note"`
	Says    []Says  `json:"says"`
	Tallies []Tally `json:"tallies"`
}

// Says is one part of a rule in words.
type Says struct {
	What    string `json:"what"`
	Text    string `json:"text"`
	Verdict Grade  `json:"verdict"` // forbidden where it shuts the day
}

// Tally is what was counted of a limit.
type Tally struct {
	Text  string  `json:"text"`
	Limit float64 `json:"limit"`
	Unit  string  `json:"unit"`
	Base  string  `json:"base"`
	Per   string  `json:"per"`
	Lines []Line  `json:"lines"`
}

// Line is one count: of a person where the limit is a person's, of a kind where each kind
// counts by itself.
type Line struct {
	By      string `json:"by"`
	Taxon   string `json:"taxon"` // as the ledger has it, in lower case
	Verdict Grade  `json:"verdict"`
	Text    string `json:"text"`
	Count   *Count `json:"count"`
}

// Has says what the sets have for the time, the shore and the outing of the find in the
// question; of the find nothing else is read. The error is that of Evaluate.
func Has(sets []*Held, ledger *Ledger, q *Question) (OnFile, error) {
	if err := q.timely(); err != nil {
		return OnFile{}, err
	}
	asked := *q
	asked.Find = Find{At: q.Find.At, Shore: q.Find.Shore, Outing: q.Find.Outing}
	ledger.settle()
	s := newSpeaker(ledger, &asked)
	s.nothing = true
	out := OnFile{Day: s.at.day.String(), Sets: []SetHas{}}
	for _, h := range byID(sets) {
		if set, there := s.has(h); there {
			out.Sets = append(out.Sets, set)
		}
	}
	return out, nil
}

func (s *speaker) has(h *Held) (SetHas, bool) {
	ref, permits, there := s.enter(h)
	if h.Set == nil {
		return SetHas{SetRef: SetRef{ID: h.ID, Checked: h.Checked, Covers: "unsure"}, Fits: "unsure", Fault: h.Fault, Rules: []RuleHas{}}, true
	}
	if !there {
		return SetHas{}, false
	}
	out := SetHas{SetRef: ref, Note: h.Set.Note, Fits: "yes", InForce: permits, Otherwise: h.Set.otherwise(), Rules: h.Set.InWords()}
	if !s.house {
		out.Fits = h.Set.purposes(s.Purpose).word()
	}
	for i := range h.rules {
		r := &h.rules[i]
		holds := s.covers.and(s.where(r.Where)).and(is(r.During.open(s.at.day, s.Zone)))
		applies := holds.and(s.exempt(r.Unless).not())
		has := out.Rules[i]
		has.Applies = applies.word()
		if r.Season != nil && applies != no && !r.Season.open(s.at.day, s.Zone) {
			for k := range has.Says {
				if has.Says[k].What == "season" {
					has.Says[k].Verdict = Forbidden
				}
			}
		}
		for k := range r.Limits {
			if l := &r.Limits[k]; applies != no && l.Base != "everyone" {
				t := s.tallied(r, i, l)
				for n := range t.Lines {
					if line := &t.Lines[n]; line.Verdict < Unchecked && (!permits || holds != yes) {
						line.Verdict = Unchecked
					}
				}
				has.Tallies = append(has.Tallies, t)
			}
		}
		out.Rules[i] = has
	}
	return out, true
}

// InWords says the rules of a set in words.
func (s *Set) InWords() []RuleHas {
	out := []RuleHas{}
	for _, name := range s.names() {
		r := s.Rules[name]
		out = append(out, RuleHas{ID: name, Of: r.Of.words(), Take: r.Take, Note: r.Note, Says: r.says(), Tallies: []Tally{}})
	}
	return out
}

// tallied counts a limit for everybody whom it is for.
func (s *speaker) tallied(r *compiled, i int, l *Limit) Tally {
	t := Tally{Text: l.words(), Limit: l.Most, Unit: l.Unit, Base: l.Base, Per: l.Per, Lines: []Line{}}
	line := func(by string) {
		for _, taxon := range s.each(r, i, l) {
			s.kind.taxon = taxon
			g, c, lacks := s.tally(r, i, l)
			if by != "" && taxon != "" && c.Taken == 0 && c.MayAlso == 0 || len(t.Lines) >= maxLines {
				continue
			}
			if g != Over { // where all is well nobody asks which they were
				c.Finds, c.FindsMore = []string{}, c.FindsMore+len(c.Finds)
			}
			t.Lines = append(t.Lines, Line{by, taxon, g, s.countWords(l, c, lacks), c})
		}
		s.kind.taxon = ""
	}
	if l.Base != "person" {
		line("")
		return t
	}
	for k := range s.Party {
		p := &s.Party[k]
		if p.ID == "" {
			continue
		}
		s.person, s.Find.By = p, p.ID
		if s.exempt(r.Unless) != yes {
			line(p.ID)
		}
	}
	s.person, s.Find.By = nil, ""
	return t
}

// each lists what a limit counts by itself: every kind that was taken, or all as one.
func (s *speaker) each(r *compiled, i int, l *Limit) []string {
	if l.Each != "taxon" {
		return []string{""}
	}
	var taxa []string
	list, _ := s.candidates(r, l, &counter{})
	for _, e := range list {
		kind := s.ledger.groups[e.group].kind
		if t := s.ledger.kinds[kind].taxon; s.matches(kind)[i] != no && t != "" && len(taxa) < maxEach && !has(taxa, t) {
			taxa = append(taxa, t)
		}
	}
	return sorted(taxa)
}

func (t truth) word() string {
	switch t {
	case yes:
		return "yes"
	case no:
		return "no"
	}
	return "unsure"
}

// words names the kinds of a subject.
func (of *Subject) words() string {
	var parts []string
	for _, g := range of.Groups {
		parts = append(parts, groupWords(g))
	}
	parts = append(parts, of.Taxa...)
	if of.Rest {
		parts = append(parts, "all that is not allowed by name")
	}
	text := join(parts, "and")
	if of.All {
		text = "everything"
	}
	if e := of.Except; e != nil {
		var except []string
		for _, g := range e.Groups {
			except = append(except, groupWords(g))
		}
		text += ", without " + join(append(except, e.Taxa...), "and")
	}
	if of.States != nil {
		var states []string
		for _, state := range of.States {
			states = append(states, map[string]string{"empty": "empty shells", "drift": "adrift"}[state])
			if n := len(states) - 1; states[n] == "" {
				states[n] = state
			}
		}
		text += "; only " + join(states, "or")
	}
	return text
}

// says puts a rule into words, without a find.
func (r *Rule) says() []Says {
	out := []Says{}
	say := func(what, text string) { out = append(out, Says{what, text, 0}) }
	switch r.Take {
	case "forbidden":
		out = append(out, Says{"take", "Not to be taken." + because(r.Note), Forbidden})
	case "allowed":
		say("take", "May be taken, within what else the rules say.")
	}
	for i := range r.Limits {
		if l := &r.Limits[i]; l.Base == "everyone" {
			say("limit", quotaWords(l))
		} else {
			say("limit", l.words())
		}
	}
	for _, z := range r.Sizes {
		say("size", sentence(z.words()+" along the "+z.Axis))
	}
	if r.Season != nil {
		say("season", sentence(r.Season.words()))
	}
	if h := r.Hours; h != nil {
		say("hours", sentence(h.words()))
	}
	for _, w := range [...]struct {
		what string
		*Words
	}{{"gear", r.Gear}, {"use", r.Use}, {"substrate", r.Substrate}} {
		if w.Words != nil {
			say(w.what, listWords(w.what, w.Words))
		}
	}
	if n := r.Person; n != nil {
		if n.Licence != "" {
			say("licence", licenceWords(n, nil))
		}
		if n.Consent != "" {
			say("consent", consentWords(n))
		}
		if n.AgeFrom != nil {
			say("age", ageFromWords(n))
		}
		if n.AgeTo != nil {
			say("age", ageToWords(n))
		}
	}
	if r.Rest != 0 {
		say("rest", fmt.Sprintf("The shore rests for %d days after a visit.", r.Rest))
	}
	if r.Cut != nil {
		say("cut", r.Cut.do())
	}
	for _, d := range r.Duties {
		say("duty", d.Do)
	}
	if text := returnWords[r.Return]; text != "" {
		say("return", text)
	}
	return out
}

var returnWords = map[string]string{
	"demanded":  "What may not be kept goes back where it was.",
	"allowed":   "It may be put back on the same shore and tide.",
	"forbidden": "What was taken must not be put back.",
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] + "." }

// words says a limit: "5 a person a day".
func (l *Limit) words() string {
	text := amountWords(l.Most, l.Unit)
	if l.Weighed != "" {
		text += " " + l.Weighed
	}
	if l.Each == "taxon" {
		text += " of each kind"
	}
	switch l.Base {
	case "person":
		text += " a person"
	default:
		text += " for the " + l.Base
	}
	switch l.Per {
	case "days":
		text += fmt.Sprintf(" in %d days", l.Days)
	case "possession":
		text += " in possession at once"
	default:
		text += " a " + l.Per
	}
	if l.Or != nil {
		text += " (or " + amountWords(l.Or.Most, l.Or.Unit) + ")"
	}
	if l.KeepFirst {
		text += "; the first are kept whatever they are like"
	}
	if l.PutBack == "free" {
		text += "; what is put back does not count"
	}
	return text
}
