package take

import (
	"bytes"
	_ "embed" // for the form
	"encoding/json"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"wrackbook/internal/fault"
)

// Form is the version of the form of a rule set. A file of a later one is refused; a stored
// set of a later one permits nothing.
const Form = 1

// The bounds of a file. A set must also fit into one change of the journal.
const (
	MaxFileBytes     = 1 << 20
	MaxDocumentBytes = 60_000
	maxDepth         = 12
	maxPoints        = 1000 // of all polygons of a set
)

// Decode reads a rule set from a file or a record, strictly: nothing unknown, nothing
// twice, nothing out of bounds, nothing that contradicts itself (sound.go). The error is a
// *fault.Error whose Field is the place in the file ("rules.winkles.season.open[0].from");
// its code is TooLarge, BadJSON (what cannot be read at all), PleaseUpdate (a later form) or
// BadInput.
func Decode(data []byte) (*Set, error) {
	if len(data) > MaxFileBytes {
		return nil, fault.New(fault.TooLarge, "", "The file has %d kB; rule sets have at most %d. It is probably no rule set.", len(data)/1024, MaxFileBytes/1024)
	}
	r := reader{json.NewDecoder(bytes.NewReader(data))}
	r.UseNumber()
	root, err := r.value("", 0)
	if err != nil {
		return nil, err
	}
	if _, err := r.Token(); err != io.EOF {
		return nil, fault.New(fault.BadJSON, "", "The file goes on after its end. It should hold one rule set.")
	}
	if n, ok := formOf(root); ok && n > Form {
		return nil, fault.New(fault.PleaseUpdate, "form", "The rule set is of form %v, which this Wrackbook cannot read; it reads form %d. Update Wrackbook.", n, Form)
	}
	if err := check("set", root, ""); err != nil {
		return nil, err
	}
	var s Set
	if err := json.Unmarshal(data, &s); err != nil {
		return nil, fault.Wrap(fault.BadJSON, "", err, "The rule set cannot be read.") // form.go and set.go differ; a test rules it out
	}
	if compact, err := json.Marshal(&s); err != nil || len(compact) > MaxDocumentBytes {
		return nil, fault.New(fault.TooLarge, "", "The rule set has %d kB of rules; the book keeps at most %d in one. Part it into two sets.", len(compact)/1000, MaxDocumentBytes/1000)
	}
	if err := s.sound(); err != nil {
		return nil, err
	}
	return &s, nil
}

// Encode writes a set as a file that Decode reads to the same set.
func Encode(s *Set) ([]byte, error) {
	data, err := json.MarshalIndent(s, "", "  ")
	return append(data, '\n'), err
}

func formOf(root any) (float64, bool) {
	top, _ := root.(map[string]any)
	n, ok := top["form"].(json.Number)
	f, err := n.Float64()
	return f, ok && err == nil
}

// reader builds values from tokens, because encoding/json alone names no place, keeps the
// last of two equal keys and goes ten thousand deep.
type reader struct{ *json.Decoder }

func (r reader) value(place string, depth int) (any, error) {
	t, err := r.token(place)
	if err != nil {
		return nil, err
	}
	open, ok := t.(json.Delim)
	if !ok {
		return t, nil
	}
	if depth == maxDepth {
		return nil, fault.New(fault.BadInput, place, "%s is nested deeper than any rule set.", at0(place))
	}
	if open == '[' {
		out := []any{}
		for r.More() {
			v, err := r.value(place+index(len(out)), depth+1)
			if err != nil {
				return nil, err
			}
			out = append(out, v)
		}
		_, err := r.token(place)
		return out, err
	}
	out := map[string]any{}
	for r.More() {
		k, err := r.token(place)
		if err != nil {
			return nil, err
		}
		key, _ := k.(string)
		below := under(place, key)
		if _, twice := out[key]; twice {
			return nil, fault.New(fault.BadInput, below, "%s is there twice. Keep one of them.", at0(below))
		}
		if out[key], err = r.value(below, depth+1); err != nil {
			return nil, err
		}
	}
	_, err = r.token(place)
	return out, err
}

func (r reader) token(place string) (json.Token, error) {
	t, err := r.Token()
	if err == nil {
		return t, nil
	}
	var syntax *json.SyntaxError
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.As(err, &syntax) && strings.Contains(err.Error(), "unexpected end") {
		return nil, fault.Wrap(fault.BadJSON, place, err, "The file ends in the middle, in %s. Fetch it again.", at0(place))
	}
	return nil, fault.Wrap(fault.BadJSON, place, err, "The file is no JSON from %s on.", at0(place))
}

// at0 names a place in a sentence.
func at0(place string) string {
	if place == "" {
		return "the beginning"
	}
	return place
}

func under(place, key string) string {
	if len(key) > 60 {
		key = key[:60] + "…"
	}
	if place == "" {
		return key
	}
	return place + "." + key
}

