package journal

import (
	"bytes"
	"encoding/json"
	"iter"
	"slices"
	"strings"
)

// Record is one folded record: for each field the value that stands, the change that set
// it, and what may yet stand instead.
//
// A field keeps more than its winner only while it must. The receipt of a change can move
// it back (a fast clock), behind another that had lost to it; so what could still win is
// kept: every change that waits for its receipt and stands, by its stamp, after the latest
// accepted one. For the same reason a change whose receipt has moved it back is remembered
// as long as a copy without the receipt would win. Everything else is dropped, and
// dropping it is safe, because a place only ever becomes earlier, and that of the latest
// accepted change only ever later. Almost always one entry remains.
type Record struct {
	key    Key
	fields []field // by name
}

type field struct {
	name    string
	entries []entry // as written, earliest first; never empty
}

type entry struct {
	*head
	value json.RawMessage
}

// NewRecord makes a record that no change has set anything of yet.
func NewRecord(key Key) *Record { return &Record{key: key} }

// Key names the record.
func (r *Record) Key() Key { return r.key }

// Apply folds one change, which must be about this record and have passed Validate, and
// says whether in any field another change stands now. It keeps the bytes of the values: do
// not alter them afterwards. A change about another record does nothing.
func (r *Record) Apply(c *Change) bool {
	h := newHead(c)
	if h == nil || c.Key() != r.key {
		return false
	}
	changed := false
	for name, value := range c.Fields {
		changed = r.insert(name, entry{h, value}) || changed
	}
	return changed
}

// Merge folds in what another copy of the same record has seen, and says whether in any
// field another change stands now. The records may share memory afterwards, which
// neither alters.
func (r *Record) Merge(other *Record) bool {
	if other.key != r.key {
		return false
	}
	changed := false
	for _, f := range other.fields {
		for _, e := range f.entries {
			changed = r.insert(f.name, e) || changed
		}
	}
	return changed
}

func (r *Record) insert(name string, e entry) bool {
	i, found := slices.BinarySearchFunc(r.fields, name, func(f field, name string) int { return strings.Compare(f.name, name) })
	if !found {
		r.fields = slices.Insert(r.fields, i, field{name, []entry{e}})
		return e.counts()
	}
	f := &r.fields[i]
	before := f.stands()
	f.insert(e)
	after := f.stands()
	if before == nil || after == nil {
		return before != after
	}
	return !same(before.head, after.head) || !bytes.Equal(before.value, after.value)
}

// insert joins an entry with what is there: a set of changes, each with the most
// that is known, less those that can no longer stand. The old list is left as it was.
func (f *field) insert(e entry) {
	if len(f.entries) == 1 && f.entries[0].head == e.head {
		return
	}
	list := slices.Clone(f.entries)
	if i := slices.IndexFunc(list, func(have entry) bool { return same(have.head, e.head) }); i >= 0 {
		if e.knowsMore(list[i].head) {
			list[i].head = e.head
		}
		// A change is never altered. Should two copies differ all the same, every phone
		// must choose the same one.
		if bytes.Compare(e.value, list[i].value) > 0 {
			list[i].value = e.value
		}
	} else {
		after := 0
		for after < len(list) && list[after].written().Compare(e.written()) < 0 {
			after++
		}
		list = slices.Insert(list, after, e)
	}
	if settled := latest(list, (*head).accepted); settled != nil {
		place, keep := settled.order(), settled.head
		list = slices.DeleteFunc(list, func(e entry) bool { return e.head != keep && e.written().Compare(place) < 0 })
	}
	f.entries = list
}

// stands is the entry whose value the field has; nil if every one was refused.
func (f *field) stands() *entry {
	return latest(f.entries, (*head).counts)
}

func latest(list []entry, counts func(*head) bool) *entry {
	var last *entry
	for i := range list {
		if e := &list[i]; counts(e.head) && (last == nil || e.order().Compare(last.order()) > 0) {
			last = e
		}
	}
	return last
}

// Value is what stands in a field.
type Value struct {
	JSON   json.RawMessage // as it was written, byte for byte
	Change string          // the id of the change that set it
	Stamp  Stamp           // of that change
	Sent   bool            // whether the server has accepted that change
}

// Get gives what stands in a field; false if nothing does.
func (r *Record) Get(name string) (Value, bool) {
	i, found := slices.BinarySearchFunc(r.fields, name, func(f field, name string) int { return strings.Compare(f.name, name) })
	if !found {
		return Value{}, false
	}
	return r.fields[i].get()
}

func (f *field) get() (Value, bool) {
	e := f.stands()
	if e == nil {
		return Value{}, false
	}
	return Value{JSON: e.value, Change: e.id, Stamp: e.stamp, Sent: e.accepted()}, true
}

// All gives every field in which something stands, by name.
func (r *Record) All() iter.Seq2[string, Value] {
	return func(yield func(string, Value) bool) {
		for i := range r.fields {
			if v, ok := r.fields[i].get(); ok && !yield(r.fields[i].name, v) {
				return
			}
		}
	}
}

// Fields gives the values that stand, by field.
func (r *Record) Fields() map[string]json.RawMessage {
	fields := make(map[string]json.RawMessage, len(r.fields))
	for name, v := range r.All() {
		fields[name] = v.JSON
	}
	return fields
}

// Exists says whether anything stands in the record: false where every change was refused.
func (r *Record) Exists() bool {
	for range r.All() {
		return true
	}
	return false
}

// Deleted says whether the record is deleted. Its fields stay readable, and a later change
// can bring it back.
func (r *Record) Deleted() bool {
	v, ok := r.Get(Deleted)
	return ok && string(bytes.TrimSpace(v.JSON)) == "true"
}
