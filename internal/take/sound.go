package take

import (
	"strconv"
	"strings"

	"wrackbook/internal/fault"
)

// What contradicts itself in a set whose every value is of the right form.

func unsound(place, why string) error {
	if place == "" {
		place = "the file"
	}
	return fault.New(fault.BadInput, place, "%s: %s.", place, why)
}

// wrong is something that may be wrong, where under a place, and why.
type wrong struct {
	is      bool
	at, why string
}

func firstOf(place string, list ...wrong) error {
	for _, w := range list {
		if w.is {
			return unsound(place+w.at, w.why)
		}
	}
	return nil
}

func (s *Set) sound() error {
	if err := firstOf("",
		wrong{s.From != "" && s.To != "" && s.To < s.From, "to", "the rules end before they begin"},
		wrong{s.Area.Everywhere == (s.Area.Polygons != nil), "area", "give either everywhere or polygons"}); err != nil {
		return err
	}
	points := 0
	if err := s.Area.sound("area", &points); err != nil {
		return err
	}
	for _, name := range s.names() {
		r := s.Rules[name]
		if err := r.sound("rules."+name, &points); err != nil {
			return err
		}
	}
	return nil
}

func (r *Rule) sound(place string, points *int) error {
	of, u, p, c := &r.Of, r.Unless, r.Person, r.Cut
	named := of.Taxa != nil || of.Groups != nil
	// restricts: the rule has a part that can refuse a find.
	restricts := r.Limits != nil || r.Sizes != nil || r.Season != nil || r.Hours != nil || r.Gear != nil ||
		r.Use != nil || r.Substrate != nil || p != nil || r.Rest != 0 || c != nil
	if u == nil {
		u = &Unless{Rights: []string{}}
	}
	if p == nil {
		p = &Needs{Licence: " "}
	}
	if c == nil {
		c = &Cut{NotTorn: true}
	}
	for _, list := range [...]struct {
		at   string
		taxa []string
	}{{".of.taxa", of.Taxa}, {".of.except.taxa", of.left()}} {
		for i, name := range list.taxa {
			if !findable(name) {
				return unsound(place+list.at+index(i), "no find has this name; write the species, or the genus alone for all of its species, or a group")
			}
		}
	}
	if err := firstOf(place,
		wrong{of.All && (named || of.Rest) || !of.All && !of.Rest && !named, ".of", "say which kinds: all, or the rest, or taxa and groups"},
		wrong{!restricts && r.Take == "" && r.Return == "" && r.Duties == nil, "", "the rule says nothing of what it names"},
		wrong{r.Take == "forbidden" && (restricts || r.Return == "forbidden"), ".take", "what is forbidden needs no limit, size or season beside it"},
		wrong{u.Licences == nil && u.Rights == nil && u.AgeUnder == nil && u.AgeFrom == nil, ".unless", "say who is exempt, or leave it out"},
		wrong{r.Hours != nil && r.Hours.From == r.Hours.To, ".hours", "they begin when they end"},
		wrong{r.Hours.turned(), ".hours", "the minutes that are added turn them round; write the clock times alone"},
		wrong{p.Licence == "" && p.Consent == "" && p.AgeFrom == nil && p.AgeTo == nil, ".person", "say what the person needs"},
		wrong{p.AgeFrom != nil && p.AgeTo != nil && *p.AgeFrom > *p.AgeTo, ".person", "the ages contradict each other"},
		wrong{p.Above != nil && p.Licence == "", ".person.above", "it is the amount above which a licence is needed; name the licence"},
		wrong{c.LeaveMM == 0 && c.Above == "" && c.LeavePart == 0 && !c.NotTorn, ".cut", "say what is left standing"},
		wrong{c.LeaveMM > 0 && c.Above == "", ".cut.above", "say above what the length is left"},
		r.Gear.wrong(".gear"), r.Use.wrong(".use"), r.Substrate.wrong(".substrate")); err != nil {
		return err
	}
	for i := range r.Limits {
		if err := r.Limits[i].sound(place+".limits"+index(i), r); err != nil {
			return err
		}
	}
	if p.Above != nil {
		if err := p.Above.sound(place+".person.above", r); err != nil {
			return err
		}
	}
	for i, z := range r.Sizes {
		twice := false
		for _, other := range r.Sizes[:i] {
			twice = twice || other.Axis == z.Axis
		}
		if err := firstOf(place+".sizes"+index(i),
			wrong{z.LeastMM == nil && z.MostMM == nil, "", "give the least or the greatest size"},
			wrong{z.LeastMM != nil && z.MostMM != nil && *z.LeastMM > *z.MostMM, "", "the sizes contradict each other: the least is more than the greatest"},
			wrong{twice, "", "the sizes contradict each other: there are two along the " + z.Axis}); err != nil {
			return err
		}
	}
	if err := r.During.sound(place + ".during"); err != nil {
		return err
	}
	if err := r.Season.sound(place + ".season"); err != nil {
		return err
	}
	if w := r.Where; w != nil {
		if w.Polygons == nil && w.Except == nil && w.Strip == nil {
			return unsound(place+".where", "give polygons or a strip, or leave it out")
		}
		return w.sound(place+".where", points)
	}
	return nil
}

