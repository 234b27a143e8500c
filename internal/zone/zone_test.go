package zone

import (
	"bufio"
	"compress/gzip"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// Every name the database lists must load.
func TestEveryNameLoads(t *testing.T) {
	names := Names()
	require.Greater(t, len(names), 590, "the tz database has about six hundred names")
	for _, name := range names {
		loc, err := Load(name)
		require.NoError(t, err, name)
		require.Equal(t, name, loc.String())
	}
	assert.Subset(t, names, []string{"Europe/Oslo", "Pacific/Auckland", "America/New_York", "Etc/UTC", "UTC"})
	assert.Regexp(t, `^20\d\d[a-z]$`, Release())
}

// Every zone that a station of the catalogue names must load.
func TestEveryZoneOfTheCatalogueLoads(t *testing.T) {
	f, err := os.Open("../../testdata/stations/stations.jsonl.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	lines := bufio.NewScanner(z)
	lines.Buffer(nil, 1<<20)
	stations := 0
	for lines.Scan() {
		var s struct{ ID, TZ string }
		require.NoError(t, json.Unmarshal(lines.Bytes(), &s))
		_, err := Load(s.TZ)
		require.NoError(t, err, s.ID)
		stations++
	}
	require.NoError(t, lines.Err())
	assert.Equal(t, 5843, stations, "a station was dropped")
}

func TestRefused(t *testing.T) {
	for _, row := range []struct{ about, name string }{
		{"empty", ""},
		{"the host's own", "Local"},
		{"no such place", "Europe/Atlantis"},
		{"wrong capitals", "europe/oslo"},
		{"the zone of no place", "Factory"},
		{"a path", "../../etc/passwd"},
		{"an abbreviation that is no name", "CEST"},
		{"overlong", strings.Repeat("x", 65)},
		{"enormous", strings.Repeat("Europe/", 1<<20)},
	} {
		t.Run(row.about, func(t *testing.T) {
			loc, err := Load(row.name)
			assert.Nil(t, loc)
			var f *fault.Error
			require.ErrorAs(t, err, &f)
			assert.Equal(t, fault.UnknownZone, f.Code)
			assert.Equal(t, "zone", f.Field)
			assert.Contains(t, f.Message, "Europe/Oslo", "an example shows what is wanted")
			assert.Less(t, len(f.Message), 300)
		})
	}
}

func TestUTC(t *testing.T) {
	loc, err := Load("UTC")
	require.NoError(t, err)
	assert.Same(t, time.UTC, loc)
}

// sunday gives the first Sunday on or after a day.
func sunday(year int, month time.Month, day int) time.Time {
	d := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	return d.AddDate(0, 0, (7-int(d.Weekday()))%7)
}

// The days on which clocks change, north and south, against the published rules:
//
//   - Directive 2000/84/EC: summer time begins at 01:00 UTC on the last Sunday of March and
//     ends at 01:00 UTC on the last Sunday of October.
//   - New Zealand Daylight Time Order 2007 (SR 2007/185): from 02:00 standard time on the
//     last Sunday of September to 03:00 daylight time on the first Sunday of April.
func TestClockChanges(t *testing.T) {
	type change struct {
		at            time.Time // the first instant of the new offset
		before, after int       // hours east of UTC
	}
	for _, row := range []struct {
		zone    string
		changes func(year int) [2]change
	}{
		{"Europe/Oslo", func(year int) [2]change {
			return [2]change{
				{sunday(year, time.March, 25).Add(1 * time.Hour), 1, 2},
				{sunday(year, time.October, 25).Add(1 * time.Hour), 2, 1},
			}
		}},
		{"Pacific/Auckland", func(year int) [2]change {
			return [2]change{
				{sunday(year, time.April, 1).Add((3 - 13) * time.Hour), 13, 12},
				{sunday(year, time.September, 24).Add((2 - 12) * time.Hour), 12, 13},
			}
		}},
	} {
		t.Run(row.zone, func(t *testing.T) {
			loc, err := Load(row.zone)
			require.NoError(t, err)
			for year := 2008; year <= 2100; year++ {
				for _, c := range row.changes(year) {
					_, before := c.at.Add(-time.Second).In(loc).Zone()
					_, after := c.at.In(loc).Zone()
					require.Equal(t, c.before*3600, before, "a second before %v", c.at)
					require.Equal(t, c.after*3600, after, "from %v", c.at)
				}
			}
		})
	}
}

// A host whose database is wrong must not be asked: the trap below makes time.LoadLocation
// take Chatham for Tokyo, and Load must not fall into it.
func TestHostDatabaseIsNotConsulted(t *testing.T) {
	a, err := database()
	require.NoError(t, err)
	tokyo, ok := a.find("Asia/Tokyo")
	require.True(t, ok)
	dir := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "Pacific"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "Pacific", "Chatham"), []byte(tokyo), 0o644))
	t.Setenv("ZONEINFO", dir)
	loaded.Clear()

	at := time.Date(2026, time.June, 1, 0, 0, 0, 0, time.UTC)
	trap, err := time.LoadLocation("Pacific/Chatham")
	require.NoError(t, err)
	_, offset := at.In(trap).Zone()
	require.Equal(t, 9*3600, offset, "the trap is set")

	loc, err := Load("Pacific/Chatham")
	require.NoError(t, err)
	_, offset = at.In(loc).Zone()
	assert.Equal(t, 12*3600+45*60, offset, "Chatham standard time is 12:45 ahead of UTC (New Zealand Time Act 1974, section 3)")
}

