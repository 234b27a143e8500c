package journal

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func id(n int) string { return fmt.Sprintf("00000000-0000-7000-8000-%012x", n+1) }

const dayMS = 24 * 3600 * 1000

// history draws changes of a few records by a few devices with clocks up to a day wrong,
// so that places collide and receipts move changes back. Some are refused, some wait.
func history(t *rapid.T) []Change {
	n := rapid.IntRange(1, 12).Draw(t, "changes")
	changes := make([]Change, n)
	last := Receipt{}
	for i := range changes {
		ms := rapid.OneOf(rapid.Int64Range(1, 6), rapid.Int64Range(2*dayMS-dayMS, 2*dayMS+dayMS)).Draw(t, "ms")
		c := Change{
			ID: id(i), Kind: rapid.SampledFrom([]string{"find", "later-kind"}).Draw(t, "kind"), Record: id(rapid.IntRange(0, 1).Draw(t, "record")),
			Stamp:  Reading{ms, uint16(rapid.IntRange(0, 1).Draw(t, "counter")), id(rapid.IntRange(0, 2).Draw(t, "device"))}.Stamp(),
			Fields: map[string]json.RawMessage{},
		}
		for _, name := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"note", "taxon", "party/x", Deleted}), 1, 3, rapid.ID).Draw(t, "fields") {
			c.Fields[name] = json.RawMessage(fmt.Sprint(i))
			if name == Deleted {
				c.Fields[name] = json.RawMessage(fmt.Sprint(i%2 == 0))
			}
		}
		word := rapid.SampledFrom([]string{"accepted", "accepted", "accepted", "refused", "waiting"}).Draw(t, "word")
		if word != "waiting" {
			reason := ""
			if word == "refused" {
				reason = "not yours to write"
			}
			last = NextReceipt(last, rapid.Int64Range(0, 2*dayMS).Draw(t, "at"), reason)
			r := last
			c.Receipt = &r
		}
		require.NoError(t, Validate(&c))
		changes[i] = c
	}
	return rapid.Permutation(changes).Draw(t, "order")
}

// arrivals draws in what order, how often and with what knowledge of their receipts
// changes come; in the end each has come once as it is.
func arrivals(t *rapid.T, changes []Change) []Change {
	arrive := slices.Clone(changes)
	for _, c := range changes {
		for range rapid.IntRange(0, 2).Draw(t, "more") {
			if rapid.Bool().Draw(t, "without receipt") {
				c.Receipt = nil
			}
			arrive = append(arrive, c)
		}
	}
	return rapid.Permutation(arrive).Draw(t, "arrivals")
}

func folded(changes []Change) *Fold {
	f := &Fold{}
	for i := range changes {
		f.Apply(&changes[i])
	}
	return f
}

func bytesOf(f *Fold) string { return string(f.AppendSnapshot(nil, 0)) }

// plainly is the definition of folding and nothing more: of all changes that are not
// refused, the one with the latest place gives a field its value.
func plainly(changes []Change) map[Key]map[string]string {
	places := map[Key]map[string]*Change{}
	for i := range changes {
		c := &changes[i]
		if c.Receipt != nil && c.Receipt.Refused != "" {
			continue
		}
		if places[c.Key()] == nil {
			places[c.Key()] = map[string]*Change{}
		}
		for name := range c.Fields {
			have := places[c.Key()][name]
			if have == nil || plainPlace(c) > plainPlace(have) {
				places[c.Key()][name] = c
			}
		}
	}
	values := map[Key]map[string]string{}
	for key, fields := range places {
		values[key] = map[string]string{}
		for name, c := range fields {
			values[key][name] = string(c.Fields[name])
		}
	}
	return values
}

// plainPlace is (min(stamp ms, receipt ms), counter, device, id) as text that sorts.
func plainPlace(c *Change) string {
	r, _ := c.Stamp.Read()
	if c.Receipt != nil {
		r.MS = min(r.MS, c.Receipt.AtMS)
	}
	return string(r.Stamp()) + c.ID
}

