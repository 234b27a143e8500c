package station

import (
	"errors"
	"fmt"
	"slices"

	"wrackbook/internal/station/layout"
)

// check lays out the running sums that reading needs, and refuses a pack any part of which
// could lead a later call astray.
func (c *Catalogue) check() error {
	n := &c.pack.Counts
	if n[layout.Editions] != 1 || n[layout.Texts] <= n[layout.Stations] {
		return errors.New("a table lacks rows")
	}
	var end uint32
	c.at, end = sums(c.pack.Bytes(layout.TextLen))
	if int(end) != n[layout.TextBytes] {
		return errors.New("the lengths of the texts do not add up")
	}
	c.text = string(c.pack.Bytes(layout.Text))
	c.first, end = sums(c.pack.Bytes(layout.Count))
	if int(end) != n[layout.Constants] {
		return errors.New("the counts of constants do not add up")
	}

	for _, f := range [...]struct {
		of, to  layout.Table
		columns []layout.Column
	}{
		{layout.Editions, layout.Texts, []layout.Column{layout.Release}},
		{layout.Places, layout.Texts, []layout.Column{layout.PlaceRegion, layout.PlaceRegionName, layout.PlaceCountry, layout.PlaceCountryName}},
		{layout.Sources, layout.Texts, []layout.Column{layout.SourceName, layout.SourceLicence, layout.SourceCredit}},
		{layout.Kinds, layout.Texts, []layout.Column{layout.KindName}},
		{layout.Stations, layout.Texts, []layout.Column{layout.Name, layout.Locality, layout.Zone, layout.Datum, layout.EpochFrom, layout.EpochTo}},
		{layout.Stations, layout.Places, []layout.Column{layout.Place}},
	} {
		for _, column := range f.columns {
			for row := range n[f.of] {
				if c.pack.Get(column, row) >= n[f.to] {
					return fmt.Errorf("row %d of column %d points to no row", row, column)
				}
			}
		}
	}
	// These two have a byte a row; the second is most of the pack, so it is read as such.
	if highest(c.pack.Bytes(layout.Source)) >= n[layout.Sources] || highest(c.pack.Bytes(layout.Kind)) >= n[layout.Kinds] {
		return errors.New("a station's source or a constant's name points to no row")
	}
	for row := range c.Len() {
		if err := c.checkStation(row); err != nil {
			return fmt.Errorf("station %d: %w", row, err)
		}
	}
	return nil
}

// checkStation refuses a station out of order, off the globe, or hanging on none.
func (c *Catalogue) checkStation(row int) error {
	if row > 0 && c.id(row-1) >= c.id(row) {
		return errors.New("out of the order of ids")
	}
	lat, lon := c.pack.Signed(layout.Lat, row), c.pack.Signed(layout.Lon, row)
	if lat < -90e5 || lat > 90e5 || lon < -180e5 || lon > 180e5 {
		return errors.New("off the globe")
	}
	ref, own := c.pack.Get(layout.Ref, row), c.pack.Get(layout.Count, row)
	differences := c.pack.Get(layout.HeightsAre, row)
	switch {
	case ref == 0 && own > 0 && differences == 0:
		return nil
	case ref > 0 && ref <= c.Len() && own == 0 && c.pack.Get(layout.Count, ref-1) > 0 && (differences == 1 || differences == 2):
		return nil
	}
	return errors.New("neither a reference station with constants nor a secondary one that hangs on such")
}

// highest is the greatest of some bytes, −1 of none.
func highest(numbers []byte) int {
	if len(numbers) == 0 {
		return -1
	}
	return int(slices.Max(numbers))
}

// sums gives the running sum before each number and, as its last, the sum of all.
func sums(numbers []byte) ([]uint32, uint32) {
	list, sum := make([]uint32, len(numbers)+1), uint32(0)
	for i, n := range numbers {
		list[i] = sum
		sum += uint32(n)
	}
	list[len(numbers)] = sum
	return list, sum
}
