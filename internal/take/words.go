package take

import (
	"fmt"
	"strconv"
	"strings"

	"wrackbook/internal/book"
)

func num(v float64) string { return strconv.FormatFloat(round(v), 'f', -1, 64) }

func because(note string) string {
	if note == "" {
		return ""
	}
	return " " + note
}

func askOf(s *Set) string { return fmt.Sprintf("Ask %s (%s).", s.Authority, s.Ask) }

func silence(s *Set, allowed truth) string {
	if allowed.lacks() != 0 {
		return fmt.Sprintf("Whether the rules allow this depends on %s. %s", allowed.lacks().phrase(), askOf(s))
	}
	return "The rules are silent on this kind here, and silence is no permission. " + askOf(s)
}

func outside(s *Set, purpose string) string {
	if purpose == "" {
		return "The rules are for personal use; it is not known what this outing is for."
	}
	what := map[string]string{"teaching": "a workshop or lesson", "trade": "a sale"}[purpose]
	if what == "" {
		what = "an outing of this purpose"
	}
	return fmt.Sprintf("The rules do not say that they are for %s; limits for personal use often are not. %s", what, askOf(s))
}

func staleWords(h *Held, what string, age, days int) string {
	return fmt.Sprintf("The %s were checked on %s by %s, %d days before; a check counts for %d. What they forbid holds; they permit nothing. %s",
		what, h.Checked.On, h.Checked.By, age, days, askOf(h.Set))
}

// words gives the bounds of a size.
func (z *Size) words() string {
	switch {
	case z.MostMM == nil:
		return fmt.Sprintf("at least %s mm", num(*z.LeastMM))
	case z.LeastMM == nil:
		return fmt.Sprintf("at most %s mm", num(*z.MostMM))
	}
	return fmt.Sprintf("%s to %s mm", num(*z.LeastMM), num(*z.MostMM))
}

func sizeWords(z Size, f *Measured, ok truth) string {
	text := fmt.Sprintf("Size on file: %s along the %s", z.words(), z.Axis)
	if ok.lacks() != 0 {
		return text + "; not measured so."
	}
	return fmt.Sprintf("%s; this is %s mm.", text, num(f.MM))
}

// words says when: "open from 1 May to 31 October".
func (s *Season) words() string {
	word, spans := "open", s.Open
	if spans == nil {
		word, spans = "closed", s.Closed
	}
	var each []string
	for i := range spans {
		each = append(each, spans[i].words())
	}
	return word + " " + join(each, "and")
}

func seasonWords(s *Season, day civil, open bool) string {
	is := "closed"
	if open {
		is = "open"
	}
	return fmt.Sprintf("On %s the season is %s; it is %s.", day, is, s.words())
}

