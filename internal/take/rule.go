package take

import (
	"strconv"
	"time"
)

// part lets each part of a rule speak, the i-th of the set.
func (s *speaker) part(r *compiled, i int) {
	if r.Take == "forbidden" {
		s.say("take", Forbidden, 0, "The rules on file forbid taking this."+because(r.Note))
	}
	for n := range r.Limits {
		s.limit(r, i, n)
	}
	for _, z := range r.Sizes {
		s.size(z)
	}
	if r.Season != nil {
		g := Forbidden
		if r.Season.open(s.at.day, s.Zone) {
			g = Within
		}
		s.say("season", g, 0, seasonWords(r.Season, s.at.day, g == Within))
	}
	if r.Hours != nil {
		s.decide("hours", r.Hours.open(s.at, s.spot, s.Zone), hoursWords(r.Hours, s.at))
	}
	s.words("gear", r.Gear, s.Find.Gear, factGear)
	s.words("use", r.Use, s.Find.Use, factUse)
	s.words("substrate", r.Substrate, s.Find.Substrate, factSubstrate)
	if r.Person != nil {
		s.needs(r, i)
	}
	if r.Rest != 0 {
		if last, visited := s.lastVisit(i, civil{}); visited {
			g := Within
			if last.until(s.at.day) <= r.Rest {
				g = Forbidden
			}
			s.say("rest", g, 0, restWords(r.Rest, last))
		}
	}
	if c := r.Cut; c != nil && s.kind.state != "drift" && s.kind.state != "empty" {
		s.duty("cut", c.do(), c.ask())
	}
	for n, d := range r.Duties {
		s.duty("duty"+strconv.Itoa(n+1), d.Do, d.Ask)
	}
	if r.Return == "forbidden" || s.applies == yes && !s.house && (r.Return == "demanded" || s.permits && r.Return == "allowed") {
		s.returns = append(s.returns, r.Return)
	}
}

// decide says within where ok, forbidden where not, and unchecked where it cannot be told.
func (s *speaker) decide(what string, ok truth, text string) *Spoke {
	g := Unchecked
	switch ok {
	case yes:
		g = Within
	case no:
		g = Forbidden
	}
	return s.say(what, g, ok.lacks(), text)
}

func (s *speaker) size(z Size) {
	f := s.Find.Size
	ok := lacking(factSize)
	if f != nil && f.Axis == z.Axis {
		ok = is((z.LeastMM == nil || f.MM >= *z.LeastMM) && (z.MostMM == nil || f.MM <= *z.MostMM))
	}
	s.decide("size", ok, sizeWords(z, f, ok))
}

func (s *speaker) words(what string, w *Words, given []string, fact facts) {
	if w == nil {
		return
	}
	ok := yes
	if given == nil || len(given) == 0 && fact != factSubstrate { // only what comes off with it may be nothing
		ok = lacking(fact)
	}
	for _, g := range given {
		if hasWord(w.Never, g) || w.Only != nil && !hasWord(w.Only, g) {
			ok = no
		}
	}
	s.decide(what, ok, listWords(what, w))
}

// needs asks what the person must have or be.
func (s *speaker) needs(r *compiled, i int) {
	n, p := r.Person, s.person
	var licences, consents Papers
	if p != nil {
		licences, consents = p.Licences, p.Consents
	}
	if n.Licence != "" {
		ok := s.holds(licences, n.Licence, factLicence)
		var c *Count
		if n.Above != nil && ok != yes {
			g, count, lacks := s.tally(r, i, n.Above)
			c = count
			switch g {
			case Within, AtLimit:
				ok = yes
			case Unchecked:
				ok = lacking(ok.lacks() | lacks)
			}
		}
		s.decide("licence", ok, licenceWords(n, c)).Count = c
	}
	if n.Consent != "" {
		s.decide("consent", s.holds(consents, n.Consent, factConsent), consentWords(n))
	}
	if n.AgeFrom != nil {
		s.decide("age", s.aged(*n.AgeFrom), ageFromWords(n))
	}
	if n.AgeTo != nil {
		s.decide("age", s.aged(*n.AgeTo+1).not(), ageToWords(n))
	}
}

// duty adds a duty, and asks its question.
func (s *speaker) duty(what, do, ask string) {
	s.duties = append(s.duties, Told{s.held.ID, s.rule, do})
	if ask != "" {
		s.asked(what, do, ask, Forbidden)
	}
}

// asked asks a question to which anything but yes refuses the find.
func (s *speaker) asked(what, text, ask string, refusal Grade) {
	id := s.held.ID + "/" + s.rule + "/" + what
	g, lacks := Within, facts(0)
	if answer, given := s.Answers[id]; !given {
		g, lacks = Unchecked, factAnswer
	} else if !answer {
		g = refusal
	}
	s.say(what, g, lacks, text).Question = &Asked{id, ask}
}

// limit asks the n-th limit of a rule.
func (s *speaker) limit(r *compiled, i, n int) {
	l := &r.Limits[n]
	if l.Base == "everyone" {
		s.asked("limit"+strconv.Itoa(n+1), quotaWords(l), "Is the total for everybody not yet reached?", Over)
		return
	}
	g, c, lacks := s.tally(r, i, l)
	if l.KeepFirst && c.Total <= l.Most {
		s.returns = append(s.returns, "forbidden")
	}
	s.say("limit", g, lacks, s.countWords(l, c, lacks)).Count = c
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
