// Package fold brings names of places to the letters that anyone can type: no capitals, no
// accents, words parted by single spaces. "Ålesund" and "alesund", "Nosy-Be" and "nosy be"
// become one.
//
// It knows the Latin letters of Unicode's Latin-1 Supplement, Extended-A, Extended-B and
// Extended Additional blocks (Nordic, Polish, Turkish, Vietnamese and the rest) and takes
// off combining marks. Letters of other scripts keep their form and lose their capitals.
// It is no transliteration and no key for sorting. Start reading at Append.
package fold

import (
	"unicode"
	"unicode/utf8"
)

//go:generate go run ./gen

// Way is how a text is folded. Ways add up.
type Way uint8

const (
	// Spelled writes ä, ö, ü, æ, ø and å as ae, oe, ue, ae, oe and aa, as their owners do
	// where they have no such key, instead of taking off the accent.
	Spelled Way = 1 << iota
	// Parted takes an apostrophe for the end of a word ("d'Oléron" has the words d and
	// oleron) instead of passing it over ("St. Mary's" has the words st and marys).
	Parted
)

// pairs are the letters that fold to more than one, spelled those that Spelled writes so.
var (
	pairs = map[rune]string{
		'æ': "ae", 'ǽ': "ae", 'ǣ': "ae", 'œ': "oe", 'ß': "ss", 'þ': "th", 'ĳ': "ij", 'ŉ': "n",
		'ǆ': "dz", 'ǅ': "dz", 'ǳ': "dz", 'ǲ': "dz", 'ǉ': "lj", 'ǈ': "lj", 'ǌ': "nj", 'ǋ': "nj",
	}
	spelled = map[rune]string{'ä': "ae", 'ö': "oe", 'ü': "ue", 'ø': "oe", 'å': "aa"}
)

// Append folds text and appends it to dst. What is no letter or digit parts words, and so
// do bytes that are not UTF-8. The result never begins or ends with a space and folds to
// itself.
func Append(dst []byte, text string, way Way) []byte {
	begin, parted := len(dst), false
	for i := 0; i < len(text); {
		if b := text[i]; b < utf8.RuneSelf {
			i++
			switch b = ascii[b]; {
			case b == ' ':
				parted = true
			case b == '\'':
				parted = parted || way&Parted != 0
			default:
				dst, parted = part(dst, begin, parted), false
				dst = append(dst, b)
			}
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		i += size
		switch {
		case isMark(r):
			if way&Spelled != 0 && len(dst) > begin && !parted {
				dst = append(dst, markSpelled(dst[len(dst)-1], r)...)
			}
		case isApostrophe(r):
			parted = parted || way&Parted != 0
		case r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsNumber(r) || unicode.IsMark(r)):
			dst, parted = part(dst, begin, parted), false
			dst = appendLetter(dst, unicode.ToLower(r), way)
		default:
			parted = true
		}
	}
	return dst
}

// part appends the space that is due before a word which is not the first.
func part(dst []byte, begin int, due bool) []byte {
	if due && len(dst) > begin {
		return append(dst, ' ')
	}
	return dst
}

// appendLetter folds one small letter.
func appendLetter(dst []byte, r rune, way Way) []byte {
	if way&Spelled != 0 && spelled[r] != "" {
		return append(dst, spelled[r]...)
	}
	if pair := pairs[r]; pair != "" {
		return append(dst, pair...)
	}
	if b := base(r); b != 0 {
		return append(dst, b)
	}
	return utf8.AppendRune(dst, r)
}

// String is the folded text.
func String(text string, way Way) string { return string(Append(nil, text, way)) }

// ascii gives what each ASCII character folds to: itself, the small letter, a space for
// what parts words, an apostrophe for the apostrophes.
var ascii = func() (t [utf8.RuneSelf]byte) {
	for b := range t {
		switch c := byte(b); {
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			t[b] = c
		case 'A' <= c && c <= 'Z':
			t[b] = c + 'a' - 'A'
		case c == '\'', c == '`':
			t[b] = '\''
		default:
			t[b] = ' '
		}
	}
	return t
}()

// base is the ASCII letter under an accented Latin one, or zero.
func base(r rune) byte {
	switch {
	case r >= firstLatin && int(r-firstLatin) < len(latin):
		return dashed(latin[r-firstLatin])
	case r >= firstAdditional && int(r-firstAdditional) < len(additional):
		return dashed(additional[r-firstAdditional])
	}
	return 0
}

// dashed reads an entry of the tables, in which a dash stands for no letter.
func dashed(b byte) byte {
	if b == '-' {
		return 0
	}
	return b
}

// isMark says whether r is a combining mark of the Latin script (Unicode's Combining
// Diacritical Marks blocks).
func isMark(r rune) bool {
	return 0x300 <= r && r <= 0x36f || 0x1ab0 <= r && r <= 0x1aff || 0x1dc0 <= r && r <= 0x1dff ||
		0x20d0 <= r && r <= 0x20ff || 0xfe20 <= r && r <= 0xfe2f
}

// markSpelled is what a combining mark adds to the letter before it where it is spelled.
func markSpelled(letter byte, mark rune) string {
	switch {
	case mark == '\u0308' && (letter == 'a' || letter == 'o' || letter == 'u'): // diaeresis
		return "e"
	case mark == '\u030a' && letter == 'a': // ring
		return "a"
	}
	return ""
}

// isApostrophe says whether r is one of the signs used as an apostrophe, the okina of
// Hawaii among them.
func isApostrophe(r rune) bool {
	switch r {
	case '‘', '’', '´', '′', 'ʻ', 'ʼ', 'ʹ':
		return true
	}
	return false
}