func standing(f *Fold) map[Key]map[string]string {
	values := map[Key]map[string]string{}
	for r := range f.All() {
		if r.Exists() {
			values[r.Key()] = map[string]string{}
		}
		for name, v := range r.All() {
			values[r.Key()][name] = string(v.JSON)
		}
	}
	return values
}

// who gives by record and field the change that stands.
func who(f *Fold) map[string]string {
	changes := map[string]string{}
	for r := range f.All() {
		for name, v := range r.All() {
			changes[r.Key().Kind+r.Key().ID+name] = v.Change
		}
	}
	return changes
}

func TestFoldIsItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		changes := history(t)
		require.Equal(t, plainly(changes), standing(folded(changes)))
	})
}

// Any order and any number of arrivals, receipts before or after: one fold, to the byte.
func TestFoldIsTheSameHoweverChangesArrive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		changes := history(t)
		want := bytesOf(folded(changes))
		require.Equal(t, want, bytesOf(folded(arrivals(t, changes))))
	})
}

func TestMergeIsCommutativeAssociativeIdempotent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		arrive := arrivals(t, history(t))
		i := rapid.IntRange(0, len(arrive)).Draw(t, "first cut")
		j := rapid.IntRange(i, len(arrive)).Draw(t, "second cut")
		a, b, c := arrive[:i], arrive[i:j], arrive[j:]
		merge := func(folds ...*Fold) string {
			into := folds[0]
			for _, f := range folds[1:] {
				into.Merge(f)
			}
			return bytesOf(into)
		}
		all := bytesOf(folded(arrive))
		require.Equal(t, merge(folded(a), folded(b)), merge(folded(b), folded(a)), "commutative")
		bc := folded(b)
		bc.Merge(folded(c))
		require.Equal(t, all, merge(folded(a), folded(b), folded(c)), "merging is folding")
		require.Equal(t, all, merge(folded(a), bc), "associative")
		require.Equal(t, bytesOf(folded(a)), merge(folded(a), folded(a)), "idempotent")
		require.Equal(t, all, merge(&Fold{}, folded(arrive)), "the empty fold is neutral")
	})
}

// A snapshot of any part, and then the rest, or all again, or old copies without their
// receipts: the same as everything.
func TestSnapshotAndTheRestIsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		changes := history(t)
		arrive := arrivals(t, changes)
		cut := rapid.IntRange(0, len(arrive)).Draw(t, "cut")
		part := folded(arrive[:cut])
		snapshot := part.AppendSnapshot(nil, 7)
		f, through, err := DecodeSnapshot(snapshot)
		require.NoError(t, err)
		require.EqualValues(t, 7, through)
		require.Equal(t, string(snapshot), string(f.AppendSnapshot(nil, 7)))
		require.Equal(t, standing(part), standing(f))
		for i := range arrive[cut:] {
			f.Apply(&arrive[cut:][i])
		}
		for i := range arrive { // once more, from the start
			f.Apply(&arrive[i])
		}
		require.Equal(t, bytesOf(folded(changes)), bytesOf(f))
		for r := range f.All() {
			kept, err := DecodeRecord(r.Key(), r.Append(nil))
			require.NoError(t, err)
			require.Equal(t, string(r.Append(nil)), string(kept.Append(nil)))
		}
	})
}

// Apply says that something changed exactly when another change stands somewhere.
func TestApplySaysWhetherSomethingChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := &Fold{}
		for _, c := range arrivals(t, history(t)) {
			before := who(f)
			changed := f.Apply(&c)
			require.Equal(t, !maps.Equal(before, who(f)), changed)
		}
	})
}

// Two changes with one id are a defect of some phone; copies must agree all the same.
func TestAlteredCopiesFoldAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		changes := history(t)
		for i := range changes {
			changes[i].ID = id(rapid.IntRange(0, 2).Draw(t, "id"))
			if rapid.Bool().Draw(t, "one stamp") {
				changes[i].Stamp = Reading{MS: dayMS, Device: deviceA}.Stamp()
			}
		}
		require.Equal(t, bytesOf(folded(changes)), bytesOf(folded(arrivals(t, changes))))
	})
}

