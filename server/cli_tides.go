package main

import (
	"io"
	"time"
)

type waterLine struct {
	Time   time.Time `json:"time"`
	Height float64   `json:"height"`
	Kind   string    `json:"kind,omitempty"`
}

// tidesCommand prints high and low waters.
func tidesCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	q := newQuestion("tides", "-station ID -from T -to T [-zone Z] [-json]",
		"High and low waters, in metres above the station's chart datum. "+aboutTimes, stdout, stderr)
	station := q.flags.String("station", "", "id of a station; see wrackbook stations")
	w := q.when()
	if code, ok := q.parse(args); !ok {
		return code
	}
	from, to, err := w.span()
	if err != nil {
		return q.fail(err)
	}
	var answer struct {
		Waters []waterLine `json:"waters"`
	}
	if code, ok := q.ask("tides", map[string]any{"station": *station, "from": from, "to": to}, &answer); !ok {
		return code
	}
	return q.waters(answer.Waters, w)
}

// heightsCommand prints heights at even steps.
func heightsCommand(args []string, _ io.Reader, stdout, stderr io.Writer) int {
	q := newQuestion("heights", "-station ID -from T -to T [-every 6m] [-zone Z] [-json]",
		"Heights at even steps, in metres above the station's chart datum. "+aboutTimes, stdout, stderr)
	station := q.flags.String("station", "", "id of a station; see wrackbook stations")
	every := q.flags.Duration("every", 6*time.Minute, "step, from 1s to 24h")
	w := q.when()
	if code, ok := q.parse(args); !ok {
		return code
	}
	from, to, err := w.span()
	if err != nil {
		return q.fail(err)
	}
	var answer struct {
		Heights []waterLine `json:"heights"`
	}
	request := map[string]any{"station": *station, "from": from, "to": to, "every": every.String()}
	if code, ok := q.ask("heights", request, &answer); !ok {
		return code
	}
	return q.waters(answer.Heights, w)
}

func (q *question) waters(lines []waterLine, w when) int {
	if *q.json {
		return q.print(lines)
	}
	at, err := w.location()
	if err != nil {
		return q.fail(err)
	}
	rows := make([][]string, len(lines))
	for i, l := range lines {
		rows[i] = []string{local(l.Time, at, "2006-01-02 Mon 15:04 MST"), metres(l.Height), l.Kind}
	}
	return q.table(rows)
}
