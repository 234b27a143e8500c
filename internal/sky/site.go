package sky

import (
	"math"
	"time"

	"wrackbook/internal/fault"
)

// Site is a place on the Earth, at sea level.
type Site struct {
	LatDeg     float64 // geographic latitude, degrees, north positive, −90 to 90
	LonEastDeg float64 // longitude, degrees, east positive, −180 to 180
}

// Validate says whether the site is a place on the Earth. The error is a *fault.Error
// with the code BadInput.
func (s Site) Validate() error {
	if math.IsNaN(s.LatDeg) || math.Abs(s.LatDeg) > 90 {
		return fault.New(fault.BadInput, "latDeg", "The latitude %v is not on the Earth. Give degrees from -90 (south) to 90 (north).", s.LatDeg)
	}
	if math.IsNaN(s.LonEastDeg) || math.Abs(s.LonEastDeg) > 180 {
		return fault.New(fault.BadInput, "lonEastDeg", "The longitude %v is not on the Earth. Give degrees from -180 (west) to 180 (east).", s.LonEastDeg)
	}
	return nil
}

const (
	firstYear = 1900
	lastYear  = 2100

	// maxSpanDays bounds one question, so that no request can keep a phone busy: a little
	// over the 18.6 years of the moon's nodes.
	maxSpanDays = 20 * 366
)

// checkSpan says whether [from, to) can be answered.
func checkSpan(from, to time.Time) error {
	from, to = from.UTC(), to.UTC()
	first := time.Date(firstYear, 1, 1, 0, 0, 0, 0, time.UTC)
	end := time.Date(lastYear+1, 1, 1, 0, 0, 0, 0, time.UTC)
	switch {
	case from.Before(first) || from.After(end):
		return fault.New(fault.BadInput, "from", "The sky is reckoned for the years %d to %d. Choose a start within them.", firstYear, lastYear)
	case to.Before(first) || to.After(end):
		return fault.New(fault.BadInput, "to", "The sky is reckoned for the years %d to %d. Choose an end within them.", firstYear, lastYear)
	case to.Before(from):
		return fault.New(fault.BadInput, "to", "The end lies before the start. Swap them.")
	case to.Sub(from) > maxSpanDays*24*time.Hour:
		return fault.New(fault.SpanTooLong, "to", "The sky is reckoned for at most 20 years at a time. Ask for a shorter span.")
	}
	return nil
}
