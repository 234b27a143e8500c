package settle

import (
	"slices"
	"strings"
	"time"
)

// walk goes through everything that happened, in the order of time, and keeps what stands
// at each instant.
type walk struct {
	book      *Book
	now       time.Time
	today     Day
	waters    map[Ref]*water
	vessels   map[string]*vessel
	lots      map[string]*lot
	confirmed map[Day][]*Event
	questions []*Question
	notes     []*Note
	after     func(at time.Time) // called when an instant's event was taken in; may be nil
}

// vessel is a tank at one instant.
type vessel struct {
	id         string
	system     string // "" stands alone
	use        string
	quarantine bool
	used       bool // held something, or water of another system
}

// lot is a specimen at one instant.
type lot struct {
	*Specimen
	taxon     string
	tank      string // where it is or was last; "" before it came
	alive     bool   // and here
	gone      *Event // how it left, if it did
	arrived   *Day
	clear     Day // of the last check that saw no signs on it; 0 none
	clearAt   time.Time
	adult     Day // of the last that an adult made or confirmed
	dips      []Day
	searches  []Day
	carried   map[string]*OpenSign // signs from before it came
	overruled *Event
	cleared   *clearing
	from      string // the lot it was parted from
	lost      float64
	left      float64 // the share that deaths told in per cent leave
}

// clearing is a move into a display, and what was missing then.
type clearing struct {
	at       time.Time
	missing  []string
	question *Question
}

// Question is a clearance that does not stand by what is now on file, or water that a
// display should not have had: it puts the display's system in question, until a keeper
// overrules it.
type Question struct {
	System   Ref       `json:"system"`
	Specimen string    `json:"specimen,omitempty"`
	At       time.Time `json:"at"`
	Missing  []string  `json:"missing"` // or water
	lifted   bool
}

// Note is an event that changed nothing, and why: before arrival, no tank, no specimen,
// unlike (two kinds cannot be one lot), unknown sign, child (who may not say so), future,
// date (before 2000).
type Note struct {
	Event string `json:"event"`
	Why   string `json:"why"`
}

// earliest is where a believable date begins: before it a clock was wrong.
var earliest = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Derive tells how every system and specimen stands at an instant, from everything in the
// book. The order of the events and readings does not matter.
func Derive(b *Book, now time.Time) *Picture {
	w := newWalk(b, now)
	w.run()
	return w.picture()
}

func newWalk(b *Book, now time.Time) *walk {
	w := &walk{book: b, now: now, waters: map[Ref]*water{}, vessels: map[string]*vessel{},
		lots: map[string]*lot{}, confirmed: map[Day][]*Event{}}
	for id := range b.Systems {
		w.water(Ref{"system", id})
	}
	for id := range b.Tanks {
		w.vessel(id)
	}
	for id := range b.Specimens {
		w.lot(id)
	}
	return w
}

// step is something dated: an event, a reading, or a name.
type step struct {
	Event
	tempC *float64
}

func (w *walk) run() {
	var steps, ahead []*step
	put := func(s *step) {
		switch {
		case s.At.After(w.now):
			ahead = append(ahead, s)
			w.note(s.ID, "future")
		case s.At.Before(earliest):
			ahead = append(ahead, s)
			w.note(s.ID, "date")
		default:
			steps = append(steps, s)
		}
	}
	for i := range w.book.Events {
		e := &w.book.Events[i]
		put(&step{Event: *e})
	}
	for _, r := range w.book.Readings {
		if r.TemperatureC != nil && !r.Sample.At.After(w.now) {
			steps = append(steps, &step{Event: Event{At: r.Sample.At, Of: r.Sample.Of}, tempC: r.TemperatureC})
		}
	}
	for _, s := range w.book.Specimens {
		for _, n := range w.book.names[s.Find] {
			if !n.At.After(w.now) {
				steps = append(steps, &step{Event: Event{What: named, At: n.At, Of: Ref{"specimen", s.ID}, Text: n.Taxon}})
			}
		}
	}
	order := func(a, b *step) int {
		if c := before(&a.Event, &b.Event); c != 0 {
			return c
		}
		return strings.Compare(a.Of.ID+a.Text, b.Of.ID+b.Text)
	}
	slices.SortFunc(steps, order)
	slices.SortFunc(ahead, order)
	w.foresee(steps)
	for i := range steps {
		w.turnTo(dayOf(steps[i].At, w.book.Zone))
		if c := steps[i].tempC; c != nil {
			if x := w.waterOf(steps[i].Of); x != nil {
				x.reads(*c)
			}
		} else {
			w.take(&steps[i].Event)
			w.acted(&steps[i].Event)
		}
		if w.after != nil {
			w.after(steps[i].At)
		}
	}
	w.turnTo(dayOf(w.now, w.book.Zone))
	for i := range ahead {
		w.ahead(&ahead[i].Event)
	}
}

// acted notes what was done to a water.
func (w *walk) acted(e *Event) {
	if x := w.waterOf(e.Of); x != nil {
		x.acted(e.What, w.today)
	}
}

