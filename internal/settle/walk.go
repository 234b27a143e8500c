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
	allWaters []*water
	allTanks  []*vessel
	allLots   []*lot
	quarter   int64 // of an hour, since 1970, in which the day is
	day       Day
	confirmed map[Day][]*Event
	questions []*Question
	notes     []*Note
	after     func(at time.Time) // called when an instant's event was taken in; may be nil
}

// vessel is a tank at one instant.
type vessel struct {
	id         string
	system     string // "" stands alone
	in         *water
	use        string
	quarantine bool
	used       bool // held something, or water of another system
}

// lot is a specimen at one instant.
type lot struct {
	*Specimen
	taxon     string
	tank      string // where it is or was last; "" before it came
	in        *vessel
	alive     bool   // and here
	gone      *Event // how it left, if it did
	arrived   *Day
	clear     Day // of the last check that saw no signs on it; 0 none
	clearAt   time.Time
	adult     Day // of the last that an adult made or confirmed
	dips      []Day
	searches  []Day
	night     Day // of the last search by night that waits for an adult's word
	nightAt   time.Time
	carried   map[string]*OpenSign // signs from before it came
	overruled *Event
	cleared   *clearing
	from      string // the lot it was parted from
	lost      float64
	left      float64 // the share that deaths told in per cent leave
}

// clearing is a move into a display, and what was missing then.
type clearing struct {
	at        time.Time
	missing   []string
	question  *Question
	overruled string // the event by which a keeper let it go all the same
}

// Question is a clearance that does not stand by what is now on file, or water that a
// display should not have had: it puts the display's system in question, until a keeper
// overrules it.
type Question struct {
	System   Ref       `json:"system"`
	Specimen string    `json:"specimen,omitempty"`
	At       time.Time `json:"at"`
	Missing  []string  `json:"missing"` // or water
	lifted   string    // the event by which a keeper decided; "" it is open
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
	*Event
	tempC *float64
}

func inOrder(a, b step) int {
	if c := before(a.Event, b.Event); c != 0 {
		return c
	}
	return strings.Compare(a.Of.ID+a.Text+a.How, b.Of.ID+b.Text+b.How)
}

func (w *walk) run() {
	steps, ahead := w.steps()
	w.foresee(steps)
	for _, s := range steps {
		w.turnTo(w.dayOf(s.At))
		if s.tempC != nil {
			if x := w.waterOf(s.Of); x != nil {
				x.reads(*s.tempC)
			}
		} else {
			w.take(s.Event)
			w.acted(s.Event)
		}
		if w.after != nil {
			w.after(s.At)
		}
	}
	w.turnTo(w.dayOf(w.now))
	for _, s := range ahead {
		w.ahead(s.Event)
	}
}

// steps gives everything that happened until now in its order, and what cannot be believed
// yet. Events and readings are held in order, so that sorting them costs little.
func (w *walk) steps() (steps, ahead []step) {
	events := make([]step, 0, len(w.book.Events)+len(w.book.Readings))
	for i := range w.book.Events {
		switch e := &w.book.Events[i]; {
		case e.At.After(w.now):
			ahead = append(ahead, step{Event: e})
			w.note(e.ID, "future")
		case e.At.Before(earliest):
			ahead = append(ahead, step{Event: e})
			w.note(e.ID, "date")
		default:
			events = append(events, step{Event: e})
		}
	}
	slices.SortFunc(events, inOrder)
	slices.SortFunc(ahead, inOrder)
	var others []step
	for i := range w.book.Readings {
		if r := &w.book.Readings[i]; r.TemperatureC != nil && !r.Sample.At.After(w.now) {
			others = append(others, step{&r.as, r.TemperatureC})
		}
	}
	for _, s := range w.book.Specimens {
		for _, n := range w.book.names[s.Find] {
			if !n.At.After(w.now) {
				others = append(others, step{Event: &Event{What: named, At: n.At, Of: Ref{"specimen", s.ID}, Text: n.Taxon, How: n.Group}})
			}
		}
	}
	slices.SortFunc(others, inOrder)
	steps = make([]step, 0, len(events)+len(others))
	for len(events) > 0 && len(others) > 0 {
		if inOrder(events[0], others[0]) <= 0 {
			steps, events = append(steps, events[0]), events[1:]
		} else {
			steps, others = append(steps, others[0]), others[1:]
		}
	}
	return append(append(steps, events...), others...), ahead
}

