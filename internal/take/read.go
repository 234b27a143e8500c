package take

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode/utf8"

	"wrackbook/internal/fault"
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
	if err := document.check(root, ""); err != nil {
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
			v, err := r.value(fmt.Sprintf("%s[%d]", place, len(out)), depth+1)
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

// check holds a value to its shape.
func (s *shape) check(v any, place string) error {
	bad := func(format string, args ...any) error {
		return fault.New(fault.BadInput, place, "%s: %s", at0(place), fmt.Sprintf(format, args...))
	}
	switch s.sort {
	case object, named:
		fields, ok := v.(map[string]any)
		if !ok {
			return bad("an object with %s belongs here.", s.want())
		}
		if s.sort == named {
			return s.checkNamed(fields, place)
		}
		return s.checkFields(fields, place)
	case list:
		items, ok := v.([]any)
		if !ok {
			return bad("a list belongs here.")
		}
		if n := float64(len(items)); n < s.least || n > s.most {
			return bad("the list has %d entries; %v to %v belong here.", len(items), s.least, s.most)
		}
		for i, item := range items {
			if err := s.of.check(item, fmt.Sprintf("%s[%d]", place, i)); err != nil {
				return err
			}
		}
		return nil
	case number, whole:
		n, ok := v.(json.Number)
		f, err := n.Float64()
		if !ok || err != nil || s.sort == whole && f != math.Trunc(f) {
			return bad("a %snumber belongs here.", map[bool]string{true: "whole "}[s.sort == whole])
		}
		if !(f >= s.least && f <= s.most) {
			return bad("%v is out of bounds; a number from %v to %v belongs here.", f, s.least, s.most)
		}
		return nil
	case yesOnly:
		if v != true {
			return bad("true belongs here; leave it out where it is not so.")
		}
		return nil
	}
	t, ok := v.(string)
	if !ok {
		return bad("text in quotation marks belongs here.")
	}
	switch n := float64(utf8.RuneCountInString(t)); {
	case s.sort == text && (n < s.least || n > s.most || strings.TrimSpace(t) == ""):
		return bad("text of %v to %v characters belongs here.", s.least, s.most)
	case s.sort == word && !has(strings.Split(s.words, "|"), t):
		return bad("%.40q is none of the words for this. They are %s.", t, join(strings.Split(s.words, "|"), "and"))
	case s.sort == day && !isDay(t):
		return bad("%.40q is no day. Write one such as 2026-11-25.", t)
	case s.sort == daySpan && !isDay(t) && !isDay("2000-"+t):
		return bad("%.40q is no day. Write 11-25 for every year, or 2026-11-25.", t)
	case s.sort == clock && t != s.words && !isClock(t):
		return bad("%.40q is no time. Write one such as 08:00, or %s.", t, s.words)
	}
	return nil
}

func (s *shape) want() string {
	var names []string
	for _, f := range s.fields {
		if f.needed {
			names = append(names, f.name)
		}
	}
	if names == nil {
		return "the fields of the form"
	}
	return join(names, "and")
}

func (s *shape) checkFields(fields map[string]any, place string) error {
	known := 0
	for _, f := range s.fields {
		v, ok := fields[f.name]
		if !ok {
			if f.needed {
				return fault.New(fault.BadInput, under(place, f.name), "%s is missing.", under(place, f.name))
			}
			continue
		}
		known++
		if err := f.shape.check(v, under(place, f.name)); err != nil {
			return err
		}
	}
	if known == len(fields) {
		return nil
	}
	for _, name := range sortedKeys(fields) {
		if !s.has(name) {
			return fault.New(fault.BadInput, under(place, name), "%s is unknown to this form. A rule that is not understood would be passed over, so the file is not taken in.", under(place, name))
		}
	}
	return nil
}

func (s *shape) has(name string) bool {
	for _, f := range s.fields {
		if f.name == name {
			return true
		}
	}
	return false
}

func (s *shape) checkNamed(fields map[string]any, place string) error {
	if n := float64(len(fields)); n < s.least || n > s.most {
		return fault.New(fault.BadInput, place, "%s: %d are there; %v to %v belong here.", place, len(fields), s.least, s.most)
	}
	for _, name := range sortedKeys(fields) {
		if n := utf8.RuneCountInString(name); n < 1 || n > 60 || strings.ContainsAny(name, "./[]") || strings.TrimSpace(name) != name {
			return fault.New(fault.BadInput, under(place, name), "%s: a rule's name has 1 to 60 characters, without . / [ ] and without spaces at its ends.", under(place, name))
		}
		if err := s.of.check(fields[name], under(place, name)); err != nil {
			return err
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
