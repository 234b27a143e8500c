package core

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// model reads a test model of a public rule.
func model(t testing.TB, name string) json.RawMessage {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "rules", name+".json"))
	require.NoError(t, err)
	return data
}

type object = map[string]any

// marshal writes JSON that a test knows to be right.
func marshal(t testing.TB, v any) []byte {
	t.Helper()
	data, err := json.Marshal(v)
	require.NoError(t, err)
	return data
}

var takeNow = time.Date(2024, 5, 2, 12, 0, 0, 0, time.UTC)

func seaweedSet(t testing.TB) object {
	return object{"id": "set", "document": model(t, "04-washington-seaweed"), "checked": object{"on": "2024-05-01", "by": "Ada"}, "shores": []string{"bay"}}
}

func seaweed(id string, grams float64) object {
	return object{"id": id, "at": "2024-05-01T19:00:00Z", "by": "ada", "shore": "bay", "taxon": "Ulva lactuca", "state": "attached",
		"mass": object{"g": grams, "weighed": "wet"}, "note": "not read by any rule"}
}

// asked is a request about some seaweed; more adds to it.
func asked(grams float64, more object) object {
	find := seaweed("", grams)
	delete(find, "note")
	out := object{"find": find, "shore": object{"lat": 48, "lon": -122.6, "zone": "America/Los_Angeles"}, "purpose": "home"}
	for k, v := range more {
		out[k] = v
	}
	return out
}

func grade(t *testing.T, c *Core, request object) string { return gradeAt(t, c, request, takeNow) }

func gradeAt(t *testing.T, c *Core, request object, now time.Time) string {
	t.Helper()
	out, err := c.Call("verdict", marshal(t, request), now)
	require.NoError(t, err)
	var v struct{ Verdict string }
	require.NoError(t, json.Unmarshal(out, &v))
	return v.Verdict
}

// TestAHeldLedgerAnswersAsARequestDoes: the same sets and finds, held open or sent.
func TestAHeldLedgerAnswersAsARequestDoes(t *testing.T) {
	c := New()
	sets, finds := []any{seaweedSet(t)}, []any{seaweed("a", 2000)}
	require.NoError(t, c.OpenLedger(marshal(t, object{"sets": sets, "finds": finds})))
	for _, grams := range []float64{100, 2535.92, 3000} {
		held, err := c.Call("verdict", marshal(t, asked(grams, object{"held": true})), takeNow)
		require.NoError(t, err)
		sent, err := c.Call("verdict", marshal(t, asked(grams, object{"sets": sets, "finds": finds})), takeNow)
		require.NoError(t, err)
		assert.Equal(t, string(sent), string(held))
	}
	assert.Equal(t, "within", grade(t, c, asked(100, object{"held": true})))

	require.NoError(t, c.AddToLedger(marshal(t, object{"finds": []any{seaweed("b", 2500)}})))
	assert.Equal(t, "over", grade(t, c, asked(100, object{"held": true})))
	require.NoError(t, c.AddToLedger(marshal(t, object{"finds": []any{seaweed("b", 500)}})))
	assert.Equal(t, "within", grade(t, c, asked(100, object{"held": true})), "a find that changed counts as it is now")
	require.NoError(t, c.AddToLedger(marshal(t, object{"removed": []string{"a", "b"}})))
	assert.Equal(t, "within", grade(t, c, asked(4500, object{"held": true})))
	require.NoError(t, c.AddToLedger(marshal(t, object{"removed": []string{"set"}})))
	assert.Equal(t, "unchecked", grade(t, c, asked(100, object{"held": true})))
}

