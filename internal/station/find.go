package station

import (
	"bytes"
	"strings"

	"wrackbook/internal/station/fold"
	"wrackbook/internal/station/layout"
)

// Bounds of what Find reads. No id or name is half as long.
const (
	maxQueryBytes = 200
	maxQueryWords = 16
)

// rank says how well a station fits a query; the lesser the better.
type rank uint8

const (
	byID       rank = iota // the query is its id, or the part after the slash
	exactName              // the query is its name
	namePrefix             // its name begins with the query
	nameWords              // every word of the query begins a word of its name
	nearWords              // … of its name or locality
	placeWords             // … of its name, locality, region or country
	noFit
)

// Find lists the stations that fit a text, the best first: those whose id it is ("noaa/9414290"
// or "9414290"), whose name it is, whose name begins with it, and then those where each of
// its words begins a word of the name, the locality, the region or the country. Capitals
// and accents do not count, on either side: "alesund", "Ålesund" and "aalesund" find
// Ålesund; "göteborg" finds Goteborg. Among equals reference stations come first, then the
// order of names.
//
// It gives nothing for a text without letters, longer than 200 bytes or of more than 16
// words, and at most MaxMatches.
func (c *Catalogue) Find(text string, limit int) []Match {
	if len(text) > maxQueryBytes {
		return nil
	}
	queries := c.queries(text)
	if len(queries) == 0 {
		return nil
	}
	id := strings.ToLower(strings.TrimSpace(text))
	type hit struct {
		rank      rank
		secondary bool
		row       int
	}
	fits := newBest(limit, func(a, b hit) bool {
		if a.rank != b.rank {
			return a.rank < b.rank
		}
		if a.secondary != b.secondary {
			return b.secondary
		}
		if nameA, nameB := c.textOf(layout.Name, a.row), c.textOf(layout.Name, b.row); nameA != nameB {
			return nameA < nameB
		}
		return a.row < b.row
	})
	for row := range c.Len() {
		r := noFit
		for _, q := range queries {
			r = min(r, q.rank(row))
		}
		if isID(c.id(row), id) {
			r = byID
		}
		if r < noFit {
			fits.add(hit{r, !c.reference(row), row})
		}
	}
	matches := make([]Match, len(fits.hits))
	for i, h := range fits.hits {
		matches[i] = c.match(h.row)
	}
	return matches
}

// isID says whether a text in small letters is the whole id or what follows its slash.
func isID(id, text string) bool {
	n := len(id) - len(text)
	return n == 0 && strings.EqualFold(id, text) ||
		n > 0 && id[n-1] == '/' && strings.EqualFold(id[n:], text)
}

// query is the text in one folding, and what is known so far of which of its words begin a
// word of which text of the catalogue.
type query struct {
	catalogue *Catalogue
	phrase    []byte
	words     [][]byte // each with a space before it
	all       uint32   // a bit for each word
	known     []uint32 // by the number of the text: its bits, and knownBit once they are known
	folded    []byte   // scratch
}

const knownBit = 1 << 31

// queries folds the text plainly and, where that differs, spelled: "göteborg" must find
// both Goteborg and Goeteborg.
func (c *Catalogue) queries(text string) []*query {
	var list []*query
	for _, way := range [...]fold.Way{0, fold.Spelled} {
		phrase := fold.Append(nil, text, way)
		words := bytes.Fields(phrase)
		if len(words) == 0 || len(words) > maxQueryWords || len(list) > 0 && bytes.Equal(phrase, list[0].phrase) {
			continue
		}
		q := &query{catalogue: c, phrase: phrase, all: 1<<len(words) - 1, known: make([]uint32, len(c.at)-1)}
		for _, w := range words {
			q.words = append(q.words, append([]byte{' '}, w...))
		}
		list = append(list, q)
	}
	return list
}

// rank says how well a station fits.
func (q *query) rank(row int) rank {
	c := q.catalogue
	name := c.pack.Get(layout.Name, row)
	bits := q.bits(name)
	if bits == q.all {
		return q.nameRank(c.string(name))
	}
	bits |= q.bits(c.pack.Get(layout.Locality, row))
	if bits == q.all {
		return nearWords
	}
	place := c.pack.Get(layout.Place, row)
	for _, column := range [...]layout.Column{layout.PlaceRegion, layout.PlaceRegionName, layout.PlaceCountryName} {
		bits |= q.bits(c.pack.Get(column, place))
	}
	if bits == q.all {
		return placeWords
	}
	return noFit
}

// nameRank tells apart the ways in which a name has every word of the query.
func (q *query) nameRank(name string) rank {
	r := nameWords
	for _, way := range foldings(name) {
		q.folded = fold.Append(q.folded[:0], name, way)
		switch {
		case bytes.Equal(q.folded, q.phrase):
			return exactName
		case bytes.HasPrefix(q.folded, q.phrase):
			r = namePrefix
		}
	}
	return r
}

// bits gives a bit for each word of the query that begins a word of a text.
func (q *query) bits(text int) uint32 {
	if q.known[text] == 0 {
		found, s := uint32(0), q.catalogue.string(text)
		for _, way := range foldings(s) {
			q.folded = append(q.folded[:0], ' ')
			q.folded = fold.Append(q.folded, s, way)
			for i, w := range q.words {
				if bytes.Contains(q.folded, w) {
					found |= 1 << i
				}
			}
		}
		q.known[text] = found | knownBit
	}
	return q.known[text] &^ knownBit
}

// foldings are the ways in which a text of the catalogue can be meant by what a person
// types. Nearly every text has one.
func foldings(text string) []fold.Way {
	ways := [...]fold.Way{0, fold.Spelled, fold.Parted, fold.Spelled | fold.Parted}
	for i := range len(text) {
		if b := text[i]; b >= 0x80 || b == '\'' || b == '`' {
			return ways[:]
		}
	}
	return ways[:1]
}
