package station_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wrackbook/internal/station"
)

// What people type, and the station of the source that they mean.
func TestFindFirst(t *testing.T) {
	c := open(t)
	for _, row := range []struct{ about, text, id string }{
		{"without its accent", "alesund", "kartverket/AES"},
		{"with its accent", "Ålesund", "kartverket/AES"},
		{"accent as a combining mark", "A\u030alesund", "kartverket/AES"},
		{"as typed without the key", "Aalesund", "kartverket/AES"},
		{"in capitals", "ÅLESUND", "kartverket/AES"},
		{"beginning of the name", "ålesu", "kartverket/AES"},
		{"ø", "bodø", "kartverket/BOO"},
		{"ø without", "bodo", "kartverket/BOO"},
		{"ø spelled", "bodoe", "kartverket/BOO"},
		{"exact name before longer ones", "bergen", "kartverket/BGO"},
		{"exact name before those of the locality", "friday harbor", "noaa/9449880"},
		{"accent on what the source writes without", "Trois-Rivières", "ticon/trois_rivieres-3360-can-meds"},
		{"Turkish dotless i", "frıday harbor", "noaa/9449880"},
		{"Vietnamese", "Hòn Dấu", "ticon/hon_dau-650a-vnm-uhslc_rq"},
		{"name and region spelled out", "monterey california", "noaa/9413450"},
		{"words in any order", "california monterey", "noaa/9413450"},
		{"region as the source has it", "hilo HI", "noaa/1617760"},
		{"name and country", "bergen norway", "kartverket/BGO"},
		{"spaces and marks around", "  (Friday-Harbor)  ", "noaa/9449880"},
		{"reference before secondary", "sandy point", "noaa/9446804"},
		{"id", "noaa/9414290", "noaa/9414290"},
		{"id in capitals", "NOAA/9414290", "noaa/9414290"},
		{"id without its source", "9414290", "noaa/9414290"},
		{"id of letters", "bgo", "kartverket/BGO"},
	} {
		t.Run(row.about, func(t *testing.T) {
			found := c.Find(row.text, 10)
			require.NotEmpty(t, found)
			assert.Equal(t, row.id, found[0].ID)
		})
	}
}

func TestFindNothing(t *testing.T) {
	c := open(t)
	for _, row := range []struct {
		about, text string
		limit       int
	}{
		{"empty", "", 10},
		{"only marks", " -'’\u0301 ", 10},
		{"no such place", "xyzzy", 10},
		{"a word is missing", "bergen xyzzy", 10},
		{"the middle of a word", "ergen", 10},
		{"overlong", strings.Repeat("b", 201), 10},
		{"too many words", strings.Repeat("b ", 17), 10},
		{"none wanted", "bergen", 0},
		{"fewer than none wanted", "bergen", -1},
	} {
		t.Run(row.about, func(t *testing.T) {
			assert.Empty(t, c.Find(row.text, row.limit))
		})
	}
}

// In an answer the better fits come first: names that begin with the text, then names with
// such a word, then places; in each, reference stations first, then by name.
func TestFindOrder(t *testing.T) {
	c := open(t)
	for _, text := range []string{"port", "s", "san", "st", "harbor", "florida"} {
		found := c.Find(text, 10_000)
		require.Greater(t, len(found), 100, text)
		class := func(m station.Match) int {
			name := strings.ToLower(m.Name)
			switch {
			case name == text:
				return 0
			case strings.HasPrefix(name, text):
				return 1
			case strings.Contains(" "+strings.NewReplacer("(", " ", "-", " ").Replace(name), " "+text):
				return 2
			}
			return 3
		}
		for i, m := range found[1:] {
			last := found[i]
			require.LessOrEqual(t, class(last), class(m), "%s before %s", last.Name, m.Name)
			if class(last) == class(m) && class(m) < 3 {
				require.False(t, !last.Reference && m.Reference, "%s before %s", last.Name, m.Name)
				if last.Reference == m.Reference {
					require.LessOrEqual(t, last.Name, m.Name)
				}
			}
		}
	}
}

// A lesser limit gives the beginning of the same list.
func TestFindLimit(t *testing.T) {
	c := open(t)
	all := c.Find("san", 50)
	for limit := range all {
		assert.Equal(t, all[:limit], append([]station.Match{}, c.Find("san", limit)...))
	}
}

// Whoever types the name of a station finds it, in capitals too and with its place behind.
func TestEveryNameFindsItsStation(t *testing.T) {
	c := open(t)
	stations := source(t)
	for i := 0; i < len(stations); i += 7 {
		s := stations[i]
		for _, text := range []string{s.Name, strings.ToUpper(s.Name), s.Locality + " " + s.Name} {
			found := false
			for _, m := range c.Find(text, station.MaxMatches) {
				found = found || m.ID == s.ID
			}
			require.True(t, found, "%q does not find %s", text, s.ID)
		}
	}
}

func TestPlaceReads(t *testing.T) {
	c := open(t)
	for id, want := range map[string]string{
		"noaa/1612301":                    "Portlock, Hawaii, United States",
		"kartverket/AES":                  "More og Romsdal, Norway", // the locality Alesund is Ålesund again
		"kartverket/BOH":                  "Vestland, Norway",
		"ticon/nosy_be-150a-mdg-uhslc_rq": "Hell-Ville, Diana, Madagascar",
	} {
		s, err := c.ByID(id)
		require.NoError(t, err)
		assert.Equal(t, want, s.Place)
	}
}

func TestFindNeverPanics(t *testing.T) {
	c := open(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		limit := rapid.IntRange(-5, 300).Draw(t, "limit")
		found := c.Find(text, limit)
		assert.LessOrEqual(t, len(found), max(0, min(limit, station.MaxMatches)))
		for _, m := range found {
			assert.True(t, utf8.ValidString(m.Place))
		}
	})
}
