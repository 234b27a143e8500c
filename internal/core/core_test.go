package core

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/station/embedded"
)

var now = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// opened returns a core with the catalogue.
func opened(tb testing.TB) *Core {
	tb.Helper()
	c := New()
	require.NoError(tb, c.OpenCatalogue(embedded.Catalogue()))
	return c
}

// ask puts a request and decodes the answer.
func ask[T any](tb testing.TB, c *Core, call, request string) T {
	tb.Helper()
	var out T
	data, err := c.Call(call, []byte(request), now)
	require.NoError(tb, err, "%s %s", call, request)
	require.NoError(tb, json.Unmarshal(data, &out))
	return out
}

// UnmarshalJSON lets the tests read answers back.
func (t *Instant) UnmarshalJSON(data []byte) error {
	return (*time.Time)(t).UnmarshalJSON(data)
}

// TestBadRequests: each wrong request has its own code, field and a sentence.
func TestBadRequests(t *testing.T) {
	c := opened(t)
	const sf = `"station":"noaa/9414290"`
	shore := func(more string) string {
		return `{"shore":{` + sf + `,"below":0.3` + more + `},"from":"2026-12-01","to":"2026-12-31"}`
	}
	for _, row := range []struct {
		name, call, request string
		code                fault.Code
		field               string
	}{
		{"no such call", "tide", `{}`, fault.UnknownCall, ""},
		{"truncated", "tides", `{"station":"noaa/94`, fault.BadJSON, ""},
		{"not JSON", "tides", `station=x`, fault.BadJSON, ""},
		{"an array", "tides", `[]`, fault.BadInput, ""},
		{"two objects", "tides", `{}{}`, fault.BadJSON, ""},
		{"unknown field", "tides", `{"place":"x"}`, fault.BadInput, "place"},
		{"wrong kind", "tides", `{"station":7}`, fault.BadInput, "station"},
		{"number too large", "windows", `{"shore":{` + sf + `,"below":1e999},"from":"2026-12-01","to":"2026-12-31"}`, fault.BadInput, "shore.below"},
		{"NaN", "windows", `{"shore":{"below":NaN}}`, fault.BadJSON, ""},
		{"too large", "tides", `{"station":"` + strings.Repeat("x", MaxRequestBytes) + `"}`, fault.TooLarge, ""},
		{"no station", "tides", `{"from":"2026-01-01","to":"2026-01-02"}`, fault.BadInput, "station"},
		{"unknown station", "tides", `{"station":"nowhere/1","from":"2026-01-01","to":"2026-01-02"}`, fault.UnknownStation, "station"},
		{"no from", "tides", `{` + sf + `,"to":"2026-01-02"}`, fault.BadInput, "from"},
		{"no date", "tides", `{` + sf + `,"from":"2026-02-30","to":"2026-03-02"}`, fault.BadInput, "from"},
		{"backwards", "tides", `{` + sf + `,"from":"2026-03-03","to":"2026-03-02"}`, fault.BadInput, "to"},
		{"nothing between", "tides", `{` + sf + `,"from":"2026-03-03","to":"2026-03-03"}`, fault.BadInput, "to"},
		{"year 1492", "tides", `{` + sf + `,"from":"1492-03-03","to":"1492-03-04"}`, fault.BadInput, "from"},
		{"year 2300", "tides", `{` + sf + `,"from":"2026-03-03","to":"2300-03-04"}`, fault.BadInput, "to"},
		{"six years", "tides", `{` + sf + `,"from":"2026-01-01","to":"2032-01-02"}`, fault.SpanTooLong, "to"},
		{"unknown zone", "tides", `{` + sf + `,"from":"2026-01-01","to":"2026-01-02","zone":"Mars/Olympus"}`, fault.UnknownZone, "zone"},
		{"the host's zone", "tides", `{` + sf + `,"from":"2026-01-01","to":"2026-01-02","zone":"Local"}`, fault.UnknownZone, "zone"},
		{"no step", "heights", `{` + sf + `,"from":"2026-01-01","to":"2026-01-02"}`, fault.BadInput, "every"},
		{"step of nothing", "heights", `{` + sf + `,"from":"2026-01-01","to":"2026-01-02","every":"0s"}`, fault.BadInput, "every"},
		{"negative step", "heights", `{` + sf + `,"from":"2026-01-01","to":"2026-01-02","every":"-6m"}`, fault.BadInput, "every"},
		{"too many heights", "heights", `{` + sf + `,"from":"2026-01-01","to":"2027-01-01","every":"1s"}`, fault.SpanTooLong, "every"},
		{"latitude 91", "sky", `{"lat":91,"lon":0,"from":"2026-01-01","to":"2026-01-02"}`, fault.BadInput, "latDeg"},
		{"no longitude", "sky", `{"lat":9,"from":"2026-01-01","to":"2026-01-02"}`, fault.BadInput, "lat"},
		{"sky for a lifetime", "sky", `{"lat":9,"lon":0,"from":"1950-01-01","to":"2026-01-02"}`, fault.SpanTooLong, "to"},
		{"nothing to find", "stations", `{}`, fault.BadInput, "find"},
		{"both searches", "stations", `{"find":"x","near":{"lat":1,"lon":1}}`, fault.BadInput, "find"},
		{"near nowhere", "stations", `{"near":{"lat":91,"lon":1}}`, fault.BadInput, ""},
		{"limit", "stations", `{"find":"x","limit":100000}`, fault.BadInput, "limit"},
		{"windows six years", "windows", `{"shore":{` + sf + `,"below":0.3},"from":"2026-01-01","to":"2032-01-02"}`, fault.SpanTooLong, "to"},
		{"no workable height", "windows", `{"shore":{` + sf + `},"from":"2026-01-01","to":"2026-01-02"}`, fault.BadInput, "below"},
		{"shore latitude", "windows", shore(`,"lat":91,"lon":0`), fault.BadInput, "latDeg"},
		{"half a position", "windows", shore(`,"lat":9`), fault.BadInput, "lat"},
		{"margin of years", "windows", shore(`,"margin":1e12`), fault.BadInput, "margin"},
		{"margin below nothing", "windows", shore(`,"margin":-1`), fault.BadInput, "margin"},
		{"light", "windows", `{"shore":{` + sf + `,"below":0.3},"from":"2026-12-01","to":"2026-12-31","light":"neon"}`, fault.BadInput, ""},
		{"weekday", "windows", `{"shore":{` + sf + `,"below":0.3},"from":"2026-12-01","to":"2026-12-31","days":["caturday"]}`, fault.BadInput, "days"},
		{"pressure", "windows", `{"shore":{` + sf + `,"below":0.3},"from":"2026-12-01","to":"2026-12-31","pressure":12}`, fault.BadInput, "pressure"},
		{"differences", "windows", shore(`,"differences":{"minutes":[0,0],"heights":[0,0],"heightsAre":"feet"}`), fault.BadInput, "heightsAre"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := c.Call(row.call, []byte(row.request), now)
			require.Error(t, err)
			f := fault.From(err)
			assert.Equal(t, row.code, f.Code, f.Message)
			if row.field != "" {
				assert.Equal(t, row.field, f.Field)
			}
			assert.Regexp(t, `^["A-Z].*[.…]$`, f.Message)
			assert.LessOrEqual(t, len(f.Message), 400)
		})
	}
}

