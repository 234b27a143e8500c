package take

import (
	"fmt"
	"time"
)

// rule lets the i-th rule of the set speak; applies is whether it is about the find.
func (s *speaker) rule(i int, applies truth) {
	r := &s.held.rules[i]
	if r.Take == "forbidden" {
		s.sayIf(applies, r.name, "take", Forbidden, 0, "The rules on file forbid taking this."+because(r.Note), nil)
	}
	for n := range r.Limits {
		s.limit(i, n, applies)
	}
	for _, z := range r.Sizes {
		s.size(r, z, applies)
	}
	if r.Season != nil {
		g := Forbidden
		if r.Season.open(s.at.day, s.Zone) {
			g = Within
		}
		s.sayIf(applies, r.name, "season", g, 0, seasonWords(r.Season, s.at.day, g == Within), nil)
	}
	if r.Hours != nil {
		s.decide(applies, r.name, "hours", r.Hours.open(s.at, s.spot, s.Zone), hoursWords(r.Hours, s.at))
	}
	s.words(applies, r.name, "gear", r.Gear, s.Find.Gear, factGear)
	s.words(applies, r.name, "use", r.Use, s.Find.Use, factUse)
	s.words(applies, r.name, "substrate", r.Substrate, s.Find.Substrate, factSubstrate)
	if r.Person != nil {
		s.needs(i, applies)
	}
	if r.Rest != 0 {
		if last, visited := s.lastVisit(i); visited {
			g := Within
			if last.until(s.at.day) <= r.Rest {
				g = Forbidden
			}
			s.sayIf(applies, r.name, "rest", g, 0, fmt.Sprintf("The shore rests for %d days after a visit; the last was on %s.", r.Rest, last), nil)
		}
	}
	if c := r.Cut; c != nil && s.kind.state != "drift" && s.kind.state != "empty" {
		s.duty(applies, r.name, "cut", c.do(), c.ask())
	}
	for n, d := range r.Duties {
		s.duty(applies, r.name, fmt.Sprintf("duty%d", n+1), d.Do, d.Ask)
	}
	if r.Return != "" && (applies == yes || r.Return != "allowed") {
		s.returns = append(s.returns, r.Return)
	}
}

// decide says within where ok, forbidden where not, and unchecked where it cannot be told.
func (s *speaker) decide(applies truth, rule, what string, ok truth, text string) {
	g := Within
	switch {
	case ok == no:
		g = Forbidden
	case ok.lacks() != 0:
		g = Unchecked
	}
	s.sayIf(applies, rule, what, g, ok.lacks(), text, nil)
}

func (s *speaker) size(r *compiled, z Size, applies truth) {
	f := s.Find.Size
	ok := lacking(factSize)
	if f != nil && f.Axis == z.Axis {
		ok = is((z.LeastMM == nil || f.MM >= *z.LeastMM) && (z.MostMM == nil || f.MM <= *z.MostMM))
	}
	s.decide(applies, r.name, "size", ok, sizeWords(z, f, ok))
}

func (s *speaker) words(applies truth, rule, what string, w *Words, given []string, fact facts) {
	if w == nil {
		return
	}
	ok := yes
	if given == nil {
		ok = lacking(fact)
	}
	for _, g := range given {
		if has(w.Never, g) || w.Only != nil && !has(w.Only, g) {
			ok = no
		}
	}
	s.decide(applies, rule, what, ok, listWords(what, w))
}

// needs asks what the person must have or be.
func (s *speaker) needs(i int, applies truth) {
	r := &s.held.rules[i]
	n, p := r.Person, s.person
	holds := func(word string, list func(*Person) []string, fact facts) truth {
		switch {
		case s.Find.By == "":
			return lacking(factBy)
		case p == nil || list(p) == nil:
			return lacking(fact)
		}
		return is(has(list(p), word))
	}
	if n.Licence != "" {
		ok := holds(n.Licence, func(p *Person) []string { return p.Licences }, factLicence)
		var c *Count
		if n.Above != nil && ok != yes {
			g, count, lacks := s.tally(i, n.Above)
			c = count
			switch g {
			case Within, AtLimit:
				ok = yes
			case Unchecked:
				ok = lacking(ok.lacks() | lacks)
			}
		}
		g := Within
		if ok == no {
			g = Forbidden
		} else if ok.lacks() != 0 {
			g = Unchecked
		}
		s.sayIf(applies, r.name, "licence", g, ok.lacks(), licenceWords(n, c), c)
	}
	if n.Consent != "" {
		s.decide(applies, r.name, "consent", holds(n.Consent, func(p *Person) []string { return p.Consents }, factConsent),
			"It needs the consent of "+n.Consent+".")
	}
	if n.AgeFrom != nil {
		s.decide(applies, r.name, "age", s.aged(*n.AgeFrom), fmt.Sprintf("Who takes it must be %d or older.", *n.AgeFrom))
	}
	if n.AgeTo != nil {
		s.decide(applies, r.name, "age", s.aged(*n.AgeTo+1).not(), fmt.Sprintf("Who takes it must be %d or younger.", *n.AgeTo))
	}
}

// duty adds a duty, and asks its question.
func (s *speaker) duty(applies truth, rule, what, do, ask string) {
	if applies == no {
		return
	}
	s.duties = append(s.duties, Told{s.held.ID, rule, do})
	if ask != "" {
		s.asked(applies, rule, what, do, ask, Forbidden)
	}
}

// asked asks a question to which anything but yes refuses the find.
func (s *speaker) asked(applies truth, rule, what, text, ask string, refusal Grade) {
	id := s.held.ID + "/" + rule + "/" + what
	g, lacks := Within, facts(0)
	if answer, given := s.Answers[id]; !given {
		g, lacks = Unchecked, factAnswer
	} else if !answer {
		g = refusal
	}
	if o := s.sayIf(applies, rule, what, g, lacks, text, nil); o != nil {
		o.Question = &Asked{id, ask}
	}
}

// limit asks one limit.
func (s *speaker) limit(i, n int, applies truth) {
	r := &s.held.rules[i]
	l := &r.Limits[n]
	if l.Base == "everyone" {
		s.asked(applies, r.name, fmt.Sprintf("limit%d", n+1), quotaWords(l), "Is the total for everybody not yet reached?", Over)
		return
	}
	g, c, lacks := s.tally(i, l)
	if l.KeepFirst && c.Total <= l.Most {
		s.returns = append(s.returns, "forbidden")
	}
	s.sayIf(applies, r.name, "limit", g, lacks, s.countWords(l, c, lacks), c)
}

// span gives the time over which a limit counts; possession has no beginning.
func (s *speaker) span(r *compiled, l *Limit) (from, to time.Time) {
	day := s.at.day
	to = day.plus(1).in(s.Zone)
	switch l.Per {
	case "tide":
		return s.TideAt[0], s.TideAt[1]
	case "days":
		day = day.plus(1 - l.Days)
	case "possession":
		return from, to
	case "season":
		season := r.Season
		if season == nil {
			season = r.During
		}
		day = season.began(day)
	case "year":
		day = civil{time.Date(day.Year(), 1, 1, 0, 0, 0, 0, time.UTC)}
	}
	return day.in(s.Zone), to
}