// Once every receipt is known, one change a field is left, but for copies that a late
// arrival without its receipt could still bring to the front.
func TestFoldKeepsLittle(t *testing.T) {
	f := &Fold{}
	last := Receipt{}
	for i := range 1000 {
		last = NextReceipt(last, int64(10*i), "")
		c := Change{ID: id(i), Kind: "find", Record: id(0), Stamp: Reading{MS: int64(10 * i), Device: deviceA}.Stamp(), Fields: map[string]json.RawMessage{"note": json.RawMessage("1")}}
		require.True(t, f.Apply(&c) || i > 0)
		received := c
		r := last
		received.Receipt = &r
		f.Apply(&received)
	}
	require.Len(t, slices.Collect(f.Record(Key{"find", id(0)}).Changes()), 1)
}

func TestStandingValues(t *testing.T) {
	change := func(n int, ms, at int64, fields string) Change {
		c := Change{ID: id(n), Kind: "find", Record: id(0), Stamp: Reading{MS: ms, Device: deviceA}.Stamp()}
		require.NoError(t, json.Unmarshal([]byte(fields), &c.Fields))
		if at >= 0 {
			c.Receipt = &Receipt{Seq: uint64(n + 1), AtMS: at}
		}
		return c
	}
	refuse := func(c Change) Change {
		c.Receipt = &Receipt{Seq: 99, AtMS: 99, Refused: "a child does not clear"}
		return c
	}
	rows := []struct {
		name    string
		changes []Change
		want    string
	}{
		{"the newest stamp wins", []Change{change(0, 10, 90, `{"note":"a"}`), change(1, 20, 80, `{"note":"b"}`)}, `{"note":"b"}`},
		{"fields are apart", []Change{change(0, 10, 90, `{"note":"a","taxon":"x"}`), change(1, 20, 80, `{"note":"b"}`)}, `{"note":"b","taxon":"x"}`},
		{"a fast clock counts by its receipt", []Change{change(0, 1000, 15, `{"note":"fast"}`), change(1, 20, 80, `{"note":"b"}`)}, `{"note":"b"}`},
		{"until then by its stamp", []Change{change(0, 1000, -1, `{"note":"fast"}`), change(1, 20, 80, `{"note":"b"}`)}, `{"note":"fast"}`},
		{"the receipt comes later", []Change{change(0, 1000, -1, `{"note":"fast"}`), change(1, 20, 80, `{"note":"b"}`), change(0, 1000, 15, `{"note":"fast"}`)}, `{"note":"b"}`},
		{"and a late copy without it changes nothing", []Change{change(0, 1000, 15, `{"note":"fast"}`), change(1, 20, 80, `{"note":"b"}`), change(0, 1000, -1, `{"note":"fast"}`)}, `{"note":"b"}`},
		{"a refused change is out", []Change{change(0, 10, 90, `{"note":"a"}`), refuse(change(1, 20, 80, `{"note":"b","x":1}`))}, `{"note":"a"}`},
		{"also when it was folded before", []Change{change(0, 10, 90, `{"note":"a"}`), change(1, 20, -1, `{"note":"b"}`), refuse(change(1, 20, 80, `{"note":"b"}`))}, `{"note":"a"}`},
		{"a deleted record keeps its fields", []Change{change(0, 10, 90, `{"note":"a"}`), change(1, 20, 91, `{"deleted":true}`)}, `{"deleted":true,"note":"a"}`},
		{"null is a value", []Change{change(0, 10, 90, `{"wayOff":1}`), change(1, 20, 91, `{"wayOff":null}`)}, `{"wayOff":null}`},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			f := folded(row.changes)
			got, err := json.Marshal(f.Record(Key{"find", id(0)}).Fields())
			require.NoError(t, err)
			assert.JSONEq(t, row.want, string(got))
		})
	}
	r := folded(rows[8].changes).Record(Key{"find", id(0)})
	assert.True(t, r.Deleted())
	back := change(2, 30, -1, `{"deleted":false}`)
	assert.True(t, r.Apply(&back))
	assert.False(t, r.Deleted(), "it can be brought back")
	v, ok := r.Get(Deleted)
	assert.True(t, ok)
	assert.Equal(t, Value{JSON: json.RawMessage("false"), Change: id(2), Stamp: back.Stamp, Sent: false}, v)
	other := change(3, 40, -1, `{"note":"other"}`)
	other.Record = id(5)
	assert.False(t, r.Apply(&other), "a change about another record")
	assert.False(t, r.Merge(NewRecord(Key{"tank", id(0)})))
	none := folded([]Change{refuse(change(1, 20, 80, `{"note":"b"}`))}).Record(Key{"find", id(0)})
	assert.False(t, none.Exists())
}

