package station

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
)

// Caution is a reason to trust a station less.
type Caution struct {
	Code    CautionCode
	Serious bool   // a reason to choose another station or another use, not only a margin
	Text    string // one or two plain sentences: what is wrong, what to do
}

// CautionCode names a kind of caution. The list is closed.
type CautionCode string

const (
	NoMeanSeaLevel   CautionCode = "no_mean_sea_level" // heights above datum cannot be given
	NoChartDatum     CautionCode = "no_chart_datum"    // heights count from mean sea level
	OpenSea          CautionCode = "open_sea"          // the position is on no coast, or wrong
	FarStation       CautionCode = "far_station"       // far from the shore
	FarReference     CautionCode = "far_reference"     // a secondary station hung on a distant one
	WeakTide         CautionCode = "weak_tide"         // weather moves the water more than the moon
	AnnualTerm       CautionCode = "annual_term"       // the level swings much over the year
	MayBeRiver       CautionCode = "may_be_river"      // signs of a river, lake or marsh gauge
	ShortRecord      CautionCode = "short_record"      // constants from few years
	OldRecord        CautionCode = "old_record"        // constants from long ago
	UnknownRecord    CautionCode = "unknown_record"    // no telling when they are from
	ShortDatumEpoch  CautionCode = "short_datum_epoch" // datums from few years, as where the land moves
	OldDatumEpoch    CautionCode = "old_datum_epoch"   // datums from long ago
	RepeatedConstant CautionCode = "repeated_constant" // two constants of one name
)

// Bounds of the cautions. Years are those of the design; the rest mark off the stations
// that stand out of the catalogue of 2026.
const (
	oldYears         = 25
	shortYears       = 4
	veryShortYears   = 1
	datumYears       = 18 // a tidal datum epoch has 19
	farKm            = 30
	veryFarKm        = 100
	farRefKm         = 300
	veryFarRefKm     = 1000
	weakTideM        = 0.10
	annualM          = 0.20 // a large yearly term anywhere
	annualLeastM     = 0.05 // … where it is more than half the tide
	riverAnnualM     = 0.25 // a yearly term that tells of a river's floods or a lake's storage
	hoursInMonth     = 365.25 * 24 / 12
	noaa             = "NOAA CO-OPS"
	zoneByLongitude  = "Etc/"
	datumIsMeanLevel = "MSL"
)

// Cautions says what to distrust in the station on the day of now, for a shore distanceKm
// away (0 where that is not known), the serious first. Nothing here makes a station safe:
// a station without a caution is only one of which nothing doubtful is on file.
func (s *Station) Cautions(now time.Time, distanceKm float64) []Caution {
	var list cautions
	s.datumCautions(&list)
	s.placeCautions(&list, distanceKm)
	s.waterCautions(&list)
	s.recordCautions(&list, now)
	s.constantCautions(&list)
	slices.SortStableFunc(list, func(a, b Caution) int {
		return cmp.Compare(bit(b.Serious), bit(a.Serious))
	})
	return list
}

// cautions is a list being made.
type cautions []Caution

