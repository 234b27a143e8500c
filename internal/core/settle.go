package core

import (
	"encoding/json"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/seawater"
	"wrackbook/internal/settle"
)

// maxTankBytes bounds a request of the clock, which carries what is on file of all tanks:
// twenty jars make 1.5 MB in a year.
const maxTankBytes = 32 << 20

type clockRequest struct {
	settle.Records
	Fits   []fitRequest `json:"fits"`   // displays to hold to specimens
	Recall string       `json:"recall"` // a specimen whose whole lot is called back; "" is none
}

type fitRequest struct {
	Specimen string `json:"specimen"`
	Tank     string `json:"tank"`
}

type clockAnswer struct {
	*settle.Picture
	Due    []settle.Due   `json:"due"` // what is overdue first
	Fits   []*settle.Fit  `json:"fits"`
	Recall *settle.Recall `json:"recall"`
}

// maxFits bounds how many displays are tried at once.
const maxFits = 200

// clock tells how every water system and specimen stands, and what is due, from what is on
// file.
func (c *Core) clock(in clockRequest, now time.Time) (clockAnswer, error) {
	if len(in.Fits) > maxFits {
		return clockAnswer{}, fault.New(fault.BadInput, "fits", "More than %d displays at once were asked for. Ask for less.", maxFits)
	}
	book, err := settle.Read(&in.Records)
	if err != nil {
		return clockAnswer{}, err
	}
	picture := settle.Derive(book, now)
	out := clockAnswer{Picture: picture, Due: picture.DueNow(), Fits: []*settle.Fit{}}
	for _, f := range in.Fits {
		fit, err := picture.Fits(f.Specimen, f.Tank)
		if err != nil {
			return clockAnswer{}, err
		}
		out.Fits = append(out.Fits, fit)
	}
	if in.Recall != "" {
		if out.Recall, err = settle.RecallOf(book, now, in.Recall); err != nil {
			return clockAnswer{}, err
		}
	}
	return out, nil
}

type acclimateRequest struct {
	Group        string    `json:"group"`
	Bag          sideOfBag `json:"bag"`
	Tank         sideOfBag `json:"tank"`
	ContainerL   float64   `json:"containerL"`
	Jars         int       `json:"jars"`
	HoursSealed  *float64  `json:"hoursSealed"`
	DropsIn5mL   int       `json:"dropsIn5mL"`
	StepMin      int       `json:"stepMin"`
	Drain        string    `json:"drain"`
	SalinityHour float64   `json:"salinityHour"`
	CHour        float64   `json:"cHour"`
}

// sideOfBag is one of the two waters, with its readings as the book has them.
type sideOfBag struct {
	VolumeL      float64                 `json:"volumeL"`
	Salinity     *settle.SalinityReading `json:"salinity"`
	TemperatureC *float64                `json:"temperatureC"`
	PH           *struct {
		Value float64 `json:"value"`
		Scale string  `json:"scale"`
	} `json:"pH"`
	AmmoniaMgNL *float64 `json:"ammoniaMgNL"`
}

func (s *sideOfBag) side(whose string) (settle.Side, error) {
	if s.Salinity == nil || s.TemperatureC == nil {
		return settle.Side{}, fault.New(fault.BadInput, whose, "Read the salinity and the temperature of the %s first: without both there is no plan.", whose)
	}
	e, err := s.Salinity.Estimate()
	if err != nil {
		return settle.Side{}, err
	}
	out := settle.Side{VolumeL: s.VolumeL, Salinity: e, TempC: *s.TemperatureC, AmmoniaN: s.AmmoniaMgNL}
	if s.PH != nil {
		out.PH, out.PHScale = &s.PH.Value, seawater.PHScale(s.PH.Scale)
	}
	return out, nil
}

// acclimate makes the plan from bag to tank.
func (c *Core) acclimate(in acclimateRequest, _ time.Time) (*settle.Plan, error) {
	bag, err := in.Bag.side("bag")
	if err != nil {
		return nil, err
	}
	tank, err := in.Tank.side("tank")
	if err != nil {
		return nil, err
	}
	return settle.MakePlan(settle.Acclimation{
		Group: in.Group, Bag: bag, Tank: tank, ContainerL: in.ContainerL, Jars: in.Jars, HoursSealed: in.HoursSealed,
		DropsIn5mL: in.DropsIn5mL, StepMin: in.StepMin, Drain: in.Drain, SalinityHour: in.SalinityHour, CHour: in.CHour,
	})
}

// handling gives the numbers of every handling group with their sources.
func (c *Core) handling(struct{}, time.Time) (json.RawMessage, error) {
	return settle.DefaultsJSON(), nil
}
