package core

import (
	"bufio"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"hash/fnv"
	"math"
	"os"
	"slices"
	"sort"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
	"wrackbook/internal/zone"
)

// ids lists every station of the catalogue's source.
func ids(t *testing.T) []string {
	t.Helper()
	f, err := os.Open("../../testdata/stations/stations.jsonl.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	lines := bufio.NewScanner(z)
	lines.Buffer(nil, 1<<20)
	var out []string
	for lines.Scan() {
		var s struct{ ID string }
		require.NoError(t, json.Unmarshal(lines.Bytes(), &s))
		out = append(out, s.ID)
	}
	require.Len(t, out, 5843)
	return out
}

// sample picks stations with a distinct tide and a chart datum, by form of tide: sixty of
// each spread over the catalogue, and the ten of each with the smallest tide.
func sample(t *testing.T, c *Core) map[string][]*place {
	t.Helper()
	all := map[string][]*place{}
	for _, id := range ids(t) {
		p, err := c.place(id)
		require.NoError(t, err, id)
		if p.refusal == nil && p.distinct && p.Datum != "MSL" {
			all[formText(p.form)] = append(all[formText(p.form)], p)
		}
	}
	spread := func(id string) uint32 {
		h := fnv.New32a()
		h.Write([]byte(id))
		return h.Sum32()
	}
	picked := map[string][]*place{}
	for form, list := range all {
		sort.Slice(list, func(i, j int) bool { return list[i].TideM < list[j].TideM })
		few := append([]*place(nil), list[:10]...)
		rest := list[10:]
		sort.Slice(rest, func(i, j int) bool { return spread(rest[i].ID) < spread(rest[j].ID) })
		picked[form] = append(few, rest[:min(60, len(rest))]...)
		require.GreaterOrEqual(t, len(picked[form]), 50, form)
	}
	require.Len(t, picked, 4)
	return picked
}

// TestWindowPromises holds the promises of a window at 280 stations of the catalogue, of
// each form of tide, small ranges among them: off by is never later than low water and an
// hour, than the raised sea at the way-off height less the margin, than the end of the
// light less the walk out; the raised twin is inside its window; a lower workable height
// never lengthens one; edges are in order. The way-off moment is found here by scanning
// the heights minute by minute.
func TestWindowPromises(t *testing.T) {
	const margin, walkOut = 20 * time.Minute, 15 * time.Minute
	c := opened(t)
	from := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	to := from.AddDate(0, 1, 0)
	for form, places := range sample(t, c) {
		windows, compared, refused := 0, 0, 0
		for i, p := range places {
			curve, err := p.tide.Curve(from.AddDate(0, 0, -4), to.AddDate(0, 0, 4))
			if err != nil {
				require.Equal(t, fault.WatersCross, fault.From(err).Code, p.ID)
				refused++
				continue
			}
			lows := []float64{}
			for _, w := range curve.Waters() {
				if w.Kind == tide.Low {
					lows = append(lows, w.HeightM)
				}
			}
			require.NotEmpty(t, lows, p.ID)
			sort.Float64s(lows)
			below := round(lows[len(lows)/2]+0.05, 1000)
			wayOff := round(below+0.1+0.3*float64(i%3), 1000)
			light := []string{"sun", "civil", "any"}[i%3]
			list := func(level float64) []windowAnswer {
				request := fmt.Sprintf(`{"shore":{"station":%q,"below":%v,"wayOff":%v,"margin":20,"walkOut":15,"cutOff":%v},"from":"2026-03-01T00:00:00Z","to":"2026-04-01T00:00:00Z","light":%q}`,
					p.ID, level, wayOff, i%4 == 3, light)
				return ask[windowsAnswer](t, c, "windows", request).Windows
			}
			got := list(below)
			windows += len(got)
			lit, err := sky.Lit(sky.Site{LatDeg: p.Lat, LonEastDeg: p.LonEast}, sky.Light(light), from.AddDate(0, 0, -3), to.AddDate(0, 0, 3))
			require.NoError(t, err)
			for k, w := range got {
				tag := fmt.Sprintf("%s %s", p.ID, w.Day)
				at := func(i Instant) time.Time { return time.Time(i) }
				off := at(w.OffBy)
				require.False(t, off.After(at(w.Low.Time).Add(time.Hour)), tag)
				require.Equal(t, walkOut, off.Sub(at(w.StartBack)), tag)
				if i%4 == 3 {
					require.False(t, at(w.StartBack).After(at(w.Low.Time)), "%s can be cut off", tag)
				}
				// The raised sea from low water on: never at the way-off height until margin
				// after off by.
				for x := at(w.Low.Time); x.Before(off.Add(margin - time.Minute)); x = x.Add(time.Minute) {
					require.Less(t, curve.HeightM(x)+0.2, wayOff+0.002, "%s at %v", tag, x)
				}
				if light != "any" {
					n := slices.IndexFunc(lit, func(s sky.Span) bool {
						return !at(w.LitFrom).Before(s.From.Add(-time.Second)) && !at(w.LitTo).After(s.To.Add(time.Second))
					})
					require.GreaterOrEqual(t, n, 0, tag)
					if !lit[n].ToIsEdge {
						require.False(t, off.After(lit[n].To.Add(-walkOut)), tag)
					}
				}
				order := []time.Time{at(w.LitFrom), at(w.UsableFrom), at(w.UsableTo), at(w.LitTo)}
				if w.Opens != nil {
					order = append([]time.Time{at(*w.Opens)}, order...)
				}
				if w.Shuts != nil {
					order = append(order, at(*w.Shuts))
				}
				require.True(t, slices.IsSortedFunc(order, time.Time.Compare), "%s %v", tag, order)
				require.Equal(t, int(at(w.UsableTo).Sub(at(w.UsableFrom)).Minutes()), w.UsableMinutes, tag)
				if w.Raised != nil {
					require.False(t, at(w.Raised.UsableFrom).Before(at(w.UsableFrom)), tag)
					require.False(t, at(w.Raised.UsableTo).After(at(w.UsableTo)), tag)
				}
				if k > 0 {
					minutes := func(r *twin) int {
						if r == nil {
							return 0
						}
						return r.UsableMinutes
					}
					require.GreaterOrEqual(t, minutes(got[k-1].Raised), minutes(w.Raised), "order of %s", tag)
				}
			}
			// A lower level: a window on the same low water in the same light is no longer. (Two
			// lit parts of one dry spell may hang on one low water.)
			for _, low := range list(round(below-0.07, 1000)) {
				for _, w := range got {
					if low.Low.Time == w.Low.Time && !time.Time(low.LitFrom).Before(time.Time(w.LitFrom)) && !time.Time(low.LitTo).After(time.Time(w.LitTo)) {
						require.False(t, time.Time(low.UsableFrom).Before(time.Time(w.UsableFrom)), "%s %s", p.ID, low.Day)
						require.LessOrEqual(t, low.UsableMinutes, w.UsableMinutes, "%s %s", p.ID, low.Day)
						compared++
					}
				}
			}
		}
		t.Logf("%s: %d stations, %d windows, %d refused because waters cross", form, len(places), windows, refused)
		assert.Greater(t, windows, 500, form)
		assert.Greater(t, compared, 100, form)
		assert.LessOrEqual(t, refused, 6)
	}
}

// TestStationWithoutSeaLevel: the one station that has no mean sea level can be looked at,
// says so, and gives no heights.
func TestStationWithoutSeaLevel(t *testing.T) {
	c := opened(t)
	var none []string
	for _, id := range ids(t) {
		p, err := c.place(id)
		require.NoError(t, err, id)
		if p.refusal != nil && !p.Secondary() {
			none = append(none, id)
		}
	}
	require.Equal(t, []string{"noaa/8519024"}, none)
	s := ask[stationAnswer](t, c, "station", `{"station":"noaa/8519024"}`)
	assert.Nil(t, s.MSL)
	require.NotEmpty(t, s.Cautions)
	assert.True(t, s.Cautions[0].Serious)
	for call, request := range map[string]string{
		"tides":   `{"station":"noaa/8519024","from":"2026-01-01","to":"2026-01-02"}`,
		"heights": `{"station":"noaa/8519024","from":"2026-01-01","to":"2026-01-02","every":"1h"}`,
		"windows": `{"shore":{"station":"noaa/8519024","below":0.3},"from":"2026-01-01","to":"2026-01-02"}`,
	} {
		_, err := c.Call(call, []byte(request), now)
		require.Error(t, err)
		assert.Equal(t, fault.NoDatum, fault.From(err).Code)
	}
}

// TestLocalDays: a window belongs to the local day of its low water on both change days of
// a zone with daylight saving, and on either side of the 180th meridian. The offsets are
// the published rules of the zones.
func TestLocalDays(t *testing.T) {
	c := opened(t)
	for _, row := range []struct {
		name, station, zone string
		from                time.Time
		days                int
		offset              func(time.Time) time.Duration // published
	}{
		{"New York, clocks go forward 2026-03-08 07:00 UTC", "noaa/8518750", "America/New_York", time.Date(2026, 3, 6, 0, 0, 0, 0, time.UTC), 5,
			change(time.Date(2026, 3, 8, 7, 0, 0, 0, time.UTC), -5, -4)},
		{"New York, clocks go back 2026-11-01 06:00 UTC", "noaa/8518750", "America/New_York", time.Date(2026, 10, 30, 0, 0, 0, 0, time.UTC), 5,
			change(time.Date(2026, 11, 1, 6, 0, 0, 0, time.UTC), -4, -5)},
		{"Auckland, clocks go forward 2026-09-26 14:00 UTC", "ticon/auckland-auct-nzl-ttw", "Pacific/Auckland", time.Date(2026, 9, 24, 0, 0, 0, 0, time.UTC), 5,
			change(time.Date(2026, 9, 26, 14, 0, 0, 0, time.UTC), 12, 13)},
		{"west of the 180th meridian: Tonga", "ticon/auckland-auct-nzl-ttw", "Pacific/Tongatapu", time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), 5,
			change(time.Time{}, 13, 13)},
		{"east of it: Samoa (American)", "noaa/1770000", "Pacific/Pago_Pago", time.Date(2026, 5, 1, 0, 0, 0, 0, time.UTC), 5,
			change(time.Time{}, -11, -11)},
	} {
		t.Run(row.name, func(t *testing.T) {
			to := row.from.AddDate(0, 0, row.days)
			request := fmt.Sprintf(`{"shore":{"station":%q,"below":0.9,"zone":%q},"from":%q,"to":%q,"light":"any"}`,
				row.station, row.zone, row.from.Format(time.RFC3339), to.Format(time.RFC3339))
			answer := ask[windowsAnswer](t, c, "windows", request)
			require.NotEmpty(t, answer.Windows)
			for _, w := range answer.Windows {
				low := time.Time(w.Low.Time)
				assert.Equal(t, low.Add(row.offset(low)).Format(time.DateOnly), w.Day, "low at %v", low)
			}
			// A date is its midnight in the zone, whatever the offset that day.
			at, err := zone.Load(row.zone)
			require.NoError(t, err)
			_, err = c.Call("windows", []byte(fmt.Sprintf(`{"shore":{"station":%q,"below":0.9,"zone":%q},"from":%q,"to":%q}`,
				row.station, row.zone, row.from.In(at).Format(time.DateOnly), to.In(at).Format(time.DateOnly))), now)
			require.NoError(t, err)
		})
	}
}

