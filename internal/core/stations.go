package core

import (
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/station"
)

type stationsRequest struct {
	Find  string `json:"find"` // by name
	Near  *point `json:"near"` // or by distance
	Limit int    `json:"limit"`
}

type point struct {
	Lat float64 `json:"lat"` // degrees, north positive
	Lon float64 `json:"lon"` // degrees, east positive
}

type stationsAnswer struct {
	Stations []stationMatch `json:"stations"`
}

type stationMatch struct {
	ID         string   `json:"id"`
	Name       string   `json:"name"`
	Place      string   `json:"place"`
	Country    string   `json:"country"`
	Lat        float64  `json:"lat"`
	Lon        float64  `json:"lon"`
	Zone       string   `json:"zone"`
	Datum      string   `json:"datum"`
	Source     string   `json:"source"`
	Kind       string   `json:"kind"` // reference or secondary
	DistanceKm *float64 `json:"distanceKm,omitempty"`
	BearingDeg *float64 `json:"bearingDeg,omitempty"`
}

const (
	defaultMatches = 20
	maxFindBytes   = 200
)

// stations finds stations by name or near a point.
func (c *Core) stations(in stationsRequest, _ time.Time) (stationsAnswer, error) {
	catalogue, err := c.open()
	if err != nil {
		return stationsAnswer{}, err
	}
	limit := in.Limit
	if limit == 0 {
		limit = defaultMatches
	}
	if limit < 1 || limit > station.MaxMatches {
		return stationsAnswer{}, fault.New(fault.BadInput, "limit", "The limit must be from 1 to %d.", station.MaxMatches)
	}
	var found []station.Match
	switch {
	case in.Near != nil && in.Find != "":
		return stationsAnswer{}, fault.New(fault.BadInput, "find", "Search by name or near a place, not both at once.")
	case in.Near != nil:
		if err := finite("near", in.Near.Lat, in.Near.Lon); err != nil {
			return stationsAnswer{}, err
		}
		if found, err = catalogue.Near(in.Near.Lat, in.Near.Lon, limit); err != nil {
			return stationsAnswer{}, err
		}
	case len(in.Find) > maxFindBytes:
		return stationsAnswer{}, fault.New(fault.BadInput, "find", "The name is longer than any. Give a few letters of it.")
	case in.Find == "":
		return stationsAnswer{}, fault.New(fault.BadInput, "find", "Give a part of a name, or a place to search near.")
	default:
		found = catalogue.Find(in.Find, limit)
	}
	out := stationsAnswer{Stations: []stationMatch{}}
	for _, m := range found {
		s := matchOf(m)
		if in.Near != nil {
			s.DistanceKm, s.BearingDeg = &m.DistanceKm, &m.BearingDeg
		}
		out.Stations = append(out.Stations, s)
	}
	return out, nil
}

func matchOf(m station.Match) stationMatch {
	return stationMatch{
		ID: m.ID, Name: m.Name, Place: m.Place, Country: m.Country, Lat: m.Lat, Lon: m.LonEast,
		Zone: m.Zone, Datum: m.Datum, Source: m.Source, Kind: kind(!m.Reference),
	}
}

func kind(secondary bool) string {
	if secondary {
		return "secondary"
	}
	return "reference"
}

type stationRequest struct {
	Station    string  `json:"station"`
	DistanceKm float64 `json:"distanceKm"` // from the shore, for the caution of a far station; 0 if not known
}

type stationAnswer struct {
	stationMatch
	MSL       *float64   `json:"msl"` // mean sea level above chart datum
	Lowest    *float64   `json:"lowest"`
	Highest   *float64   `json:"highest"`
	Licence   string     `json:"licence"`
	Credit    string     `json:"credit"`
	Release   string     `json:"release"` // of the catalogue
	Epoch     []string   `json:"epoch,omitempty"`
	Practice  string     `json:"practice"`
	Form      float64    `json:"form"` // (K1+O1)/(M2+S2)
	FormText  string     `json:"formText"`
	Reference *reference `json:"reference,omitempty"`
	Cautions  []caution  `json:"cautions"`
}

// reference says what a secondary station hangs on.
type reference struct {
	ID         string     `json:"id"`
	Name       string     `json:"name"`
	DistanceKm float64    `json:"distanceKm"`
	Minutes    [2]float64 `json:"minutes"` // at high water, at low water
	Heights    [2]float64 `json:"heights"`
	HeightsAre string     `json:"heightsAre"`
}

type caution struct {
	Code    string `json:"code"`
	Serious bool   `json:"serious"`
	Text    string `json:"text"`
}

// station tells all about one station, and what to distrust in it.
func (c *Core) station(in stationRequest, now time.Time) (stationAnswer, error) {
	if err := finite("distanceKm", in.DistanceKm); err != nil {
		return stationAnswer{}, err
	}
	p, err := c.place(in.Station)
	if err != nil {
		return stationAnswer{}, err
	}
	catalogue, err := c.open()
	if err != nil {
		return stationAnswer{}, err
	}
	out := stationAnswer{
		stationMatch: stationMatch{
			ID: p.ID, Name: p.Name, Place: p.Place, Country: p.Country, Lat: p.Lat, Lon: p.LonEast,
			Zone: p.Zone, Datum: p.Datum, Source: p.Source, Kind: kind(p.Secondary()),
		},
		MSL: p.MSLM, Lowest: p.LowestM, Highest: p.HighestM, Licence: p.Licence, Credit: p.Credit, Release: catalogue.Release(),
		Practice: string(p.practice), Form: round(p.form, 100), FormText: formText(p.form),
		Cautions: []caution{},
	}
	if p.EpochFrom != "" {
		out.Epoch = []string{p.EpochFrom, p.EpochTo}
	}
	if p.Secondary() {
		out.Reference = &reference{ID: p.Ref, Name: p.RefName, DistanceKm: p.RefKm, Minutes: p.Minutes, Heights: p.Heights, HeightsAre: p.HeightsAre}
	}
	for _, k := range p.Cautions(now, in.DistanceKm) {
		out.Cautions = append(out.Cautions, caution{string(k.Code), k.Serious, k.Text})
	}
	if p.refusal == nil && !p.distinct {
		out.Cautions = append([]caution{{"no_distinct_tide", true, p.needTide().Error()}}, out.Cautions...)
	}
	return out, nil
}

// formText names the form of the tide after Courtier's classes; see tide.Form.
func formText(form float64) string {
	switch {
	case form < 0.25:
		return "semidiurnal"
	case form < 1.5:
		return "mixed, mainly semidiurnal"
	case form <= 3:
		return "mixed, mainly diurnal"
	default:
		return "diurnal"
	}
}
