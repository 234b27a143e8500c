package station

import (
	"wrackbook/internal/station/fold"
	"wrackbook/internal/station/layout"
)

// Match is a station as a list shows it, read from the index alone.
type Match struct {
	ID         string
	Name       string
	Place      string // locality, region and country as far as known, such as "Portlock, Hawaii, United States"
	Country    string // ISO 3166 code
	Lat        float64
	LonEast    float64
	Zone       string  // IANA name
	Datum      string  // the station's chart datum, such as "MLLW"
	Reference  bool    // has constants of its own; otherwise differences to another station
	Source     string  // as in Credits
	DistanceKm float64 // from the point asked about, to the metre; 0 in an answer of Find
	BearingDeg float64 // from that point to the station, 0 to 360 clockwise from true north, to 0.1; 0 in an answer of Find
}

// MaxMatches is the greatest number of matches that Find and Near give; a greater limit
// counts as this one.
const MaxMatches = 200

// match reads the row of a station.
func (c *Catalogue) match(row int) Match {
	return Match{
		ID:        c.id(row),
		Name:      c.textOf(layout.Name, row),
		Place:     c.place(row),
		Country:   c.textOf(layout.PlaceCountry, c.pack.Get(layout.Place, row)),
		Lat:       c.degrees(layout.Lat, row),
		LonEast:   c.degrees(layout.Lon, row),
		Zone:      c.textOf(layout.Zone, row),
		Datum:     c.textOf(layout.Datum, row),
		Reference: c.reference(row),
		Source:    c.textOf(layout.SourceName, c.pack.Get(layout.Source, row)),
	}
}

// degrees is a latitude or longitude, north and east positive.
func (c *Catalogue) degrees(column layout.Column, row int) float64 {
	return float64(c.pack.Signed(column, row)) / 1e5
}

// reference says whether a station has constants of its own.
func (c *Catalogue) reference(row int) bool { return c.pack.Get(layout.Ref, row) == 0 }

// place joins what is known of where a station is, without saying a name twice running: Ålesund
// in Alesund is Ålesund.
func (c *Catalogue) place(row int) string {
	p := c.pack.Get(layout.Place, row)
	joined, last := "", fold.String(c.textOf(layout.Name, row), 0)
	for _, part := range [...]string{
		c.textOf(layout.Locality, row),
		c.textOf(layout.PlaceRegionName, p),
		c.textOf(layout.PlaceCountryName, p),
	} {
		folded := fold.String(part, 0)
		if part == "" || folded == last {
			continue
		}
		if joined != "" {
			joined += ", "
		}
		joined += part
		last = folded
	}
	return joined
}

// best keeps the first few of many hits in order, without sorting the many.
type best[H any] struct {
	hits   []H
	limit  int
	before func(a, b H) bool // a strict order in which no two hits are equal
}

func newBest[H any](limit int, before func(a, b H) bool) *best[H] {
	limit = max(0, min(limit, MaxMatches))
	return &best[H]{hits: make([]H, 0, limit), limit: limit, before: before}
}

// add takes a hit in, if it is among the first.
func (b *best[H]) add(hit H) {
	i := len(b.hits)
	if i == b.limit {
		if i == 0 || !b.before(hit, b.hits[i-1]) {
			return
		}
		i--
	} else {
		b.hits = append(b.hits, hit)
	}
	for ; i > 0 && b.before(hit, b.hits[i-1]); i-- {
		b.hits[i] = b.hits[i-1]
	}
	b.hits[i] = hit
}