// foresee gathers what is to be known beforehand: confirmations by their day, and which tanks
// that are called displays now were quarantines until they graduated.
func (w *walk) foresee(steps []*step) {
	stands := map[string]string{} // the system of a tank as the steps go by
	for _, s := range steps {
		switch s.What {
		case "confirmed":
			var d Day
			if d.UnmarshalText([]byte(s.Day)) == nil && w.adultsWord(s.By) {
				w.confirmed[d] = append(w.confirmed[d], &s.Event)
			}
		case "joined":
			stands[s.Of.ID] = s.System
		case "left":
			if stands[s.Of.ID] == s.System {
				delete(stands, s.Of.ID)
			}
		case "graduated":
			var tanks []*vessel
			called := false // a quarantine still
			if s.Of.Kind == "tank" {
				tanks = append(tanks, w.vessel(s.Of.ID))
			}
			for tank, system := range stands {
				if s.Of == (Ref{"system", system}) {
					tanks = append(tanks, w.vessel(tank))
					called = called || w.vessel(tank).use == "quarantine"
				}
			}
			for _, v := range tanks {
				v.quarantine = v.quarantine || !called
			}
		}
	}
}

// adultsWord: a child's role may not write that a day is confirmed, a sign settled or a
// clearance overruled, so that one without a name is an adult's; a child's name makes it a
// child's.
func (w *walk) adultsWord(by string) bool {
	adult, known := w.book.Adults[by]
	return adult || !known
}

// turnTo closes the days before d.
func (w *walk) turnTo(d Day) {
	for ; w.today < d; w.today++ {
		if !w.anyClock() {
			w.today = d
			return
		}
		w.closeDay()
	}
}

func (w *walk) anyClock() bool {
	for _, x := range w.waters {
		if x.running || x.restart.on(w.today) {
			return true
		}
	}
	return false
}

func (w *walk) closeDay() {
	d := w.today
	for _, c := range w.confirmed[d] {
		for _, l := range w.covered(c.Of) {
			if l.clear == d && !c.At.Before(l.clearAt) {
				l.adult = d
			}
		}
	}
	missed, unconfirmed := map[*water]bool{}, map[*water]bool{}
	for _, l := range w.lots {
		if l.alive {
			x := w.at(l.tank)
			missed[x] = missed[x] || l.clear != d
			unconfirmed[x] = unconfirmed[x] || l.adult != d
		}
	}
	for _, x := range w.waters {
		x.close(d, dayOf(x.looked, w.book.Zone), w.own(x), !missed[x], !unconfirmed[x])
	}
}

// own is the household's protocol for a system, if it has one.
func (w *walk) own(x *water) *Protocol {
	if s := w.book.Systems[x.key.ID]; x.key.Kind == "system" && s != nil {
		return s.Protocol
	}
	return nil
}

func (w *walk) note(event, why string) { w.notes = append(w.notes, &Note{event, why}) }

// water finds a system, or makes it.
func (w *walk) water(key Ref) *water {
	x := w.waters[key]
	if x == nil {
		x = &water{key: key, open: map[string]*OpenSign{}}
		w.waters[key] = x
	}
	return x
}

func (w *walk) vessel(id string) *vessel {
	v := w.vessels[id]
	if v == nil {
		v = &vessel{id: id}
		if t := w.book.Tanks[id]; t != nil {
			v.use = t.Use
		}
		v.quarantine = v.use == "quarantine"
		w.vessels[id] = v
	}
	return v
}

func (w *walk) lot(id string) *lot {
	l := w.lots[id]
	if l == nil {
		s := w.book.Specimens[id]
		if s == nil {
			s = &Specimen{ID: id}
		}
		l = &lot{Specimen: s, taxon: s.Taxon, carried: map[string]*OpenSign{}, from: s.Lot, left: 1}
		w.lots[id] = l
	}
	return l
}

// at is the system in which a tank stands: a tank that joined none is one of its own.
func (w *walk) at(tank string) *water {
	if v := w.vessel(tank); v.system != "" {
		return w.water(Ref{"system", v.system})
	}
	return w.water(Ref{"tank", tank})
}

// waterOf is the system that an event is about; nil where a specimen is nowhere yet.
func (w *walk) waterOf(r Ref) *water {
	switch r.Kind {
	case "system":
		return w.water(r)
	case "tank":
		return w.at(r.ID)
	case "specimen":
		if l := w.lot(r.ID); l.tank != "" {
			return w.at(l.tank)
		}
	}
	return nil
}

// covered lists the living lots that an event is about.
func (w *walk) covered(r Ref) []*lot {
	var list []*lot
	for _, l := range w.lots {
		if l.alive && (r.Kind == "specimen" && l.ID == r.ID || r.Kind == "tank" && l.tank == r.ID ||
			r.Kind == "system" && w.at(l.tank).key == r) {
			list = append(list, l)
		}
	}
	return list
}

func (w *walk) residents(x *water) []*lot {
	var list []*lot
	for _, l := range w.lots {
		if l.alive && w.at(l.tank) == x {
			list = append(list, l)
		}
	}
	return list
}

func (w *walk) tanks(x *water) []*vessel {
	var list []*vessel
	for _, v := range w.vessels {
		if w.at(v.id) == x {
			list = append(list, v)
		}
	}
	slices.SortFunc(list, func(a, b *vessel) int { return strings.Compare(a.id, b.id) })
	return list
}
