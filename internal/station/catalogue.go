// Package station is the catalogue of tide stations: whose curve to use on a shore, and
// how far to trust it.
//
// Open reads a pack (see internal/station/layout); Find and Near search its index without
// decoding any station; ByID decodes one; Station.Cautions says what to distrust. The pack
// is not part of this package, so that core.wasm does not carry it: a program embeds it
// through internal/station/embedded, a phone fetches it once.
//
// It predicts nothing and drops nothing: constants come as the source gives them, with the
// source's spelling and order, and what is doubtful about them is a caution. Start reading
// at Open, then Match and Station.
package station

import (
	"errors"

	"wrackbook/internal/fault"
	"wrackbook/internal/station/layout"
)

//go:generate go run ./pack

// Catalogue is an opened pack. All methods are safe for concurrent use.
type Catalogue struct {
	pack  *layout.Pack
	text  string // every text, one after another
	at    []uint32
	first []uint32 // of each station, its first constant; the end of the last one at the end
}

// Open reads a pack and checks that nothing in it points astray, so that every later call
// is safe. It keeps data, which must not change afterwards. The error is a *fault.Error.
func Open(data []byte) (*Catalogue, error) {
	pack, err := layout.Open(data)
	if errors.Is(err, layout.ErrNewer) {
		return nil, fault.Wrap(fault.BadInput, "catalogue", err,
			"The catalogue of stations was made for a newer Wrackbook. Update Wrackbook, or use the catalogue that came with it.")
	}
	if err != nil {
		return nil, damaged(err)
	}
	c := &Catalogue{pack: pack}
	if err := c.check(); err != nil {
		return nil, damaged(err)
	}
	return c, nil
}

func damaged(err error) error {
	return fault.Wrap(fault.BadInput, "catalogue", err,
		"The catalogue of stations is damaged or incomplete. Fetch it again, or reinstall Wrackbook.")
}

// Release is the edition of the data set, a date such as "2026-09-24".
func (c *Catalogue) Release() string { return c.textOf(layout.Release, 0) }

// Len is the number of stations.
func (c *Catalogue) Len() int { return c.pack.Counts[layout.Stations] }

// Credit is what must be shown for a source.
type Credit struct {
	Source   string
	Licence  string // an SPDX name, or "public domain"
	Credit   string // the line to show
	Stations int    // how many come from it; zero for the data set that brought them together
}

// Credits lists the sources in the order in which they are to be shown.
func (c *Catalogue) Credits() []Credit {
	credits := make([]Credit, c.pack.Counts[layout.Sources])
	for i := range credits {
		credits[i].Source = c.textOf(layout.SourceName, i)
		credits[i].Licence = c.textOf(layout.SourceLicence, i)
		credits[i].Credit = c.textOf(layout.SourceCredit, i)
	}
	for _, source := range c.pack.Bytes(layout.Source) {
		credits[source].Stations++
	}
	return credits
}

// id is the id of the station in a row.
func (c *Catalogue) id(row int) string { return c.string(row + 1) }

// string is a text by its number.
func (c *Catalogue) string(n int) string { return c.text[c.at[n]:c.at[n+1]] }

// textOf is the text that a row of a column names.
func (c *Catalogue) textOf(column layout.Column, row int) string {
	return c.string(c.pack.Get(column, row))
}

// row finds a station by its id.
func (c *Catalogue) row(id string) (int, bool) {
	low, high := 0, c.Len()
	for low < high {
		if mid := (low + high) / 2; c.id(mid) < id {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low, low < c.Len() && c.id(low) == id
}
