package settle

import (
	"time"

	"wrackbook/internal/book"
)

// The words for what is missing before a specimen may be cleared, in their order.
//
//	arrival  no arrival is on file
//	place    it is in no quarantine
//	stopped  something was found that the authority must hear of
//	sign     a sign is open
//	days     quiet days
//	check    nobody looked for more than 48 hours
//	dips     a dip of the protocol
//	search   the two night searches
//	date     an event has a date that cannot be
//	record   a record cannot be read
//
// and of a display that was named: see Fits.

// missing says what a living lot lacks at an instant, by what had happened until then.
func (w *walk) missing(l *lot, at time.Time) []string {
	x := w.at(l.tank)
	var list []string
	need := func(word string, lacking bool) {
		if lacking {
			list = append(list, word)
		}
	}
	need("arrival", l.arrived == nil)
	if !x.running {
		need("place", true)
		need("stopped", x.stopped())
		need("sign", x.signs())
		return list
	}
	own := w.own(x)
	wait, _ := x.wait(own)
	need("stopped", x.stopped())
	need("sign", x.signs())
	need("days", x.quiet < wait)
	need("check", at.Sub(x.looked) > mostGap)
	need("dips", own != nil && l.dipsSinceArrival() < own.Dips)
	need("search", l.wantsSearch() && !l.searched(dayOf(x.from, w.book.Zone)))
	return list
}

func (l *lot) groupID() string {
	if l.Group != "" && l.Group != book.Unsure {
		return l.Group
	}
	t, _ := book.TaxonNamed(l.taxon)
	return t.Group
}

// dipsSinceArrival counts planned dips from the day of arrival on: the bucket counts.
func (l *lot) dipsSinceArrival() int {
	n := 0
	for _, d := range l.dips {
		if l.arrived != nil && d >= *l.arrived {
			n++
		}
	}
	return n
}

// wantsSearch: a weed that was not cut above its holdfast, or of which nobody said so.
func (l *lot) wantsSearch() bool { return l.group().Weed && l.Base != "cut" }

// searched looks for two night searches the right days apart, both since a day.
func (l *lot) searched(since Day) bool {
	s := &numbers().Search
	for i, b := range l.searches {
		for _, a := range l.searches[:i] {
			if a >= since && int(b-a) >= s.LeastDays && int(b-a) <= s.MostDays {
				return true
			}
		}
	}
	return false
}
