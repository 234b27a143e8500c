package settle

import (
	"cmp"
	"slices"
	"time"

	"wrackbook/internal/book"
)

// take lets one event act on what stands.
func (w *walk) take(e *Event) {
	switch e.What {
	case "arrived":
		w.arrive(e)
	case "moved", "cleared":
		w.move(e)
	case "parted":
		w.part(e)
	case "merged":
		w.merge(e)
	case "joined":
		w.join(e)
	case "left":
		w.leave(e)
	case named:
		w.rename(e)
	case "settled", "overruled":
		switch {
		case !w.adultsWord(e.By):
			w.note(e.ID, "child")
		case e.What == "settled":
			w.settle(e.Sign, e)
		default:
			w.overrule(e)
		}
	case "graduated":
		w.graduate(e)
	case "confirmed", "trimmed", "fed", "toppedUp", "acclimated":
	default:
		x := w.waterOf(e.Of)
		if x == nil {
			w.note(e.ID, "before arrival")
		}
		switch e.What {
		case "sign":
			w.sign(e)
		case "checked":
			if x != nil {
				x.look(e.At, w.today)
			}
			if len(e.Signs) > 0 {
				w.sign(e)
			} else {
				w.check(e)
			}
		case "dipped", "treated":
			w.treat(e, x)
		case "waterChanged":
			w.changeWater(e, x)
		case "died":
			w.die(e, x)
		case "gone":
			w.leaveFor(e, x)
		}
	}
}

// restart begins the wait anew for everyone in the water.
func (w *walk) restart(x *water, e *Event, why string) {
	if x == nil || !x.running {
		return
	}
	c := Cause{why, e.ID}
	x.look(e.At, w.today)
	x.quiet, x.from, x.since = 0, e.At, c
	x.restart.add(w.today, c)
	x.coldest = x.lastC
	x.longest, x.lead, x.least = 0, "", 0
	for _, l := range w.residents(x) {
		l.overruled, l.cleared = nil, nil
		if n := w.days(l); n == x.longest && l.ID < x.lead {
			x.lead = l.ID
		}
		w.lengthen(l)
	}
}

// group is the numbers of the lot's handling group: as the book says, or of its kind.
func (l *lot) group() *Group { return group(l.groupID()) }

// days is the quiet days that a lot waits: those of its group, or the household's own for it.
// Weed that may carry something in its holdfast or stone never waits less than ours.
func (w *walk) days(l *lot) int {
	ours, own := int(l.group().Days.Is), w.book.Days[l.groupID()]
	if own == 0 || l.wantsSearch() && own < ours {
		return ours
	}
	return own
}

// lengthen lets the water of a lot wait as long as that lot does, if it waits longest.
func (w *walk) lengthen(l *lot) {
	x := l.in.in
	if w.days(l) > x.longest {
		x.longest, x.lead = w.days(l), l.ID
	}
	if l.wantsSearch() {
		x.least = max(x.least, int(l.group().Days.Is))
	}
}

// refresh starts the clock of a quarantine that somebody came into, and ends the one of a
// system that is none any more. A display that is left with the water of an unfinished wait
// is in question.
func (w *walk) refresh(x *water, e *Event) {
	quarantine, display := false, false
	for _, v := range w.tanks(x) {
		quarantine = quarantine || v.quarantine
		display = display || v.use == "display"
	}
	residents := len(w.residents(x)) > 0
	switch run := quarantine && residents; {
	case run && !x.running:
		x.running = true
		w.restart(x, e, "started")
	case !run && x.running:
		x.look(e.At, w.today)
		if residents && display && w.unfinished(x) {
			w.question(x, nil, e.At, []string{"water"})
		}
		x.running = false
	}
}

func (w *walk) unfinished(x *water) bool {
	wait, _ := x.wait(w.own(x))
	return x.running && x.quiet < wait || len(x.open) > 0
}

func (w *walk) question(x *water, l *lot, at time.Time, missing []string) *Question {
	q := &Question{System: x.key, At: at, Missing: missing}
	if l != nil {
		q.Specimen = l.ID
	}
	w.questions = append(w.questions, q)
	return q
}

// rename identifies a lot anew. One of a group that waits longer is waited for from then on;
// for one that waits shorter nothing changes before the next restart.
func (w *walk) rename(e *Event) {
	l := w.lot(e.Of.ID)
	was := w.book.isolated(l.taxon)
	l.taxon = e.Text
	if t, known := book.TaxonNamed(e.Text); known || e.How != "" && e.How != book.Unsure {
		as := *l.Specimen
		as.Group = cmp.Or(t.Group, e.How)
		l.Specimen = &as
		if l.alive {
			w.lengthen(l)
		}
	}
	is := w.book.isolated(l.taxon)
	if l.tank == "" || was == is {
		return
	}
	if is {
		w.raiseKind(l, e.At)
	} else {
		w.settle(kindSign(l.ID), e)
	}
}