var monthNames = [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

func (p *Span) words() string {
	switch {
	case p.From != "":
		return "from " + dayWords(p.From) + " to " + dayWords(p.To)
	case p.Months != nil:
		var names []string
		for _, m := range p.Months {
			names = append(names, monthNames[m-1])
		}
		return "in " + join(names, "and")
	case p.Days != nil && len(p.Days) <= 12:
		return "on " + join(p.Days, "and")
	case p.Days != nil:
		return fmt.Sprintf("on %d listed days", len(p.Days))
	}
	of := p.Moon.Of + " moon"
	if p.Moon.Of == "either" {
		of = "new or full moon"
	}
	return fmt.Sprintf("from day %d to day %d of %s (day 0 is the day of it)", p.Moon.First, p.Moon.Last, of)
}

func dayWords(d string) string {
	if len(d) != len("11-25") {
		return d
	}
	month, _ := strconv.Atoi(d[:2])
	return strings.TrimPrefix(d[3:], "0") + " " + monthNames[month-1]
}

func (h *Hours) words() string {
	edge := func(what string, plus int) string {
		switch {
		case plus > 0:
			return fmt.Sprintf("%s + %d min", what, plus)
		case plus < 0:
			return fmt.Sprintf("%s − %d min", what, -plus)
		}
		return what
	}
	return fmt.Sprintf("open from %s to %s", edge(h.From, h.FromMin), edge(h.To, h.ToMin))
}

func hoursWords(h *Hours, t at) string {
	return fmt.Sprintf("O%s; this is at %s.", h.words()[1:], t.local.Format("15:04"))
}

func consentWords(n *Needs) string { return "It needs the consent of " + n.Consent + "." }
func ageFromWords(n *Needs) string {
	return fmt.Sprintf("Who takes it must be %d or older.", *n.AgeFrom)
}
func ageToWords(n *Needs) string {
	return fmt.Sprintf("Who takes it must be %d or younger.", *n.AgeTo)
}

func restWords(days int, last civil) string {
	return fmt.Sprintf("The shore rests for %d days after a visit; the last was on %s.", days, last)
}

// groupWords names a group for people; the wider ones are words of their own.
func groupWords(id string) string {
	for _, g := range book.Groups() {
		if g.ID == id {
			return strings.ToLower(g.Name[:1]) + g.Name[1:]
		}
	}
	return id
}

func listWords(what string, w *Words) string {
	name := map[string]string{"gear": "Gear", "use": "Use", "substrate": "What may come off with it"}[what]
	var parts []string
	if w.Only != nil {
		parts = append(parts, "only "+join(w.Only, "or"))
	}
	if w.Never != nil {
		parts = append(parts, "never "+join(w.Never, "or"))
	}
	return name + ": " + strings.Join(parts, "; ") + "."
}

func (c *Cut) do() string {
	var parts []string
	if c.LeaveMM > 0 {
		parts = append(parts, fmt.Sprintf("leave at least %s cm above the %s", num(c.LeaveMM/10), c.Above))
	} else if c.Above != "" {
		parts = append(parts, "cut above the "+c.Above+" and leave it")
	}
	if c.LeavePart > 0 {
		parts = append(parts, fmt.Sprintf("leave at least %s %% of each plant", num(c.LeavePart*100)))
	}
	if c.NotTorn {
		parts = append(parts, "cut, do not tear")
	}
	return sentence(join(parts, "and"))
}

func (c *Cut) ask() string { return "Is it cut so? " + c.do() }

func quotaWords(l *Limit) string {
	return fmt.Sprintf("%s in all for everybody, %s; taking ends when that is reached.", amountWords(l.Most, l.Unit), perWords(l))
}

func amountWords(v float64, unit string) string {
	switch unit {
	case "count":
		return num(v)
	case "share":
		return num(v*100) + " %"
	case "containers":
		if v == 1 {
			return "1 container"
		}
	}
	return num(v) + " " + unit
}

func perWords(l *Limit) string {
	switch l.Per {
	case "days":
		return fmt.Sprintf("in %d days", l.Days)
	case "possession":
		return "in possession"
	case "day":
		return "today"
	}
	return "this " + l.Per
}

// countWords says what was taken and what the limit is, and never what is left of it.
func (s *speaker) countWords(l *Limit, c *Count, lacks facts) string {
	var b strings.Builder
	whose := map[string]string{"party": "The party: ", "vehicle": "All in the vehicle: ", "licence": "On the licence: ", "household": "The household: "}[l.Base]
	taken := amountWords(c.Total, c.Unit)
	if s.Find.ID == "" && !s.nothing {
		fmt.Fprintf(&b, "%s%s taken %s, %s with this; limit on file %s", whose, amountWords(c.Taken, c.Unit), perWords(l), taken, amountWords(c.Limit, c.Unit))
	} else {
		fmt.Fprintf(&b, "%s%s taken %s; limit on file %s", whose, taken, perWords(l), amountWords(c.Limit, c.Unit))
	}
	if l.Each == "taxon" {
		b.WriteString(" of each kind")
	}
	if c.Party != nil {
		fmt.Fprintf(&b, "; the party %s of %s", num(*c.Party), amountWords(*c.PartyOf, c.Unit))
	}
	if c.MayAlso > 0 {
		fmt.Fprintf(&b, "; %s more may count", amountWords(c.MayAlso, c.Unit))
	}
	b.WriteByte('.')
	if lacks != 0 {
		fmt.Fprintf(&b, " Not known: %s.", lacks.phrase())
	}
	return b.String()
}

func licenceWords(n *Needs, c *Count) string {
	text := "It needs the licence “" + n.Licence + "”"
	if n.Above == nil {
		return text + "."
	}
	text += " above " + amountWords(n.Above.Most, n.Above.Unit) + " " + perWords(n.Above)
	if c != nil {
		text += "; with this it is " + amountWords(c.Total, c.Unit)
	}
	return text + "."
}

// words is the sentence that stands for all of a verdict.
func (v *Verdict) words(missing facts) string {
	var whoms []string
	var oldest *Checked
	for i := range v.Sets {
		set := &v.Sets[i]
		if set.Layer == Household {
			continue
		}
		if whom := set.Authority + " (" + set.Ask + ")"; !has(whoms, whom) {
			whoms = append(whoms, whom)
		}
		if oldest == nil || set.Checked != nil && set.Checked.On < oldest.On {
			oldest = set.Checked
		}
	}
	whom, checked := join(whoms, "and"), ""
	if oldest != nil {
		checked = ", checked on " + oldest.On + " by " + oldest.By
	}
	above := " The word of " + whom + " and the signs on the shore stand above this."
	switch v.Verdict {
	case Forbidden:
		return "Forbidden by the rules on file: do not take it."
	case Over:
		return "Over a limit on file: do not take more."
	case AtLimit:
		return "At a limit on file" + checked + "." + above
	case Within:
		return "Within the rules on file" + checked + "." + above
	}
	text := "Not checked: do not take it."
	if missing != 0 {
		text += " Not known: " + missing.phrase() + "."
	}
	if whom == "" {
		return text + " No current rules are known here; ask who is in charge of this shore."
	}
	return text + " Ask " + whom + "."
}
