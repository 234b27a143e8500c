// Package invented makes up a household for demonstrations and tests: two adults and two
// children, shores of no map over real stations, a year of outings at low waters as our own
// core reckons them, and what came home from them.
//
// It writes as phones do: changes with stamps, pushed in the evening, folded by the store. So
// the book has what a lived one has: values that lost to a later one, a change that was
// refused, a find deleted again. Nobody in it lives, and every number to call is one that
// is kept free for stories, but for the emergency number.
//
// It is no room of the product, which is why it is not under internal/: no binary that is
// delivered carries it. Start reading here; each other file is one part of the year.
package invented

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"time"

	"wrackbook/internal/book"
	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
	"wrackbook/internal/station/embedded"
	"wrackbook/internal/store"
)

// Options says which household. The same options make the same one, to the byte.
type Options struct {
	Finds int       // about as many; 1 to MaxFinds
	Seed  uint64    // of what is left to chance
	Until time.Time // the last day of the year that it lived
}

// MaxFinds bounds the finds: ten times what a household is built for.
const MaxFinds = 100_000

// Household is what its phones wrote, in the order in which the server received it.
type Household struct {
	Changes []Written
	Photos  [][]byte // JPEG
}

// Written is a change with the role of the device that wrote it and the evening on which it
// was pushed.
type Written struct {
	Change journal.Change
	Role   book.Role
	AtMS   int64 // Unix milliseconds
}

// Make makes up a household. The error is a *fault.Error where the options are out of bounds.
func Make(o Options) (*Household, error) {
	if o.Finds < 1 || o.Finds > MaxFinds {
		return nil, fault.New(fault.BadInput, "finds", "There are to be %d finds; give 1 to %d.", o.Finds, MaxFinds)
	}
	if y := o.Until.Year(); y < 1995 || y > 2095 {
		return nil, fault.New(fault.BadInput, "until", "The year lived ends in %d; give a day from 1995 to 2095.", y)
	}
	m := &maker{Rand: rand.New(rand.NewPCG(o.Seed, 0x57524b)), core: core.New(), made: &Household{}, placed: map[int]string{}}
	m.until = o.Until.UTC().Truncate(24 * time.Hour)
	m.from = m.until.AddDate(-1, 0, 0)
	if err := m.core.OpenCatalogue(embedded.Catalogue()); err != nil {
		return nil, err
	}
	m.people()
	if err := m.findShores(); err != nil {
		return nil, err
	}
	trips, err := m.planTrips()
	if err != nil {
		return nil, err
	}
	m.rules()
	m.furnish()
	for i := range trips {
		finds := o.Finds*(i+1)/len(trips) - o.Finds*i/len(trips)
		m.goOut(&trips[i], finds)
		m.liveUntil(nextStart(trips, i, m.until))
	}
	m.farewell()
	return m.made, m.err
}

func nextStart(trips []trip, i int, end time.Time) time.Time {
	if i+1 < len(trips) {
		return trips[i+1].from.Add(-12 * time.Hour)
	}
	return end
}

// Save writes the household into a new book in dir, which must be empty or not there yet, as
// if its server had been running all the year.
func (h *Household) Save(dir string) (err error) {
	switch had, err := os.ReadDir(dir); {
	case err == nil && len(had) > 0:
		return fault.New(fault.BadInput, "dir", "%s is not empty. An invented household goes into a folder of its own.", dir)
	case err != nil && !errors.Is(err, os.ErrNotExist):
		return fault.Wrap(fault.Unavailable, "dir", err, "%s cannot be read. Name another folder.", dir)
	}
	if len(h.Changes) == 0 {
		return fault.New(fault.BadInput, "", "The household has written nothing.")
	}
	now := time.UnixMilli(h.Changes[0].AtMS)
	s, err := store.Open(dir, store.Options{Now: func() time.Time { return now }})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	for _, photo := range h.Photos {
		if _, err := s.PutPhoto(photo); err != nil {
			return err
		}
	}
	for rest := h.Changes; len(rest) > 0; {
		n := 0
		roles := map[string]book.Role{}
		changes := []journal.Change{}
		for ; n < len(rest) && len(changes) < store.MaxPush && rest[n].AtMS == rest[0].AtMS; n++ {
			roles[rest[n].Change.ID] = rest[n].Role
			changes = append(changes, rest[n].Change)
		}
		now = time.UnixMilli(rest[0].AtMS)
		results, err := s.Push(changes, func(c *journal.Change) string { return refusal(roles[c.ID], c) })
		if err != nil {
			return err
		}
		for _, r := range results {
			if r.Err != nil {
				return r.Err
			}
		}
		rest = rest[n:]
	}
	return nil
}

