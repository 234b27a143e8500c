package main

import (
	"bytes"
	"encoding/json"
	"math"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/station/embedded"
)

// vector is one line of testdata/vectors/core.json; see the README there.
type vector struct {
	Name    string          `json:"name"`
	Source  string          `json:"source"`
	Call    string          `json:"call"`
	Request json.RawMessage `json:"request"`
	Expect  []expectation   `json:"expect"`
	Error   string          `json:"error"`
}

type expectation struct {
	At     string     `json:"at"`
	Text   *string    `json:"text"`
	Number *float64   `json:"number"`
	Time   *time.Time `json:"time"`
	Length *int       `json:"length"`
	Null   bool       `json:"null"`
	Within *float64   `json:"within"` // seconds for a time
}

// vectors reads the file strictly, so that a vector with a misspelt key cannot pass.
func vectors(t *testing.T) []vector {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "vectors", "core.json"))
	require.NoError(t, err)
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var all []vector
	require.NoError(t, d.Decode(&all))
	require.GreaterOrEqual(t, len(all), 20)
	called := map[string]bool{}
	for _, v := range all {
		called[v.Call] = true
		require.NotEmpty(t, v.Source, v.Name)
		require.True(t, v.Error != "" || len(v.Expect) > 0, v.Name)
	}
	for _, name := range core.Calls() {
		require.True(t, called[name], "no vector for the call %s", name)
	}
	return all
}

// native answers a vector in this process, errors as the envelope of every other door.
func native(t *testing.T, v vector) []byte {
	t.Helper()
	c := core.New()
	require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
	out, err := c.Call(v.Call, v.Request, noon)
	if err != nil {
		f := fault.From(err)
		out, err = json.Marshal(errorBody{Error: errorDetail{f.Code, f.Message, f.Field}})
		require.NoError(t, err)
	}
	return out
}

// TestVectorsNatively holds the answers to what the sources say.
func TestVectorsNatively(t *testing.T) {
	for _, v := range vectors(t) {
		t.Run(v.Name, func(t *testing.T) { v.check(t, native(t, v)) })
	}
}

func (v *vector) check(t *testing.T, answer []byte) {
	t.Helper()
	var got any
	require.NoError(t, json.Unmarshal(answer, &got))
	if v.Error != "" {
		require.Equal(t, v.Error, look(t, got, "error.code"))
		require.NotEmpty(t, look(t, got, "error.message"))
		return
	}
	for _, e := range v.Expect {
		value := look(t, got, e.At)
		within := 0.0
		if e.Within != nil {
			within = *e.Within
		}
		switch {
		case e.Text != nil:
			assert.Equal(t, *e.Text, value, e.At)
		case e.Number != nil:
			require.NotNil(t, e.Within, e.At)
			require.IsType(t, 0.0, value, e.At)
			assert.InDelta(t, *e.Number, value, within+1e-12, e.At)
		case e.Time != nil:
			require.NotNil(t, e.Within, e.At)
			at, err := time.Parse(time.RFC3339, value.(string))
			require.NoError(t, err)
			assert.LessOrEqual(t, math.Abs(at.Sub(*e.Time).Seconds()), within, "%s is %v, want %v", e.At, at, *e.Time)
		case e.Length != nil:
			require.IsType(t, []any{}, value, e.At)
			assert.Len(t, value, *e.Length, e.At)
		case e.Null:
			assert.Nil(t, value, e.At)
		default:
			t.Fatalf("%s: nothing is expected at %s", v.Name, e.At)
		}
	}
}

// look follows a path such as waters.0.height into decoded JSON.
func look(t *testing.T, value any, path string) any {
	t.Helper()
	for _, key := range strings.Split(path, ".") {
		switch in := value.(type) {
		case map[string]any:
			next, ok := in[key]
			require.True(t, ok, "no %s in the answer", path)
			value = next
		case []any:
			i, err := strconv.Atoi(key)
			require.NoError(t, err)
			require.Less(t, i, len(in), path)
			value = in[i]
		default:
			t.Fatalf("no %s in the answer", path)
		}
	}
	return value
}

