package journal

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// What encoding/json reads as an object, eachMember walks to the same members; what it
// does not read, eachMember refuses or hands on with a value that is no JSON.
func FuzzEachMember(f *testing.F) {
	for _, text := range []string{good, `{}`, ` { "a" : [ {"b":"}"} , "\"" ] , "\u0061" : -1.5e3 } `, `{"a":1,}`, `{"a"}`, `{"a":}`, `[]`, `{"a":1}x`, `{"a":"`, `{"a":tru}`, ``} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		got, sound := map[string]string{}, true
		err := eachMember(data, func(name string, value []byte) error {
			sound = sound && json.Valid(value)
			got[name] = string(value)
			return nil
		})
		var want map[string]json.RawMessage
		if json.Unmarshal(data, &want) != nil || want == nil {
			require.True(t, err != nil || !sound, "%q", data)
			return
		}
		require.NoError(t, err, "%q", data)
		require.Len(t, got, len(want))
		for name, value := range want {
			require.Equal(t, string(value), got[name])
		}
	})
}
