package book

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// Type is the form of a value in JSON.
type Type string

const (
	Text    Type = "text"    // string of at most Most characters
	Bool    Type = "yes/no"  // true or false
	Whole   Type = "whole"   // number without a fraction, Least..Most
	Number  Type = "number"  // Least..Most
	Instant Type = "instant" // UTC, RFC 3339, "2026-11-25T14:48:00Z"
	Day     Type = "day"     // civil day of the place, "2026-11-25"
	Choice  Type = "choice"  // one of OneOf
	ID      Type = "id"      // the id of a record of the kind OneOf[0]
	Of      Type = "of"      // "kind/id", of a kind in OneOf
	Group   Type = "group"   // a handling group of taxa.json, or "unsure"
	Object  Type = "object"  // with Parts
	List    Type = "list"    // Least to Most values of the form Parts[0]
	Opaque  Type = "opaque"  // a JSON object that another room reads
)

// Value is the form and the bounds of a field or of a part of one.
type Value struct {
	Type  Type     `json:"type"`
	Unit  string   `json:"unit"`
	Least float64  `json:"least"`
	Most  float64  `json:"most"`
	OneOf []string `json:"oneOf"`
	Parts []Part   `json:"parts"`
	Null  bool     `json:"null"` // null may stand for it: not known, none, or taken out of a set
	Word  string   `json:"word"` // this word may stand for it
}

// Part is a named piece of a value that means something only as a whole. Pieces that this
// program does not know are kept.
type Part struct {
	Name     string `json:"name"`
	Optional bool   `json:"optional"`
	Value
}

// The instants and days that a book believes.
const (
	firstYear = 1900
	lastYear  = 2200
)

// fault finds what is wrong with a decoded value: which piece of it, a code, and what
// would be right. code is "" where nothing is.
func (v *Value) fault(x any) (piece string, code Code, want string) {
	if x == nil && v.Null || v.Word != "" && x == v.Word {
		return "", "", ""
	}
	form := func(ok bool) (string, Code, string) {
		if ok {
			return "", "", ""
		}
		return "", Form, v.want()
	}
	within := func(ok bool) (string, Code, string) {
		if ok {
			return "", "", ""
		}
		return "", Bound, v.want()
	}
	switch v.Type {
	case Bool:
		_, ok := x.(bool)
		return form(ok)
	case Whole, Number:
		n, ok := x.(float64)
		if !ok {
			return form(false)
		}
		return within(n >= v.Least && n <= v.Most && (v.Type == Number || n == math.Trunc(n)))
	case Object:
		return v.faultInObject(x)
	case Opaque:
		_, ok := x.(map[string]any)
		return form(ok)
	case List:
		list, ok := x.([]any)
		if !ok {
			return form(false)
		}
		for i, e := range list {
			if piece, code, want := v.Parts[0].fault(e); code != "" {
				return join(fmt.Sprint(i+1), piece), code, want
			}
		}
		return within(len(list) >= int(v.Least) && len(list) <= int(v.Most))
	}
	s, ok := x.(string)
	if !ok {
		return form(false)
	}
	switch v.Type {
	case Text:
		return within(utf8.RuneCountInString(s) <= int(v.Most))
	case Choice:
		return within(slices.Contains(v.OneOf, s))
	case Instant:
		t, err := time.Parse(time.RFC3339, s)
		if err != nil || !strings.HasSuffix(s, "Z") {
			return form(false)
		}
		return within(t.Year() >= firstYear && t.Year() <= lastYear)
	case Day:
		t, err := time.Parse(time.DateOnly, s)
		if err != nil {
			return form(false)
		}
		return within(t.Year() >= firstYear && t.Year() <= lastYear)
	case ID:
		return form(isID(s))
	case Of:
		kind, id, _ := strings.Cut(s, "/")
		return form(slices.Contains(v.OneOf, kind) && isID(id))
	case Group:
		return within(s == Unsure || knownGroup(s))
	}
	return form(false)
}

func (v *Value) faultInObject(x any) (piece string, code Code, want string) {
	object, ok := x.(map[string]any)
	if !ok {
		return "", Form, v.want()
	}
	for i := range v.Parts {
		p := &v.Parts[i]
		e, ok := object[p.Name]
		if !ok {
			if p.Optional {
				continue
			}
			return p.Name, Missing, p.want()
		}
		if piece, code, want := p.fault(e); code != "" {
			return join(p.Name, piece), code, want
		}
	}
	return "", "", ""
}

func join(a, b string) string {
	if b == "" {
		return a
	}
	return a + "." + b
}

// want says what would be right, to end the sentence "…; give …".
func (v *Value) want() string {
	s := ""
	switch v.Type {
	case Text:
		s = fmt.Sprintf("text of at most %v characters", v.Most)
	case Bool:
		s = "yes or no"
	case Whole:
		s = fmt.Sprintf("a whole number from %v to %v", v.Least, v.Most)
	case Number:
		s = fmt.Sprintf("a number from %v to %v", v.Least, v.Most)
	case Instant:
		s = fmt.Sprintf("an instant in UTC between %d and %d", firstYear, lastYear)
	case Day:
		s = fmt.Sprintf("a day between %d and %d", firstYear, lastYear)
	case Choice:
		s = "one of " + strings.Join(v.OneOf, ", ")
	case ID:
		s = "the id of a " + v.OneOf[0]
	case Of:
		s = "the kind and id of one of " + strings.Join(v.OneOf, ", ")
	case Group:
		s = `a handling group or "unsure"`
	case Object:
		names := make([]string, len(v.Parts))
		for i, p := range v.Parts {
			names[i] = p.Name
			if p.Optional {
				names[i] += "?"
			}
		}
		s = "together " + strings.Join(names, ", ")
	case List:
		s = fmt.Sprintf("%v to %v times %s", v.Least, v.Most, v.Parts[0].want())
	case Opaque:
		s = "a JSON object"
	}
	if v.Unit != "" {
		s += " " + v.Unit
	}
	if v.Word != "" {
		s += fmt.Sprintf(", or %q", v.Word)
	}
	if v.Null {
		s += ", or nothing"
	}
	return s
}

// isID says whether s is a UUID in lower case, as internal/journal demands of records.
func isID(s string) bool {
	if len(s) != 36 {
		return false
	}
	for i := range len(s) {
		b := s[i]
		if dash := i == 8 || i == 13 || i == 18 || i == 23; dash != (b == '-') || !dash && !(b >= '0' && b <= '9' || b >= 'a' && b <= 'f') {
			return false
		}
	}
	return true
}
