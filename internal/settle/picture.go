package settle

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// Picture is how everything stands at an instant.
type Picture struct {
	Day       Day             `json:"day"` // of the home
	Systems   []SystemState   `json:"systems"`
	Specimens []SpecimenState `json:"specimens"`
	Notes     []*Note         `json:"notes"`
	Unread    []string        `json:"unread"`

	walk *walk // for Fits and DueNow
}

// SystemState is a water system with its clock.
type SystemState struct {
	Key         Ref         `json:"key"` // a system, or a tank that stands alone
	State       string      `json:"state"`
	Tanks       []string    `json:"tanks"`
	Residents   []string    `json:"residents"`
	Quiet       int         `json:"quiet"`             // days counted
	Wait        int         `json:"wait"`              // of days asked for
	Own         bool        `json:"own"`               // by the household's own number
	Longest     string      `json:"longest,omitempty"` // else by this resident
	Cold        bool        `json:"cold"`              // and longer for the cold
	Ends        *Day        `json:"ends"`              // the first day on which the wait can be done; null where a sign is open or it is done
	Since       *Cause      `json:"since"`             // what started the clock
	Looked      *time.Time  `json:"looked"`
	Days        []DayMark   `json:"days"` // the last 400 at most, the present one last
	Open        []*OpenSign `json:"open"`
	Unconfirmed []Day       `json:"unconfirmed"` // of the last week, for an adult to confirm
	Future      []string    `json:"future"`      // events ahead of their time
	Questions   []*Question `json:"questions"`
}

// SpecimenState is a specimen and what it lacks.
type SpecimenState struct {
	ID             string     `json:"id"`
	Tank           string     `json:"tank"` // where it is or was last
	System         *Ref       `json:"system"`
	Arrived        *Day       `json:"arrived"`
	Origin         string     `json:"origin"`         // wild where nobody says that it grew at home
	Left           *float64   `json:"left,omitempty"` // per cent, where a part of it died
	Gone           string     `json:"gone,omitempty"` // died, merged, or how it left
	GoneTo         string     `json:"goneTo,omitempty"`
	May            bool       `json:"may"` // be cleared
	Missing        []string   `json:"missing"`
	Overruled      string     `json:"overruled,omitempty"` // the event that allows it, or allowed it, all the same
	Cleared        *time.Time `json:"cleared"`             // when it moved to a display; it stands where Missing is empty
	Dips           int        `json:"dips"`
	DipsNeeded     int        `json:"dipsNeeded"`
	Searches       []Day      `json:"searches,omitempty"`
	SearchesNeeded int        `json:"searchesNeeded"`
	HandOn         []string   `json:"handOn"`         // what forbids giving it to anybody; empty where nothing does
	Part           string     `json:"part,omitempty"` // of this lot
}

// mostDays bounds the strip.
const mostDays = 400

func (w *walk) picture() *Picture {
	p := &Picture{Day: w.today, Systems: []SystemState{}, Specimens: []SpecimenState{}, Notes: append([]*Note{}, w.notes...), Unread: append([]string{}, w.book.Unread...), walk: w}
	slices.Sort(p.Unread)
	slices.SortFunc(p.Notes, func(a, b *Note) int { return strings.Compare(a.Event+a.Why, b.Event+b.Why) })
	for _, x := range w.systems() {
		p.Systems = append(p.Systems, w.system(x))
	}
	for _, l := range w.sorted(slices.Clone(w.allLots)) {
		p.Specimens = append(p.Specimens, w.specimen(l))
	}
	return p
}

// systems lists those that have tanks or something to say, by key.
func (w *walk) systems() []*water {
	var list []*water
	for _, x := range w.allWaters {
		if len(w.tanks(x)) > 0 || x.key.Kind == "system" && (len(x.marks) > 0 || w.book.Systems[x.key.ID] != nil) {
			list = append(list, x)
		}
	}
	return byKey(list)
}

func byKey(list []*water) []*water {
	slices.SortFunc(list, func(a, b *water) int { return strings.Compare(a.key.String(), b.key.String()) })
	return list
}

func (w *walk) sorted(list []*lot) []*lot {
	slices.SortFunc(list, func(a, b *lot) int { return strings.Compare(a.ID, b.ID) })
	return list
}

