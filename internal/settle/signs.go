package settle

import (
	"slices"
	"time"
)

func (w *walk) sign(e *Event) {
	s := &OpenSign{e.ID, e.Grade, e.At, e.Of}
	if x := w.waterOf(e.Of); x != nil {
		w.raise(x, s, e.At)
	} else if e.Of.Kind == "specimen" {
		w.lot(e.Of.ID).carried[e.ID] = s
	}
}

// raise opens a sign: watch pauses, pest restarts, notify stops. A grade that is not known
// counts as unsure, and unsure as disease.
func (w *walk) raise(x *water, s *OpenSign, at time.Time) {
	switch s.Grade {
	case Harmless:
		return
	case Watch, Pest, Notify:
	default:
		s.Grade = Unsure
	}
	x.open[s.ID] = s
	x.troubled.add(w.today, Cause{"open sign", s.ID})
	for _, l := range w.residents(x) {
		l.overruled = nil
	}
	if s.Grade != Watch {
		w.restart(x, &Event{ID: s.ID, At: at}, "sign")
	}
}

// settle closes a sign wherever it is open. A stop that is lifted starts the clock anew.
func (w *walk) settle(id string, e *Event) {
	found := false
	for _, x := range w.allWaters {
		s, ok := x.open[id]
		if !ok || e.At.Before(s.At) {
			continue
		}
		found = true
		delete(x.open, id)
		x.troubled.add(w.today, Cause{"open sign", id})
		if s.Grade == Notify {
			w.restart(x, e, "settled")
		}
	}
	for _, l := range w.allLots {
		if s, ok := l.carried[id]; ok && !e.At.Before(s.At) {
			found = true
			delete(l.carried, id)
		}
	}
	if !found {
		w.note(e.ID, "unknown sign")
	}
}

// kindSign names the sign that a lot is of a kind that may not be kept.
func kindSign(specimen string) string { return "kind:" + specimen }

func (w *walk) raiseKind(l *lot, at time.Time) {
	w.raise(w.at(l.tank), &OpenSign{kindSign(l.ID), Notify, at, Ref{"specimen", l.ID}}, at)
}

// check takes in a check that saw no signs.
func (w *walk) check(e *Event) {
	for _, l := range w.covered(e.Of) {
		if l.clear != w.today {
			l.clear, l.clearAt = w.today, e.At
		}
		if w.book.Adults[e.By] {
			l.adult = w.today
		}
		switch {
		case e.Night && w.book.Adults[e.By]:
			l.search(w.today)
		case e.Night:
			l.night, l.nightAt = w.today, e.At
		}
	}
}

// search notes a search by night.
func (l *lot) search(day Day) {
	if !slices.Contains(l.searches, day) {
		l.searches = append(l.searches, day)
	}
}
