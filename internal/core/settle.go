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
	Held   bool         `json:"held"`   // reckon from what OpenTanks opened, and not from the records
	Days   int          `json:"days"`   // of each strip, the last ones; 0 is all
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
	if in.Days < 0 {
		return clockAnswer{}, fault.New(fault.BadInput, "days", "A strip of %d days was asked for. Ask for 1 at least, or 0 for all.", in.Days)
	}
	book, done, err := c.tanksOf(&in)
	if err != nil {
		return clockAnswer{}, err
	}
	defer done()
	picture := settle.Derive(book, now)
	if in.Days > 0 {
		for i := range picture.Systems {
			days := &picture.Systems[i].Days
			*days = (*days)[max(0, len(*days)-in.Days):]
		}
	}
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

// tanksOf is the book that a request is about: one of its own, or the one that is held, which
// is not to be changed until done.
func (c *Core) tanksOf(in *clockRequest) (book *settle.Book, done func(), err error) {
	if !in.Held {
		book, err = settle.Read(&in.Records)
		return book, func() {}, err
	}
	c.tanksMu.Lock()
	if c.tanks == nil {
		c.tanksMu.Unlock()
		return nil, nil, fault.New(fault.BadInput, "held", "No tanks are open in this core. Send them with the request.")
	}
	return c.tanks, c.tanksMu.Unlock, nil
}

// OpenTanks gives the core what is on file of the tanks, as the clock takes it with a request;
// what was held before is let go. The clock with "held" reckons from it. It is for the
// worker: the server's core holds none. The error is a *fault.Error.
func (c *Core) OpenTanks(data []byte) error {
	in, err := readTanks(data)
	if err != nil {
		return err
	}
	book, err := settle.Read(in)
	if err != nil {
		return err
	}
	c.tanksMu.Lock()
	defer c.tanksMu.Unlock()
	c.tanks = book
	return nil
}

// AddToTanks puts records that are new, changed or deleted into what OpenTanks opened, each
// whole, and takes out those named in "removed".
func (c *Core) AddToTanks(data []byte) error {
	in, err := readTanks(data)
	if err != nil {
		return err
	}
	c.tanksMu.Lock()
	defer c.tanksMu.Unlock()
	if c.tanks == nil {
		return fault.New(fault.BadInput, "", "No tanks are open in this core. Open them first.")
	}
	return c.tanks.Put(in)
}

func readTanks(data []byte) (*settle.Records, error) {
	if len(data) > maxTankBytes {
		return nil, fault.New(fault.TooLarge, "", "What is on file of the tanks is larger than %d MB. Leave out other years.", maxTankBytes>>20)
	}
	in := new(settle.Records)
	if err := json.Unmarshal(data, in); err != nil {
		return nil, fault.Wrap(fault.BadJSON, "", err, "What is on file of the tanks is not JSON of the expected form.")
	}
	return in, nil
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
	PH           *phIn                   `json:"pH"`
	AmmoniaMgNL  *float64                `json:"ammoniaMgNL"`
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

type careRequest struct {
	Kinds    []careKind `json:"kinds"`
	Tropical bool       `json:"tropical"` // whether the home and its shores are
}

type careKind struct {
	Group string `json:"group"`
	Taxon string `json:"taxon"`
}

type care struct {
	careKind
	FreshDipS float64      `json:"freshDipS"` // at most, seconds; 0 is never
	FreshFrom string       `json:"freshFrom"`
	Carry     settle.Carry `json:"carry"`
}

// maxCare bounds the kinds of one request: what one outing brings home, and more.
const maxCare = 200

// care says of kinds how they travel, and how long they may be dipped in fresh water.
func (c *Core) care(in careRequest, _ time.Time) ([]care, error) {
	if len(in.Kinds) > maxCare {
		return nil, fault.New(fault.TooLarge, "kinds", "More than %d kinds were asked for at once. Ask for fewer.", maxCare)
	}
	sources := settle.Defaults().Sources
	out := make([]care, 0, len(in.Kinds))
	for _, k := range in.Kinds {
		seconds, from := settle.FreshDipS(k.Group, k.Taxon)
		carry := settle.CarryFor(k.Group, in.Tropical)
		carry.From = sources[carry.From]
		out = append(out, care{k, seconds, sources[from], carry})
	}
	return out, nil
}
