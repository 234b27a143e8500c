package tide

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"os"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// listed is one line of testdata/stations/stations.jsonl.gz.
type listed struct {
	ID           string
	Name         string
	Source       string
	Datum        string
	Lat, Lon     float64
	MSL          *float64
	Constituents []Constant
	Ref          string
	Minutes      [2]float64
	Heights      [2]float64
	HeightsAre   string
}

func (c *Constant) UnmarshalJSON(data []byte) error {
	var raw [3]any
	if err := json.Unmarshal(data, &raw); err != nil {
		return err
	}
	c.Name, c.AmplitudeM, c.PhaseDeg = raw[0].(string), raw[1].(float64), raw[2].(float64)
	return nil
}

var catalogue = sync.OnceValues(func() (map[string]listed, error) {
	f, err := os.Open("../../testdata/stations/stations.jsonl.gz")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		return nil, err
	}
	all := map[string]listed{}
	sc := bufio.NewScanner(z)
	sc.Buffer(nil, 1<<20)
	for sc.Scan() {
		var s listed
		if err := json.Unmarshal(sc.Bytes(), &s); err != nil {
			return nil, err
		}
		all[s.ID] = s
	}
	return all, sc.Err()
})

// stations loads the catalogue's source and fails on an empty one.
func stations(tb testing.TB) map[string]listed {
	tb.Helper()
	all, err := catalogue()
	require.NoError(tb, err)
	require.Len(tb, all, 5843)
	return all
}

// tideOf builds the prediction of a catalogue station the way the core does.
func tideOf(tb testing.TB, all map[string]listed, id string) Tide {
	tb.Helper()
	s, ok := all[id]
	require.True(tb, ok, id)
	if s.Ref != "" {
		t, err := NewSecondary(tideOf(tb, all, s.Ref), Differences{
			HighMinutes: s.Minutes[0], LowMinutes: s.Minutes[1], High: s.Heights[0], Low: s.Heights[1], Rule: HeightRule(s.HeightsAre)})
		require.NoError(tb, err)
		return t
	}
	practice := Daily
	if s.Source == "NOAA CO-OPS" {
		practice = Yearly
	}
	msl := 0.0
	if s.MSL != nil {
		msl = *s.MSL
	}
	t, err := NewHarmonic(msl, Spell(s.Constituents), practice)
	require.NoError(tb, err, id)
	return t
}

// rows reads a CSV of testdata without its header and fails on an empty one.
func rows(tb testing.TB, path string) [][]string {
	tb.Helper()
	f, err := os.Open("../../testdata/tides/" + path)
	require.NoError(tb, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(tb, err)
	require.Greater(tb, len(all), 1, path)
	return all[1:]
}

func number(tb testing.TB, s string) float64 {
	tb.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(tb, err)
	return v
}

func minute(tb testing.TB, s string) time.Time {
	tb.Helper()
	t, err := time.Parse("2006-01-02 15:04", s)
	require.NoError(tb, err)
	return t
}
