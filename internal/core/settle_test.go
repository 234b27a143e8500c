package core

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
)

// What the tanks ask wrongly has its own code, field and sentence.
func TestBadTankRequests(t *testing.T) {
	c := New()
	const bag = `{"volumeL":2,"salinity":{"value":34,"instrument":"refractometer","scale":"PSS-78"},"temperatureC":15}`
	for _, row := range []struct{ name, call, request, field string }{
		{"no zone", "clock", `{}`, "zone"},
		{"unknown field", "clock", `{"zone":"Europe/London","fish":[]}`, "fish"},
		{"too many displays", "clock", `{"zone":"Europe/London","fits":[{}` + strings.Repeat(",{}", maxFits) + `]}`, "fits"},
		{"a specimen not on file", "clock", `{"zone":"Europe/London","recall":"nobody"}`, "specimen"},
		{"no bag", "acclimate", `{"tank":` + bag + `}`, "bag"},
		{"no salinity", "acclimate", `{"bag":` + bag + `,"tank":{"volumeL":3,"temperatureC":12}}`, "tank"},
		{"an unknown scale", "acclimate", `{"bag":` + strings.Replace(bag, "PSS-78", "%", 1) + `,"tank":` + bag + `}`, "scale"},
		{"no sum", "water", `{}`, "do"},
		{"no salinity of a water", "water", `{"do":"salinity"}`, "salinity"},
		{"a salinity of 90", "water", `{"do":"salinity","salinity":90}`, "salinity"},
		{"a reading of 90", "water", `{"do":"salinity","reading":{"value":90,"instrument":"refractometer","scale":"ppt"}}`, "value"},
		{"no litres", "water", `{"do":"target","salinity":34,"target":35}`, "litres"},
		{"no target", "water", `{"do":"target","salinity":34,"litres":10}`, "target"},
		{"litres of a change below nothing", "water", `{"do":"change","salinity":34,"litres":10,"changeL":-1}`, "changeL"},
		{"more changed than there is", "water", `{"do":"change","salinity":34,"litres":10,"changeL":11}`, "changeL"},
		{"a thousand changes", "water", `{"do":"change","salinity":34,"litres":10,"changeL":1,"times":1000}`, "times"},
		{"a mix of salt alone", "water", `{"do":"change","salinity":34,"litres":10,"changeL":1,"yield":9}`, "yield"},
		{"all gone into the air", "water", `{"do":"topUp","salinity":34,"litres":10,"lostL":10.3}`, "lost"},
		{"down by salt", "water", `{"do":"topUp","salinity":34,"litres":10,"target":35}`, "target"},
		{"one water to mix", "water", `{"do":"mix","salinity":34,"litres":10}`, "with"},
		{"ammonia without pH", "water", `{"do":"ammonia","salinity":34,"temperatureC":20,"ammoniaMgNL":1}`, "pH"},
		{"pH 15", "water", `{"do":"ammonia","salinity":34,"temperatureC":20,"ammoniaMgNL":1,"pH":{"value":15}}`, "pH"},
		{"a pH on no scale", "water", `{"do":"ammonia","salinity":34,"temperatureC":20,"ammoniaMgNL":1,"pH":{"value":8,"scale":"x"}}`, "pHScale"},
		{"oxygen below nothing", "water", `{"do":"oxygen","salinity":34,"oxygenMgL":-1}`, "oxygenMgL"},
		{"nothing to check", "water", `{"do":"check"}`, "readings"},
		{"litres below nothing", "acclimate", `{"bag":` + strings.Replace(bag, "2,", "-2,", 1) + `,"tank":` + bag + `}`, "bag.volumeL"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := c.Call(row.call, []byte(row.request), now)
			f := fault.From(err)
			require.NotNil(t, f)
			assert.Equal(t, fault.BadInput, f.Code, f.Message)
			assert.Equal(t, row.field, f.Field)
			assert.Regexp(t, `^["A-Z].*[.…]$`, f.Message)
		})
	}
}

// Of changes that cannot do it, it is said how much or how many would.
func TestTooLittleIsChanged(t *testing.T) {
	_, err := New().Call("water", []byte(`{"do":"change","litres":180,"salinity":30,"changeL":10,"target":34}`), now)
	// By hand: to 34 with water of 40 takes 4/10 of it, 72 L; and (1 - 1/18)^9 = 0.598 is under 0.6, (1 - 1/18)^8 is not.
	assert.Equal(t, "10 L of 180 L cannot bring 30.0 to 34.0 in one change. It takes 72 L at once, or 9 changes like this.", fault.From(err).Message)
}