// TestWhatCannotBeReadPermitsNothing: a set of a later form, a set that is damaged, a find
// without a time.
func TestWhatCannotBeReadPermitsNothing(t *testing.T) {
	c := New()
	assert.Equal(t, "within", grade(t, c, asked(100, object{"sets": []any{seaweedSet(t)}})))
	for _, document := range []string{`{"form": 2}`, `{"form": 1}`, `null`, `"x"`} {
		sets := []any{seaweedSet(t), object{"id": "other", "document": json.RawMessage(document)}}
		assert.Equal(t, "unchecked", grade(t, c, asked(100, object{"sets": sets})), document)
	}
	damaged := seaweed("a", 100)
	damaged["at"] = "in spring"
	assert.Equal(t, "unchecked", grade(t, c, asked(100, object{"sets": []any{seaweedSet(t)}, "finds": []any{damaged}})))
}

func TestVerdictRefusals(t *testing.T) {
	c := New()
	for name, request := range map[string]object{
		"nothing held":        asked(1, object{"held": true}),
		"no shore":            asked(1, object{"shore": nil}),
		"half a place":        asked(1, object{"shore": object{"lat": 1, "zone": "UTC"}}),
		"no such zone":        asked(1, object{"shore": object{"zone": "Sea/Nowhere"}}),
		"a misspelt field":    asked(1, object{"find": object{"at": "2024-05-01T19:00:00Z", "taxa": "Ulva"}}),
		"no time":             asked(1, object{"find": object{"taxon": "Ulva"}}),
		"a check of no days":  asked(1, object{"textDays": -1}),
		"a crowd":             asked(1, object{"party": make([]object, maxParty+1)}),
		"a part of the party": asked(1, object{"party": []any{object{"shoe": 42}}}),
	} {
		_, err := c.Call("verdict", marshal(t, request), takeNow)
		var f *fault.Error
		require.True(t, errors.As(err, &f), name)
		assert.NotEqual(t, fault.Internal, f.Code, name)
		assert.NotEmpty(t, f.Message, name)
	}
	assert.Error(t, c.AddToLedger([]byte(`{}`)), "nothing is open")
	assert.Error(t, c.OpenLedger([]byte(`{"finds": [`)))
	assert.Error(t, c.OpenLedger([]byte(strings.Repeat(" ", maxLedgerBytes+1))))
	assert.NotContains(t, strings.Join(Calls(), " "), "edger", "the ledger is filled over HTTP")
}

// TestATideOfTheStation: a limit a tide counts from the station's high water. San Francisco
// had one at 16:41 UTC on 2026-01-01 (NOAA CO-OPS, testdata/tides/noaa/9414290).
func TestATideOfTheStation(t *testing.T) {
	c := opened(t)
	set := object{"id": "set", "shores": []string{"bay"}, "checked": object{"on": "2026-01-01", "by": "Ada"}, "document": object{
		"form": 1, "name": "x", "layer": "national", "authority": "x", "ask": "x", "source": "x", "sourceDate": "2026-01-01", "area": object{"place": "x", "everywhere": true},
		"rules": object{"all": object{"of": object{"all": true}, "take": "allowed", "limits": []any{object{"most": 5000, "unit": "g", "base": "person", "per": "tide"}}}}}}
	for taken, want := range map[string]string{"2026-01-01T16:30:00Z": "within", "2026-01-01T16:52:00Z": "over"} {
		before := seaweed("a", 4500)
		before["at"] = taken
		request := asked(1000, object{"sets": []any{set}, "finds": []any{before}, "shore": object{"lat": 37.8, "lon": -122.5, "zone": "America/Los_Angeles", "station": "noaa/9414290"}})
		request["find"].(object)["at"] = "2026-01-01T20:00:00Z"
		now := time.Date(2026, 1, 2, 0, 0, 0, 0, time.UTC)
		assert.Equal(t, want, gradeAt(t, c, request, now), taken)
		request["shore"].(object)["station"] = "noaa/0"
		assert.Equal(t, "unchecked", gradeAt(t, c, request, now), "no such station")
	}
}