func (w *walk) system(x *water) SystemState {
	own := w.own(x)
	s := SystemState{Key: x.key, Open: openSigns(x.open), State: None, Tanks: []string{}, Residents: []string{},
		Future: append([]string{}, x.future...), Questions: []*Question{}, Unconfirmed: []Day{}}
	quarantine := false
	for _, v := range w.tanks(x) {
		s.Tanks = append(s.Tanks, v.id)
		quarantine = quarantine || v.quarantine
	}
	for _, l := range w.sorted(w.residents(x)) {
		s.Residents = append(s.Residents, l.ID)
	}
	for _, q := range w.questions {
		if q.System == x.key && q.lifted == "" {
			s.Questions = append(s.Questions, q)
		}
	}
	if !x.looked.IsZero() {
		s.Looked = &x.looked
	}
	s.Days = append([]DayMark{}, x.marks[max(0, len(x.marks)-mostDays):]...)
	switch {
	case x.stopped():
		s.State = Stopped
	case quarantine:
		s.State = Empty
	}
	if !x.running {
		if x.restart.on(w.today) {
			s.Days = append(s.Days, DayMark{Day: w.today, Kind: Restarted, Why: x.restart.why})
		}
		return s
	}
	s.Quiet, s.Own, s.Longest, s.Since = x.quiet, own != nil && own.QuietDays >= max(x.least, 1), x.lead, &x.since
	s.Wait, s.Cold = x.wait(own)
	s.Quiet = min(s.Quiet, s.Wait)
	late := w.now.Sub(x.looked) > mostGap
	if late {
		y := *x
		y.marks = s.Days
		y.look(w.now, w.today)
	}
	today := DayMark{Day: w.today, Kind: Today}
	done := x.quiet >= s.Wait
	switch {
	case x.stopped():
		today.Kind, today.Why = Stopped, x.openCauses("notify")
	case x.restart.on(w.today):
		today.Kind, today.Why = Restarted, x.restart.why
	case done && len(x.open) == 0 && !late:
		today.Kind = Done
	}
	switch {
	case x.stopped():
	case len(x.open) > 0 || late:
		s.State = Paused
	case done:
		s.State = Done
	default:
		s.State = Waiting
	}
	if !done && len(x.open) == 0 {
		ends := w.today + Day(s.Wait-x.quiet)
		if x.restart.on(w.today) || x.troubled.on(w.today) {
			ends++
		}
		s.Ends = &ends
	}
	s.Days = append(s.Days, today)
	for _, m := range s.Days[max(0, len(s.Days)-8):] {
		if len(m.Why) == 1 && m.Why[0].Why == "unconfirmed" {
			s.Unconfirmed = append(s.Unconfirmed, m.Day)
		}
	}
	return s
}

// openSigns lists signs, earliest first.
func openSigns(open map[string]*OpenSign) []*OpenSign {
	list := make([]*OpenSign, 0, len(open))
	for _, s := range open {
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b *OpenSign) int {
		if c := a.At.Compare(b.At); c != 0 {
			return c
		}
		return strings.Compare(a.ID, b.ID)
	})
	return list
}

func (w *walk) specimen(l *lot) SpecimenState {
	s := SpecimenState{ID: l.ID, Tank: l.tank, Arrived: l.arrived, Missing: []string{}, HandOn: []string{}, Part: l.from,
		Dips: l.dipsSinceArrival(), Searches: l.searches, Origin: w.origin(l)}
	if l.left < 1 {
		left := rounded(l.left*100, 1)
		s.Left = &left
	}
	switch {
	case l.gone != nil:
		s.Gone, s.GoneTo = l.how(), cmp.Or(l.gone.To, l.gone.Into)
		return s
	case !l.alive:
		s.Missing = append(s.Missing, "arrival")
		return s
	}
	x := w.at(l.tank)
	s.System = &x.key
	own := w.own(x)
	if own != nil {
		s.DipsNeeded = own.Dips
	}
	if l.wantsSearch() {
		s.SearchesNeeded = numbers().Search.Nights
	}
	stands := false
	if c := l.cleared; c != nil {
		s.Cleared = &c.at
		if s.Overruled = c.overruled; c.question == nil || c.question.lifted == "" {
			s.Missing = append(s.Missing, c.missing...)
		} else {
			s.Overruled = c.question.lifted
		}
		stands = len(s.Missing) == 0
	} else {
		s.Missing = append(s.Missing, w.missing(l, w.now)...)
		if len(x.future) > 0 {
			s.Missing = append(s.Missing, "date")
		}
		if len(w.book.Unread) > 0 {
			s.Missing = append(s.Missing, "record")
		}
		s.May = len(s.Missing) == 0
		if l.overruled != nil && len(s.Missing) > 0 && !slices.Contains(s.Missing, "stopped") {
			s.May, s.Overruled = true, l.overruled.ID
		}
	}
	s.HandOn = w.handOn(l, x, (stands || s.May) && s.Overruled == "")
	return s
}

// how says how a lot left for good: died, merged, given away, disposed of, lost.
func (l *lot) how() string {
	if l.gone.What == "gone" {
		return l.gone.How
	}
	return l.gone.What
}

// origin of a lot: as somebody said of it or of the lot that it was parted from.
func (w *walk) origin(l *lot) string {
	for range 100 { // what was parted from itself ends too
		switch {
		case l.Origin != "":
			return l.Origin
		case l.from == "":
			return Wild
		}
		l = w.lot(l.from)
	}
	return Wild
}

// handOn says why a lot may not be given to anybody: still waiting, stopped, unidentified,
// of a kind that may not be passed on, or out of a display in which a sign is open or which
// is in question.
func (w *walk) handOn(l *lot, x *water, done bool) []string {
	list := []string{}
	if x.stopped() {
		list = append(list, "stopped")
	}
	if !done {
		list = append(list, "waiting")
	}
	if done && x.signs() {
		list = append(list, "sign")
	}
	if done && slices.ContainsFunc(w.questions, func(q *Question) bool { return q.System == x.key && q.lifted == "" }) {
		list = append(list, "question")
	}
	if l.taxon == "" || l.taxon == "unsure" {
		list = append(list, "unidentified")
	}
	if w.book.isolated(l.taxon) {
		list = append(list, "controlled")
	}
	return list
}