// form is the form of a rule set as data.
//
//go:embed ruleset.form
var form string

// object gives the fields of an object of the form, a line each.
func object(name string) (lines []string) {
	_, rest, _ := strings.Cut(form, "\n\n"+name+"\n")
	if name == "set" {
		_, rest, _ = strings.Cut(form, "\nset\n")
	}
	body, _, _ := strings.Cut(rest, "\n\n")
	for body != "" {
		var line string
		line, body, _ = strings.Cut(body, "\n")
		lines = append(lines, line)
	}
	return lines
}

// field reads a line of the form.
func field(line string) (name, kind string, needed bool) {
	name, kind, _ = strings.Cut(line, " ")
	name, needed = strings.CutSuffix(name, "!")
	return name, kind, needed
}

// bounds reads "1..9 rest" or "1..9".
func bounds(s string) (least, most float64, of string) {
	s, of, _ = strings.Cut(s, " ")
	a, b, _ := strings.Cut(s, "..")
	least, _ = strconv.ParseFloat(a, 64)
	most, _ = strconv.ParseFloat(b, 64)
	return least, most, of
}

// check holds a value to a kind of the form.
func check(kind string, v any, place string) error {
	switch kind[0] {
	case '[', '{':
		least, most, of := bounds(kind[1 : len(kind)-1])
		items, _ := v.([]any)
		fields, _ := v.(map[string]any)
		many := len(items)
		if kind[0] == '{' {
			many, items = len(fields), nil
		} else {
			fields = nil
		}
		if float64(many) < least || float64(many) > most {
			return unsound(place, num(least)+" to "+num(most)+" entries belong here")
		}
		for i, item := range items {
			if err := check(of, item, place+index(i)); err != nil {
				return err
			}
		}
		for _, name := range keysOf(fields) {
			if n := utf8.RuneCountInString(name); n < 1 || n > 60 || strings.ContainsAny(name, "./[]") || strings.TrimSpace(name) != name {
				return unsound(under(place, name), "a rule's name has 1 to 60 characters, without . / [ ] and without spaces at its ends")
			}
			if err := check(of, fields[name], under(place, name)); err != nil {
				return err
			}
		}
		return nil
	case '#', '-', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9':
		least, most, _ := bounds(strings.TrimPrefix(kind, "#"))
		n, ok := v.(json.Number)
		f, err := n.Float64()
		if !ok || err != nil || f < least || f > most || kind[0] != '#' && f != math.Trunc(f) {
			whole := ""
			if kind[0] != '#' {
				whole = "whole "
			}
			return unsound(place, "a "+whole+"number from "+num(least)+" to "+num(most)+" belongs here")
		}
		return nil
	}
	t, isText := v.(string)
	switch what, words, _ := strings.Cut(kind, ":"); {
	case kind[0] == '"':
		most, _ := strconv.Atoi(kind[1:])
		if strings.TrimSpace(t) == "" || utf8.RuneCountInString(t) > most {
			return unsound(place, "text of 1 to "+kind[1:]+" characters belongs here")
		}
	case kind[0] == '=':
		if !isText || strings.Contains(t, "|") || !strings.Contains("|"+kind[1:]+"|", "|"+t+"|") {
			return unsound(place, "one of these words belongs here: "+kind[1:])
		}
	case kind == "yes":
		if v != true {
			return unsound(place, "true belongs here; leave it out where it is not so")
		}
	case kind == "day":
		if !isDay(t) {
			return unsound(place, "a day such as 2026-11-25 belongs here")
		}
	case kind == "daySpan":
		if !isDay(t) && !isDay("2000-"+t) {
			return unsound(place, "a day belongs here: 11-25 for every year, or 2026-11-25")
		}
	case what == "clock":
		if t != words && !isClock(t) {
			return unsound(place, "a time such as 08:00 belongs here, or "+words)
		}
	default:
		fields, ok := v.(map[string]any)
		if !ok {
			return unsound(place, "an object belongs here")
		}
		return checkObject(object(kind), fields, place)
	}
	return nil
}

func checkObject(lines []string, fields map[string]any, place string) error {
	known := map[string]bool{}
	for _, line := range lines {
		name, kind, needed := field(line)
		known[name] = true
		v, ok := fields[name]
		if !ok && needed {
			return unsound(under(place, name), "it is missing")
		}
		if ok {
			if err := check(kind, v, under(place, name)); err != nil {
				return err
			}
		}
	}
	for _, name := range keysOf(fields) {
		if !known[name] {
			return unsound(under(place, name), "this form does not know it. A rule that is not understood would be passed over, so the file is not taken in")
		}
	}
	return nil
}

func isDay(s string) bool {
	t, err := time.Parse(time.DateOnly, s)
	return err == nil && t.Year() >= 1900 && t.Year() <= 2200
}

func isClock(s string) bool {
	_, err := time.Parse("15:04", s)
	return err == nil && len(s) == 5
}
