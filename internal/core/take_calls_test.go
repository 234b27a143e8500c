package core

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/take"
)

func answered[T any](t *testing.T, c *Core, call string, request object, now time.Time) T {
	t.Helper()
	var out T
	data, err := c.Call(call, marshal(t, request), now)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &out))
	return out
}

// told is what these tests read of a verdict.
type told struct {
	Verdict string
	Spoke   []struct {
		What, Verdict, Text string
		Count               *struct {
			Total float64
			Finds []string
		}
	}
}

// TestTwoPhonesThatMeet: each of two phones without signal takes the last that is within the
// limit of ten pounds (4535.92 g, RCW 79.135.410 as modelled in testdata/rules/04). In
// whatever order and however often the finds then reach either, both phones say the same of
// both finds: over, with both named.
func TestTwoPhonesThatMeet(t *testing.T) {
	earlier, one, two := seaweed("earlier", 4000), seaweed("one", 535.92), seaweed("two", 535.92)
	two["at"] = "2024-05-01T19:20:00Z"
	about := func(f object) object {
		find := object{}
		for k, v := range f {
			if k != "note" {
				find[k] = v
			}
		}
		return asked(0, object{"held": true, "find": find})
	}
	phone := func(own object) *Core {
		c := New()
		require.NoError(t, c.OpenLedger(marshal(t, object{"sets": []any{seaweedSet(t)}, "finds": []any{earlier, own}})))
		v := answered[told](t, c, "verdict", about(own), takeNow)
		assert.Equal(t, "atLimit", v.Verdict)
		return c
	}
	for _, order := range [][]object{{one, two, earlier}, {two, one, earlier}, {earlier, two, one}, {two, earlier, one}, {one, earlier, two}, {earlier, one, two}, {two, two, one, one}} {
		a, b := phone(one), phone(two)
		for i := range order {
			require.NoError(t, a.AddToLedger(marshal(t, object{"finds": []any{order[i]}})))
			require.NoError(t, b.AddToLedger(marshal(t, object{"finds": []any{order[len(order)-1-i]}})))
		}
		for _, find := range []object{one, two} {
			at, err := a.Call("verdict", marshal(t, about(find)), takeNow)
			require.NoError(t, err)
			bt, err := b.Call("verdict", marshal(t, about(find)), takeNow)
			require.NoError(t, err)
			assert.Equal(t, string(at), string(bt), "the phones differ")
			var v told
			require.NoError(t, json.Unmarshal(at, &v))
			assert.Equal(t, "over", v.Verdict)
			require.Equal(t, "limit", v.Spoke[0].What)
			assert.Subset(t, v.Spoke[0].Count.Finds, []string{"one", "two"})
			assert.InDelta(t, 5071.84, v.Spoke[0].Count.Total, 1e-6)
		}
	}
}

// TestALaterNameCounts: a find that was something else at first is what it was called last.
func TestALaterNameCounts(t *testing.T) {
	c := New()
	crab := seaweed("a", 4500)
	crab["taxon"], crab["group"] = "Carcinus maenas", "crabs"
	require.NoError(t, c.OpenLedger(marshal(t, object{"sets": []any{seaweedSet(t)}, "finds": []any{crab}})))
	assert.Equal(t, "within", grade(t, c, asked(100, object{"held": true})))
	crab["identified/1"] = object{"at": "2024-05-01T20:00:00Z", "by": nil, "taxon": "Ulva lactuca", "group": "greens"}
	require.NoError(t, c.AddToLedger(marshal(t, object{"finds": []any{crab}})))
	assert.Equal(t, "over", grade(t, c, asked(100, object{"held": true})))
	crab["identified/2"] = object{"at": "2024-05-01T21:00:00Z", "by": nil, "taxon": "Cancer pagurus", "group": "crabs"}
	require.NoError(t, c.AddToLedger(marshal(t, object{"finds": []any{crab}})))
	assert.Equal(t, "within", grade(t, c, asked(100, object{"held": true})))
	crab["deleted"] = true
	delete(crab, "identified/2")
	require.NoError(t, c.AddToLedger(marshal(t, object{"finds": []any{crab}})))
	assert.Equal(t, "within", grade(t, c, asked(100, object{"held": true})))
}

