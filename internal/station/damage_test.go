package station

import (
	"encoding/binary"
	"hash/crc32"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
	"wrackbook/internal/station/layout"
)

// tiny packs a reference station and a secondary one, and whatever fill adds.
func tiny(t testing.TB, fill func(set func(c layout.Column, row, v int))) []byte {
	t.Helper()
	texts := []string{"", "x/1", "x/2", "2026", "Ålesund", "d'Oléron", "NO", "Europe/Oslo", "LAT", "M2", "2001-01-01", "2020-12-31"}
	joined := ""
	for _, s := range texts {
		joined += s
	}
	p, err := layout.New(layout.Counts{
		layout.Editions: 1, layout.Texts: len(texts), layout.TextBytes: len(joined), layout.Places: 1,
		layout.Sources: 1, layout.Kinds: 1, layout.Stations: 2, layout.Constants: 1,
	})
	require.NoError(t, err)
	set := func(c layout.Column, row, v int) { require.NoError(t, p.Set(c, row, v)) }
	set(layout.Release, 0, 3)
	for i, s := range texts {
		set(layout.TextLen, i, len(s))
	}
	for i := range len(joined) {
		set(layout.Text, i, int(joined[i]))
	}
	for _, c := range []layout.Column{layout.PlaceCountry, layout.PlaceCountryName} {
		set(c, 0, 6)
	}
	set(layout.KindName, 0, 9)
	for row := range 2 {
		set(layout.Name, row, 4+row)
		set(layout.Zone, row, 7)
		set(layout.Datum, row, 8)
		set(layout.Lat, row, 62_46941)
		set(layout.Lon, row, -6_15195)
		set(layout.EpochFrom, row, 10)
		set(layout.EpochTo, row, 11)
	}
	set(layout.Count, 0, 1)
	set(layout.Amplitude, 0, 6206)
	set(layout.Phase, 0, 2905)
	set(layout.Ref, 1, 1)
	set(layout.MinutesHigh, 1, -7)
	set(layout.HeightsHigh, 1, 98)
	set(layout.HeightsAre, 1, 1)
	if fill != nil {
		fill(set)
	}
	return p.Seal()
}

// visit calls everything, as far as it goes.
func visit(c *Catalogue) {
	now := time.Date(2026, time.November, 1, 0, 0, 0, 0, time.UTC)
	for row := range c.Len() {
		if s, err := c.ByID(c.id(row)); err == nil {
			s.Cautions(now, 40)
		}
	}
	for _, text := range []string{"a", "ålesund", "d'oleron", "x/1", "no"} {
		c.Find(text, 10)
	}
	_, _ = c.Near(90, 180, 10)
	c.Credits()
	c.Release()
}

func TestTinyPack(t *testing.T) {
	c, err := Open(tiny(t, nil))
	require.NoError(t, err)
	visit(c)
	found := c.Find("oleron", 5)
	require.Len(t, found, 1, "after an apostrophe begins a word")
	assert.Equal(t, "x/2", found[0].ID)
	s, err := c.ByID("x/2")
	require.NoError(t, err)
	assert.Equal(t, "x/1", s.Ref)
	assert.Equal(t, [2]float64{-7, 0}, s.Minutes)
	assert.Equal(t, -6.15195, s.LonEast)
}

// Whatever could lead a later call astray is refused when the pack is opened.
func TestOpenRefuses(t *testing.T) {
	for _, row := range []struct {
		about  string
		column layout.Column
		row, v int
	}{
		{"release without a text", layout.Release, 0, 12},
		{"texts longer than their bytes", layout.TextLen, 3, 5},
		{"texts shorter than their bytes", layout.TextLen, 3, 3},
		{"ids out of order", layout.Text, 2, '3'},
		{"name without a text", layout.Name, 1, 12},
		{"locality without a text", layout.Locality, 1, 12},
		{"zone without a text", layout.Zone, 0, 99},
		{"datum without a text", layout.Datum, 0, 99},
		{"epoch without a text", layout.EpochTo, 0, 99},
		{"place without a row", layout.Place, 0, 1},
		{"country without a text", layout.PlaceCountryName, 0, 12},
		{"source without a row", layout.Source, 1, 1},
		{"credit without a text", layout.SourceCredit, 0, 12},
		{"constant without a name", layout.Kind, 0, 1},
		{"name of a constant without a text", layout.KindName, 0, 12},
		{"more constants than there are", layout.Count, 0, 2},
		{"a secondary station with constants", layout.Count, 1, 1},
		{"a reference station without", layout.Count, 0, 0},
		{"hung on no station", layout.Ref, 1, 3},
		{"hung on itself", layout.Ref, 1, 2},
		{"hung on nothing", layout.Ref, 1, 0},
		{"differences of no kind", layout.HeightsAre, 1, 3},
		{"differences at a reference station", layout.HeightsAre, 0, 1},
		{"north of the pole", layout.Lat, 0, 9_000_001},
		{"south of the pole", layout.Lat, 0, -9_000_001},
		{"beyond the 180th meridian", layout.Lon, 0, 18_000_001},
	} {
		t.Run(row.about, func(t *testing.T) {
			c, err := Open(tiny(t, func(set func(c layout.Column, row, v int)) { set(row.column, row.row, row.v) }))
			assert.Nil(t, c)
			requireBadCatalogue(t, err)
		})
	}
}

func requireBadCatalogue(t *testing.T, err error) *fault.Error {
	t.Helper()
	var f *fault.Error
	require.ErrorAs(t, err, &f)
	require.Equal(t, fault.BadInput, f.Code)
	require.Equal(t, "catalogue", f.Field)
	require.NotEmpty(t, f.Message)
	return f
}

// The real pack cut anywhere, with anything changed, or from a later Wrackbook is refused.
func TestDamagedCatalogue(t *testing.T) {
	whole, err := os.ReadFile("embedded/catalogue.bin")
	require.NoError(t, err)
	for n := 0; n < len(whole); n += 1 + n/9 {
		_, err := Open(whole[:n])
		requireBadCatalogue(t, err)
	}
	for n := 0; n < len(whole); n += 1 + n/9 {
		whole[n] ^= 4
		_, err := Open(whole)
		requireBadCatalogue(t, err)
		whole[n] ^= 4
	}
	_, err = Open(append(whole[:len(whole):len(whole)], 0))
	requireBadCatalogue(t, err)

	whole[len(layout.Magic)]++
	_, err = Open(whole)
	assert.Contains(t, requireBadCatalogue(t, err).Message, "newer Wrackbook")
}

// Whatever the bytes, opening never panics, and what opens can be used without a panic. The
// sum is made right, or the fuzzer would never get past it.
func FuzzOpen(f *testing.F) {
	f.Add(tiny(f, nil))
	f.Add(tiny(f, nil)[:40])
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, data []byte) {
		const sumAt = len(layout.Magic) + 2
		if len(data) >= sumAt+4 {
			data = append([]byte(nil), data...)
			binary.LittleEndian.PutUint32(data[sumAt:], crc32.ChecksumIEEE(data[sumAt+4:]))
		}
		if c, err := Open(data); err == nil {
			visit(c)
		}
	})
}
