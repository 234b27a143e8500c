package journal

import (
	"cmp"
	"iter"
	"slices"
)

// Fold is a set of records, folded from changes. The zero Fold is empty and ready. It is
// not safe for use by several goroutines at once.
type Fold struct{ records map[Key]*Record }

// Apply folds one change, which must have passed Validate, and says whether in any
// field another change stands now. It may come in any order, any number of times, with its receipt
// and without.
func (f *Fold) Apply(c *Change) bool {
	return f.touch(c.Key()).Apply(c)
}

// Merge folds in all that another fold has seen.
func (f *Fold) Merge(other *Fold) {
	for key, r := range other.records {
		f.touch(key).Merge(r)
	}
}

func (f *Fold) touch(key Key) *Record {
	r, ok := f.records[key]
	if !ok {
		if f.records == nil {
			f.records = map[Key]*Record{}
		}
		r = NewRecord(key)
		f.records[key] = r
	}
	return r
}

// Record gives a record; nil if no change was about it.
func (f *Fold) Record(key Key) *Record { return f.records[key] }

// Len counts the records, deleted ones too.
func (f *Fold) Len() int { return len(f.records) }

// All gives the records by kind and then id, which for a UUIDv7 is the order of making.
func (f *Fold) All() iter.Seq[*Record] {
	list := make([]*Record, 0, len(f.records))
	for _, r := range f.records {
		list = append(list, r)
	}
	slices.SortFunc(list, func(a, b *Record) int {
		return cmp.Or(cmp.Compare(a.key.Kind, b.key.Kind), cmp.Compare(a.key.ID, b.key.ID))
	})
	return slices.Values(list)
}
