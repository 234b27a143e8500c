package settle

import (
	"encoding/json"
	"strings"
	"time"
)

// Event is one event of the book (internal/book/FIELDS.md): what happened, and the parts of
// that field. Parts that a kind does not have are zero.
type Event struct {
	ID   string `json:"id"`
	What string `json:"-"` // the field's name: arrived, checked …

	At        time.Time `json:"at"`
	Of        Ref       `json:"of"`
	By        string    `json:"by"`
	Tank      string    `json:"tank"`
	System    string    `json:"system"`
	Into      string    `json:"into"`
	Sign      string    `json:"sign"`
	Signs     []string  `json:"signs"`
	Grade     string    `json:"grade"`
	Planned   bool      `json:"planned"`
	Explained string    `json:"explained"`
	From      string    `json:"from"`
	Day       string    `json:"day"`
	Night     bool      `json:"night"`
	How       string    `json:"how"`
	To        string    `json:"to"`
	Amount    *Amount   `json:"amount"`
	Text      string    `json:"what"` // what was seen, fed or overruled
}

// Amount is a number with its unit: count, g, mL or mm.
type Amount struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Ref names a record: a specimen, tank or system.
type Ref struct{ Kind, ID string }

// String writes it as the book does, "tank/…".
func (r Ref) String() string { return r.Kind + "/" + r.ID }

// MarshalText implements encoding.TextMarshaler.
func (r Ref) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (r *Ref) UnmarshalText(text []byte) error {
	r.Kind, r.ID, _ = strings.Cut(string(text), "/")
	return nil
}

// The grades of a sign. Any other word counts as unsure.
const (
	Harmless = "harmless"
	Watch    = "watch"
	Pest     = "pest"
	Notify   = "notify"
	Unsure   = "unsure"
)

// rank orders what happened at one instant: first how tanks stand together, then who comes,
// then what is done and seen, last who leaves. A kind that is not on the list is none of an
// event.
var rank = map[string]int{
	"left": 1, "joined": 2,
	"arrived": 3, "parted": 4, "moved": 5,
	named:    6,
	"dipped": 7, "treated": 7, "waterChanged": 7, "trimmed": 7, "fed": 7,
	"checked": 8, "sign": 9, "confirmed": 10, "settled": 11, "overruled": 12,
	"died": 13, "gone": 14, "cleared": 15, "graduated": 16,
}

// named is no event of the book: a lot is identified anew.
const named = "named"

// readEvent reads an event from the fields of its record: exactly one of them says what
// happened.
func readEvent(id string, fields map[string]json.RawMessage) (Event, bool) {
	var e Event
	for name, value := range fields {
		if rank[name] == 0 || name == named || string(value) == "null" {
			continue
		}
		if e.What != "" || json.Unmarshal(value, &e) != nil {
			return Event{}, false
		}
		e.What = name
	}
	e.ID, e.At = id, e.At.UTC()
	return e, e.What != "" && !e.At.IsZero()
}

// before orders events by time, and what happened at one instant by rank and id, so that
// the order in which they came does not matter.
func before(a, b *Event) int {
	if c := a.At.Compare(b.At); c != 0 {
		return c
	}
	if c := rank[a.What] - rank[b.What]; c != 0 {
		return c
	}
	return strings.Compare(a.ID, b.ID)
}

// disturbs tells whether an event can restart, pause or stop a clock.
func (e *Event) disturbs() bool {
	switch e.What {
	case "arrived", "moved", "joined", "cleared", "died":
		return true
	case "sign":
		return e.Grade != Harmless
	case "checked":
		return len(e.Signs) > 0
	case "dipped", "treated":
		return !e.Planned
	case "waterChanged":
		return e.From != "clean" && e.From != "stored"
	}
	return false
}