// left gives the taxa that are left out.
func (of *Subject) left() []string {
	if of.Except == nil {
		return nil
	}
	return of.Except.Taxa
}

// findable says whether a find may have a name: a rule about a family, or about "spp.", would
// be about none.
func findable(name string) bool {
	words := strings.Fields(strings.ToLower(name))
	if len(words) == 0 || strings.ContainsAny(name, "()[],;:/&0123456789") {
		return false
	}
	switch words[len(words)-1] {
	case "sp", "sp.", "spp", "spp.", "ssp", "ssp.":
		return false
	}
	if len(words) > 1 {
		return true
	}
	for _, end := range [...]string{"idae", "inae", "aceae", "oidea", "phyceae", "phyta", "formes", "ales",
		"scleractinia", "bivalvia", "gastropoda", "cephalopoda", "mollusca", "crustacea", "decapoda", "cirripedia", "cnidaria", "anthozoa",
		"actiniaria", "echinodermata", "porifera", "polychaeta", "annelida", "ascidiacea", "polyplacophora"} {
		if strings.HasSuffix(words[0], end) {
			return false
		}
	}
	return true
}

func index(i int) string { return "[" + strconv.Itoa(i) + "]" }

func (w *Words) wrong(at string) wrong {
	if w == nil {
		return wrong{}
	}
	for _, n := range w.Never {
		if hasWord(w.Only, n) {
			return wrong{true, at, "“" + n + "” is both allowed and forbidden"}
		}
	}
	return wrong{w.Only == nil && w.Never == nil, at, "give only or never"}
}

func (l *Limit) sound(place string, r *Rule) error {
	or := l.Or
	if or == nil {
		or = &Measure{}
	}
	s := r.Season
	if s == nil {
		s = r.During
	}
	return firstOf(place,
		wrong{(l.Per == "days") != (l.Days != 0), ".days", "it belongs to a limit per days, and to that only"},
		wrong{l.Weighed != "" && l.Unit != "g" || or.Weighed != "" && or.Unit != "g", ".weighed", "only a mass in g is weighed"},
		wrong{l.Unit == "share" && l.Most > 1 || or.Unit == "share" && or.Most > 1, ".most", "a share is at most 1, which is all of it"},
		wrong{l.KeepFirst && l.PutBack != "", ".putBack", "where the first so many must be kept, none is put back free"},
		wrong{or.Unit == l.Unit && or.Weighed == l.Weighed, ".or", "it measures as the limit does"},
		wrong{l.Per == "season" && (s == nil || !dated(s.Open)), ".per", "a limit per season needs the rule's open season in dates or months"})
}

func dated(spans []Span) bool {
	for _, p := range spans {
		if p.Moon != nil {
			return false
		}
	}
	return spans != nil
}

func (s *Season) sound(place string) error {
	if s == nil {
		return nil
	}
	spans, name := s.Open, ".open"
	if spans == nil {
		spans, name = s.Closed, ".closed"
	}
	if (s.Open == nil) == (s.Closed == nil) {
		return unsound(place, "say either when it is open or when it is closed")
	}
	for i := range spans {
		if err := spans[i].sound(place + name + index(i)); err != nil {
			return err
		}
	}
	return nil
}

func (p *Span) sound(place string) error {
	forms := 0
	for _, there := range [...]bool{p.From != "" || p.To != "", p.Months != nil, p.Days != nil, p.Moon != nil} {
		if there {
			forms++
		}
	}
	return firstOf(place,
		wrong{forms != 1, "", "give one of: from and to, months, days, moon"},
		wrong{(p.From == "") != (p.To == ""), "", "give both from and to"},
		wrong{len(p.From) != len(p.To), ".to", "give the year in both or in neither"},
		wrong{len(p.From) == len("2026-11-25") && p.To < p.From, ".to", "it ends before it begins"},
		wrong{p.Moon != nil && p.Moon.Last < p.Moon.First, ".moon.last", "it ends before it begins"})
}

func (a *Area) sound(place string, points *int) error {
	for _, list := range [...]struct {
		name  string
		rings []Ring
	}{{".polygons", a.Polygons}, {".except", a.Except}} {
		for i, r := range list.rings {
			if err := r.sound(place+list.name+index(i), points); err != nil {
				return err
			}
		}
	}
	s := a.Strip
	if s == nil {
		return nil
	}
	return firstOf(place+".strip",
		wrong{s.Above == nil && s.Below == nil, "", "give above, below or both"},
		wrong{s.Above != nil && s.Below != nil && s.Above.Named == s.Below.Named && s.Above.PlusM >= s.Below.PlusM, "", "it has no height: above is not under below"})
}
