package take

import "encoding/json"

// Person is one of the party, or a group of like ones.
type Person struct {
	ID       string   `json:"id"` // as finds name who took them
	Name     string   `json:"name"`
	As       string   `json:"as"`     // adult (18 and older) or child
	Years    *float64 `json:"years"`  // the age, where known
	Born     *int     `json:"born"`   // or the year of birth
	Number   int      `json:"number"` // of a group; 0 counts as 1
	Does     string   `json:"does"`   // gathers, comes along, watches; "" counts as gathers
	Licences Papers   `json:"licences"`
	Rights   Papers   `json:"rights"`
	Consents Papers   `json:"consents"` // of whom
}

// Papers is what somebody holds; nil is not known, an empty list is nothing.
type Papers []Paper

// Paper is a licence, a right or a consent, by the name that rules call it.
type Paper struct {
	What  string `json:"what"`
	Until string `json:"until"` // the last day; "" has none
}

// UnmarshalJSON reads a paper as the book has it, or its name alone.
func (p *Paper) UnmarshalJSON(data []byte) error {
	type plain Paper
	if json.Unmarshal(data, &p.What) == nil {
		return nil
	}
	return json.Unmarshal(data, (*plain)(p))
}

// has says whether one of the papers is of that name and holds on a day.
func (list Papers) has(what string, day civil) bool {
	for _, p := range list {
		if p.What == what && (p.Until == "" || day.String() <= p.Until) {
			return true
		}
	}
	return false
}

// adultYears is the age from which the book calls somebody an adult.
const adultYears = 18

// aged says whether who takes is of that age or older.
func (s *speaker) aged(years int) truth {
	p := s.person
	switch {
	case s.Find.By == "" && p == nil:
		return lacking(factBy)
	case p == nil:
	case p.Years != nil:
		return is(*p.Years >= float64(years))
	case p.Born != nil && s.at.day.Year()-*p.Born > years:
		return yes
	case p.Born != nil && s.at.day.Year()-*p.Born < years:
		return no
	case p.As == "adult" && years <= adultYears:
		return yes
	case p.As == "child" && years >= adultYears:
		return no
	}
	return lacking(factAge)
}

// exempt says whether who takes is exempt from a rule.
func (s *speaker) exempt(u *Unless) truth {
	if u == nil {
		return no
	}
	out := no
	if p := s.person; p != nil {
		for _, l := range u.Licences {
			out = out.or(is(p.Licences.has(l, s.at.day)))
		}
		for _, r := range u.Rights {
			out = out.or(is(p.Rights.has(r, s.at.day)))
		}
	}
	if u.AgeUnder != nil {
		out = out.or(s.aged(*u.AgeUnder).not())
	}
	if u.AgeFrom != nil {
		out = out.or(s.aged(*u.AgeFrom))
	}
	return out
}

// holds says whether a person has what the papers would name; nil is not known.
func (s *speaker) holds(list Papers, word string, fact facts) truth {
	switch {
	case s.Find.By == "":
		return lacking(factBy)
	case list == nil:
		return lacking(fact)
	}
	return is(list.has(word, s.at.day))
}

// partyMember finds one of the party; nil for nobody.
func (s *speaker) partyMember(id string) *Person {
	for i := range s.Party {
		if p := &s.Party[i]; id != "" && p.ID == id {
			return p
		}
	}
	return nil
}