// TestOnFileAndClosedCalls: held or sent, the same; what they need of the request is asked
// for.
func TestOnFileAndClosedCalls(t *testing.T) {
	c := New()
	sets, finds := []any{seaweedSet(t)}, []any{seaweed("a", 2000)}
	require.NoError(t, c.OpenLedger(marshal(t, object{"sets": sets, "finds": finds})))
	shore := object{"id": "bay", "lat": 48, "lon": -122.6, "zone": "America/Los_Angeles"}
	windows := []any{object{"from": "2024-05-03T14:00:00Z", "to": "2024-05-03T17:00:00Z"}}
	for call, more := range map[string]object{"onFile": {"at": "2024-05-01T19:00:00Z", "party": []any{object{"id": "ada"}}}, "closed": {"windows": windows}} {
		request := func(from object) object {
			out := object{"shore": shore, "purpose": "home"}
			for _, list := range []object{more, from} {
				for k, v := range list {
					out[k] = v
				}
			}
			return out
		}
		held, err := c.Call(call, marshal(t, request(object{"held": true})), takeNow)
		require.NoError(t, err)
		sent, err := c.Call(call, marshal(t, request(object{"sets": sets, "finds": finds})), takeNow)
		require.NoError(t, err)
		assert.Equal(t, string(sent), string(held), call)
		assert.NotContains(t, string(held), ":null,\"rules", call)

		_, err = c.Call(call, marshal(t, request(object{"held": true, "shore": nil})), takeNow)
		assert.Equal(t, "shore.zone", fault.From(err).Field, call)
		_, err = New().Call(call, marshal(t, request(object{"held": true})), takeNow)
		assert.Equal(t, "held", fault.From(err).Field, call)
		_, err = c.Call(call, marshal(t, request(object{"held": true, "taxon": "Ulva"})), takeNow)
		assert.Equal(t, "taxon", fault.From(err).Field, call)
	}
	_, err := c.Call("onFile", marshal(t, object{"held": true, "shore": shore}), takeNow)
	assert.Equal(t, fault.BadInput, fault.From(err).Code, "on no day")

	out := answered[struct {
		Sets []struct {
			Rules []struct {
				Tallies []struct{ Lines []struct{ Count take.Count } }
			}
		}
	}](t, c, "onFile", object{"held": true, "shore": shore, "at": "2024-05-01T19:00:00Z", "purpose": "home", "party": []any{object{"id": "ada"}}}, takeNow)
	require.Len(t, out.Sets, 1)
	lines := out.Sets[0].Rules[0].Tallies[0].Lines
	require.Len(t, lines, 1)
	assert.Equal(t, 2000.0, lines[0].Count.Total)
	shut := answered[take.Shutting](t, c, "closed", object{"held": true, "shore": shore, "purpose": "home", "windows": windows}, takeNow)
	require.Len(t, shut.Windows, 1)
	assert.Equal(t, "", shut.Windows[0].Unchecked)
	empty := answered[take.Shutting](t, c, "closed", object{"shore": shore, "windows": windows}, takeNow)
	assert.Equal(t, "none", empty.Windows[0].Unchecked)
}

// TestAYearOfWindowsFitsIntoARequest: the most windows that are answered, and an answer
// that stays small however many rules are shut.
func TestAYearOfWindowsFitsIntoARequest(t *testing.T) {
	c := New()
	var windows []any
	for i := range take.MaxWindows {
		from := takeNow.Add(time.Duration(i) * 24 * time.Hour)
		windows = append(windows, object{"from": from.Format(time.RFC3339), "to": from.Add(3 * time.Hour).Format(time.RFC3339)})
	}
	set := seaweedSet(t)
	set["document"] = model(t, "19-finistere")
	require.NoError(t, c.OpenLedger(marshal(t, object{"sets": []any{set}})))
	data, err := c.Call("closed", marshal(t, object{"held": true, "windows": windows, "shore": object{"id": "bay", "lat": 48.4, "lon": -4.6, "zone": "Europe/Paris"}, "purpose": "home"}), takeNow)
	require.NoError(t, err)
	assert.Less(t, len(data), 400_000)
	t.Logf("%d windows, %d bytes", len(windows), len(data))
}

func TestTaxaOfOneName(t *testing.T) {
	c := New()
	for name, want := range map[string]string{"Conus textile": "Conus", "conus geographus": "Conus geographus", "Nowherea nulla": ""} {
		var out struct{ Named *struct{ Name string } }
		data, err := c.Call("taxa", []byte(fmt.Sprintf(`{"name":%q}`, name)), takeNow)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &out))
		if want == "" {
			assert.Nil(t, out.Named)
		} else {
			assert.Equal(t, want, out.Named.Name)
		}
	}
}

// FuzzTakes: no request on rules makes the core panic, answer without a code, or answer
// what is no JSON.
func FuzzTakes(f *testing.F) {
	set := object{"id": "s", "document": json.RawMessage(model(f, "21-guernsey")), "checked": object{"on": "2020-01-09", "by": "Ada"}, "shores": []string{"bay"}}
	shore := object{"id": "bay", "lat": 49.45, "lon": -2.6, "zone": "Europe/Guernsey", "visits": []string{"2020-01-02T10:00:00Z"}, "levels": object{"MHWS": 9.1}}
	party := []any{object{"id": "ada", "as": "adult", "born": 1980, "licences": []any{"card", object{"what": "x", "until": "2020-01-01"}}}}
	find := object{"id": "f", "at": "2020-01-12T13:00:00Z", "by": "ada", "shore": "bay", "taxon": "Haliotis tuberculata", "amount": object{"value": 2, "unit": "count"}, "share": object{"part": 0.1, "high": 0.2}}
	f.Add("verdict", string(marshal(f, object{"sets": []any{set}, "finds": []any{find}, "find": find, "shore": shore, "party": party, "purpose": "home"})))
	f.Add("onFile", string(marshal(f, object{"sets": []any{set}, "finds": []any{find}, "at": "2020-01-12T13:00:00Z", "shore": shore, "party": party, "purpose": "home"})))
	f.Add("closed", string(marshal(f, object{"sets": []any{set}, "finds": []any{find}, "shore": shore, "party": party, "purpose": "home", "windows": []any{object{"from": "2020-01-12T13:00:00Z", "to": "2020-01-13T13:00:00Z"}}})))
	f.Add("share", `{"square":{"sideM":0.5,"counts":[4,7,3]},"patch":{"longPaces":20,"widePaces":6,"paceM":0.7},"taking":10}`)
	f.Add("share", `{"patch":{"longPaces":1,"widePaces":1},"part":{"longPaces":1,"widePaces":1}}`)
	f.Add("ruleset", string(marshal(f, object{"document": model(f, "05-washington-parks")})))
	c := New()
	f.Fuzz(func(t *testing.T, name, request string) {
		out, err := c.Call(name, []byte(request), takeNow)
		if err != nil {
			e := fault.From(err)
			require.NotEqual(t, fault.Internal, e.Code, "%v", e.Err)
			require.NotEmpty(t, e.Message)
			return
		}
		require.True(t, json.Valid(out))
	})
}
