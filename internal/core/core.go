// Package core is the table of everything Wrackbook computes: a name, a JSON request, a
// JSON answer. The server, the browser's worker and the command line all call it, so
// that a rule is written and tested once.
//
// It does no I/O and reads no clock: the bytes of the station catalogue come in through
// OpenCatalogue and the present instant as an argument. Instants in answers are RFC 3339
// in UTC to the second; heights are metres above the station's chart datum to the
// millimetre; minutes are whole. Start reading at the table of calls below.
package core

import (
	"encoding/json"
	"sync"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/settle"
	"wrackbook/internal/station"
	"wrackbook/internal/tide"
)

// Version names the meaning of the answers. It is raised when a change here or below it
// changes an answer, so that a phone does not show a kept one as if it were new.
const Version = "1"

// MaxRequestBytes bounds a request; one of the clock may be larger.
const MaxRequestBytes = 1 << 20

// Core holds what is opened once and asked many times. It is safe for concurrent use.
type Core struct {
	mu        sync.Mutex
	catalogue *station.Catalogue
	tides     map[string]*place // by station id
	takes     *takes            // what OpenLedger opened; nil before

	tanksMu sync.Mutex
	tanks   *settle.Book // what OpenTanks opened; nil before
}

// New returns a core with nothing opened.
func New() *Core { return &Core{tides: map[string]*place{}} }

// OpenCatalogue gives the core the packed station catalogue. The bytes are kept and must
// not be changed afterwards. The error is a *fault.Error.
func (c *Core) OpenCatalogue(data []byte) error {
	catalogue, err := station.Open(data)
	if err != nil {
		return err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	c.catalogue, c.tides = catalogue, map[string]*place{}
	return nil
}

// calls is the table: what a request decodes to and which function answers it.
var calls = map[string]func(c *Core, request []byte, now time.Time) (any, error){
	"about":     answer((*Core).about),
	"stations":  answer((*Core).stations),
	"station":   answer((*Core).station),
	"tides":     answer((*Core).tidesCall),
	"heights":   answer((*Core).heights),
	"windows":   answer((*Core).windows),
	"levels":    answer((*Core).levels),
	"sky":       answer((*Core).sky),
	"fold":      answer((*Core).fold),
	"past":      answer((*Core).past),
	"taxa":      answer((*Core).taxa),
	"verdict":   answer((*Core).verdict),
	"onFile":    answer((*Core).onFile),
	"closed":    answer((*Core).closed),
	"share":     answer((*Core).share),
	"ruleset":   answer((*Core).ruleset),
	"clock":     answer((*Core).clock),
	"acclimate": answer((*Core).acclimate),
	"handling":  answer((*Core).handling),
	"care":      answer((*Core).care),
	"water":     answer((*Core).water),
}

// Calls lists the names of the calls.
func Calls() []string {
	var names []string
	for name := range calls {
		names = append(names, name)
	}
	return names
}

// Call answers one request; an empty one counts as {}. The error is always a *fault.Error.
func (c *Core) Call(name string, request []byte, now time.Time) ([]byte, error) {
	call, ok := calls[name]
	if !ok {
		if len(name) > 40 {
			name = name[:40] + "…"
		}
		return nil, fault.New(fault.UnknownCall, "", "There is no call named %q.", name)
	}
	most := MaxRequestBytes
	if name == "clock" {
		most = maxTankBytes
	}
	if len(request) > most {
		return nil, fault.New(fault.TooLarge, "", "The request is larger than %d kB. Ask for less at a time.", most/1024)
	}
	out, err := call(c, request, now)
	if err != nil {
		return nil, fault.From(err)
	}
	data, err := json.Marshal(out)
	if err != nil {
		return nil, fault.From(err)
	}
	return data, nil
}

// answer makes an entry of the table from a function on a decoded request.
func answer[In any, Out any](f func(*Core, In, time.Time) (Out, error)) func(*Core, []byte, time.Time) (any, error) {
	return func(c *Core, request []byte, now time.Time) (any, error) {
		var in In
		if err := decode(request, &in); err != nil {
			return nil, err
		}
		return f(c, in, now)
	}
}

// place is a station ready to predict.
type place struct {
	*station.Station
	tide     tide.Tide // nil where refusal says why
	refusal  error
	form     float64
	distinct bool
	practice tide.Practice
}

// maxPlaces bounds how many stations are kept ready; past it all are let go.
const maxPlaces = 64

// open returns the catalogue or says that it is not there yet.
func (c *Core) open() (*station.Catalogue, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.catalogue == nil {
		return nil, fault.New(fault.NoCatalogue, "", "The list of stations is not on this device yet. Connect once, then try again.")
	}
	return c.catalogue, nil
}

// place makes a station ready, or returns it ready made.
func (c *Core) place(id string) (*place, error) {
	catalogue, err := c.open()
	if err != nil {
		return nil, err
	}
	c.mu.Lock()
	p, ok := c.tides[id]
	c.mu.Unlock()
	if ok {
		return p, nil
	}
	p, err = makePlace(catalogue, id)
	if err != nil {
		return nil, err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if len(c.tides) >= maxPlaces {
		clear(c.tides)
	}
	c.tides[id] = p
	return p, nil
}

// practices says how each source fits its constants; see tide.Practice.
var practices = map[string]tide.Practice{
	"NOAA CO-OPS": tide.Yearly,
	"TICON-4":     tide.Daily,
	"Kartverket":  tide.Daily,
}

func makePlace(catalogue *station.Catalogue, id string) (*place, error) {
	if id == "" {
		return nil, fault.New(fault.BadInput, "station", "No station was named. Search for one by name or near a place.")
	}
	s, err := catalogue.ByID(id)
	if err != nil {
		return nil, err
	}
	if s.Secondary() {
		ref, err := makePlace(catalogue, s.Ref)
		if err != nil {
			return nil, err
		}
		p := &place{Station: s, refusal: ref.refusal, form: ref.form, distinct: ref.distinct, practice: ref.practice}
		if p.refusal != nil {
			return p, nil
		}
		p.tide, err = tide.NewSecondary(ref.tide, tide.Differences{
			HighMinutes: s.Minutes[0], LowMinutes: s.Minutes[1],
			High: s.Heights[0], Low: s.Heights[1], Rule: tide.HeightRule(s.HeightsAre),
		})
		return p, err
	}
	constants := make([]tide.Constant, len(s.Constants))
	for i, k := range s.Constants {
		constants[i] = tide.Constant(k)
	}
	constants = tide.Spell(constants)
	p := &place{Station: s, form: tide.Form(constants), distinct: tide.Distinct(constants), practice: practices[s.Source]}
	if s.MSLM == nil {
		p.refusal = fault.New(fault.NoDatum, "station",
			"The source of %s does not say where mean sea level stands, so heights above chart datum cannot be predicted. Choose another station.", s.Name)
		return p, nil
	}
	p.tide, err = tide.NewHarmonic(*s.MSLM, constants, p.practice)
	return p, err
}

// needTide refuses where the station cannot predict or its water hardly moves.
func (p *place) needTide() error {
	if p.refusal != nil {
		return p.refusal
	}
	if p.distinct {
		return nil
	}
	return fault.New(fault.NoDistinctTide, "station",
		"%s has no distinct tide: wind and air pressure move its water more than the moon does. Choose another station, or go by what you see.", p.Name)
}