func (l *cautions) add(code CautionCode, serious bool, format string, args ...any) {
	*l = append(*l, Caution{code, serious, fmt.Sprintf(format, args...)})
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// datumCautions: what its heights count from.
func (s *Station) datumCautions(list *cautions) {
	if s.MSLM == nil {
		list.add(NoMeanSeaLevel, true,
			"Mean sea level above datum is not known here, so no heights can be given. Use another station for levels.")
	}
	if s.Datum == datumIsMeanLevel {
		list.add(NoChartDatum, true,
			"Heights here count from mean sea level, not from a chart datum: drying heights of a chart do not fit them.")
	}
}

// placeCautions: whether it stands where it seems to, and near enough.
func (s *Station) placeCautions(list *cautions, distanceKm float64) {
	if strings.HasPrefix(s.Zone, zoneByLongitude) {
		list.add(OpenSea, true,
			"The position on file (%.2f, %.2f) lies on open water: a platform, or a mistake such as east for west. Its zone %s is only counted from the longitude; set the shore's own.",
			s.Lat, s.LonEast, s.Zone)
	}
	if distanceKm > farKm {
		advice := "Tides can differ along a coast; compare with what you see."
		if distanceKm > veryFarKm {
			advice = "The tide on your shore may differ by hours and by metres: look for a nearer one."
		}
		list.add(FarStation, distanceKm > veryFarKm, "This station is %.0f km from the shore. %s", distanceKm, advice)
	}
	if s.RefKm > farRefKm {
		list.add(FarReference, s.RefKm > veryFarRefKm,
			"It is reckoned from the tide at %s, %.0f km away, by fixed differences. Times and heights are rougher than at a station of its own.",
			s.RefName, s.RefKm)
	}
}

// waterCautions: what moves the water there besides the tide.
func (s *Station) waterCautions(list *cautions) {
	if s.TideM < weakTideM {
		list.add(WeakTide, true,
			"The tide here is within %.0f cm either way: wind and air pressure move the water more than the moon does.", math.Ceil(s.TideM*100))
	}
	if s.AnnualM >= annualM || s.AnnualM >= annualLeastM && s.AnnualM > s.TideM/2 {
		list.add(AnnualTerm, s.AnnualM > s.TideM,
			"The level here swings by about %.0f cm either way over the year, with the seasons' weather and water, and not alike every year.", s.AnnualM*100)
	}
	if signs := s.riverSigns(); len(signs) > 0 {
		list.add(MayBeRiver, false,
			"This may be a river, lake or marsh gauge and no shore: %s. Rain, snow melt and sluices move such water, and no prediction knows of them.",
			strings.Join(signs, "; "))
	}
}

// recordCautions: how long and how long ago the water was watched.
func (s *Station) recordCautions(list *cautions, now time.Time) {
	from, to, known := s.Record()
	if !known {
		list.add(UnknownRecord, false,
			"It is not on file when or for how long the water was measured here.")
		return
	}
	end := to.AddDate(0, 0, 1) // the last day counts
	shorter := func(years int) bool { return end.Before(from.AddDate(years, 0, 0)) }
	old := to.AddDate(oldYears, 0, 0).Before(now)
	if s.Source == noaa {
		if shorter(datumYears) {
			list.add(ShortDatumEpoch, false,
				"Its datum and mean sea level are averages of %d to %d only, as is done where land or sea rises or sinks fast: heights may be off by several centimetres.",
				from.Year(), to.Year())
		}
		if old {
			list.add(OldDatumEpoch, false,
				"Its datum and mean sea level are averages of %d to %d. The sea has risen since on most coasts: expect the water to stand some centimetres higher.",
				from.Year(), to.Year())
		}
		return
	}
	if shorter(shortYears) {
		advice := "Expect it to be rougher than where the water was watched for long."
		if shorter(veryShortYears) {
			advice = "That is too short to tell the seasons and some tides apart: look for another one."
		}
		list.add(ShortRecord, shorter(veryShortYears), "It rests on only %.0f months of measurements. %s", end.Sub(from).Hours()/hoursInMonth, advice)
	}
	if old {
		list.add(OldRecord, false,
			"The water was last measured here in %d. Sea level, harbours and channels have changed since.", to.Year())
	}
}

// constantCautions: constants that contradict each other.
func (s *Station) constantCautions(list *cautions) {
	for i, k := range s.Constants {
		named := func(other Constant) bool { return other.Name == k.Name }
		if slices.ContainsFunc(s.Constants[:i], named) || !slices.ContainsFunc(s.Constants[i+1:], named) {
			continue
		}
		largest, sizes := 0.0, []string{}
		for _, other := range s.Constants[i:] {
			if named(other) {
				largest = max(largest, other.AmplitudeM)
				sizes = append(sizes, fmt.Sprintf("%.1f mm", other.AmplitudeM*1000))
			}
		}
		list.add(RepeatedConstant, false,
			"Constants of %s all bear the name %s on file, so at most one of them is that. Heights may be off by up to %.0f mm.",
			strings.Join(sizes, " and "), k.Name, 2*largest*1000)
	}
}
