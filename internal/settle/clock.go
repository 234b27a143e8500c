package settle

import (
	"math"
	"time"
)

// mostGap is how long a system may go unwatched before its clock pauses.
const mostGap = 48 * time.Hour

// The kinds of days.
const (
	Quiet     = "quiet"     // counts
	Unwatched = "unwatched" // does not
	Paused    = "paused"    // does not, for a long gap, an open sign or want of an adult's word
	Restarted = "restarted"
	Stopped   = "stopped"
	Done      = "done"  // the wait was done when it began
	Today     = "today" // still open
)

// The states of a system's clock beside Paused, Stopped and Done.
const (
	Waiting = "waiting"
	Empty   = "empty" // a quarantine with nobody in it
	None    = "none"  // no quarantine
)

// Cause says why a day does not count: newcomer, sign, death, treatment, water, joined,
// settled (a stop was lifted), started; or gap, unconfirmed, open sign, notify.
type Cause struct {
	Why   string `json:"why"`
	Event string `json:"event,omitempty"` // the event's id, if it was one
}

// DayMark is a day of the strip.
type DayMark struct {
	Day  Day     `json:"day"`
	Kind string  `json:"kind"`
	Why  []Cause `json:"why,omitempty"`

	unseen bool // nobody looked
}

// OpenSign is a sign that nobody settled.
type OpenSign struct {
	ID    string    `json:"id"` // of the event, or "kind:" and the lot that may not be kept
	Grade string    `json:"grade"`
	At    time.Time `json:"at"`
	Of    Ref       `json:"of"`
}

// water is a system with its clock as it stands at one instant of the walk.
type water struct {
	key      Ref
	running  bool // a quarantine with somebody in it
	quiet    int  // days counted since the last restart, beyond what is asked for too
	longest  int  // days that the longest of its residents asks for since then
	lead     string
	least    int      // days that no number of the household's undercuts, for weed on its stone
	coldest  *float64 // °C since then, or the last before it
	lastC    *float64
	since    Cause
	from     time.Time // of the last restart
	looked   time.Time // at the last check or restart
	lookedOn Day
	restart  dated
	troubled dated
	open     map[string]*OpenSign
	marks    []DayMark
	future   []string

	missed, unconfirmed bool // somebody on the day that is being closed

	heard Day    // the first day on which anything was noted of it
	did   [3]Day // the last day of each act that comes round
}

// The acts that come round.
const (
	changed = iota
	topped
	trimmed
)

// dated is what happened on a day; only the latest day is kept.
type dated struct {
	day Day
	why []Cause
}

func (d *dated) add(day Day, c Cause) {
	if d.day != day || d.why == nil {
		*d = dated{day: day}
	}
	if n := len(d.why); n > 0 && d.why[n-1].Event == c.Event && c.Event != "" {
		d.why[n-1] = c // the same event, said better
		return
	}
	d.why = append(d.why, c)
}

func (d *dated) on(day Day) bool { return d.why != nil && d.day == day }

// stopped tells whether a sign of the grade notify is open.
func (w *water) stopped() bool {
	for _, s := range w.open {
		if s.Grade == Notify {
			return true
		}
	}
	return false
}

// signs tells whether another sign is open.
func (w *water) signs() bool {
	for _, s := range w.open {
		if s.Grade != Notify {
			return true
		}
	}
	return false
}

// wait is the quiet days that are asked for: the household's own number, or those of the
// longest resident, longer in the cold.
func (w *water) wait(own *Protocol) (days int, cold bool) {
	if own != nil && own.QuietDays > 0 {
		return max(own.QuietDays, w.least), false
	}
	c := &numbers().Cold
	if w.coldest != nil && *w.coldest < c.BelowC {
		return int(math.Ceil(float64(w.longest) * c.Times)), true
	}
	return w.longest, false
}

// acted notes an act.
func (w *water) acted(what string, d Day) {
	if w.heard == 0 {
		w.heard = d
	}
	switch what {
	case "waterChanged":
		w.did[changed] = d
	case "toppedUp":
		w.did[topped] = d
	case "trimmed":
		w.did[trimmed] = d
	}
}

// look ends a gap: days in which nobody looked for more than 48 hours were paused.
func (w *water) look(at time.Time, on Day) {
	if !w.looked.IsZero() && at.Sub(w.looked) > mostGap {
		for i := len(w.marks) - 1; i >= 0 && w.marks[i].unseen; i-- {
			if m := &w.marks[i]; m.Kind == Unwatched || m.Kind == Done {
				m.Kind, m.Why = Paused, []Cause{{Why: "gap"}}
			}
		}
	}
	w.looked, w.lookedOn = at, on
}

// reads takes in a temperature of the water. Only a colder one changes anything before the
// next restart.
func (w *water) reads(c float64) {
	w.lastC = &c
	if w.coldest == nil || c < *w.coldest {
		w.coldest = &c
	}
}

// close puts the mark of a day that is over, by what was missed and is unconfirmed of its
// residents.
func (w *water) close(d Day, own *Protocol) {
	m, covered, confirmed := DayMark{Day: d, unseen: w.lookedOn != d}, !w.missed, !w.unconfirmed
	wait, _ := w.wait(own)
	switch {
	case !w.running && !w.restart.on(d):
		return
	case w.stopped():
		m.Kind, m.Why = Stopped, w.openCauses("notify")
	case w.restart.on(d):
		m.Kind, m.Why = Restarted, w.restart.why
	case len(w.open) > 0:
		m.Kind, m.Why = Paused, w.openCauses("open sign")
	case w.troubled.on(d):
		m.Kind, m.Why = Paused, w.troubled.why
	case w.quiet >= wait:
		m.Kind = Done
		if covered && confirmed {
			w.quiet++ // should more be asked for later
		}
	case covered && confirmed:
		m.Kind = Quiet
		w.quiet++
	case covered:
		m.Kind, m.Why = Paused, []Cause{{Why: "unconfirmed"}}
	default:
		m.Kind = Unwatched
	}
	if len(w.marks) >= mostDays+mostDays/4 { // the older ones are never shown
		w.marks = append(w.marks[:0], w.marks[len(w.marks)-mostDays:]...)
	}
	w.marks = append(w.marks, m)
}

// openCauses names the open signs, in their order.
func (w *water) openCauses(why string) []Cause {
	var causes []Cause
	for _, s := range openSigns(w.open) {
		causes = append(causes, Cause{why, s.ID})
	}
	return causes
}

// carry gives the clock to another system: tanks that part both keep it.
func (w *water) carry(to *water) {
	key, future := to.key, to.future
	*to = *w
	to.key, to.future = key, future
	to.open = map[string]*OpenSign{}
	for id, s := range w.open {
		to.open[id] = s
	}
	to.marks = append([]DayMark(nil), w.marks...)
	to.restart.why = append([]Cause(nil), w.restart.why...)
	to.troubled.why = append([]Cause(nil), w.troubled.why...)
}
