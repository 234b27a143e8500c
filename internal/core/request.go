package core

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math"
	"strings"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/tide"
	"wrackbook/internal/zone"
)

// decode reads a request strictly: unknown fields, trailing text and numbers of the wrong
// kind are named.
func decode(data []byte, into any) error {
	if len(bytes.TrimSpace(data)) == 0 {
		return nil
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	var kind *json.UnmarshalTypeError
	switch {
	case err == nil:
	case errors.As(err, &kind):
		return fault.Wrap(fault.BadInput, kind.Field, err, "The field %q has the wrong form: %s is not expected there.", kind.Field, kind.Value)
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return fault.Wrap(fault.BadJSON, "", err, "The request ends in the middle. Send it again.")
	case strings.HasPrefix(err.Error(), "json: unknown field "):
		field := strings.Trim(strings.TrimPrefix(err.Error(), "json: unknown field "), `"`)
		return fault.Wrap(fault.BadInput, field, err, "There is no field %q in this request.", field)
	default:
		return fault.Wrap(fault.BadJSON, "", err, "The request is not JSON of the expected form.")
	}
	if _, err := d.Token(); err != io.EOF {
		return fault.New(fault.BadJSON, "", "The request goes on after its end. Send one JSON object.")
	}
	return nil
}

// Instant is an instant of an answer: RFC 3339, UTC, whole seconds.
type Instant time.Time

// MarshalJSON implements json.Marshaler.
func (t Instant) MarshalJSON() ([]byte, error) {
	return time.Time(t).UTC().AppendFormat(nil, `"2006-01-02T15:04:05Z"`), nil
}

func instant(t *time.Time) *Instant {
	if t == nil {
		return nil
	}
	i := Instant(*t)
	return &i
}

// span reads from and to: RFC 3339, or a date, which is its midnight in the zone.
func span(from, to string, in *time.Location) (a, b time.Time, err error) {
	if a, err = moment("from", from, in); err != nil {
		return a, b, err
	}
	if b, err = moment("to", to, in); err != nil {
		return a, b, err
	}
	if !b.After(a) {
		return a, b, fault.New(fault.BadInput, "to", "The span ends before it begins. Put \"to\" after \"from\".")
	}
	return a, b, nil
}

func moment(field, text string, in *time.Location) (time.Time, error) {
	if text == "" {
		return time.Time{}, fault.New(fault.BadInput, field, "The field %q is missing. Give a date such as 2026-12-01.", field)
	}
	t, err := time.ParseInLocation(time.DateOnly, text, in)
	if err != nil {
		t, err = time.Parse(time.RFC3339, text)
	}
	if err != nil {
		if len(text) > 40 {
			text = text[:40] + "…"
		}
		return t, fault.Wrap(fault.BadInput, field, err,
			"%q is not a date. Give one such as 2026-12-01, or an instant such as 2026-12-01T06:30:00Z.", text)
	}
	if y := t.UTC().Year(); y < tide.FirstYear || y > tide.LastYear {
		return t, fault.New(fault.BadInput, field, "The year %d is outside %d to %d, for which predictions are made.",
			t.Year(), tide.FirstYear, tide.LastYear)
	}
	return t, nil
}

// zoneOr loads a zone by name, or the fallback where none is named.
func zoneOr(name, fallback string) (*time.Location, error) {
	if name == "" {
		name = fallback
	}
	return zone.Load(name)
}

// finite refuses what is no number; JSON cannot carry one, but a program that embeds the
// core can.
func finite(field string, vs ...float64) error {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fault.New(fault.BadInput, field, "The field %q is not a number.", field)
		}
	}
	return nil
}

// minutes turns minutes into a duration; its room checks the finer bounds.
func minutes(field string, v float64) (time.Duration, error) {
	if !(math.Abs(v) <= 100000) {
		return 0, fault.New(fault.BadInput, field, "%q is %v minutes; that is out of range.", field, v)
	}
	return time.Duration(math.Round(v*60)) * time.Second, nil
}

var weekdays = map[string]time.Weekday{
	"sun": time.Sunday, "mon": time.Monday, "tue": time.Tuesday, "wed": time.Wednesday,
	"thu": time.Thursday, "fri": time.Friday, "sat": time.Saturday,
}

func days(names []string) ([]time.Weekday, error) {
	if len(names) > 7 {
		return nil, fault.New(fault.BadInput, "days", "There are only seven weekdays.")
	}
	var out []time.Weekday
	for _, name := range names {
		d, ok := weekdays[strings.ToLower(name)]
		if !ok {
			return nil, fault.New(fault.BadInput, "days", "%.20q is no weekday. Use mon, tue, wed, thu, fri, sat, sun.", name)
		}
		out = append(out, d)
	}
	return out, nil
}