func change(at time.Time, before, after int) func(time.Time) time.Duration {
	return func(t time.Time) time.Duration {
		if t.Before(at) {
			return time.Duration(before) * time.Hour
		}
		return time.Duration(after) * time.Hour
	}
}

// TestPolarShore: in the polar night there is no window in the sun and the answer says so
// with the next one; in the polar day every dry spell is lit throughout.
func TestPolarShore(t *testing.T) {
	c := opened(t)
	near := ask[stationsAnswer](t, c, "stations", `{"near":{"lat":70.66,"lon":23.68},"limit":1}`).Stations[0]
	require.Greater(t, near.Lat, 70.0)
	shore := fmt.Sprintf(`{"shore":{"station":%q,"below":1.0,"wayOff":1.5},`, near.ID)
	dark := ask[windowsAnswer](t, c, "windows", shore+`"from":"2026-12-05","to":"2026-12-20"}`)
	require.Empty(t, dark.Windows)
	require.NotNil(t, dark.None)
	assert.Equal(t, "light_never", dark.None.Code)
	require.NotNil(t, dark.None.Next)
	assert.Contains(t, dark.None.Next.Day, "2027-01")
	bright := ask[windowsAnswer](t, c, "windows", shore+`"from":"2026-06-05","to":"2026-06-20"}`)
	require.NotEmpty(t, bright.Windows)
	for _, w := range bright.Windows {
		assert.Equal(t, time.Time(*w.Opens), time.Time(w.LitFrom))
		assert.Equal(t, time.Time(*w.Shuts), time.Time(w.LitTo))
		assert.False(t, math.IsNaN(w.Low.Height))
	}
}
