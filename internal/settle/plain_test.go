package settle

import (
	"slices"
	"time"
)

// plain is the clock as a patient person would work it out from the rules of
// testdata/settle, for one specimen and one instant, by going over the whole history again
// for every question. It keeps no state and shares nothing with the walk but the events.
type plain struct {
	zone   *time.Location
	now    time.Time // confirmations until then are known
	events []Event   // in order
	wait   map[string]int
	marked map[string]bool // tanks that are quarantine
	adults map[string]bool
	tanks  []string
	lots   []string
}

// tankOf is where a specimen is when the first n events have happened; "" nowhere.
func (p *plain) tankOf(lot string, n int) string {
	tank := ""
	for i, e := range p.events[:n] {
		if p.parted(lot, i) {
			tank = p.tankOf(e.Of.ID, i)
		}
		if e.Of != (Ref{"specimen", lot}) {
			continue
		}
		switch e.What {
		case "arrived", "moved", "cleared":
			tank = e.Tank
		case "died", "gone":
			tank = ""
		case "merged":
			if p.merged(i) {
				tank = ""
			}
		}
	}
	return tank
}

// merged tells whether event i puts one lot together with another: both are somewhere.
func (p *plain) merged(i int) bool {
	e := &p.events[i]
	return e.What == "merged" && e.Of.ID != e.Into && p.tankOf(e.Of.ID, i) != "" && p.tankOf(e.Into, i) != ""
}

// parted tells whether event i makes a part of another lot this one, which was nowhere before.
func (p *plain) parted(lot string, i int) bool {
	e := &p.events[i]
	if e.What != "parted" || e.Into != lot || e.Of.ID == lot || p.tankOf(e.Of.ID, i) == "" {
		return false
	}
	for j := range i + 1 {
		if p.tankOf(lot, j) != "" {
			return false
		}
	}
	return true
}

// systemOf is the water that a tank shares after n events.
func (p *plain) systemOf(tank string, n int) string {
	system := "tank/" + tank
	for _, e := range p.events[:n] {
		if e.Of != (Ref{"tank", tank}) {
			continue
		}
		if e.What == "joined" {
			system = "system/" + e.System
		}
		if e.What == "left" && system == "system/"+e.System {
			system = "tank/" + tank
		}
	}
	return system
}

// waterOf is the water in which a specimen is after n events; "" none.
func (p *plain) waterOf(lot string, n int) string {
	if tank := p.tankOf(lot, n); tank != "" {
		return p.systemOf(tank, n)
	}
	return ""
}

// was is what a specimen was after n events: a part, the lot from which it was parted later.
func (p *plain) was(lot string, n int) string {
	for i := n; i < len(p.events) && p.waterOf(lot, n) == ""; i++ {
		if p.parted(lot, i) {
			return p.was(p.events[i].Of.ID, n)
		}
	}
	return lot
}

// line is a specimen and the lots that it is a part of.
func (p *plain) line(lot string) []string {
	for i := range p.events {
		if p.parted(lot, i) {
			return append(p.line(p.events[i].Of.ID), lot)
		}
	}
	return []string{lot}
}

// stood is the water in which a specimen was after n events, or what it was parted from then.
func (p *plain) stood(lot string, n int) string { return p.waterOf(p.was(lot, n), n) }

// about is the water that an event is about, as things stand after n events. A specimen
// that is gone counts where its last tank stands.
func (p *plain) about(r Ref, n int) string {
	switch r.Kind {
	case "system":
		return "system/" + r.ID
	case "tank":
		return p.systemOf(r.ID, n)
	}
	for i := n; i >= 0; i-- {
		if tank := p.tankOf(r.ID, i); tank != "" {
			if i < n && p.events[i].Of == r && p.merged(i) { // it went into the other's tank
				tank = p.tankOf(p.events[i].Into, i)
			}
			return p.systemOf(tank, n)
		}
	}
	return ""
}

func (p *plain) covers(e *Event, lot string, n int) bool {
	tank := p.tankOf(lot, n)
	return tank != "" && (e.Of == Ref{"specimen", lot} || e.Of == Ref{"tank", tank} || e.Of.String() == p.systemOf(tank, n))
}

// sharers lists the tanks of a water after n events.
func (p *plain) sharers(water string, n int) []string {
	var list []string
	for _, tank := range p.tanks {
		if p.systemOf(tank, n) == water {
			list = append(list, tank)
		}
	}
	return list
}

