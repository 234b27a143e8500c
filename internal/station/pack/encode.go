package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"wrackbook/internal/station/layout"
)

// encode lays the stations out. They must come in the order of their ids.
func encode(release string, stations []station) ([]byte, error) {
	e := encoder{text: map[string]int{}, place: map[place]int{}, kind: map[string]int{}, station: map[string]int{}}
	if err := e.collect(release, stations); err != nil {
		return nil, err
	}
	var counts layout.Counts
	counts[layout.Editions] = 1
	counts[layout.Texts] = len(e.texts)
	counts[layout.TextBytes] = len(strings.Join(e.texts, ""))
	counts[layout.Places] = len(e.places)
	counts[layout.Sources] = len(sources)
	counts[layout.Kinds] = len(e.kinds)
	counts[layout.Stations] = len(stations)
	for _, s := range stations {
		counts[layout.Constants] += len(s.Constituents)
	}
	pack, err := layout.New(counts)
	if err != nil {
		return nil, err
	}
	e.pack = pack

	e.set(layout.Release, 0, e.text[release])
	for i, s := range e.texts {
		e.set(layout.TextLen, i, len(s))
	}
	for i, b := range []byte(strings.Join(e.texts, "")) {
		e.set(layout.Text, i, int(b))
	}
	for i, p := range e.places {
		e.set(layout.PlaceRegion, i, e.text[p.region])
		e.set(layout.PlaceRegionName, i, e.text[p.regionName])
		e.set(layout.PlaceCountry, i, e.text[p.country])
		e.set(layout.PlaceCountryName, i, e.text[p.countryName])
	}
	for i, s := range sources {
		e.set(layout.SourceName, i, e.text[s.name])
		e.set(layout.SourceLicence, i, e.text[s.licence])
		e.set(layout.SourceCredit, i, e.text[s.credit])
	}
	for i, k := range e.kinds {
		e.set(layout.KindName, i, e.text[k])
	}
	constants := 0
	for i, s := range stations {
		e.row(i, s)
		e.constants(constants, s.Constituents)
		constants += len(s.Constituents)
		if e.err != nil {
			return nil, fmt.Errorf("%s: %w", s.ID, e.err)
		}
	}
	return pack.Seal(), e.err
}

// place is a row of the table of places.
type place struct{ region, regionName, country, countryName string }

// encoder numbers what is shared and fills the pack. The first error stays.
type encoder struct {
	pack    *layout.Pack
	texts   []string
	text    map[string]int
	places  []place
	place   map[place]int
	kinds   []string
	kind    map[string]int
	station map[string]int
	err     error
}

// collect numbers the texts, places and names of constituents, and checks the order and the
// references of the stations.
func (e *encoder) collect(release string, stations []station) error {
	number(&e.texts, e.text, "")
	for i, s := range stations {
		if i > 0 && stations[i-1].ID >= s.ID {
			return fmt.Errorf("%s: not in the order of ids", s.ID)
		}
		e.station[s.ID] = i
		number(&e.texts, e.text, s.ID)
	}
	uses := map[string]int{}
	others := []string{release}
	for _, s := range sources {
		others = append(others, s.name, s.licence, s.credit)
	}
	for _, s := range stations {
		p, err := placeOf(s)
		if err != nil {
			return fmt.Errorf("%s: %w", s.ID, err)
		}
		number(&e.places, e.place, p)
		others = append(others, s.Name, s.Locality, s.TZ, s.Datum, p.region, p.regionName, p.country, p.countryName)
		others = append(others, s.Epoch...)
		for _, c := range s.Constituents {
			uses[c.name]++
		}
	}
	for name := range uses {
		e.kinds = append(e.kinds, name)
	}
	slices.SortFunc(e.kinds, func(a, b string) int { // the commonest first, which compresses well
		return cmp.Or(cmp.Compare(uses[b], uses[a]), cmp.Compare(a, b))
	})
	for i, name := range e.kinds {
		e.kind[name] = i
	}
	for _, s := range append(others, e.kinds...) {
		number(&e.texts, e.text, s)
	}
	return nil
}

// number gives a value the next number, unless it has one.
func number[T comparable](list *[]T, numbers map[T]int, value T) {
	if _, ok := numbers[value]; !ok {
		numbers[value] = len(*list)
		*list = append(*list, value)
	}
}

func placeOf(s station) (p place, err error) {
	p = place{region: s.Region, country: s.Country}
	var err1, err2 error
	p.regionName, err1 = regionName(s.Region, s.Country)
	p.countryName, err2 = countryName(s.Country)
	return p, errors.Join(err1, err2)
}

// row fills the columns of one station.
func (e *encoder) row(i int, s station) {
	p, err := placeOf(s)
	e.note(err)
	source, err := sourceRow(s.Source, s.Licence)
	e.note(err)
	e.set(layout.Name, i, e.text[s.Name])
	e.set(layout.Locality, i, e.text[s.Locality])
	e.set(layout.Place, i, e.place[p])
	e.set(layout.Lat, i, e.scaled(s.Lat, 5))
	e.set(layout.Lon, i, e.scaled(s.Lon, 5))
	e.set(layout.Zone, i, e.text[s.TZ])
	e.set(layout.Datum, i, e.text[s.Datum])
	e.set(layout.Source, i, source)
	e.set(layout.MSL, i, e.optional(s.MSL, 3))
	e.set(layout.Lowest, i, e.optional(s.Lowest, 2))
	e.set(layout.Highest, i, e.optional(s.Highest, 2))
	if s.Epoch != nil {
		if len(s.Epoch) != 2 {
			e.note(fmt.Errorf("the epoch has %d ends", len(s.Epoch)))
			return
		}
		e.set(layout.EpochFrom, i, e.text[s.Epoch[0]])
		e.set(layout.EpochTo, i, e.text[s.Epoch[1]])
	}
	e.set(layout.Count, i, len(s.Constituents))
	if s.Ref == "" {
		return
	}
	ref, ok := e.station[s.Ref]
	if !ok || len(s.Minutes) != 2 || len(s.Heights) != 2 {
		e.note(fmt.Errorf("it hangs on %q with %d times and %d heights", s.Ref, len(s.Minutes), len(s.Heights)))
		return
	}
	e.set(layout.Ref, i, ref+1)
	e.set(layout.MinutesHigh, i, e.scaled(s.Minutes[0], 0))
	e.set(layout.MinutesLow, i, e.scaled(s.Minutes[1], 0))
	e.set(layout.HeightsHigh, i, e.scaled(s.Heights[0], 2))
	e.set(layout.HeightsLow, i, e.scaled(s.Heights[1], 2))
	switch s.HeightsAre {
	case "ratio":
		e.set(layout.HeightsAre, i, 1)
	case "metres":
		e.set(layout.HeightsAre, i, 2)
	default:
		e.note(fmt.Errorf("its height differences are %q", s.HeightsAre))
	}
}

// constants fills the rows of one station's constants from row on.
func (e *encoder) constants(row int, list []constant) {
	for i, c := range list {
		e.set(layout.Kind, row+i, e.kind[c.name])
		e.set(layout.Amplitude, row+i, e.scaled(c.amplitude, 4))
		e.set(layout.Phase, row+i, e.scaled(c.phase, 1))
	}
}

func (e *encoder) set(c layout.Column, row, v int) { e.note(e.pack.Set(c, row, v)) }

func (e *encoder) note(err error) {
	if e.err == nil {
		e.err = err
	}
}
