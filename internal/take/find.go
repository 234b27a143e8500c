package take

import (
	"bytes"
	"encoding/json"
	"strings"
	"time"
)

// Find is what the rules need of a find, in the words of the book (internal/book/FIELDS.md);
// null and "" are not known. Besides the book's fields it has what is asked for the rules'
// sake alone.
type Find struct {
	ID        string    `json:"id"` // "" for one that is only imagined
	At        time.Time `json:"at"`
	Outing    string    `json:"outing"`
	Shore     string    `json:"shore"`
	By        string    `json:"by"`
	Taxon     string    `json:"taxon"` // as it is identified now
	Group     string    `json:"group"`
	State     string    `json:"state"`
	Amount    *Amount   `json:"amount"`
	Mass      *Mass     `json:"mass"`
	Size      *Measured `json:"size"`
	Fate      string    `json:"fate"` // anything but seen counts as taken
	PutBack   *Parted   `json:"putBack"`
	Container string    `json:"container"`
	Position  *Position `json:"position"`

	Gone      *Parted  `json:"gone"`      // what of it the household has no more: eaten, dead, given away
	Share     *Share   `json:"share"`     // of the patch
	Level     *Heights `json:"level"`     // between which heights it was found
	Gear      []string `json:"gear"`      // with what
	Use       []string `json:"use"`       // for what
	Substrate []string `json:"substrate"` // what comes off with it

	Deleted bool `json:"deleted"` // counts for nothing
}

// Amount is a number with its unit: count, g, mL or mm.
type Amount struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Mass is a mass in grams and how it was weighed.
type Mass struct {
	G       float64 `json:"g"`
	Weighed string  `json:"weighed"`
}

// Measured is a size and its axis.
type Measured struct {
	MM   float64 `json:"mm"`
	Axis string  `json:"axis"`
}

// Share is which part of a patch a find is, 0 to 1. Of an estimate it is the most that it
// may be.
type Share float64

// UnmarshalJSON reads a share as the book has it, or the number alone.
func (s *Share) UnmarshalJSON(data []byte) error {
	if json.Unmarshal(data, (*float64)(s)) == nil {
		return nil
	}
	var of struct{ Part, High float64 }
	err := json.Unmarshal(data, &of)
	*s = Share(max(of.Part, of.High))
	return err
}

// Parted is a part of a find that left the household, all of it where Amount is nil.
type Parted struct {
	At     time.Time `json:"at"`
	Amount *Amount   `json:"amount"`
	By     string    `json:"by"` // not read
}

// Position is a fix; it reads "noFix" and null as none.
type Position struct {
	Lat       *float64 `json:"lat"`
	Lon       *float64 `json:"lon"`
	AccuracyM *float64 `json:"accuracyM"`
}

// UnmarshalJSON implements json.Unmarshaler.
func (p *Position) UnmarshalJSON(data []byte) error {
	type plain Position
	if bytes.HasPrefix(data, []byte(`"`)) {
		*p = Position{}
		return nil
	}
	return json.Unmarshal(data, (*plain)(p))
}

// ReadFind reads a find from the fields of a record, as the book folds them: what it was
// identified as last is what it is. What is of the wrong form is not known; fields that no
// rule reads are passed over. It is false where not even the time can be read.
func ReadFind(data []byte) (Find, bool) {
	var f Find
	whole := json.Unmarshal(data, &f) == nil
	if whole && !bytes.Contains(data, []byte(`"identified/`)) {
		return f, f.ID != "" && !f.At.IsZero()
	}
	var fields map[string]json.RawMessage
	if json.Unmarshal(data, &fields) != nil {
		return f, false
	}
	if !whole {
		f = Find{}
		for name, value := range fields { // each by itself, so that the order is nothing
			if key, err := json.Marshal(name); err == nil {
				g := f
				if json.Unmarshal(append(append(append([]byte{'{'}, key...), ':'), append(value, '}')...), &g) == nil {
					f = g
				}
			}
		}
	}
	f.identify(fields)
	return f, f.ID != "" && !f.At.IsZero()
}

// identify gives the find the name of its last identification: by time, then by id.
func (f *Find) identify(fields map[string]json.RawMessage) {
	var at time.Time
	var last string
	for name, value := range fields {
		var of *struct {
			At    time.Time `json:"at"`
			Taxon string    `json:"taxon"`
			Group string    `json:"group"`
		}
		if !strings.HasPrefix(name, "identified/") || json.Unmarshal(value, &of) != nil || of == nil {
			continue
		}
		if c := of.At.Compare(at); last == "" || c > 0 || c == 0 && name > last {
			at, last = of.At, name
			f.Taxon, f.Group = of.Taxon, of.Group
		}
	}
}

// mostOfAFind is far more than any find is; with it no sum is without end.
const mostOfAFind = 1e9

// clean forgets numbers that no find has, so that none can make a total less, nor nothing of it.
func (f *Find) clean() {
	if f.Amount != nil && (f.Amount.Value <= 0 || f.Amount.Value > mostOfAFind) {
		f.Amount = nil
	}
	if f.Mass != nil && (f.Mass.G <= 0 || f.Mass.G > mostOfAFind) {
		f.Mass = nil
	}
	if f.Share != nil && *f.Share <= 0 {
		f.Share = nil
	}
	for _, p := range []**Parted{&f.PutBack, &f.Gone} {
		if *p != nil && (*p).Amount != nil && (*p).Amount.Value < 0 {
			*p = nil
		}
	}
}

// fixM is how far off a fix without an accuracy may be; ours, on the careful side.
const fixM = 50

// spot is where the find was made by its fix; nil without one.
func (f *Find) spot() *Spot {
	p := f.Position
	if p == nil || p.Lat == nil || p.Lon == nil {
		return nil
	}
	s := &Spot{*p.Lat, *p.Lon, fixM}
	if p.AccuracyM != nil {
		s.WithinM = *p.AccuracyM
	}
	return s
}

func (f *Find) before(g *Find) bool {
	if c := f.At.Compare(g.At); c != 0 {
		return c < 0
	}
	return f.ID != "" && (g.ID == "" || f.ID < g.ID)
}

// left is the part of the find that counts: less what was put back where that is free, and
// for possession less all that is gone by then. What cannot be reckoned counts.
func (f *Find) left(free, held bool, when time.Time) float64 {
	left := 1.0
	less := func(p *Parted) {
		switch {
		case p == nil || held && p.At.After(when):
		case p.Amount == nil:
			left = 0
		case f.Amount != nil && f.Amount.Unit == p.Amount.Unit && f.Amount.Value > 0:
			left -= p.Amount.Value / f.Amount.Value
		}
	}
	if free || held {
		less(f.PutBack)
	}
	if held {
		less(f.Gone)
	}
	return max(left, 0)
}

// measure gives the find in a unit. Without the fact it gives the least that it can be.
func (f *Find) measure(unit, weighed string) (float64, facts) {
	a := f.Amount
	switch unit {
	case "share":
		if f.Share != nil {
			return float64(*f.Share), 0
		}
		return 0, factShare
	case "containers":
		return 1, 0 // the tally tells them apart
	case "g":
		if m := f.Mass; m != nil && (weighed == "" || m.Weighed == weighed) {
			return m.G, 0
		}
		if a != nil && a.Unit == "g" && (weighed == "" || f.Mass != nil && f.Mass.Weighed == weighed) {
			return a.Value, 0
		}
		return 0, factMass
	}
	if a != nil && a.Unit == unit {
		return a.Value, 0
	}
	if unit == "count" {
		return 1, factAmount
	}
	return 0, factAmount
}
