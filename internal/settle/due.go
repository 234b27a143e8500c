package settle

import "time"

// Due is one thing to do in the tanks.
type Due struct {
	What     string   `json:"what"`   // check, confirm, sign, dip, search, read, clear, question, ask (the authority)
	System   Ref      `json:"system"` // where
	Specimen string   `json:"specimen,omitempty"`
	Day      Day      `json:"day"`            // on which it is due
	Overdue  bool     `json:"overdue"`        // since an earlier day
	Days     []Day    `json:"days,omitempty"` // to confirm
	Events   []string `json:"events,omitempty"`
}

// readEvery is how many days a quarantine goes without a reading of salinity or temperature,
// our own choice.
const readEvery = 7

// DueNow lists what is due in the tanks on the day of the picture: what is overdue first,
// then by what it is, then by system.
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
		if s.State != Waiting && s.State != Paused && s.State != Done && s.State != Stopped || len(s.Residents) == 0 || s.Looked == nil {
			continue
		}
		p.dueOfClock(s, put)
	}
	return append(late, now...)
}

func (p *Picture) dueOfClock(s *SystemState, put func(Due)) {
	w := p.walk
	zone := w.book.Zone
	x := w.waters[s.Key]
	if !x.running {
		return
	}
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
	read := dayOf(x.from, zone)
	var last time.Time
	for i := range w.book.Readings {
		if r := &w.book.Readings[i]; r.Sample.At.After(last) && !r.Sample.At.After(w.now) && w.waterOf(r.Sample.Of) == x {
			last = r.Sample.At
		}
	}
	if !last.IsZero() {
		read = dayOf(last, zone)
	}
	if read+readEvery <= p.Day {
		put(Due{What: "read", System: s.Key, Day: read + readEvery})
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