func TestRulesetCall(t *testing.T) {
	c := New()
	file := string(model(t, "19-finistere"))
	out, err := c.Call("ruleset", marshal(t, object{"file": file}), takeNow)
	require.NoError(t, err)
	var answer struct{ Document json.RawMessage }
	require.NoError(t, json.Unmarshal(out, &answer))
	assert.JSONEq(t, file, string(answer.Document))
	again, err := c.Call("ruleset", marshal(t, object{"document": answer.Document}), takeNow)
	require.NoError(t, err)
	assert.Equal(t, string(out), string(again))

	_, err = c.Call("ruleset", marshal(t, object{"file": file[:len(file)/2]}), takeNow)
	assert.Equal(t, fault.BadJSON, fault.From(err).Code)
	_, err = c.Call("ruleset", marshal(t, object{}), takeNow)
	assert.Equal(t, fault.BadJSON, fault.From(err).Code)
}

// BenchmarkVerdictCall is the whole call, as the worker gets it: 48 rules, 10,000 finds held.
func BenchmarkVerdictCall(b *testing.B) {
	c := New()
	var finds []any
	for i := range 10_000 {
		f := seaweed(fmt.Sprint("find ", i), 10)
		f["at"] = takeNow.Add(-time.Duration(i) * 4 * time.Hour).Format(time.RFC3339)
		finds = append(finds, f)
	}
	var sets []any
	for i, name := range []string{"04-washington-seaweed", "01-california-algae", "05-washington-parks", "19-finistere", "15-new-south-wales", "18-south-africa", "06-washington-clams", "13-new-zealand"} {
		s := seaweedSet(b)
		s["id"], s["document"] = fmt.Sprint("set ", i), model(b, name)
		sets = append(sets, s)
	}
	require.NoError(b, c.OpenLedger(marshal(b, object{"sets": sets, "finds": finds})))
	request := marshal(b, asked(100, object{"held": true}))
	for b.Loop() {
		_, err := c.Call("verdict", request, takeNow)
		require.NoError(b, err)
	}
}

// TestNumbersBeyondReason are refused or not known; the answer is an answer.
func TestNumbersBeyondReason(t *testing.T) {
	c := New()
	ask := func(shore, amount string, number int) (string, error) {
		doc := `{"form":1,"name":"n","layer":"national","authority":"a","ask":"b","source":"c","sourceDate":"2026-01-01","area":{"place":"p","everywhere":true},
			"rules":{"x":{"of":{"all":true},"take":"allowed","limits":[{"most":5,"unit":"count","base":"person","per":"day"}],"hours":{"from":"sunrise","to":"sunset"}}}}`
		find := `"at":"2026-06-10T10:00:00Z","by":"ada","taxon":"Ulva lactuca","state":"attached","shore":"s","amount":{"value":` + amount + `,"unit":"count"}`
		answer, err := c.Call("verdict", fmt.Appendf(nil, `{"sets":[{"id":"a","document":%s,"checked":{"on":"2026-06-01","by":"x"},"shores":["s"]}],
			"finds":[{"id":"f","by":"ada",%s},{"id":"g",%s}],"find":{%s},"shore":%s,"purpose":"home","party":[{"id":"ada","number":%d},{"id":"bo","number":%d}]}`,
			doc, find, find, find, shore, number, number), time.Date(2026, 6, 10, 10, 0, 0, 0, time.UTC))
		var v struct{ Verdict string }
		if err == nil {
			require.NoError(t, json.Unmarshal(answer, &v))
		}
		return v.Verdict, err
	}
	const here = `{"id":"s","zone":"UTC","lat":50,"lon":0}`
	word, err := ask(here, "1", 1)
	require.NoError(t, err)
	assert.Equal(t, "within", word)
	word, err = ask(here, "1e308", math.MaxInt)
	require.NoError(t, err)
	assert.Equal(t, "unchecked", word, "it is not known how many")
	for _, shore := range []string{`{"id":"s","zone":"UTC","lat":1e300,"lon":0}`, `{"id":"s","zone":"UTC","lat":50,"lon":1e300}`, `{"id":"s","zone":"UTC","lat":50,"lon":0,"withinM":-5}`} {
		_, err = ask(shore, "1", 1)
		var f *fault.Error
		require.ErrorAs(t, err, &f, shore)
		assert.Equal(t, fault.BadInput, f.Code, shore)
	}
}
