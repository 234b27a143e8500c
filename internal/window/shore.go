package window

import (
	"math"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
)

// DefaultRaiseM is how far above prediction the raised twin has the sea, in metres, when
// the shore does not say. Weather stands the sea that much higher on ordinary days; it
// costs a fifth to a third of a window on a wide range.
const DefaultRaiseM = 0.2

// Shore is what a household knows of one place to work. Heights are metres above the chart
// datum of the tide that is given to Reckon.
type Shore struct {
	// BelowM is the workable height: the shore lies bare while the water is below it.
	// -20..20 m.
	BelowM float64
	// WayOffM is the height at which the water cuts the way in and back; nil when nobody
	// has noted it, and then the party starts back at low water. -20..20 m.
	WayOffM *float64
	// CanBeCutOff says that the way back crosses something that fills behind the party.
	CanBeCutOff bool
	// Margin is kept between being off and the way back being cut. 0..3 h.
	Margin time.Duration
	// WalkOut is what the slowest child needs from the far end to safe ground. 0..3 h.
	WalkOut time.Duration
	// Travel is the time from home to the workable shore, the walk in included. 0..24 h.
	Travel time.Duration
	// RaiseM is how far above prediction the raised twin has the sea; nil is
	// DefaultRaiseM. 0..1 m.
	RaiseM *float64
	// PressureHPa is the air pressure at sea level, if known. Below 1013 hPa the sea
	// stands higher and the windows are shorter; above, nothing changes. 870..1085 hPa.
	PressureHPa *float64
	// Site is where sun and moon are looked for.
	Site sky.Site
	// Zone is the shore's civil time. Required; never time.Local.
	Zone *time.Location
	// FormNumber is (K1+O1)/(M2+S2) of the tide, by amplitude; 0 when unknown. From
	// mainlyDiurnal upward the moon's declination is told in place of springs and neaps.
	FormNumber float64
}

const (
	greatestHeightM  = 20 // the widest range on earth, in the Bay of Fundy, is about 16 m
	greatestMargin   = 3 * time.Hour
	greatestWalkOut  = 3 * time.Hour
	greatestTravel   = 24 * time.Hour
	greatestRaiseM   = 1
	leastPressure    = 870  // hPa: the lowest on record at sea level (Tip, 1979), from memory
	greatestPressure = 1085 // hPa: the highest on record (Tosontsengel, 2001), from memory
	greatestForm     = 1000 // a tide with next to no M2 and S2

	// standardPressure, hPa, and the rise of the sea for each hPa below it: the inverse
	// barometer, "about 1 cm per hPa", for which predictions assume mean pressure.
	standardPressure = 1013
	metresPerHPa     = 0.01

	// mainlyDiurnal is the form number from which the moon's declination orders the tides
	// more than its phase does: mixed, mainly diurnal begins at 1.5 (Courtier 1938, from
	// memory).
	mainlyDiurnal = 1.5
)

// raiseM is RaiseM or its default.
func (s *Shore) raiseM() float64 {
	if s.RaiseM == nil {
		return DefaultRaiseM
	}
	return *s.RaiseM
}

// pressureRiseM is how much higher the sea stands for low air pressure; never below 0.
func (s *Shore) pressureRiseM() float64 {
	if s.PressureHPa == nil || *s.PressureHPa >= standardPressure {
		return 0
	}
	return metresPerHPa * (standardPressure - *s.PressureHPa)
}

// bound is a number that must lie within [least, most].
type bound struct {
	field       string
	value       float64
	least, most float64
	what        string // begins the sentence
}

func (b bound) check() error {
	if math.IsNaN(b.value) || b.value < b.least || b.value > b.most {
		return fault.New(fault.BadInput, b.field, "%s is %v; give a value from %v to %v.", b.what, b.value, b.least, b.most)
	}
	return nil
}

// check returns a *fault.Error for the first field outside its bounds.
func (s *Shore) check() error {
	bounds := []bound{
		{"below", s.BelowM, -greatestHeightM, greatestHeightM, "The workable height, in metres above chart datum,"},
		{"margin", s.Margin.Minutes(), 0, greatestMargin.Minutes(), "The margin, in minutes,"},
		{"walkOut", s.WalkOut.Minutes(), 0, greatestWalkOut.Minutes(), "The walk out, in minutes,"},
		{"travel", s.Travel.Minutes(), 0, greatestTravel.Minutes(), "The travel time, in minutes,"},
		{"raise", s.raiseM(), 0, greatestRaiseM, "How far above prediction to reckon the sea, in metres,"},
		{"formNumber", s.FormNumber, 0, greatestForm, "The form number of the tide"},
	}
	if s.WayOffM != nil {
		bounds = append(bounds, bound{"wayOff", *s.WayOffM, -greatestHeightM, greatestHeightM,
			"The way-off height, in metres above chart datum,"})
	}
	if s.PressureHPa != nil {
		bounds = append(bounds, bound{"pressure", *s.PressureHPa, leastPressure, greatestPressure,
			"The air pressure at sea level, in hPa,"})
	}
	for _, b := range bounds {
		if err := b.check(); err != nil {
			return err
		}
	}
	if err := s.Site.Validate(); err != nil {
		return err
	}
	return checkZone(s.Zone)
}

func checkZone(zone *time.Location) error {
	if zone == nil || zone == time.Local {
		return fault.New(fault.BadInput, "zone", "The shore has no time zone. Choose the one its clocks go by.")
	}
	return nil
}
