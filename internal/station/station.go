package station

import (
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/station/layout"
)

// Station is one station as its source gives it. Numbers are exact: the decimal of the
// source, in the nearest float64.
type Station struct {
	ID       string // such as "noaa/9414290"
	Name     string
	Locality string // a town near by; empty where unknown
	Region   string // state or province, as the source writes it; empty where unknown
	Country  string // ISO 3166 code
	Place    string // locality, region and country spelled out and joined, as in Match
	Lat      float64
	LonEast  float64
	Zone     string // IANA name

	Datum    string   // the chart datum of its heights: MLLW, LAT, …; MSL is none, see Cautions
	MSLM     *float64 // mean sea level above the chart datum, metres; nil where unknown
	LowestM  *float64 // what a prediction can reach, metres above chart datum; nil where unknown
	HighestM *float64

	Source  string // as in Credits
	Licence string // an SPDX name, or "public domain"
	Credit  string // the line that must be shown with its predictions

	// EpochFrom and EpochTo are dates as the source writes them, empty where it has none;
	// a source's placeholder stands as it is. Record reads them.
	EpochFrom, EpochTo string

	// Constants are those of a reference station in the source's order; none at a
	// secondary one. A name may stand twice, see Cautions.
	Constants []Constant

	// A secondary station hangs on a reference station: the waters of Ref, moved by
	// Minutes and changed by Heights, both as [at high water, at low water].
	Ref        string
	RefName    string
	RefKm      float64 // how far it is, great circle
	Minutes    [2]float64
	Heights    [2]float64
	HeightsAre string // Ratio or Metres; empty at a reference station

	// AnnualM is the amplitude of the yearly term SA, and TideM the sum of the amplitudes
	// of M2, S2, K1 and O1, metres: of its own constants or of the reference station's
	// times the mean ratio. Measures for cautions, not for predictions.
	AnnualM, TideM float64
}

// What the height differences of a secondary station are.
const (
	Ratio  = "ratio"
	Metres = "metres"
)

// Constant is a harmonic constant: amplitude in metres and phase lag in degrees on
// Greenwich (UTC), mostly 0 to 360 but as the source writes it.
type Constant struct {
	Name       string
	AmplitudeM float64
	PhaseDeg   float64
}

// Secondary says whether the station hangs on another.
func (s *Station) Secondary() bool { return s.Ref != "" }

// ByID decodes one station. The error is a *fault.Error of code UnknownStation.
func (c *Catalogue) ByID(id string) (*Station, error) {
	row, ok := c.row(id)
	if !ok {
		shown := id
		if len(shown) > maxQueryBytes {
			shown = shown[:maxQueryBytes] + "…"
		}
		return nil, fault.New(fault.UnknownStation, "station",
			"There is no station %q in the catalogue of %s. Search for the place by name, or choose another station near the shore.",
			shown, c.Release())
	}
	return c.station(row), nil
}

// station decodes the station in a row.
func (c *Catalogue) station(row int) *Station {
	m := c.match(row)
	source := c.pack.Get(layout.Source, row)
	s := &Station{
		ID: m.ID, Name: m.Name,
		Locality: c.textOf(layout.Locality, row),
		Region:   c.textOf(layout.PlaceRegion, c.pack.Get(layout.Place, row)),
		Country:  m.Country, Place: m.Place, Lat: m.Lat, LonEast: m.LonEast, Zone: m.Zone, Datum: m.Datum,
		MSLM:     c.optional(layout.MSL, row, 1000),
		LowestM:  c.optional(layout.Lowest, row, 100),
		HighestM: c.optional(layout.Highest, row, 100),
		Source:   m.Source,
		Licence:  c.textOf(layout.SourceLicence, source), Credit: c.textOf(layout.SourceCredit, source),
		EpochFrom: c.textOf(layout.EpochFrom, row), EpochTo: c.textOf(layout.EpochTo, row),
		Constants: c.constants(row),
	}
	s.AnnualM, s.TideM = measures(s.Constants, 1)
	if !m.Reference {
		c.hang(s, row)
	}
	return s
}

// hang fills what a secondary station has from its reference station.
func (c *Catalogue) hang(s *Station, row int) {
	ref := c.pack.Get(layout.Ref, row) - 1
	s.Ref, s.RefName = c.id(ref), c.textOf(layout.Name, ref)
	s.RefKm = distanceKm(s.Lat, s.LonEast, c.degrees(layout.Lat, ref), c.degrees(layout.Lon, ref))
	s.Minutes = [2]float64{float64(c.pack.Signed(layout.MinutesHigh, row)), float64(c.pack.Signed(layout.MinutesLow, row))}
	s.Heights = [2]float64{
		float64(c.pack.Signed(layout.HeightsHigh, row)) / 100,
		float64(c.pack.Signed(layout.HeightsLow, row)) / 100,
	}
	s.HeightsAre = Metres
	factor := 1.0
	if c.pack.Get(layout.HeightsAre, row) == 1 {
		s.HeightsAre = Ratio
		factor = (s.Heights[0] + s.Heights[1]) / 2
	}
	s.AnnualM, s.TideM = measures(c.constants(ref), factor)
}

// constants decodes the constants of the station in a row; nil if it has none.
func (c *Catalogue) constants(row int) []Constant {
	first, end := int(c.first[row]), int(c.first[row+1])
	if first == end {
		return nil
	}
	list := make([]Constant, end-first)
	for i := range list {
		list[i] = Constant{
			Name:       c.textOf(layout.KindName, c.pack.Get(layout.Kind, first+i)),
			AmplitudeM: float64(c.pack.Get(layout.Amplitude, first+i)) / 1e4,
			PhaseDeg:   float64(c.pack.Get(layout.Phase, first+i)) / 10,
		}
	}
	return list
}

// optional is a number of a column over a scale, or nil where the source knows none.
func (c *Catalogue) optional(column layout.Column, row int, scale float64) *float64 {
	n := c.pack.Signed(column, row)
	if n == layout.None {
		return nil
	}
	v := float64(n) / scale
	return &v
}

// measures sums the amplitudes of the yearly term and of the four great constituents.
func measures(constants []Constant, factor float64) (annualM, tideM float64) {
	for _, k := range constants {
		switch k.Name {
		case "SA":
			annualM += k.AmplitudeM
		case "M2", "S2", "K1", "O1":
			tideM += k.AmplitudeM
		}
	}
	return annualM * factor, tideM * factor
}

// Record is the span of the epoch, whole days in UTC. It is not known where the source has
// none or a placeholder (24 stations have the year 0000).
//
// At NOAA's stations it is the epoch over which the tidal datums were averaged, nearly
// always 1983 to 2001, and says nothing of the record that the constants came from; at the
// others it is the span of the observations.
func (s *Station) Record() (from, to time.Time, known bool) {
	from, err1 := time.Parse(time.DateOnly, s.EpochFrom)
	to, err2 := time.Parse(time.DateOnly, s.EpochTo)
	if err1 != nil || err2 != nil || from.Year() < 1700 || !from.Before(to) {
		return time.Time{}, time.Time{}, false
	}
	return from, to, true
}
