package tide

import "time"

// Kind says whether a water is high or low.
type Kind string

const (
	High Kind = "high"
	Low  Kind = "low"
)

// Water is one high or low water.
type Water struct {
	Time    time.Time // UTC, whole seconds
	HeightM float64   // metres above the station's chart datum, rounded to the millimetre
	Kind    Kind
}

// Crossing is an instant at which the water passes a level.
type Crossing struct {
	Time   time.Time // UTC, whole seconds
	Rising bool
}

// Tide predicts the water at one place.
type Tide interface {
	// Curve reckons the water over [from, to). The error is a *fault.Error: SpanTooLong,
	// BadInput (years outside 1900–2100), NoDistinctTide or WatersCross.
	Curve(from, to time.Time) (Curve, error)
}

// Curve is the predicted water over a span: continuous but for the small step that the
// yearly practice makes at 1 January 00:00 UT. All methods are safe for concurrent use.
type Curve interface {
	// Span is the [from, to) that was asked for.
	Span() (from, to time.Time)
	// HeightM is the predicted height in metres above chart datum at t, which must lie
	// in [from, to].
	HeightM(t time.Time) float64
	// RateMPerHour is the rate of change of the height, metres an hour, rising positive.
	RateMPerHour(t time.Time) float64
	// Waters lists every high and low water in [from, to) in time order; kinds alternate.
	Waters() []Water
	// Table is Waters as an office prints them: without the neighbouring pairs that are
	// less than 0.1 ft and less than two hours apart.
	Table() []Water
	// Crossings lists every passage of a level in [from, to) in time order; rising and
	// falling alternate. A water that only touches the level is no crossing.
	Crossings(levelM float64) []Crossing
}