// refusal says why a change does not count, as the server does.
func refusal(role book.Role, c *journal.Change) string {
	for _, field := range slices.Sorted(maps.Keys(c.Fields)) {
		if !book.MayWrite(role, c.Kind, field) {
			return fmt.Sprintf("A %s may not set %q in a record of the kind %q. What was written is kept and does not count; ask a keeper.", role, field, c.Kind)
		}
	}
	return ""
}

// maker makes one household.
type maker struct {
	*rand.Rand
	core        *core.Core
	from, until time.Time
	made        *Household
	err         error // the first; what follows it is void

	members  []member
	devices  []*device
	shores   []shore
	ruleSets []string
	tanks    map[string]string // ids by what they are called here
	systems  map[string]string
	kept     []*specimen
	placed   map[int]string // ids of what is on the shelf
	days     int            // lived through since from
	trips    int            // begun
	conflict bool
}

// device is a phone of the household.
type device struct {
	id     string // in its stamps
	role   book.Role
	member member
	clock  *journal.Clock
	out    []journal.Change // written and not yet pushed
}

// id mints a UUID (version 7, RFC 9562) of an instant.
func (m *maker) id(at time.Time) string {
	a, b := m.Uint64(), m.Uint64()
	ms := uint64(at.UnixMilli())
	return fmt.Sprintf("%08x-%04x-7%03x-%04x-%012x", ms>>16, ms&0xffff, a&0xfff, b>>48&0x3fff|0x8000, b&(1<<48-1))
}

// set writes fields of a record on a device.
func (m *maker) set(d *device, at time.Time, kind, record string, fields map[string]any) {
	c := journal.Change{ID: m.id(at), Kind: kind, Record: record, Stamp: d.clock.Next(at.UnixMilli()), Fields: map[string]json.RawMessage{}}
	for name, value := range fields {
		data, err := json.Marshal(value)
		if err != nil {
			m.err = errors.Join(m.err, err)
			return
		}
		c.Fields[name] = data
	}
	if err := journal.Validate(&c); err != nil {
		m.err = errors.Join(m.err, err)
		return
	}
	d.out = append(d.out, c)
}

// add writes a new record and gives its id.
func (m *maker) add(d *device, at time.Time, kind string, fields map[string]any) string {
	id := m.id(at)
	m.set(d, at, kind, id, fields)
	return id
}

// evening has every phone push what it wrote and hear of the others'.
func (m *maker) evening(at time.Time) {
	ms := at.UnixMilli()
	if n := len(m.made.Changes); n > 0 {
		ms = max(ms, m.made.Changes[n-1].AtMS)
	}
	begin := len(m.made.Changes)
	for _, d := range m.devices {
		for _, c := range d.out {
			m.made.Changes = append(m.made.Changes, Written{c, d.role, ms})
		}
		d.out = nil
	}
	for _, w := range m.made.Changes[begin:] {
		for _, d := range m.devices {
			if err := d.clock.Hear(w.Change.Stamp, ms); err != nil {
				m.err = errors.Join(m.err, err)
			}
		}
	}
}

// one chooses.
func one[T any](m *maker, list []T) T { return list[m.IntN(len(list))] }

// chance is true so often in a hundred.
func (m *maker) chance(percent int) bool { return m.IntN(100) < percent }

// instant writes an instant as the book has them.
func instant(t time.Time) string { return t.UTC().Format(time.RFC3339) }

// round keeps so many digits after the point.
func round(x float64, digits int) json.Number {
	return json.Number(fmt.Sprintf("%.*f", digits, x))
}
