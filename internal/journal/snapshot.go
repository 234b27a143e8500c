package journal

import (
	"bytes"
	"encoding/json"
	"iter"
	"slices"

	"wrackbook/internal/fault"
)

// A snapshot is a fold in few bytes: a journal in which every change has only those fields
// left that still matter, one change a line, after a line that says how many there are.
// Who folds it and then any other changes of the journal, old ones too, ends where all of
// the journal leads. It is no journal: what lost is not in it.
//
//	{"snapshot":1,"through":4711,"changes":2}
//	{"id":"…","kind":"find","record":"…","stamp":"…","fields":{…},"receipt":{"seq":17,"atMs":…}}
//	…

const snapshotForm = 1

type snapshotHead struct {
	Snapshot int    `json:"snapshot"`
	Through  uint64 `json:"through"`
	Changes  int    `json:"changes"`
}

// AppendSnapshot writes the fold. through is the place in the server's journal up to which
// every change is in it; pulling goes on from there. Equal folds give equal bytes.
func (f *Fold) AppendSnapshot(dst []byte, through uint64) []byte {
	var lines []byte
	count := 0
	for r := range f.All() {
		for c := range r.Changes() {
			lines = append(c.Append(lines), '\n')
			count++
		}
	}
	head, _ := json.Marshal(snapshotHead{snapshotForm, through, count})
	return append(append(append(dst, head...), '\n'), lines...)
}

// DecodeSnapshot reads what AppendSnapshot wrote. One that was cut off or altered out of
// form is a *fault.Error.
func DecodeSnapshot(data []byte) (f *Fold, through uint64, err error) {
	first, rest, _ := bytes.Cut(data, []byte("\n"))
	var head snapshotHead
	if err := json.Unmarshal(first, &head); err != nil || head.Snapshot == 0 {
		return nil, 0, fault.Wrap(fault.BadJSON, "", err, "This is not a snapshot of a book.")
	}
	if head.Snapshot != snapshotForm {
		return nil, 0, fault.New(fault.BadInput, "snapshot", "The snapshot has form %d and this program reads form %d. Update it.", head.Snapshot, snapshotForm)
	}
	if head.Through > greatestSeq {
		return nil, 0, fault.New(fault.BadInput, "through", "The snapshot's place in the journal is out of bounds.")
	}
	f = &Fold{}
	count, err := eachLine(rest, func(c *Change) error { f.Apply(c); return nil })
	if err != nil {
		return nil, 0, err
	}
	if count != head.Changes {
		return nil, 0, fault.New(fault.BadInput, "changes", "The snapshot has %d changes and should have %d: it was cut off. Fetch it again.", count, head.Changes)
	}
	return f, head.Through, nil
}

// Append writes the record as a snapshot does, without the first line: to keep it, and
// fold later changes onto it.
func (r *Record) Append(dst []byte) []byte {
	for c := range r.Changes() {
		dst = append(c.Append(dst), '\n')
	}
	return dst
}

// DecodeRecord reads what Append wrote for the record of that name.
func DecodeRecord(key Key, data []byte) (*Record, error) {
	r := NewRecord(key)
	_, err := eachLine(data, func(c *Change) error {
		if c.Key() != key {
			return fault.New(fault.BadInput, "record", "A change of another record is kept in %s %s.", key.Kind, key.ID)
		}
		r.Apply(c)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return r, nil
}

// CutLine cuts the first change off what Append wrote for a record; whole is false where its
// end is missing. A value may have line breaks of its own, between its tokens. But none
// stands between } and {, where JSON wants a comma, and that is where a change ends and the
// next begins.
func CutLine(data []byte) (line, rest []byte, whole bool) {
	if i := bytes.Index(data, []byte("}\n{")); i >= 0 {
		return data[:i+1], data[i+2:], true
	}
	line, whole = bytes.CutSuffix(data, []byte("}\n"))
	if !whole {
		return data, nil, false
	}
	return data[:len(line)+1], nil, true
}

func eachLine(data []byte, use func(*Change) error) (count int, err error) {
	data = bytes.Clone(data) // once; the changes share it
	for len(data) > 0 {
		line, rest, whole := CutLine(data)
		if !whole {
			return count, fault.New(fault.BadInput, "changes", "The last line is cut off. Fetch it again.")
		}
		c, err := decode(line)
		if err != nil {
			e := fault.From(err)
			return count, fault.Wrap(e.Code, e.Field, err, "In change %d: %s", count+1, e.Message)
		}
		if err := use(&c); err != nil {
			return count, err
		}
		data = rest
		count++
	}
	return count, nil
}

// Changes gives the changes that the record still rests on, each with those of its fields
// that still matter, as written, earliest first. Folding them gives the record.
func (r *Record) Changes() iter.Seq[*Change] {
	type known struct { // after a merge one change may have two heads that say the same
		id      string
		stamp   Stamp
		waiting bool
		receipt Receipt
	}
	changes := map[known]*Change{}
	var ordered []*Change
	for i := range r.fields {
		for _, e := range r.fields[i].entries {
			k := known{id: e.id, stamp: e.stamp, waiting: e.receipt == nil}
			if e.receipt != nil {
				k.receipt = *e.receipt
			}
			c := changes[k]
			if c == nil {
				c = &Change{ID: e.id, Kind: r.key.Kind, Record: r.key.ID, Stamp: e.stamp, Fields: map[string]json.RawMessage{}, Receipt: e.receipt}
				changes[k] = c
				ordered = append(ordered, c)
			}
			c.Fields[r.fields[i].name] = e.value
		}
	}
	slices.SortFunc(ordered, func(a, b *Change) int {
		x, y := newHead(a), newHead(b)
		switch o := x.written().Compare(y.written()); {
		case o != 0:
			return o
		case y.knowsMore(x):
			return -1
		case x.knowsMore(y):
			return 1
		}
		return 0
	})
	return slices.Values(ordered)
}
