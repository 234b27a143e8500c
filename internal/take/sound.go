package take

import (
	"fmt"

	"wrackbook/internal/fault"
)

// sound finds what contradicts itself in a set whose every value is of the right form.
func (s *Set) sound() error {
	if s.From != "" && s.To != "" && s.To < s.From {
		return unsound("to", "the rules end before they begin")
	}
	if s.Area.Everywhere == (s.Area.Polygons != nil) {
		return unsound("area", "give either everywhere or polygons: the area has to be one of the two")
	}
	points := 0
	if err := s.Area.sound("area", &points); err != nil {
		return err
	}
	for _, name := range sortedKeys(s.Rules) {
		r := s.Rules[name]
		if err := r.sound("rules."+name, &points); err != nil {
			return err
		}
	}
	return nil
}

func unsound(place, format string, args ...any) error {
	return fault.New(fault.BadInput, place, "%s: %s.", place, fmt.Sprintf(format, args...))
}

func (r *Rule) sound(place string, points *int) error {
	of := &r.Of
	if named := of.Taxa != nil || of.Groups != nil; of.All && (named || of.Rest) || !of.All && !of.Rest && !named {
		return unsound(place+".of", "say which kinds: all, or the rest, or taxa and groups")
	}
	if r.Where != nil {
		if r.Where.Polygons == nil && r.Where.Except == nil && r.Where.Strip == nil {
			return unsound(place+".where", "give polygons or a strip, or leave it out")
		}
		if err := r.Where.sound(place+".where", points); err != nil {
			return err
		}
	}
	if !r.restricts() && r.Take == "" && r.Return == "" && r.Duties == nil {
		return unsound(place, "the rule says nothing of what it names")
	}
	if r.Take == "forbidden" && (r.restricts() || r.Return == "forbidden") {
		return unsound(place+".take", "what is forbidden needs no limit, size or season beside it")
	}
	if u := r.Unless; u != nil {
		if u.Licences == nil && u.Rights == nil && u.AgeUnder == nil && u.AgeFrom == nil {
			return unsound(place+".unless", "say who is exempt, or leave it out")
		}
	}
	for i := range r.Limits {
		if err := r.Limits[i].sound(fmt.Sprintf("%s.limits[%d]", place, i), r); err != nil {
			return err
		}
	}
	for i, z := range r.Sizes {
		place := fmt.Sprintf("%s.sizes[%d]", place, i)
		switch {
		case z.LeastMM == nil && z.MostMM == nil:
			return unsound(place, "give the least or the greatest size")
		case z.LeastMM != nil && z.MostMM != nil && *z.LeastMM > *z.MostMM:
			return unsound(place, "the sizes contradict each other: the least, %v mm, is more than the greatest, %v mm", *z.LeastMM, *z.MostMM)
		}
		for _, other := range r.Sizes[:i] {
			if other.Axis == z.Axis {
				return unsound(place, "the sizes contradict each other: there are two along the %s", z.Axis)
			}
		}
	}
	if err := r.During.sound(place + ".during"); err != nil {
		return err
	}
	if err := r.Season.sound(place + ".season"); err != nil {
		return err
	}
	if h := r.Hours; h != nil && h.From == h.To {
		return unsound(place+".hours", "they begin when they end")
	}
	for _, w := range []struct {
		name string
		*Words
	}{{"gear", r.Gear}, {"use", r.Use}, {"substrate", r.Substrate}} {
		if w.Words == nil {
			continue
		}
		if w.Only == nil && w.Never == nil {
			return unsound(place+"."+w.name, "give only or never")
		}
		for _, n := range w.Never {
			if has(w.Only, n) {
				return unsound(place+"."+w.name, "%q is both allowed and forbidden", n)
			}
		}
	}
	if p := r.Person; p != nil {
		switch {
		case p.Licence == "" && p.Consent == "" && p.AgeFrom == nil && p.AgeTo == nil:
			return unsound(place+".person", "say what the person needs")
		case p.AgeFrom != nil && p.AgeTo != nil && *p.AgeFrom > *p.AgeTo:
			return unsound(place+".person", "the ages contradict each other")
		case p.Above != nil && p.Licence == "":
			return unsound(place+".person.above", "it is the amount above which a licence is needed; name the licence")
		case p.Above != nil:
			if err := p.Above.sound(place+".person.above", r); err != nil {
				return err
			}
		}
	}
	if c := r.Cut; c != nil {
		if c.LeaveMM == 0 && c.Above == "" && c.LeavePart == 0 && !c.NotTorn {
			return unsound(place+".cut", "say what is left standing")
		}
		if c.LeaveMM > 0 && c.Above == "" {
			return unsound(place+".cut.above", "say above what the length is left")
		}
	}
	return nil
}

