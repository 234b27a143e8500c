package settle

// Due is one thing to do in the tanks.
type Due struct {
	What     string   `json:"what"`   // check, confirm, sign, dip, search, read, waterChange, topUp, trim, clear, question, ask (the authority)
	System   Ref      `json:"system"` // where
	Specimen string   `json:"specimen,omitempty"`
	Day      Day      `json:"day"`            // on which it is due
	Overdue  bool     `json:"overdue"`        // since an earlier day
	Days     []Day    `json:"days,omitempty"` // to confirm
	Events   []string `json:"events,omitempty"`
}

// readEvery is how many days a quarantine goes without a reading where the household has set
// nothing, our own choice.
const readEvery = 7

// DueNow lists what is due in the tanks on the day of the picture: what is overdue first,
// then by system.
func (p *Picture) DueNow() []Due {
	late, now := []Due{}, []Due{}
	put := func(d Due) {
		d.Overdue = d.Day < p.Day
		if d.Overdue {
			late = append(late, d)
		} else {
			now = append(now, d)
		}
	}
	zone := p.walk.book.Zone
	lastRead := p.walk.lastReadings()
	for i := range p.Systems {
		s := &p.Systems[i]
		for _, o := range s.Open {
			what := "sign"
			if o.Grade == Notify {
				what = "ask"
			}
			put(Due{What: what, System: s.Key, Day: dayOf(o.At, zone), Events: []string{o.ID}})
		}
		for _, q := range s.Questions {
			put(Due{What: "question", System: s.Key, Specimen: q.Specimen, Day: dayOf(q.At, zone)})
		}
		if p.walk.waters[s.Key].running {
			p.dueOfClock(s, put)
		}
		p.dueByRhythm(s, lastRead, put)
	}
	return append(late, now...)
}

func (p *Picture) dueOfClock(s *SystemState, put func(Due)) {
	w := p.walk
	zone := w.book.Zone
	x := w.waters[s.Key]
	unseen := p.Day
	for _, l := range w.residents(x) {
		seen := max(l.clear, dayOf(x.from, zone))
		unseen = min(unseen, seen)
	}
	if unseen < p.Day {
		put(Due{What: "check", System: s.Key, Day: unseen + 1})
	}
	if len(s.Unconfirmed) > 0 {
		put(Due{What: "confirm", System: s.Key, Day: p.Day, Days: s.Unconfirmed})
	}
	for _, l := range w.sorted(w.residents(x)) {
		if l.arrived == nil {
			continue
		}
		if own := w.own(x); own != nil && l.dipsSinceArrival() < own.Dips {
			put(Due{What: "dip", System: s.Key, Specimen: l.ID, Day: p.Day})
		}
		if day, due := l.searchDue(dayOf(x.from, zone)); due && day <= p.Day {
			put(Due{What: "search", System: s.Key, Specimen: l.ID, Day: day})
		}
		if s.State == Done && len(w.missing(l, w.now)) == 0 {
			put(Due{What: "clear", System: s.Key, Specimen: l.ID, Day: p.Day})
		}
	}
}

// lastReadings is the day on which each water was last read.
func (w *walk) lastReadings() map[*water]Day {
	last := map[*water]Day{}
	for i := range w.book.Readings {
		r := &w.book.Readings[i]
		if at := r.Sample.At; !at.After(w.now) && !at.Before(earliest) {
			if x := w.waterOf(r.Sample.Of); x != nil {
				last[x] = max(last[x], dayOf(at, w.book.Zone))
			}
		}
	}
	return last
}

// every is the household's rhythm for a water: of its system, or of the tank that stands
// alone.
func (w *walk) every(key Ref) Every {
	if t := w.book.Tanks[key.ID]; key.Kind == "tank" && t != nil {
		return t.Every
	}
	if s := w.book.Systems[key.ID]; key.Kind == "system" && s != nil {
		return s.Every
	}
	return Every{}
}

// dueByRhythm is what comes round: counted from the last time, or else from when the water
// was first heard of; due at once where nothing ever was. Nothing is due of a water in which
// nobody lives, but for a display.
func (p *Picture) dueByRhythm(s *SystemState, lastRead map[*water]Day, put func(Due)) {
	w := p.walk
	x := w.waters[s.Key]
	lived := len(s.Residents) > 0
	for _, v := range w.tanks(x) {
		lived = lived || v.use == "display"
	}
	if !lived {
		return
	}
	began := x.heard
	comes := func(what string, days int, last Day) {
		switch {
		case last != 0:
		case began != 0:
			last = began
		default:
			last = p.Day - Day(days) // nobody knows since when
		}
		if days > 0 && last+Day(days) <= p.Day {
			put(Due{What: what, System: s.Key, Day: last + Day(days)})
		}
	}
	every := w.every(s.Key)
	comes("waterChange", every.WaterChangeDays, x.did[changed])
	comes("topUp", every.TopUpDays, x.did[topped])
	comes("trim", every.TrimDays, x.did[trimmed])
	read := every.ReadDays
	if read == 0 && x.running {
		read, began = readEvery, dayOf(x.from, w.book.Zone)
	}
	comes("read", read, lastRead[x])
}

// searchDue is when the next night search is due: the first a week after the clock began, for
// what was laid before to have hatched; the second a week after the first. One that came too
// late to make a pair counts as the first.
func (l *lot) searchDue(since Day) (Day, bool) {
	if !l.wantsSearch() || l.searched(since) {
		return 0, false
	}
	s := &numbers().Search
	last := since
	for _, d := range l.searches {
		if d > last {
			last = d
		}
	}
	return last + Day(s.LeastDays), true
}