// TestVectorsOverHTTP: the same bytes as natively.
func TestVectorsOverHTTP(t *testing.T) {
	app, _ := newTestApp(t, fstest.MapFS{})
	for _, v := range vectors(t) {
		t.Run(v.Name, func(t *testing.T) {
			answer, body := ask(t, app, httptest.NewRequest("POST", "/api/core/"+v.Call, bytes.NewReader(v.Request)))
			assert.Equal(t, string(native(t, v)), body)
			assert.Equal(t, v.Error == "", answer.StatusCode == 200)
		})
	}
}

// TestVectorsFromTheCommandLine: what -json prints is the part of the answer that the
// subcommand is for, in the same figures.
func TestVectorsFromTheCommandLine(t *testing.T) {
	lists := map[string]string{"tides": "waters", "heights": "heights", "windows": "windows", "stations": "stations", "sky": ""}
	tried := 0
	for _, v := range vectors(t) {
		list, ok := lists[v.Call]
		if !ok {
			continue
		}
		tried++
		t.Run(v.Name, func(t *testing.T) {
			var out, errs bytes.Buffer
			code := dispatch(append([]string{v.Call, "-json"}, flagsOf(t, v)...), strings.NewReader(""), &out, &errs)
			var want any
			require.NoError(t, json.Unmarshal(native(t, v), &want))
			if v.Error != "" {
				assert.Equal(t, exitUsage, code)
				assert.Contains(t, errs.String(), look(t, want, "error.message"))
				assert.Empty(t, out.String())
				return
			}
			require.Equal(t, exitOK, code, errs.String())
			if list != "" {
				want = look(t, want, list)
			}
			var got any
			require.NoError(t, json.Unmarshal(out.Bytes(), &got))
			assert.Equal(t, want, got)
		})
	}
	require.Greater(t, tried, 12)
}

// flagsOf spells a request as flags.
func flagsOf(t *testing.T, v vector) (flags []string) {
	t.Helper()
	var request map[string]any
	require.NoError(t, json.Unmarshal(v.Request, &request))
	shore, _ := request["shore"].(map[string]any)
	delete(request, "shore")
	dated := request["zone"] == nil && shore["zone"] == nil
	for _, fields := range []map[string]any{request, shore} {
		for key, value := range fields {
			name := map[string]string{"wayOff": "way-off", "walkOut": "walk-out", "cutOff": "cut-off"}[key]
			if name == "" {
				name = key
			}
			switch x := value.(type) {
			case string:
				flags = append(flags, "-"+name, x)
			case bool:
				flags = append(flags, "-"+name+"="+strconv.FormatBool(x))
			case float64:
				text := strconv.FormatFloat(x, 'f', -1, 64)
				switch key {
				case "margin", "walkOut", "travel", "least":
					text += "m"
				}
				flags = append(flags, "-"+name, text)
			case []any:
				var words []string
				for _, w := range x {
					words = append(words, w.(string))
				}
				flags = append(flags, "-"+name, strings.Join(words, ","))
			case map[string]any:
				flags = append(flags, "-near", strconv.FormatFloat(x["lat"].(float64), 'f', -1, 64)+","+strconv.FormatFloat(x["lon"].(float64), 'f', -1, 64))
			}
		}
	}
	if v.Call == "windows" && dated {
		// The command line reads a date in -zone, UTC unless given; the call in the shore's.
		c := core.New()
		require.NoError(t, c.OpenCatalogue(embedded.Catalogue()))
		out, err := c.Call("station", []byte(`{"station":"`+shore["station"].(string)+`"}`), noon)
		require.NoError(t, err)
		var s struct{ Zone string }
		require.NoError(t, json.Unmarshal(out, &s))
		flags = append(flags, "-zone", s.Zone)
	}
	return flags
}
