package journal

import (
	"encoding/json"
	"maps"
	"slices"
)

// Past is what one field of a record was ever set to, earliest place first.
type Past struct {
	Field    string
	Versions []Version
}

// Version is one setting of a field.
type Version struct {
	Value   json.RawMessage
	Change  string
	Stamp   Stamp
	Receipt *Receipt // nil while the server has not answered
	Stands  bool     // whether this is the field's value now
}

// History gives every value that changes have given the fields of a record: the ones that
// stand, the ones that lost, and those of refused changes (Receipt.Refused says why).
// Changes may come twice and in any order; those about other records are left out, as are
// those whose stamp cannot be read.
func History(key Key, changes []Change) []Past {
	record := NewRecord(key)
	known := map[[2]string]*Change{}
	for i := range changes {
		c := &changes[i]
		h := newHead(c)
		if c.Key() != key || h == nil {
			continue
		}
		record.Apply(c)
		name := [2]string{c.ID, string(c.Stamp)}
		if have, ok := known[name]; !ok || h.knowsMore(newHead(have)) {
			known[name] = c
		}
	}
	ordered := slices.SortedFunc(maps.Values(known), func(a, b *Change) int { return a.Order().Compare(b.Order()) })
	past := map[string][]Version{}
	for _, c := range ordered {
		for field, value := range c.Fields {
			now, ok := record.Get(field)
			stands := ok && now.Change == c.ID && now.Stamp == c.Stamp
			past[field] = append(past[field], Version{value, c.ID, c.Stamp, c.Receipt, stands})
		}
	}
	list := make([]Past, 0, len(past))
	for _, field := range slices.Sorted(maps.Keys(past)) {
		list = append(list, Past{field, past[field]})
	}
	return list
}