// dayOf is the day of an instant since earliest: the same for a whole quarter of an hour of
// UTC, by which zones have kept since then.
func (w *walk) dayOf(t time.Time) Day {
	const quarter = 15 * 60
	if q := t.Unix() / quarter; q != w.quarter {
		w.quarter, w.day = q, dayOf(t, w.book.Zone)
	}
	return w.day
}

// acted notes what was done to a water.
func (w *walk) acted(e *Event) {
	if x := w.waterOf(e.Of); x != nil {
		x.acted(e.What, w.today)
	}
}

// foresee gathers what is to be known beforehand: confirmations by their day, and which tanks
// that are called displays now were quarantines until they graduated.
func (w *walk) foresee(steps []step) {
	stands := map[string]string{} // the system of a tank as the steps go by
	for _, s := range steps {
		switch s.What {
		case "confirmed":
			var d Day
			if d.UnmarshalText([]byte(s.Day)) == nil && w.adultsWord(s.By) {
				w.confirmed[d] = append(w.confirmed[d], s.Event)
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
	for _, x := range w.allWaters {
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
			if l.night == d && !c.At.Before(l.nightAt) {
				l.search(d)
			}
		}
	}
	for _, x := range w.allWaters {
		x.missed, x.unconfirmed = false, false
	}
	for _, l := range w.allLots {
		if l.alive {
			x := l.in.in
			x.missed = x.missed || l.clear != d
			x.unconfirmed = x.unconfirmed || l.adult != d
		}
	}
	for _, x := range w.allWaters {
		x.close(d, w.own(x))
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
		w.allWaters = append(w.allWaters, x)
	}
	return x
}

func (w *walk) vessel(id string) *vessel {
	v := w.vessels[id]
	if v == nil {
		v = &vessel{id: id, in: w.water(Ref{"tank", id})}
		if t := w.book.Tanks[id]; t != nil {
			v.use = t.Use
		}
		v.quarantine = v.use == "quarantine"
		w.vessels[id] = v
		w.allTanks = append(w.allTanks, v)
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
		w.allLots = append(w.allLots, l)
	}
	return l
}

// at is the system in which a tank stands: a tank that joined none is one of its own.
func (w *walk) at(tank string) *water { return w.vessel(tank).in }

// waterOf is the system that an event is about; nil where a specimen is nowhere yet.
func (w *walk) waterOf(r Ref) *water {
	switch r.Kind {
	case "system":
		return w.water(r)
	case "tank":
		return w.at(r.ID)
	case "specimen":
		if l := w.lot(r.ID); l.in != nil {
			return l.in.in
		}
	}
	return nil
}

// covered lists the living lots that an event is about.
func (w *walk) covered(r Ref) []*lot {
	var list []*lot
	switch r.Kind {
	case "specimen":
		if l := w.lots[r.ID]; l != nil && l.alive {
			list = append(list, l)
		}
	case "tank":
		v := w.vessels[r.ID]
		for _, l := range w.allLots {
			if l.alive && l.in == v {
				list = append(list, l)
			}
		}
	case "system":
		if x := w.waters[r]; x != nil {
			return w.residents(x)
		}
	}
	return list
}

func (w *walk) residents(x *water) []*lot {
	var list []*lot
	for _, l := range w.allLots {
		if l.alive && l.in.in == x {
			list = append(list, l)
		}
	}
	return list
}

func (w *walk) tanks(x *water) []*vessel {
	var list []*vessel
	for _, v := range w.allTanks {
		if v.in == x {
			list = append(list, v)
		}
	}
	slices.SortFunc(list, func(a, b *vessel) int { return strings.Compare(a.id, b.id) })
	return list
}
