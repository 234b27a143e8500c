package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/station/embedded"
	"wrackbook/internal/zone"
)

// question is one subcommand that asks the core: its flags, and what it prints.
type question struct {
	flags          *flag.FlagSet
	json           *bool
	stdout, stderr io.Writer
}

// newQuestion makes the flag set of a subcommand. usage is its line of arguments, about
// one or two sentences below it.
func newQuestion(name, usage, about string, stdout, stderr io.Writer) *question {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(stderr)
	q := &question{flags: f, json: f.Bool("json", false, "print JSON instead of a table"), stdout: stdout, stderr: stderr}
	f.Usage = func() {
		fmt.Fprintf(f.Output(), "Usage: wrackbook %s %s\n\n%s\n\n", name, usage, about)
		f.PrintDefaults()
	}
	return q
}

// parse reads the arguments; ok is false when the subcommand ends with code.
func (q *question) parse(args []string) (code int, ok bool) {
	for _, a := range args {
		if a == "-h" || a == "-help" || a == "--help" {
			q.flags.SetOutput(q.stdout)
		}
	}
	switch err := q.flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return exitOK, false
	case err != nil:
		return exitUsage, false
	case q.flags.NArg() > 0:
		fmt.Fprintf(q.stderr, "wrackbook %s: %q is not understood; see -h.\n", q.flags.Name(), q.flags.Arg(0))
		return exitUsage, false
	}
	return exitOK, true
}

// ask puts a request to the core and decodes the answer.
func (q *question) ask(call string, request map[string]any, answer any) (code int, ok bool) {
	c := core.New()
	err := c.OpenCatalogue(embedded.Catalogue())
	var body, out []byte
	if err == nil {
		body, err = json.Marshal(request)
	}
	if err == nil {
		out, err = c.Call(call, body, time.Now())
	}
	if err == nil {
		err = json.Unmarshal(out, answer)
	}
	if err != nil {
		return q.fail(err), false
	}
	return exitOK, true
}

// fail prints what went wrong, and says with which code to end: 2 for what the caller can
// put right, 1 for the rest.
func (q *question) fail(err error) int {
	f := fault.From(err)
	fmt.Fprintf(q.stderr, "wrackbook %s: %s\n", q.flags.Name(), f.Message)
	switch f.Code {
	case fault.Internal, fault.NoDistinctTide, fault.WatersCross, fault.NoDatum, fault.NoCatalogue:
		return exitFailure
	}
	return exitUsage
}

// print writes v as one line of JSON.
func (q *question) print(v any) int {
	data, err := json.Marshal(v)
	if err == nil {
		_, err = fmt.Fprintf(q.stdout, "%s\n", data)
	}
	if err != nil {
		return q.fail(err)
	}
	return exitOK
}

// table writes rows in columns.
func (q *question) table(rows [][]string) int {
	w := tabwriter.NewWriter(q.stdout, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(w, strings.TrimRight(strings.Join(r, "\t"), "\t"))
	}
	if err := w.Flush(); err != nil {
		return q.fail(err)
	}
	return exitOK
}

// when is the span of days that a subcommand asks for, and the zone of its dates.
type when struct{ from, to, zone *string }

const aboutTimes = "Times are RFC 3339, or dates: midnight in -zone, UTC unless given. The end is not included."

func (q *question) when() when {
	return when{
		from: q.flags.String("from", "", "begin, such as 2026-12-01 or 2026-12-01T06:30:00Z"),
		to:   q.flags.String("to", "", "end, not included"),
		zone: q.flags.String("zone", "", "IANA time zone of dates and of the table, such as Europe/Oslo (UTC unless given)"),
	}
}

// span gives from and to as the core reads them: a date becomes an instant in -zone here,
// so that it means the same in every subcommand.
func (w when) span() (from, to string, err error) {
	at, err := w.location()
	if err != nil {
		return "", "", err
	}
	instant := func(text string) string {
		if t, err := time.ParseInLocation(time.DateOnly, text, at); err == nil {
			return t.UTC().Format(time.RFC3339)
		}
		return text
	}
	return instant(*w.from), instant(*w.to), nil
}

func (w when) location() (*time.Location, error) {
	if *w.zone == "" {
		return time.UTC, nil
	}
	return zone.Load(*w.zone)
}

// number is a flag for a finite number; nil until it is given.
type number struct{ value *float64 }

func (n *number) String() string {
	if n == nil || n.value == nil {
		return ""
	}
	return strconv.FormatFloat(*n.value, 'g', -1, 64)
}

// Set implements flag.Value.
func (n *number) Set(text string) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return errors.New("that is not a number")
	}
	n.value = &v
	return nil
}

func (q *question) number(name, usage string) *number {
	n := &number{}
	q.flags.Var(n, name, usage)
	return n
}

// put sets a field of a request if the number was given.
func (n *number) put(request map[string]any, field string) {
	if n.value != nil {
		request[field] = *n.value
	}
}

// local writes an instant for a person; an empty one is a dash.
func local(t time.Time, at *time.Location, layout string) string {
	if t.IsZero() {
		return "-"
	}
	return t.In(at).Format(layout)
}

func metres(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) + " m" }