// restricts says whether the rule has a part that can refuse a find.
func (r *Rule) restricts() bool {
	return r.Limits != nil || r.Sizes != nil || r.Season != nil || r.Hours != nil || r.Gear != nil ||
		r.Use != nil || r.Substrate != nil || r.Person != nil || r.Rest != 0 || r.Cut != nil
}

func (l *Limit) sound(place string, r *Rule) error {
	switch {
	case (l.Per == "days") != (l.Days != 0):
		return unsound(place+".days", "it belongs to a limit per days, and to that only")
	case l.Weighed != "" && l.Unit != "g", l.Or != nil && l.Or.Weighed != "" && l.Or.Unit != "g":
		return unsound(place+".weighed", "only a mass in g is weighed")
	case l.Unit == "share" && l.Most > 1, l.Or != nil && l.Or.Unit == "share" && l.Or.Most > 1:
		return unsound(place+".most", "a share is at most 1, which is all of it")
	case l.KeepFirst && l.PutBack != "":
		return unsound(place+".putBack", "where the first so many must be kept, none is put back free")
	case l.Or != nil && l.Or.Unit == l.Unit && l.Or.Weighed == l.Weighed:
		return unsound(place+".or", "it measures as the limit does")
	}
	if l.Per == "season" {
		s := r.Season
		if s == nil {
			s = r.During
		}
		if s == nil || !dated(s.Open) {
			return unsound(place+".per", "a limit per season needs the rule's open season in dates or months")
		}
	}
	return nil
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
	if (s.Open == nil) == (s.Closed == nil) {
		return unsound(place, "say either when it is open or when it is closed")
	}
	for i, p := range s.Open {
		if err := p.sound(fmt.Sprintf("%s.open[%d]", place, i)); err != nil {
			return err
		}
	}
	for i, p := range s.Closed {
		if err := p.sound(fmt.Sprintf("%s.closed[%d]", place, i)); err != nil {
			return err
		}
	}
	return nil
}

func (p *Span) sound(place string) error {
	forms := 0
	for _, there := range []bool{p.From != "" || p.To != "", p.Months != nil, p.Days != nil, p.Moon != nil} {
		if there {
			forms++
		}
	}
	switch {
	case forms != 1:
		return unsound(place, "give one of: from and to, months, days, moon")
	case (p.From == "") != (p.To == ""):
		return unsound(place, "give both from and to")
	case len(p.From) != len(p.To):
		return unsound(place+".to", "give the year in both or in neither")
	case len(p.From) == len("2026-11-25") && p.To < p.From:
		return unsound(place+".to", "it ends before it begins")
	case p.Moon != nil && p.Moon.Last < p.Moon.First:
		return unsound(place+".moon.last", "it ends before it begins")
	}
	return nil
}

func (a *Area) sound(place string, points *int) error {
	for i, r := range a.Polygons {
		if err := r.sound(fmt.Sprintf("%s.polygons[%d]", place, i), points); err != nil {
			return err
		}
	}
	for i, r := range a.Except {
		if err := r.sound(fmt.Sprintf("%s.except[%d]", place, i), points); err != nil {
			return err
		}
	}
	if s := a.Strip; s != nil {
		if s.Above == nil && s.Below == nil {
			return unsound(place+".strip", "give above, below or both")
		}
		if s.Above != nil && s.Below != nil && s.Above.Named == s.Below.Named && s.Above.PlusM >= s.Below.PlusM {
			return unsound(place+".strip", "it has no height: above is not under below")
		}
	}
	return nil
}
