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
	Percent   *float64  `json:"percent"` // of what was there, that died
	Text      string    `json:"what"`    // what was seen, fed or overruled
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
	"arrived": 3, "parted": 4, "moved": 5, "merged": 6,
	named:      6,
	"toppedUp": 7, "acclimated": 7, "dipped": 7, "treated": 7, "waterChanged": 7, "trimmed": 7, "fed": 7,
	"checked": 8, "sign": 9, "confirmed": 10, "settled": 11, "overruled": 12,
	"died": 13, "gone": 14, "cleared": 15, "graduated": 16,
}

// named is no event of the book: a lot is identified anew.
const named = "named"

// eventRecord is the record of an event: exactly one of its fields says what happened.
type eventRecord struct {
	ID           string `json:"id"`
	Deleted      bool   `json:"deleted"`
	Arrived      *Event `json:"arrived"`
	Checked      *Event `json:"checked"`
	Raised       *Event `json:"sign"`
	Confirmed    *Event `json:"confirmed"`
	Settled      *Event `json:"settled"`
	Dipped       *Event `json:"dipped"`
	Treated      *Event `json:"treated"`
	Moved        *Event `json:"moved"`
	Parted       *Event `json:"parted"`
	Joined       *Event `json:"joined"`
	Left         *Event `json:"left"`
	Merged       *Event `json:"merged"`
	ToppedUp     *Event `json:"toppedUp"`
	Acclimated   *Event `json:"acclimated"`
	WaterChanged *Event `json:"waterChanged"`
	Trimmed      *Event `json:"trimmed"`
	Fed          *Event `json:"fed"`
	Died         *Event `json:"died"`
	Gone         *Event `json:"gone"`
	Cleared      *Event `json:"cleared"`
	Graduated    *Event `json:"graduated"`
	Overruled    *Event `json:"overruled"`
}

// readEvent reads an event from its record.
func readEvent(data []byte) (e Event, deleted, ok bool) {
	var r eventRecord
	if json.Unmarshal(data, &r) != nil {
		return Event{ID: r.ID}, r.Deleted, false
	}
	n := 0
	for _, field := range []struct {
		name string
		act  *Event
	}{
		{"arrived", r.Arrived}, {"checked", r.Checked}, {"sign", r.Raised}, {"confirmed", r.Confirmed}, {"settled", r.Settled},
		{"dipped", r.Dipped}, {"treated", r.Treated}, {"moved", r.Moved}, {"parted", r.Parted}, {"joined", r.Joined}, {"left", r.Left},
		{"merged", r.Merged}, {"toppedUp", r.ToppedUp}, {"acclimated", r.Acclimated},
		{"waterChanged", r.WaterChanged}, {"trimmed", r.Trimmed}, {"fed", r.Fed}, {"died", r.Died}, {"gone", r.Gone},
		{"cleared", r.Cleared}, {"graduated", r.Graduated}, {"overruled", r.Overruled},
	} {
		if field.act != nil {
			e, n = *field.act, n+1
			e.What = field.name
		}
	}
	e.ID, e.At = r.ID, e.At.UTC()
	return e, r.Deleted, n == 1 && !e.At.IsZero() && e.ID != ""
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
