package journal

import (
	"encoding/json"
	"fmt"
	"testing"
)

// finds is a book of n finds as phones write them: one change with twelve fields, and for
// every fourth a later correction of one.
func finds(n int) []Change {
	var changes []Change
	last := Receipt{}
	add := func(record int, fields map[string]json.RawMessage) {
		last = NextReceipt(last, int64(1000*len(changes)), "")
		receipt := last
		changes = append(changes, Change{ID: id(len(changes)), Kind: "find", Record: id(record), Fields: fields, Receipt: &receipt,
			Stamp: Reading{MS: int64(1000 * len(changes)), Device: deviceA}.Stamp()})
	}
	for i := range n {
		add(i, map[string]json.RawMessage{
			"at": json.RawMessage(`"2026-12-12T13:30:00Z"`), "outing": json.RawMessage(fmt.Sprintf("%q", id(i/20))), "by": json.RawMessage(`"` + deviceB + `"`),
			"taxon": json.RawMessage(`"Littorina littorea"`), "group": json.RawMessage(`"snails"`), "state": json.RawMessage(`"living"`), "fate": json.RawMessage(`"seen"`),
			"amount": json.RawMessage(`{"value":3,"unit":"count"}`), "height": json.RawMessage(`"mid"`), "habitat": json.RawMessage(`"under weed"`),
			"position": json.RawMessage(`{"lat":37.80123,"lon":-122.51234,"accuracyM":8}`), "note": json.RawMessage(`"with a crab in it"`),
		})
		if i%4 == 0 {
			add(i, map[string]json.RawMessage{"taxon": json.RawMessage(`"Littorina saxatilis"`)})
		}
	}
	return changes
}

func BenchmarkFold10000Finds(b *testing.B) {
	changes := finds(10000)
	b.ReportAllocs()
	for b.Loop() {
		folded(changes)
	}
}

func BenchmarkDecodeSnapshotOf10000Finds(b *testing.B) {
	snapshot := folded(finds(10000)).AppendSnapshot(nil, 12500)
	b.ReportMetric(float64(len(snapshot))/10000, "bytes/find")
	b.SetBytes(int64(len(snapshot)))
	b.ReportAllocs()
	for b.Loop() {
		if _, _, err := DecodeSnapshot(snapshot); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkApplyOne(b *testing.B) {
	changes := finds(10000)
	f := folded(changes)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		f.Apply(&changes[i%len(changes)])
	}
}
