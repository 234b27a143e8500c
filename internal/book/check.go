package book

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Code says what kind of thing a flag is about.
type Code string

const (
	Missing  Code = "missing"  // the record says nothing of it and should
	Form     Code = "form"     // not the type that the field has
	Bound    Code = "bound"    // outside the bounds of the field
	Unknown  Code = "unknown"  // a field or kind that this program does not know
	Together Code = "together" // right alone, and at odds with another field
)

// Flag is what is doubtful in a record. A record with flags is kept and shown all the
// same: the book tells what was written.
type Flag struct {
	Field string `json:"field"` // the field, and after dots the piece of it
	Code  Code   `json:"code"`
	Text  string `json:"text"` // what is wrong and what to do
}

// Check holds the folded fields of one record to the table and to each other. First
// come the fields that are there, by name, then what is missing, then what fields say of
// each other. A deleted record is not asked for what it lacks.
func Check(kind string, fields map[string]json.RawMessage) []Flag {
	k, ok := kindNamed(kind)
	if !ok {
		return []Flag{{"", Unknown, fmt.Sprintf("This Wrackbook does not know records of the kind %q. They are kept; update to read them.", kind)}}
	}
	var flags []Flag
	values := record{}
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		f, ok := k.field(name)
		if !ok {
			flags = append(flags, Flag{name, Unknown, fmt.Sprintf("This Wrackbook does not know the field %s. It is kept; update to read it.", name)})
			continue
		}
		var x any
		if err := json.Unmarshal(fields[name], &x); err != nil {
			flags = append(flags, Flag{name, Form, fmt.Sprintf("%s cannot be read; give %s.", f.begin(""), f.want())})
			continue
		}
		if element, isSet := strings.CutPrefix(name, strings.TrimSuffix(f.Name, "*")); isSet && f.Element != "" && !validElement(f.Element, element) {
			flags = append(flags, Flag{name, Form, fmt.Sprintf("%s is named by %s.", f.begin(""), f.Element)})
			continue
		}
		if piece, code, want := f.fault(x); code != "" {
			flags = append(flags, Flag{join(name, piece), code, fmt.Sprintf("%s %s; give %s.", f.begin(piece), complaint[code], want)})
			continue
		}
		values[name] = x
	}
	if values[deleted] == true {
		return flags
	}
	for i := range k.Fields {
		if f := &k.Fields[i]; f.Needed && fields[f.Name] == nil {
			flags = append(flags, Flag{f.Name, Missing, fmt.Sprintf("%s is missing; give %s.", f.begin(""), f.want())})
		}
	}
	return append(flags, together(kind, values)...)
}

var complaint = map[Code]string{Missing: "is missing", Form: "is not of the right form", Bound: "is out of bounds"}

// begin begins a sentence about the field or a piece of it.
func (f *Field) begin(piece string) string {
	what := strings.ToUpper(f.What[:1]) + f.What[1:]
	if piece != "" {
		what += " (" + piece + ")"
	}
	return what
}

// validElement says whether a set may have an element of that name.
func validElement(how, element string) bool {
	switch how {
	case byID:
		return isID(element)
	case byHash:
		return len(element) == 64 && strings.Trim(element, "0123456789abcdef") == ""
	}
	return element != "" && len(element) <= 60
}

// record is the fields that are right alone, decoded.
type record map[string]any

func (r record) text(name string) string {
	s, _ := r[name].(string)
	return s
}

// part is a piece of a field that is an object; nil if there is none.
func (r record) part(name, piece string) any {
	object, _ := r[name].(map[string]any)
	return object[piece]
}

// elements gives the elements of a set that are in it.
func (r record) elements(set string) []string {
	var names []string
	for name, value := range r {
		if element, ok := strings.CutPrefix(name, set+"/"); ok && value != nil && value != false {
			names = append(names, element)
		}
	}
	slices.Sort(names)
	return names
}