func TestBeforeTheCatalogue(t *testing.T) {
	c := New()
	_, err := c.Call("tides", []byte(`{"station":"noaa/9414290","from":"2026-01-01","to":"2026-01-02"}`), now)
	assert.Equal(t, fault.NoCatalogue, fault.From(err).Code)
	_, err = c.Call("about", nil, now)
	assert.NoError(t, err)
	assert.Error(t, c.OpenCatalogue([]byte("not a catalogue")))
}

// TestMeanSeaLevelIsNoChartDatum: at a station whose heights count from mean sea level no
// workable height is taken, but the water can be looked at.
func TestMeanSeaLevelIsNoChartDatum(t *testing.T) {
	c := opened(t)
	found := 0
	for _, s := range ask[stationsAnswer](t, c, "stations", `{"near":{"lat":59,"lon":18},"limit":20}`).Stations {
		if s.Datum != "MSL" {
			continue
		}
		found++
		_, err := c.Call("windows", []byte(`{"shore":{"station":"`+s.ID+`","below":0.1},"from":"2026-12-01","to":"2026-12-31"}`), now)
		require.Error(t, err, s.ID)
		assert.Contains(t, []fault.Code{fault.NoDatum, fault.NoDistinctTide}, fault.From(err).Code)
		_, err = c.Call("heights", []byte(`{"station":"`+s.ID+`","from":"2026-12-01","to":"2026-12-02","every":"1h"}`), now)
		assert.NoError(t, err)
	}
	t.Logf("%d stations", found)
	require.Positive(t, found)
}

