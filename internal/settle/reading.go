package settle

import (
	"time"

	"wrackbook/internal/seawater"
)

// Reading is what an instrument showed, in the book's words.
type Reading struct {
	ID     string `json:"-"`
	Sample struct {
		At time.Time `json:"at"`
		Of Ref       `json:"of"`
	} `json:"sample"`
	Salinity     *SalinityReading `json:"salinity"`
	TemperatureC *float64         `json:"temperatureC"`

	as Event // its instant and place, for the walk
}

// SalinityReading is a salinity with its instrument, scale and sample temperature.
type SalinityReading struct {
	Value      float64  `json:"value"`
	Instrument string   `json:"instrument"`
	Scale      string   `json:"scale"`
	SampleC    *float64 `json:"sampleC"`
}

// Estimate is the salinity that the reading stands for, with its bounds. The error is a
// *fault.Error.
func (r *SalinityReading) Estimate() (seawater.Estimate, error) {
	return seawater.Reading{
		Value: r.Value, Instrument: seawater.Instrument(r.Instrument), Scale: seawater.Scale(r.Scale),
		SampleC: (*seawater.Celsius)(r.SampleC),
	}.Salinity()
}