// received tells whether event i brought something new into a water, or gave it another
// reason to begin again; rules newcomer, sign, pest, death, treatment, water, joined, notify.
func (p *plain) received(water string, i int) bool {
	e := &p.events[i]
	switch e.What {
	case "arrived", "moved", "cleared":
		if p.systemOf(e.Tank, i) != water {
			return false
		}
		return e.What == "arrived" || p.waterOf(e.Of.ID, i) != water
	case "merged":
		return p.merged(i) && p.waterOf(e.Into, i) == water && p.waterOf(e.Of.ID, i) != water
	case "joined":
		was := p.systemOf(e.Of.ID, i)
		return water == "system/"+e.System && was != water && len(p.sharers(water, i)) > 0
	case "waterChanged":
		if p.about(e.Of, i) != water {
			return false
		}
		return e.From == "shore" || e.From == "system" && "system/"+e.System != water
	case "sign":
		return e.Grade != Harmless && e.Grade != Watch && p.about(e.Of, i) == water
	case "checked":
		return len(e.Signs) > 0 && p.about(e.Of, i) == water
	case "died":
		return (e.Explained == "" || e.By == "kid") && p.about(e.Of, i) == water
	case "dipped", "treated":
		return !e.Planned && p.about(e.Of, i) == water
	case "settled":
		for j, s := range p.events[:i] {
			if s.ID == e.Sign && s.Grade == Notify && p.open(j, i)[water] {
				return true
			}
		}
	}
	return false
}

// open follows one sign, event j, through everything up to event n (not included): the
// waters in which it is open, wherever an animal, water or a tank took it.
func (p *plain) open(j, n int) map[string]bool {
	s := &p.events[j]
	raised := s.What == "sign" && s.Grade != Harmless || s.What == "checked" && len(s.Signs) > 0
	if !raised || j >= n {
		return nil
	}
	waters := map[string]bool{}
	if at := p.about(s.Of, j); at != "" {
		waters[at] = true
	}
	carried := len(waters) == 0 // on a specimen that is nowhere yet
	for i := j + 1; i < n; i++ {
		e := &p.events[i]
		switch e.What {
		case "settled":
			if e.Sign == s.ID && !e.At.Before(s.At) {
				return nil
			}
		case "arrived", "moved", "cleared":
			from := p.waterOf(e.Of.ID, i)
			if from != "" && waters[from] || carried && e.Of == s.Of {
				waters[p.systemOf(e.Tank, i)] = true
				carried = carried && e.Of != s.Of
			}
		case "parted":
			if carried && s.Of.ID == e.Into && p.parted(e.Into, i) {
				waters[p.waterOf(e.Of.ID, i)] = true
				carried = false
			}
		case "merged":
			if p.merged(i) && waters[p.waterOf(e.Of.ID, i)] {
				waters[p.waterOf(e.Into, i)] = true
			}
		case "waterChanged":
			if e.From == "system" && waters["system/"+e.System] {
				waters[p.about(e.Of, i)] = true
			}
		case "joined", "left":
			if waters[p.systemOf(e.Of.ID, i)] {
				waters[p.systemOf(e.Of.ID, i+1)] = true
			}
		}
	}
	return waters
}

func (p *plain) anyOpen(water string, n int) bool {
	for j := range p.events[:n] {
		if p.open(j, n)[water] {
			return true
		}
	}
	return false
}

// may tells whether a specimen may be cleared at an instant when the first n events have
// happened.
func (p *plain) may(lot string, at time.Time, n int) bool {
	here := p.waterOf(lot, n)
	if here == "" || !p.arrivedEver(lot, n) {
		return false
	}
	marked := false
	for _, tank := range p.sharers(here, n) {
		marked = marked || p.quarantine(tank) && !p.graduated(tank, n)
	}
	if !marked || p.anyOpen(here, n) {
		return false
	}
	// Back through the water in which it lived, to the last thing that came into it.
	last := -1
	for i := range p.events[:n] {
		if water := p.stood(lot, i+1); water != "" && p.received(water, i) {
			last = i
		}
	}
	if last < 0 {
		return false
	}
	looked := p.events[last].At
	for i := last; i < n; i++ {
		e := &p.events[i]
		if e.What == "checked" && p.about(e.Of, i) == p.stood(lot, i+1) {
			looked = e.At
		}
	}
	if at.Sub(looked) > 48*time.Hour {
		return false
	}
	quiet := 0
	for d := dayOf(p.events[last].At, p.zone) + 1; d < dayOf(at, p.zone); d++ {
		if p.quiet(lot, d, n) {
			quiet++
		}
	}
	wait, own := p.wait[here]
	if !own {
		wait = 28 // common practice for snails
	}
	return quiet >= wait
}

