package station_test

import (
	"bufio"
	"compress/gzip"
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/station"
	"wrackbook/internal/station/embedded"
)

// allStations is the number of stations of the source, and of those that hang on others.
const (
	allStations       = 5843
	secondaryStations = 2241
	allConstants      = 139_120
)

// sourceStation is a line of the source, read without the code that packs it.
type sourceStation struct {
	ID, Name, Locality, Region, Country, TZ, Datum, Source, Licence, Ref, HeightsAre string

	Lat, Lon             float64
	MSL, Lowest, Highest *float64
	Epoch                []string
	Constituents         [][3]any
	Minutes, Heights     []float64
}

func source(t *testing.T) []sourceStation {
	t.Helper()
	f, err := os.Open("../../testdata/stations/stations.jsonl.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	var list []sourceStation
	lines := bufio.NewScanner(z)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var s sourceStation
		require.NoError(t, json.Unmarshal(lines.Bytes(), &s))
		list = append(list, s)
	}
	require.NoError(t, lines.Err())
	require.Len(t, list, allStations)
	return list
}

func open(t testing.TB) *station.Catalogue {
	t.Helper()
	c, err := station.Open(embedded.Catalogue())
	require.NoError(t, err)
	return c
}

// Every station comes back as the source has it, to the last digit.
func TestEveryStationEqualsItsSource(t *testing.T) {
	c := open(t)
	assert.Equal(t, "2026-09-24", c.Release())
	require.Equal(t, allStations, c.Len())
	secondary, constants := 0, 0
	for _, want := range source(t) {
		got, err := c.ByID(want.ID)
		require.NoError(t, err, want.ID)
		back := sourceStation{
			ID: got.ID, Name: got.Name, Locality: got.Locality, Region: got.Region, Country: got.Country,
			TZ: got.Zone, Datum: got.Datum, Source: got.Source, Licence: got.Licence, Ref: got.Ref, HeightsAre: got.HeightsAre,
			Lat: got.Lat, Lon: got.LonEast, MSL: got.MSLM, Lowest: got.LowestM, Highest: got.HighestM,
		}
		if got.EpochFrom != "" {
			back.Epoch = []string{got.EpochFrom, got.EpochTo}
		}
		for _, k := range got.Constants {
			back.Constituents = append(back.Constituents, [3]any{k.Name, k.AmplitudeM, k.PhaseDeg})
			constants++
		}
		if got.Secondary() {
			back.Minutes, back.Heights = got.Minutes[:], got.Heights[:]
			secondary++
		}
		require.Equal(t, want, back)
		assert.NotEmpty(t, got.Credit, want.ID)
	}
	assert.Equal(t, secondaryStations, secondary, "a secondary station was dropped")
	assert.Equal(t, allConstants, constants, "a constant was dropped")
}

// What a list shows is what the station says.
func TestMatchesAgreeWithStations(t *testing.T) {
	c := open(t)
	stations := source(t)
	for i := 0; i < len(stations); i += 11 {
		want := stations[i]
		found := c.Find(want.ID, 1)
		require.Len(t, found, 1, want.ID)
		m := found[0]
		require.Equal(t, want.ID, m.ID)
		s, err := c.ByID(m.ID)
		require.NoError(t, err)
		assert.Equal(t, station.Match{
			ID: s.ID, Name: s.Name, Place: s.Place, Country: s.Country, Lat: s.Lat, LonEast: s.LonEast,
			Zone: s.Zone, Datum: s.Datum, Reference: len(s.Constants) > 0, Source: s.Source,
		}, m)
	}
}

func TestUnknownStation(t *testing.T) {
	c := open(t)
	for _, id := range []string{"", "noaa/", "noaa/0000000", "NOAA/9414290", "zzz", strings.Repeat("x", 1<<20)} {
		s, err := c.ByID(id)
		assert.Nil(t, s)
		var f *fault.Error
		require.ErrorAs(t, err, &f)
		assert.Equal(t, fault.UnknownStation, f.Code)
		assert.Equal(t, "station", f.Field)
		assert.Contains(t, f.Message, "Search for the place by name")
		assert.Less(t, len(f.Message), 500)
	}
}

// The credits are those that the sources ask for, and NOTICE carries each of them.
func TestCredits(t *testing.T) {
	const ticon = "Hart-Davis, Dettmering, Seitz (2025), TICON-4: TIdal CONstants based on GESLA-4 sea-level records, SEANOE, doi 10.17882/109129"
	notice, err := os.ReadFile("../../NOTICE")
	require.NoError(t, err)
	credits := open(t).Credits()
	require.Len(t, credits, 4)
	for i, want := range []station.Credit{
		{Source: "NOAA CO-OPS", Licence: "public domain", Stations: 3487},
		{Source: "TICON-4", Licence: "CC-BY-4.0", Credit: ticon, Stations: 2323},
		{Source: "Kartverket", Licence: "CC-BY-4.0", Credit: "Norwegian Mapping Authority", Stations: 33},
		{Source: "openwatersio tide-database", Licence: "CC-BY-4.0"},
	} {
		got := credits[i]
		assert.Contains(t, string(notice), got.Credit)
		assert.Contains(t, string(notice), got.Source)
		if want.Credit == "" { // no wording is prescribed
			assert.NotEmpty(t, got.Credit)
			got.Credit = ""
		}
		assert.Equal(t, want, got)
	}
}

// A secondary station knows what it hangs on. Sausalito and San Francisco are 6.5 km apart
// by the positions of the source and the haversine formula.
func TestSecondaryKnowsItsReference(t *testing.T) {
	s, err := open(t).ByID("noaa/9414806")
	require.NoError(t, err)
	assert.Equal(t, "noaa/9414290", s.Ref)
	assert.Equal(t, "San Francisco (Golden Gate)", s.RefName)
	ref, err := open(t).ByID(s.Ref)
	require.NoError(t, err)
	rad := math.Pi / 180
	a := math.Pow(math.Sin((ref.Lat-s.Lat)*rad/2), 2) +
		math.Cos(s.Lat*rad)*math.Cos(ref.Lat*rad)*math.Pow(math.Sin((ref.LonEast-s.LonEast)*rad/2), 2)
	assert.InDelta(t, 2*6371.0088*math.Asin(math.Sqrt(a)), s.RefKm, 0.001)
	assert.Empty(t, s.Constants)
	assert.InDelta(t, ref.TideM*(s.Heights[0]+s.Heights[1])/2, s.TideM, 1e-9)
}
