package journal

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyHistory draws changes of a few records by a few devices whose clocks are a day wrong
// either way, some with receipts, some refused.
func anyHistory(t *rapid.T) []Change {
	n := rapid.IntRange(0, 24).Draw(t, "changes")
	var out []Change
	const noon = int64(1_790_000_000_000)
	for i := range n {
		device := rapid.SampledFrom([]string{deviceA, deviceB}).Draw(t, "device")
		at := noon + int64(i)*1000
		skew := rapid.SampledFrom([]int64{0, 0, 86_400_000, -86_400_000}).Draw(t, "skew")
		c := Change{
			ID:     fmt.Sprintf("017f22e2-79b0-7cc3-98c4-%012x", i+1),
			Kind:   rapid.SampledFrom([]string{"find", "shore", "of-tomorrow"}).Draw(t, "kind"),
			Record: fmt.Sprintf("017f22e2-79b0-7cc3-98c4-%012x", 1000+rapid.IntRange(0, 2).Draw(t, "record")),
			Stamp:  Stamp(fmt.Sprintf("%012x-%04x-%s", at+skew, rapid.IntRange(0, 2).Draw(t, "counter"), device)),
			Fields: map[string]json.RawMessage{},
		}
		for _, f := range []string{"note", "amount", "party/x", Deleted} {
			if rapid.Bool().Draw(t, f) {
				value := fmt.Sprint(rapid.IntRange(0, 9).Draw(t, f+" value"))
				if f == Deleted {
					value = rapid.SampledFrom([]string{"true", "false"}).Draw(t, "deleted value")
				}
				c.Fields[f] = json.RawMessage(value)
			}
		}
		if len(c.Fields) == 0 {
			c.Fields["note"] = json.RawMessage("1")
		}
		switch rapid.IntRange(0, 3).Draw(t, "receipt") {
		case 0:
		case 1:
			c.Receipt = &Receipt{Seq: uint64(i + 1), AtMS: at + 500, Refused: "a child may not"}
		default:
			c.Receipt = &Receipt{Seq: uint64(i + 1), AtMS: at + 500}
		}
		require.NoError(t, Validate(&c))
		out = append(out, c)
	}
	return out
}

func folded(changes []Change) *Fold {
	f := &Fold{}
	for i := range changes {
		f.Apply(&changes[i])
	}
	return f
}

// shows is what a fold says of every record, for comparison.
func shows(f *Fold) map[Key]map[string]string {
	out := map[Key]map[string]string{}
	for r := range f.All() {
		fields := map[string]string{}
		for name, value := range r.Fields() {
			fields[name] = string(value)
		}
		out[r.Key()] = fields
	}
	return out
}

// TestAnyOrderAnyNumber: folding is commutative and idempotent: any permutation of a
// history, each change any number of times, gives the same records.
func TestAnyOrderAnyNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		history := anyHistory(t)
		want := folded(history)
		shuffled := rapid.Permutation(append(slices.Clone(history), history...)).Draw(t, "order")
		got := folded(shuffled)
		require.Equal(t, shows(want), shows(got))
		require.Equal(t, string(want.AppendSnapshot(nil, 7)), string(got.AppendSnapshot(nil, 7)))
	})
}

// TestMergeIsFolding: two folds of parts of a history merge to the fold of all of it,
// whichever way round and however they are grouped.
func TestMergeIsFolding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		history := anyHistory(t)
		a, b := rapid.IntRange(0, len(history)).Draw(t, "a"), rapid.IntRange(0, len(history)).Draw(t, "b")
		lo, hi := min(a, b), max(a, b)
		one, two, three := history[:lo], history[lo:hi], history[hi:]
		left := folded(one)
		left.Merge(folded(two))
		left.Merge(folded(three))
		right := folded(three)
		inner := folded(two)
		inner.Merge(folded(one))
		right.Merge(inner)
		want := shows(folded(history))
		require.Equal(t, want, shows(left))
		require.Equal(t, want, shows(right))
	})
}

// TestReceiptThatComesLater: a change folded before its receipt is known, and again with
// it, ends as if the receipt had been there from the start.
func TestReceiptThatComesLater(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		history := anyHistory(t)
		without := slices.Clone(history)
		for i := range without {
			without[i].Receipt = nil
		}
		mixed := rapid.Permutation(append(without, history...)).Draw(t, "order")
		sent := folded(history)
		require.Equal(t, shows(sent), shows(folded(mixed)))
	})
}

// TestSnapshotCarriesTheOrders: a snapshot taken anywhere, and the rest of the history
// folded onto it, is the fold of all.
func TestSnapshotCarriesTheOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		history := anyHistory(t)
		cut := rapid.IntRange(0, len(history)).Draw(t, "cut")
		data := folded(history[:cut]).AppendSnapshot(nil, uint64(cut))
		f, through, err := DecodeSnapshot(data)
		require.NoError(t, err)
		require.EqualValues(t, cut, through)
		for i := cut; i < len(history); i++ {
			f.Apply(&history[i])
		}
		require.Equal(t, shows(folded(history)), shows(f))
	})
}

// TestFastClockDoesNotWinForEver: a phone a day ahead writes first; once the server has
// received that, a later write of a phone with the right time stands.
func TestFastClockDoesNotWinForEver(t *testing.T) {
	const noon = int64(1_790_000_000_000)
	change := func(n int, ms int64, device, note string, received int64) Change {
		return Change{ID: fmt.Sprintf("017f22e2-79b0-7cc3-98c4-%012x", n), Kind: "find", Record: "017f22e2-79b0-7cc3-98c4-000000000999",
			Stamp: Stamp(fmt.Sprintf("%012x-0000-%s", ms, device)), Fields: map[string]json.RawMessage{"note": json.RawMessage(note)},
			Receipt: &Receipt{Seq: uint64(n), AtMS: received}}
	}
	fast := change(1, noon+86_400_000, deviceA, `"fast"`, noon)
	right := change(2, noon+60_000, deviceB, `"right"`, noon+61_000)
	f := folded([]Change{right, fast})
	assert.Equal(t, `"right"`, string(f.Record(fast.Key()).Fields()["note"]))
	// The losing value can still be read.
	past := History(fast.Key(), []Change{fast, right})
	assert.NotEmpty(t, past)
}

func FuzzDecodeSnapshot(f *testing.F) {
	f.Add([]byte{})
	f.Add(folded([]Change{{ID: "017f22e2-79b0-7cc3-98c4-000000000001", Kind: "find", Record: "017f22e2-79b0-7cc3-98c4-000000000002",
		Stamp: Stamp("000000000001-0000-" + deviceA), Fields: map[string]json.RawMessage{"note": json.RawMessage(`1`)}}}).AppendSnapshot(nil, 3))
	f.Fuzz(func(t *testing.T, data []byte) {
		fold, through, err := DecodeSnapshot(data)
		if err != nil {
			return
		}
		again, through2, err := DecodeSnapshot(fold.AppendSnapshot(nil, through))
		require.NoError(t, err)
		require.Equal(t, through, through2)
		require.Equal(t, shows(fold), shows(again))
	})
}
