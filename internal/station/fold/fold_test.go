package fold

import (
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

// Names as their countries write them, and how they are written without the accents.
func TestFold(t *testing.T) {
	for _, row := range []struct {
		about, text string
		way         Way
		want        string
	}{
		{"plain", "Friday Harbor", 0, "friday harbor"},
		{"nothing", "", 0, ""},
		{"only marks of punctuation", " -- ' ( ) ", 0, ""},
		{"Norwegian å", "Ålesund", 0, "alesund"},
		{"Norwegian ø", "Bodø", 0, "bodo"},
		{"Norwegian æ", "Værøy", 0, "vaeroy"},
		{"spelled å", "Ålesund", Spelled, "aalesund"},
		{"spelled ø", "Bodø", Spelled, "bodoe"},
		{"spelled ö and ä", "Västra Götaland", Spelled, "vaestra goetaland"},
		{"spelled ü", "Büsum", Spelled, "buesum"},
		{"German ß", "Große Straße", 0, "grosse strasse"},
		{"German capital ß", "STRAẞE", 0, "strasse"},
		{"Polish", "Świnoujście, Władysławowo", 0, "swinoujscie wladyslawowo"},
		{"Turkish dotless and dotted", "Dıdım İğneada ŞİLE", 0, "didim igneada sile"},
		{"Vietnamese", "Đà Nẵng, Quy Nhơn, Hòn Dấu, Vũng Tàu", 0, "da nang quy nhon hon dau vung tau"},
		{"Icelandic", "Þórshöfn á Norðurströnd", 0, "thorshofn a nordurstrond"},
		{"French", "Île-de-Bréhat", 0, "ile de brehat"},
		{"Portuguese", "São João", 0, "sao joao"},
		{"Czech", "Dvůr Žďár", 0, "dvur zdar"},
		{"Romanian", "Constanța Țepeș", 0, "constanta tepes"},
		{"Maltese", "Għawdex Ħ", 0, "ghawdex h"},
		{"combining ring", "A\u030alesund", 0, "alesund"},
		{"combining ring, spelled", "A\u030alesund", Spelled, "aalesund"},
		{"combining diaeresis, spelled", "Go\u0308teborg", Spelled, "goeteborg"},
		{"combining marks, two on a letter", "Quy Nho\u031b\u0309n", 0, "quy nhon"},
		{"a mark on nothing", "\u0301x", Spelled, "x"},
		{"apostrophe passed over", "St. Mary's", 0, "st marys"},
		{"apostrophe parts", "d'Oléron", Parted, "d oleron"},
		{"curly apostrophe", "O’Hara Key", 0, "ohara key"},
		{"okina", "Hawaiʻi", 0, "hawaii"},
		{"digits", "Pier 39 @ #2", 0, "pier 39 2"},
		{"hyphens and brackets", "Quinhagak (Kwinak)/Nosy-Be", 0, "quinhagak kwinak nosy be"},
		{"Greek keeps its letters", "ΠΕΙΡΑΙΆΣ", 0, "πειραιάσ"},
		{"Japanese keeps its letters", "東京 港", 0, "東京 港"},
		{"the angstrom sign", "\u212bngström", 0, "angstrom"},
		{"not UTF-8", "a\xffb", 0, "a b"},
	} {
		t.Run(row.about, func(t *testing.T) {
			assert.Equal(t, row.want, String(row.text, row.way))
		})
	}
}

// Every letter of the Latin blocks that Unicode takes apart into an ASCII letter and marks
// folds to that letter, whichever way it is written and whatever its case.
func TestLatinBlocks(t *testing.T) {
	seen := 0
	for r := rune(0xc0); r <= 0x1eff; r++ {
		apart := []rune(norm.NFD.String(string(r)))
		if len(apart) < 2 || apart[0] >= 0x80 {
			continue
		}
		want := string(unicode.ToLower(apart[0]))
		assert.Equal(t, want, String(string(r), 0), "%U composed", r)
		assert.Equal(t, want, String(string(apart), 0), "%U apart", r)
		seen++
	}
	assert.Greater(t, seen, 400, "letters were dropped")
}

func TestProperties(t *testing.T) {
	ways := []Way{0, Spelled, Parted, Spelled | Parted}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(),
			rapid.StringOfN(rapid.RuneFrom([]rune("aåÅøßæ'’ -.\u0308\u030aŒ")), 0, 12, -1)).Draw(t, "text")
		way := rapid.SampledFrom(ways).Draw(t, "way")
		once := String(text, way)
		assert.Equal(t, once, String(once, way), "folding twice is folding once")
		assert.NotContains(t, once, "  ")
		if once != "" {
			assert.NotEqual(t, byte(' '), once[0])
			assert.NotEqual(t, byte(' '), once[len(once)-1])
		}
		assert.Equal(t, "kept"+once, string(Append([]byte("kept"), text, way)), "what dst held does not matter")
	})
}

func BenchmarkAppend(b *testing.B) {
	var dst []byte
	for range b.N {
		dst = Append(dst[:0], "Quinhagak (Kwinak)", 0)
	}
}