func TestConcurrentLoads(t *testing.T) {
	loaded.Clear()
	names := Names()
	got := make([][]*time.Location, 8)
	var all sync.WaitGroup
	for i := range got {
		all.Go(func() {
			for _, name := range names {
				loc, _ := Load(name)
				got[i] = append(got[i], loc)
			}
		})
	}
	all.Wait()
	for i := range got {
		for j, name := range names {
			require.NotNil(t, got[i][j], name)
			require.Same(t, got[0][j], got[i][j], "one zone, one pointer: %s", name)
		}
	}
}

func TestNamesAreTheCallersOwn(t *testing.T) {
	Names()[0] = "spoilt"
	assert.NotEqual(t, "spoilt", Names()[0])
}

// A pack cut anywhere, or of another format, is refused.
func TestDamagedPack(t *testing.T) {
	for n := range len(packed) {
		if n > 25_000 && n%997 != 0 { // the tables end before that; the files need only a sample
			continue
		}
		_, err := open(packed[:n])
		require.Error(t, err, "cut after %d bytes", n)
	}
	for _, row := range []struct{ about, data string }{
		{"overlong", packed + "x"},
		{"another magic", "X" + packed[1:]},
		{"a newer format", packed[:len(magic)] + "\x02" + packed[len(magic)+1:]},
	} {
		t.Run(row.about, func(t *testing.T) {
			_, err := open(row.data)
			var f *fault.Error
			require.True(t, errors.As(err, &f))
			assert.Equal(t, fault.Internal, f.Code)
		})
	}
}

// Whatever the bytes, open and find never panic, and every name that open lets through
// finds its file.
func FuzzOpen(f *testing.F) {
	// Small ones: the whole pack as a seed leaves the fuzzer no time to try anything.
	f.Add([]byte(packed[:512]))
	f.Add([]byte("WRBKZONE\x01\x01x\x01\x00\x02\x00\x01\x00\x01A\x00\x00ab"))
	f.Add([]byte("WRBKZONE\x01\x01x\x02\x00\x01\x00\x01\x00\x02\x00\x01A\x00\x00\x02AB\x01\x00ab"))
	f.Fuzz(func(t *testing.T, data []byte) {
		a, err := open(string(data))
		if err != nil {
			return
		}
		for _, name := range a.names {
			if _, ok := a.find(name); !ok {
				t.Fatalf("%q is listed but not found", name)
			}
		}
	})
}

func BenchmarkFirstLoad(b *testing.B) {
	for range b.N {
		a, err := open(packed)
		if err != nil {
			b.Fatal(err)
		}
		data, _ := a.find("Europe/Oslo")
		if _, err := time.LoadLocationFromTZData("Europe/Oslo", []byte(data)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLoadAgain(b *testing.B) {
	for range b.N {
		if _, err := Load("Europe/Oslo"); err != nil {
			b.Fatal(err)
		}
	}
}