// quarantine tells whether a tank is called a quarantine, or was one until it graduated and
// is called a display since: by its own graduation, or its system's if none in it is called
// a quarantine.
func (p *plain) quarantine(tank string) bool {
	is := p.marked[tank]
	for i, e := range p.events {
		if e.What != "graduated" {
			continue
		}
		system := p.systemOf(tank, i)
		is = is || e.Of == Ref{"tank", tank} || e.Of.String() == system &&
			!slices.ContainsFunc(p.sharers(system, i), func(other string) bool { return p.marked[other] })
	}
	return is
}

// graduated tells whether a tank stopped being a quarantine and nobody new came since. Only
// where somebody waits is there anything to graduate.
func (p *plain) graduated(tank string, n int) bool {
	is := false
	for i, e := range p.events[:n] {
		switch {
		case e.What == "graduated" && (e.Of == Ref{"tank", tank} || e.Of.String() == p.systemOf(tank, i)):
			water, somebody, marked := p.systemOf(tank, i), false, false
			for _, lot := range p.lots {
				somebody = somebody || p.waterOf(lot, i) == water
			}
			for _, other := range p.sharers(water, i) {
				marked = marked || p.quarantine(other) && !p.graduated(other, i)
			}
			is = is || somebody && marked
		case (e.What == "arrived" || e.What == "moved" || e.What == "cleared") && e.Tank == tank:
			is = is && (!p.marked[tank] || e.What != "arrived" && p.waterOf(e.Of.ID, i) == p.systemOf(tank, i))
		case e.What == "merged" && p.merged(i) && p.tankOf(e.Into, i) == tank:
			is = is && (!p.marked[tank] || p.waterOf(e.Of.ID, i) == p.systemOf(tank, i))
		}
	}
	return is
}

func (p *plain) arrivedEver(lot string, n int) bool {
	for i, e := range p.events[:n] {
		if e.What == "parted" && e.Into == lot && e.Of.ID != lot && p.arrivedEver(e.Of.ID, i) {
			return true
		}
		if e.What == "arrived" && e.Of == (Ref{"specimen", lot}) || e.What == "merged" && e.Into == lot && p.merged(i) && p.arrivedEver(e.Of.ID, i) {
			return true
		}
	}
	return false
}

// quiet tells whether a day counts for the water in which a specimen lived.
func (p *plain) quiet(lot string, d Day, n int) bool {
	first, end := n, 0 // the events of the day are events[first:end]
	for i, e := range p.events[:n] {
		day := dayOf(e.At, p.zone)
		if day >= d {
			first = min(first, i)
		}
		if day <= d {
			end = i + 1
		}
	}
	first = min(first, end)
	for i := first; i <= end; i++ { // as the day began, and after each of its events
		if water := p.stood(lot, i); p.anyOpen(water, i) {
			return false
		}
	}
	water := p.stood(lot, end)
	for _, other := range p.lots {
		if p.waterOf(other, end) == water && !p.watched(other, d, first, end) {
			return false
		}
	}
	return true
}

// watched tells whether a check of the day covered a specimen and saw nothing, with an
// adult's word.
func (p *plain) watched(lot string, d Day, first, end int) bool {
	at, adult := p.seen(lot, first, end)
	if adult {
		return true
	}
	for i := range p.events {
		c := &p.events[i]
		if at != nil && c.What == "confirmed" && c.Day == d.String() && !c.At.After(p.now) && !c.At.Before(*at) &&
			c.By != "kid" && p.covers(c, lot, end) {
			return true
		}
	}
	return false
}

// seen tells when a specimen was first seen without a sign among the events of a day, and
// whether by an adult; of a lot that others were put to, only if they were seen too.
func (p *plain) seen(lot string, first, end int) (at *time.Time, adult bool) {
	for i := first; i < end; i++ {
		e := &p.events[i]
		if e.What == "merged" && e.Into == lot && p.merged(i) {
			other, by := p.seen(e.Of.ID, first, i)
			if adult = adult && by; other == nil || at != nil && other.After(*at) {
				at = other
			}
		}
		if p.parted(lot, i) { // it was seen as what it was part of
			at, adult = p.seen(e.Of.ID, first, i)
		}
		if e.What != "checked" || len(e.Signs) > 0 || !p.covers(e, lot, i) {
			continue
		}
		adult = adult || p.adults[e.By]
		if at == nil {
			at = &e.At
		}
	}
	return at, adult
}