// FuzzCalls: no request makes a call panic or answer without a code.
func FuzzCalls(f *testing.F) {
	c := opened(f)
	for _, name := range Calls() {
		f.Add(name, `{"station":"noaa/9414290","from":"2026-01-01","to":"2026-01-03","every":"1h"}`)
		f.Add(name, `{"shore":{"station":"noaa/9414806","below":0.3,"wayOff":0.2,"cutOff":true,"differences":{"minutes":[1,-1],"heights":[1,1],"heightsAre":"ratio"}},"from":"2026-12-31","to":"2027-01-04","light":"any","days":["sat"],"pressure":990,"least":5}`)
		f.Add(name, `{"lat":89.9,"lon":-180,"from":"2026-01-01","to":"2026-01-03"}`)
		f.Add(name, `{"find":"Ål","limit":3}`)
		f.Add(name, `{"near":{"lat":-90,"lon":180}}`)
		f.Add(name, `{}`)
		for sum := range sums {
			f.Add(name, `{"do":"`+sum+`","litres":20,"changeL":5,"times":2,"reading":{"value":1.025,"instrument":"hydrometer","scale":"SG unknown","sampleC":59},"temperatureC":12,"target":35,"start":40,"added":1,"lostL":0.5,"with":{"litres":3,"salinity":30},"pH":{"value":8.1,"scale":"NBS"},"ammoniaMgNL":0.5,"readings":{"temperatureC":1e308}}`)
		}
	}
	f.Fuzz(func(t *testing.T, name, request string) {
		out, err := c.Call(name, []byte(request), now)
		if err != nil {
			var e *fault.Error
			require.ErrorAs(t, err, &e)
			require.NotEqual(t, fault.Internal, e.Code, "%v", e.Err)
			require.NotEmpty(t, e.Message)
			return
		}
		require.True(t, json.Valid(out))
	})
}

func TestRoundHasNoNegativeZero(t *testing.T) {
	assert.False(t, math.Signbit(round(-0.0001, 1000)))
}

func BenchmarkYearOfWindows(b *testing.B) {
	c := opened(b)
	request := []byte(`{"shore":{"station":"noaa/9414290","below":0.3,"wayOff":0.9},"from":"2026-01-01","to":"2027-01-01"}`)
	for b.Loop() {
		if _, err := c.Call("windows", request, now); err != nil {
			b.Fatal(err)
		}
	}
}

// TestShoreDifferences: a shore whose waters are 30 minutes later and 0.2 m higher has the
// station's waters moved by just that, in tables, heights and windows alike. NewSecondary
// refuses a warped curve as reference if it cannot be warped again, so ports work too.
func TestShoreDifferences(t *testing.T) {
	c := opened(t)
	for _, id := range []string{"noaa/9414290", "noaa/9414806"} {
		const span = `"from":"2026-12-20","to":"2026-12-22"`
		const own = `"differences":{"minutes":[30,30],"heights":[0.2,0.2],"heightsAre":"metres"}`
		plain := ask[tidesAnswer](t, c, "tides", `{"station":"`+id+`",`+span+`}`).Waters
		moved := ask[tidesAnswer](t, c, "tides", `{"station":"`+id+`",`+own+`,"from":"2026-12-20T00:30:00Z","to":"2026-12-22T00:30:00Z"}`).Waters
		require.Equal(t, len(plain), len(moved))
		for i := range plain {
			assert.Equal(t, time.Time(plain[i].Time).Add(30*time.Minute), time.Time(moved[i].Time))
			assert.InDelta(t, plain[i].Height+0.2, moved[i].Height, 0.0011)
		}
		a := ask[heightsAnswer](t, c, "heights", `{"station":"`+id+`",`+span+`,"every":"30m"}`).Heights
		b := ask[heightsAnswer](t, c, "heights", `{"station":"`+id+`",`+own+`,`+span+`,"every":"30m"}`).Heights
		for i := 1; i < len(a); i++ {
			assert.InDelta(t, a[i-1].Height+0.2, b[i].Height, 0.0011)
		}
		w := ask[windowsAnswer](t, c, "windows", `{"shore":{"station":"`+id+`","below":0.3,"zone":"UTC",`+own+`},`+span+`,"light":"any"}`)
		require.NotEmpty(t, w.Windows)
		v := ask[windowsAnswer](t, c, "windows", `{"shore":{"station":"`+id+`","below":0.1,"zone":"UTC"},`+span+`,"light":"any"}`)
		require.Equal(t, len(v.Windows), len(w.Windows))
		for i := range w.Windows {
			assert.InDelta(t, time.Time(*v.Windows[i].Opens).Add(30*time.Minute).Unix(), time.Time(*w.Windows[i].Opens).Unix(), 2)
		}
	}
}