// The words by which an overruling says what it is about. Any other changes nothing.
const (
	overClearance = "clearance"
	overIsolation = "isolation"
)

func (w *walk) overrule(e *Event) {
	switch e.Text {
	case overIsolation:
		w.settle(kindSign(e.Of.ID), e)
	case overClearance:
		for _, l := range w.covered(e.Of) {
			l.overruled = e
		}
		x := w.waterOf(e.Of)
		for _, q := range w.questions {
			if x != nil && q.System == x.key && (e.Of.Kind != "specimen" || q.Specimen == e.Of.ID) && !slices.Contains(q.Missing, "stopped") {
				q.lifted = e.ID
			}
		}
	}
}

func (w *walk) graduate(e *Event) {
	x := w.waterOf(e.Of)
	if x == nil || e.Of.Kind == "specimen" || !x.running {
		w.note(e.ID, "no tank")
		return
	}
	for _, l := range w.sorted(w.covered(e.Of)) {
		c := &clearing{at: e.At}
		switch missing := w.missing(l, e.At); {
		case l.overruled == nil || slices.Contains(missing, "stopped"):
			c.missing = missing
		case len(missing) > 0:
			c.overruled = l.overruled.ID
		}
		if len(c.missing) > 0 {
			c.question = w.question(x, l, e.At, c.missing)
		}
		l.cleared = c
	}
	for _, v := range w.tanks(x) {
		if e.Of.Kind == "system" || v.id == e.Of.ID {
			v.quarantine = false
		}
	}
	if !slices.ContainsFunc(w.tanks(x), func(v *vessel) bool { return v.quarantine }) {
		x.look(e.At, w.today)
		x.running = false // the questions were asked above
	}
}

func (w *walk) treat(e *Event, x *water) {
	switch {
	case !e.Planned:
		w.restart(x, e, "treatment")
	case e.What == "dipped" && e.Of.Kind == "specimen":
		w.lot(e.Of.ID).dip(w.today)
	case e.What == "dipped":
		for _, l := range w.covered(e.Of) {
			l.dip(w.today)
		}
	}
}

// dip notes a planned dip: one a day counts, however often it was noted.
func (l *lot) dip(day Day) {
	if !slices.Contains(l.dips, day) {
		l.dips = append(l.dips, day)
	}
}

// source is the water that an event names as where other water came from: a system, or a
// tank that stands alone.
func (w *walk) source(id string) *water {
	if w.book.Systems[id] == nil && w.book.Tanks[id] != nil {
		return w.at(id)
	}
	return w.water(Ref{"system", id})
}

func (w *walk) changeWater(e *Event, x *water) {
	if x == nil || e.From == "clean" || e.From == "stored" {
		return
	}
	if e.Of.Kind == "tank" {
		w.vessel(e.Of.ID).used = true
	} else {
		for _, v := range w.tanks(x) {
			v.used = true
		}
	}
	if e.From == "system" && e.System != "" {
		from := w.source(e.System)
		if from == x {
			return
		}
		display := slices.ContainsFunc(w.tanks(x), func(v *vessel) bool { return v.use == "display" })
		if !x.running && display && w.unfinished(from) {
			w.question(x, nil, e.At, []string{"water"})
		}
		w.pass(from.open, x)
	}
	w.restart(x, e, "water")
}

// die notes a death. What a child thinks explains it is for an adult to say.
func (w *walk) die(e *Event, x *water) {
	if e.Explained == "" || !w.adultsWord(e.By) {
		w.restart(x, e, "death")
	}
	if e.Of.Kind != "specimen" || x == nil {
		return
	}
	l := w.lot(e.Of.ID)
	if e.Percent != nil {
		l.left *= 1 - min(max(*e.Percent, 0), 100)/100
		if *e.Percent < 100 {
			return // a part of it
		}
	} else if e.Amount != nil {
		l.lost += e.Amount.Value
		if l.Amount == nil || l.Amount.Unit != e.Amount.Unit || l.lost < l.Amount.Value {
			return // a part of it
		}
	}
	w.leaveFor(e, x)
}

// leaveFor takes a lot out of the household's water for good.
func (w *walk) leaveFor(e *Event, x *water) {
	if e.Of.Kind != "specimen" {
		return
	}
	l := w.lot(e.Of.ID)
	l.alive, l.gone = false, e
	if x != nil {
		w.refresh(x, e)
	}
}

// ahead notes an event that cannot be believed yet, if it could disturb a clock.
func (w *walk) ahead(e *Event) {
	if !e.disturbs() {
		return
	}
	x := w.waterOf(e.Of)
	if e.Tank != "" {
		x = w.at(e.Tank)
	}
	if e.What == "joined" {
		x = w.water(Ref{"system", e.System})
	}
	if x != nil {
		x.future = append(x.future, e.ID)
	}
}
