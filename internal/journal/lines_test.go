package journal

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A value is kept byte for byte, also where somebody wrote it with line breaks, and a line
// of a snapshot is not what it was taken for.
func TestValuesWithLineBreaks(t *testing.T) {
	for _, value := range []string{"{\n}", "[\n{},\n{}\n]", "{\"a\":{}\n,\n\"b\":[{}\r\n]}", `"}\n{"`} {
		f := &Fold{}
		for n := range 3 {
			c := Change{ID: id(n), Kind: "find", Record: id(9), Stamp: Reading{MS: int64(1000 + n), Device: deviceA}.Stamp(),
				Fields: map[string]json.RawMessage{string(rune('a' + n)): json.RawMessage(value), "z": json.RawMessage(value)}}
			require.NoError(t, Validate(&c))
			f.Apply(&c)
		}
		snapshot := f.AppendSnapshot(nil, 3)
		back, _, err := DecodeSnapshot(snapshot)
		require.NoError(t, err, "%q", value)
		assert.Equal(t, snapshot, back.AppendSnapshot(nil, 3))
		v, _ := back.Record(Key{"find", id(9)}).Get("b")
		assert.Equal(t, value, string(v.JSON))
		for cut := 1; cut < len(snapshot); cut++ {
			_, _, err := DecodeSnapshot(snapshot[:len(snapshot)-cut])
			assert.Error(t, err, "%q cut short by %d", value, cut)
		}
	}
}