// What is done by so many changes alike is what each of them does, step by step.
func TestChangesAreEachOne(t *testing.T) {
	done := 0
	rapid.Check(t, func(t *rapid.T) {
		litres := rapid.Float64Range(1, 500).Draw(t, "litres")
		change := litres * rapid.Float64Range(0.05, 0.9).Draw(t, "share")
		s, target := rapid.Float64Range(20, 38).Draw(t, "salinity"), rapid.Float64Range(20, 38).Draw(t, "target")
		times := rapid.IntRange(1, 6).Draw(t, "times")
		data, err := New().Call("water", fmt.Appendf(nil, `{"do":"change","litres":%v,"changeL":%v,"salinity":%v,"target":%v,"times":%d}`, litres, change, s, target, times), now)
		if err != nil {
			assert.Equal(t, "changeL", fault.From(err).Field)
			return
		}
		var out changeAnswer
		require.NoError(t, json.Unmarshal(data, &out))
		require.Len(t, out.After, times)
		for _, after := range out.After {
			s += (out.NewSalinity - s) * change / litres
			assert.InDelta(t, s, after.Salinity, 0.011)
		}
		assert.InDelta(t, target, s, 0.011)
		done++
	})
	assert.Positive(t, done)
}

// A year of twenty jars goes through in one request, though it is larger than others may be.
func TestClockTakesAYear(t *testing.T) {
	var events []string
	for jar := range 20 {
		for day := range 365 {
			events = append(events, fmt.Sprintf(`{"id":"%08d-0000-7000-8000-%012d","checked":{"at":"2025-%02d-%02dT09:00:00Z","of":"tank/%08d-0000-7000-8000-000000000000","by":null,"signs":[]}}`,
				jar, day, day%12+1, day%28+1, jar))
		}
	}
	request := `{"zone":"Europe/London","events":[` + strings.Join(events, ",") + `]}`
	require.Greater(t, len(request), MaxRequestBytes)
	_, err := New().Call("clock", []byte(request), now)
	require.NoError(t, err)
	_, err = New().Call("clock", []byte(strings.Repeat(" ", maxTankBytes+1)), now)
	assert.Equal(t, fault.TooLarge, fault.From(err).Code)
}

// What is held is reckoned as what comes with the request, whatever order it was given in,
// and nothing is reckoned from what was never opened.
func TestHeldTanks(t *testing.T) {
	c := New()
	_, err := c.Call("clock", []byte(`{"held":true}`), now)
	assert.Equal(t, "held", fault.From(err).Field)
	require.Error(t, c.AddToTanks([]byte(`{}`)))
	require.Error(t, c.OpenTanks([]byte(`{}`)), "no zone")
	require.Error(t, c.OpenTanks([]byte(`[`)))

	const jar, lot = `{"id":"jar","use":"quarantine"}`, `{"id":"lot","group":"snails"}`
	const came, look = `{"id":"came","arrived":{"at":"2026-11-20T18:00:00Z","of":"specimen/lot","tank":"jar"}}`, `{"id":"look","checked":{"at":"2026-11-21T09:00:00Z","of":"tank/jar","by":"mum","signs":[]}}`
	const mum = `{"id":"mum","age":"adult"}`
	whole, err := c.Call("clock", []byte(`{"zone":"Europe/London","members":[`+mum+`],"tanks":[`+jar+`],"specimens":[`+lot+`],"events":[`+came+`,`+look+`]}`), now)
	require.NoError(t, err)
	require.NoError(t, c.OpenTanks([]byte(`{"household":{"id":"home","home":{"zone":"Europe/London"}},"events":[`+look+`,{"id":"slip","sign":{"at":"2026-11-21T10:00:00Z","of":"tank/jar","what":"x","grade":"notify"}}]}`)))
	require.NoError(t, c.AddToTanks([]byte(`{"members":[`+mum+`],"tanks":[`+jar+`],"specimens":[`+lot+`],"events":[`+came+`,{"id":"slip","deleted":true}]}`)))
	held, err := c.Call("clock", []byte(`{"held":true}`), now)
	require.NoError(t, err)
	assert.JSONEq(t, string(whole), string(held))

	few := ask[clockAnswer](t, c, "clock", `{"held":true,"days":2}`)
	require.Len(t, few.Systems, 1)
	require.Len(t, few.Systems[0].Days, 2)
	assert.Equal(t, "2026-11-25", few.Systems[0].Days[1].Day.String())
	assert.Equal(t, 1, few.Systems[0].Quiet)
	_, err = c.Call("clock", []byte(`{"held":true,"days":-1}`), now)
	assert.Equal(t, "days", fault.From(err).Field)
}
