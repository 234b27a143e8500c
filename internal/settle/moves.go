package settle

import (
	"slices"
)

func (w *walk) arrive(e *Event) {
	if e.Of.Kind != "specimen" || e.Tank == "" {
		if x := w.waterOf(e.Of); x != nil {
			w.restart(x, e, "newcomer")
		}
		return
	}
	l := w.lot(e.Of.ID)
	d := w.today
	l.arrived, l.gone = &d, nil
	w.place(l, e)
	w.vessel(l.tank).mark()
	w.refresh(w.at(l.tank), e)
	w.restart(w.at(l.tank), e, "newcomer")
}

// mark makes a tank that graduated a quarantine again, when somebody new comes into it and
// it is still called one.
func (v *vessel) mark() { v.quarantine = v.quarantine || v.use == "quarantine" }

// place puts a lot into a tank, with the signs that are open where it comes from.
func (w *walk) place(l *lot, e *Event) {
	v := w.vessel(e.Tank)
	var old *water
	if l.alive {
		old = l.in.in
	}
	x := w.at(e.Tank)
	l.tank, l.in, l.alive, l.gone, v.used = e.Tank, v, true, nil, true
	if old == x {
		return
	}
	l.cleared = nil
	v.mark()
	w.refresh(x, e)
	w.restart(x, e, "newcomer")
	for _, s := range openSigns(l.carried) {
		w.raise(x, s, e.At)
	}
	clear(l.carried)
	if old != nil {
		w.pass(old.open, x)
		w.refresh(old, e)
	} else if w.book.isolated(l.taxon) {
		w.raiseKind(l, e.At)
	}
}

// carry gives a clock to the system that a tank takes it into; a sign that was raised there
// stays open.
func (w *walk) carry(from, to *water) {
	kept := to.open
	from.carry(to)
	w.pass(kept, to)
}

// pass gives the open signs of one water to another that received of it.
func (w *walk) pass(open map[string]*OpenSign, to *water) {
	for _, s := range openSigns(open) {
		if _, has := to.open[s.ID]; !has {
			to.open[s.ID] = s
			to.troubled.add(w.today, Cause{"open sign", s.ID})
			if s.Grade == Notify {
				to.quiet = 0
			}
		}
	}
}

func (w *walk) move(e *Event) {
	if e.Of.Kind != "specimen" || e.Tank == "" {
		w.note(e.ID, "no specimen")
		return
	}
	l := w.lot(e.Of.ID)
	var old *water
	missing := []string{"arrival"} // of one that is nowhere
	overruled := l.overruled
	if l.alive {
		old = l.in.in
		missing = w.missing(l, e.At)
	}
	claims := e.What == "cleared" || old != nil && old.running
	was := l.cleared
	w.place(l, e)
	to := w.at(e.Tank)
	switch {
	case old == to:
		return
	case to.running || w.vessel(e.Tank).use != "display" && e.What != "cleared":
		return
	case !claims:
		l.cleared = was
		if was != nil && was.question != nil && was.question.lifted == "" {
			w.question(to, l, e.At, was.missing)
		}
		return
	}
	c := &clearing{at: e.At, missing: missing}
	if overruled != nil && len(missing) > 0 && !slices.Contains(missing, "stopped") {
		c.missing, c.overruled = nil, overruled.ID
	}
	if len(c.missing) > 0 {
		c.question = w.question(to, l, e.At, c.missing)
	}
	l.cleared = c
}

func (w *walk) part(e *Event) {
	l, part := w.lot(e.Of.ID), w.lot(e.Into)
	if e.Of.Kind != "specimen" || e.Into == "" || l == part {
		w.note(e.ID, "no specimen")
		return
	}
	part.from = l.ID
	if part.arrived == nil {
		part.arrived = l.arrived
	}
	if part.tank != "" || !l.alive {
		return
	}
	part.tank, part.in, part.alive, part.gone = l.tank, l.in, true, nil
	part.clear, part.clearAt, part.adult, part.night, part.nightAt = l.clear, l.clearAt, l.adult, l.night, l.nightAt
	part.dips, part.searches = append([]Day(nil), l.dips...), append([]Day(nil), l.searches...)
	part.overruled, part.cleared = l.overruled, l.cleared
	w.lengthen(part)
	for _, s := range openSigns(part.carried) {
		w.raise(part.in.in, s, e.At)
	}
	clear(part.carried)
	if w.book.isolated(part.taxon) {
		w.raiseKind(part, e.At)
	}
}

// merge puts a lot together with another of its kind, which goes on: watched, dipped and
// searched only as far as both were.
func (w *walk) merge(e *Event) {
	l, into := w.lot(e.Of.ID), w.lot(e.Into)
	switch {
	case e.Of.Kind != "specimen" || e.Into == "" || l == into || !l.alive || !into.alive:
		w.note(e.ID, "no specimen")
		return
	case l.taxon != into.taxon || l.groupID() != into.groupID():
		w.note(e.ID, "unlike")
		return
	}
	if l.tank != into.tank {
		w.move(&Event{ID: e.ID, What: "moved", At: e.At, Of: e.Of, Tank: into.tank})
	}
	if l.clear <= into.clear {
		if l.clear < into.clear || l.clearAt.After(into.clearAt) {
			into.clearAt = l.clearAt
		}
		into.clear = l.clear
	}
	into.adult = min(into.adult, l.adult)
	if into.night != l.night {
		into.night = 0
	} else if l.nightAt.After(into.nightAt) {
		into.nightAt = l.nightAt
	}
	if l.arrived != nil && (into.arrived == nil || *l.arrived > *into.arrived) {
		into.arrived = l.arrived
	}
	if len(l.dips) < len(into.dips) {
		into.dips = l.dips
	}
	var searches []Day
	for _, d := range into.searches {
		if slices.Contains(l.searches, d) {
			searches = append(searches, d)
		}
	}
	into.searches = searches
	if l.overruled == nil {
		into.overruled = nil
	}
	if l.cleared == nil || len(l.cleared.missing) > 0 || l.cleared.overruled != "" {
		into.cleared = l.cleared
	}
	both := *into.Specimen
	if l.Base != "cut" {
		both.Base = l.Base
	}
	if l.Origin != HomeGrown {
		both.Origin = l.Origin
	}
	into.Specimen = &both
	l.alive, l.gone, l.cleared, l.overruled = false, e, nil, nil
}

func (w *walk) join(e *Event) {
	if e.Of.Kind != "tank" || e.System == "" {
		w.note(e.ID, "no tank")
		return
	}
	v := w.vessel(e.Of.ID)
	old, x := w.at(v.id), w.water(Ref{"system", e.System})
	if old == x {
		return
	}
	others := w.tanks(x)
	v.system, v.in = e.System, x
	switch {
	case !v.used: // nothing comes with it
	case len(others) == 0:
		w.carry(old, x)
	default:
		w.pass(old.open, x)
		w.refresh(x, e)
		w.restart(x, e, "joined")
	}
	w.refresh(x, e)
	w.refresh(old, e)
}

func (w *walk) leave(e *Event) {
	v := w.vessel(e.Of.ID)
	if e.Of.Kind != "tank" || v.system == "" || v.system != e.System {
		w.note(e.ID, "no tank")
		return
	}
	old := w.at(v.id)
	v.used = v.used || slices.ContainsFunc(w.tanks(old), func(o *vessel) bool { return o.used })
	x := w.water(Ref{"tank", v.id})
	v.system, v.in = "", x
	w.carry(old, x)
	w.refresh(x, e)
	w.refresh(old, e)
}