func TestHistoryHasWinnersAndLosers(t *testing.T) {
	first := Change{ID: id(0), Kind: "find", Record: id(0), Stamp: Reading{MS: 10, Device: deviceA}.Stamp(), Fields: map[string]json.RawMessage{"taxon": json.RawMessage(`"unsure"`), "note": json.RawMessage(`"under weed"`)}, Receipt: &Receipt{Seq: 1, AtMS: 90}}
	fast := Change{ID: id(1), Kind: "find", Record: id(0), Stamp: Reading{MS: 1000, Device: deviceB}.Stamp(), Fields: map[string]json.RawMessage{"taxon": json.RawMessage(`"Ulva"`)}, Receipt: &Receipt{Seq: 2, AtMS: 91}}
	wins := Change{ID: id(2), Kind: "find", Record: id(0), Stamp: Reading{MS: 95, Device: deviceA}.Stamp(), Fields: map[string]json.RawMessage{"taxon": json.RawMessage(`"Ulva lactuca"`)}, Receipt: &Receipt{Seq: 3, AtMS: 96}}
	no := Change{ID: id(3), Kind: "find", Record: id(0), Stamp: Reading{MS: 99, Device: deviceB}.Stamp(), Fields: map[string]json.RawMessage{"taxon": json.RawMessage(`"x"`)}, Receipt: &Receipt{Seq: 4, AtMS: 99, Refused: "a guest only reads"}}
	unsent := fast
	unsent.Receipt = nil
	elsewhere := wins
	elsewhere.Record = id(9)
	got := History(Key{"find", id(0)}, []Change{no, unsent, wins, fast, first, elsewhere, unsent, first})
	version := func(c Change, field string, stands bool) Version {
		return Version{c.Fields[field], c.ID, c.Stamp, c.Receipt, stands}
	}
	assert.Equal(t, []Past{
		{"note", []Version{version(first, "note", true)}},
		{"taxon", []Version{version(first, "taxon", false), version(fast, "taxon", false), version(wins, "taxon", true), version(no, "taxon", false)}},
	}, got)
	assert.Empty(t, History(Key{"find", id(7)}, []Change{first}))
}

// History holds every value of every change, once.
func TestHistoryIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		changes := history(t)
		arrive := arrivals(t, changes)
		f := folded(changes)
		count := 0
		for r := range f.All() {
			for _, past := range History(r.Key(), arrive) {
				stand := 0
				for _, v := range past.Versions {
					count++
					if v.Stands {
						stand++
						now, ok := r.Get(past.Field)
						require.True(t, ok)
						require.Equal(t, string(now.JSON), string(v.Value))
					}
				}
				_, ok := r.Get(past.Field)
				require.Equal(t, ok, stand == 1)
			}
		}
		want := 0
		for _, c := range changes {
			want += len(slices.Collect(maps.Keys(c.Fields)))
		}
		require.Equal(t, want, count)
	})
}
