package take

import (
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
)

// The bounds of what ShutIn is asked at once.
const (
	MaxWindows   = 400
	maxWindow    = 48 * time.Hour
	maxShutYears = 3
)

// Window is a span of time for which a shore is looked at.
type Window struct {
	From time.Time `json:"from"`
	To   time.Time `json:"to"`
}

// Shutting is what speaks against windows.
type Shutting struct {
	Sets    []SetRef     `json:"sets"`    // that cover the shore, or may, on some day of them
	Notes   []Note       `json:"notes"`   // each thing once
	Windows []ShutWindow `json:"windows"` // one for each that was asked
}

// Note is one thing that one rule says of a day.
type Note struct {
	Set  string `json:"set"`
	Rule string `json:"rule"`
	What string `json:"what"` // take, season, hours, rest, otherwise
	Text string `json:"text"`
	Of   string `json:"of"`   // "everything", or the kinds
	Sure bool   `json:"sure"` // else it hangs on who goes or where on the shore
}

// ShutWindow is what speaks against one window.
type ShutWindow struct {
	Closed    []Shut `json:"closed"`    // to everything
	Some      []Shut `json:"some"`      // to some kinds
	Rests     []Shut `json:"rests"`     // by the household's own rules
	Unchecked string `json:"unchecked"` // none, unread, unsure, stale, purpose; "" is checked
}

// Shut is a note on a window, and what of the window it leaves.
type Shut struct {
	Note int      `json:"note"` // its place in notes
	Open []Window `json:"open"`
}

// shutter goes through days.
type shutter struct {
	*speaker
	sets  []shutSet
	out   Shutting
	all   []Note          // what was noted of any day
	notes map[noteKey]int // their places in all
	told  map[int]int     // and those in out.Notes, where a window has them
	days  map[civil]*shutDay
	lit   []sky.Span
	light bool    // whether lit was reckoned
	span  stretch // from the first window to the last
}

// stretch is a span of time in Unix seconds.
type stretch struct{ from, to int64 }

// with is what two have in common; it may be none.
func (s stretch) with(t stretch) stretch { return stretch{max(s.from, t.from), min(s.to, t.to)} }
func (s stretch) some() bool             { return s.to > s.from }

func stretchOf(from, to time.Time) stretch { return stretch{from.Unix(), to.Unix()} }

// shutSet is a set that covers the shore, or may.
type shutSet struct {
	*Held
	ref    SetRef
	covers truth
	fits   truth // the purpose
	listed bool  // in out.Sets
}

type noteKey struct {
	set, rule int
	what      string
	sure      bool
	last      civil // of a rest: the visit
}

// shutDay is what is shut on a day.
type shutDay struct {
	stretch
	shut      [3][]shutting // to everything, to some kinds, by the household
	unchecked string
}

// shutting is a note, by its place in all, and what it leaves of a day or a window.
type shutting struct {
	note int
	open []stretch
}

// ShutIn says what the sets on file hold against windows on a shore: closed days, seasons
// and hours, and the household's rest of the shore. Of the find in the question only the
// shore is read. A window in the future is held to the checks as they are now. The error is
// a *fault.Error for windows that cannot be.
func ShutIn(sets []*Held, ledger *Ledger, q *Question, windows []Window) (Shutting, error) {
	if len(windows) > MaxWindows {
		return Shutting{}, fault.New(fault.TooLarge, "windows", "There are more than %d windows. Ask for fewer at a time.", MaxWindows)
	}
	asked := *q
	ledger.settle()
	s := shutter{speaker: &speaker{Question: &asked, ledger: ledger, spot: q.Shore}, days: map[civil]*shutDay{}, notes: map[noteKey]int{}, told: map[int]int{}}
	s.out = Shutting{Sets: []SetRef{}, Notes: []Note{}, Windows: make([]ShutWindow, 0, len(windows))}
	for i, w := range windows {
		if y := w.From.UTC().Year(); y < 1901 || w.To.UTC().Year() > 2099 || !w.To.After(w.From) || w.To.Sub(w.From) > maxWindow {
			return Shutting{}, fault.New(fault.BadInput, "windows", "Window %d ends before it begins, is longer than %d hours, or lies outside 1901 to 2099.", i+1, maxWindow/time.Hour)
		}
		span := stretchOf(w.From, w.To)
		if i > 0 {
			span = stretch{min(span.from, s.span.from), max(span.to, s.span.to)}
		}
		s.span = span
	}
	if s.span.to-s.span.from > maxShutYears*366*24*3600 {
		return Shutting{}, fault.New(fault.SpanTooLong, "windows", "The windows span more than %d years. Ask for fewer at a time.", maxShutYears)
	}
	s.prepare(byID(sets))
	for _, w := range windows {
		s.out.Windows = append(s.out.Windows, s.window(stretchOf(w.From, w.To)))
	}
	return s.out, nil
}

// prepare finds the sets that may cover the shore, and how their checks stand now.
func (s *shutter) prepare(sets []*Held) {
	now := s.Now
	if now.IsZero() {
		now = time.Unix(s.span.from, 0)
	}
	s.at = moment(now, s.Zone)
	for _, h := range sets {
		one := shutSet{Held: h}
		if h.Set != nil {
			s.turn(h)
			if s.covers == no {
				continue
			}
			one.ref, one.covers, one.fits = s.refer(), s.covers, h.Set.purposes(s.Purpose)
			if !s.house {
				s.stale(h, &one.ref)
			}
		}
		s.sets = append(s.sets, one)
	}
}

// window puts together what holds of the days that a window touches.
func (s *shutter) window(w stretch) ShutWindow {
	var lists [3][]shutting
	unchecked := ""
	for day := civilOf(time.Unix(w.from, 0).In(s.Zone)); ; day = day.plus(1) {
		d := s.day(day)
		if d.from >= w.to {
			break
		}
		piece := w.with(d.stretch)
		if !piece.some() {
			continue // a day that the zone left out
		}
		if unchecked == "" {
			unchecked = d.unchecked
		}
		for k := range lists {
			add(&lists[k], d.shut[k], piece, w)
		}
	}
	return ShutWindow{s.tell(lists[0], w), s.tell(lists[1], w), s.tell(lists[2], w), unchecked}
}

// tell gives what shuts some of a window, with its notes.
func (s *shutter) tell(list []shutting, w stretch) []Shut {
	out := []Shut{}
	for _, x := range list {
		if len(x.open) == 1 && x.open[0] == w {
			continue // it leaves all of the window
		}
		at, told := s.told[x.note]
		if !told {
			at = len(s.out.Notes)
			s.told[x.note] = at
			s.out.Notes = append(s.out.Notes, s.all[x.note])
		}
		one := Shut{at, []Window{}}
		for _, o := range x.open {
			one.Open = append(one.Open, Window{time.Unix(o.from, 0).UTC(), time.Unix(o.to, 0).UTC()})
		}
		out = append(out, one)
	}
	return out
}

// add lays what is shut on a day over the piece of the window in it. What a note has not
// spoken of so far was open.
func add(into *[]shutting, of []shutting, piece, w stretch) {
	spoke := len(*into)
	for _, x := range of {
		i := placeIn(*into, x.note)
		if i < 0 {
			i = len(*into)
			*into = append(*into, shutting{note: x.note})
			(*into)[i].leave(stretch{w.from, piece.from})
		}
		for _, open := range x.open {
			(*into)[i].leave(open.with(piece))
		}
	}
	for i := range (*into)[:spoke] {
		if placeIn(of, (*into)[i].note) < 0 {
			(*into)[i].leave(piece)
		}
	}
}

// placeIn is the place of a note in a list; -1 where it is not in it.
func placeIn(list []shutting, note int) int {
	for i := range list {
		if list[i].note == note {
			return i
		}
	}
	return -1
}

// leave adds a span that is left, joined to the one before.
func (x *shutting) leave(w stretch) {
	if !w.some() {
		return
	}
	if n := len(x.open); n > 0 && w.from <= x.open[n-1].to {
		x.open[n-1].to = max(x.open[n-1].to, w.to)
		return
	}
	x.open = append(x.open, w)
}

// day says what is shut on a day.
func (s *shutter) day(day civil) *shutDay {
	if d := s.days[day]; d != nil {
		return d
	}
	d := &shutDay{stretch: stretchOf(day.in(s.Zone), day.plus(1).in(s.Zone))}
	s.days[day] = d
	s.at.day = day
	text := day.String()
	var law, unsure, unread, stale, purpose bool
	for i := range s.sets {
		one := &s.sets[i]
		set := one.Set
		switch {
		case set == nil:
			unread = true
			continue
		case set.From != "" && text < set.From || set.To != "" && text > set.To:
			continue
		}
		s.turn(one.Held)
		if !one.listed {
			one.listed = true
			s.out.Sets = append(s.out.Sets, one.ref)
		}
		if !s.house {
			may := set.Layer != Closure
			law, unsure = law || may && one.covers == yes, unsure || may && one.covers != yes
			stale = stale || one.ref.Stale
			purpose = purpose || one.fits != yes
		}
		s.rules(i, one.Held, d)
	}
	switch {
	case unread:
		d.unchecked = "unread"
	case !law && unsure:
		d.unchecked = "unsure"
	case !law:
		d.unchecked = "none"
	case stale:
		d.unchecked = "stale"
	case purpose:
		d.unchecked = "purpose"
	}
	return d
}

// rules adds what the rules of the set that is asked, the n-th, shut on a day.
func (s *shutter) rules(n int, h *Held, d *shutDay) {
	opens, sure := false, s.covers == yes // whether any rule that allows leaves something of the day
	for i := range h.rules {
		r := &h.rules[i]
		applies := s.covers.and(s.where(r.Where)).and(is(r.During.open(s.at.day, s.Zone)))
		if applies == no {
			continue
		}
		if applies = applies.and(s.anybody(r.Unless).not()); applies == no {
			continue
		}
		left := true // something of the day
		shut := func(what string, last civil, words func() string, leaves []stretch) {
			s.shut(d, noteKey{n, i, what, applies == yes, last}, r, words, leaves)
			left = left && len(leaves) > 0
		}
		if r.Take == "forbidden" {
			shut("take", civil{}, func() string { return "Not to be taken." + because(r.Note) }, nil)
		}
		if r.Season != nil && !r.Season.open(s.at.day, s.Zone) {
			shut("season", civil{}, func() string { return sentence(r.Season.words()) }, nil)
		}
		if r.Hours != nil {
			if leaves, known := s.hours(r.Hours, d.stretch); known {
				shut("hours", civil{}, func() string { return sentence(r.Hours.words()) }, leaves)
			}
		}
		if r.Rest != 0 {
			if last, visited := s.lastVisit(i, s.at.day.plus(-r.Rest)); visited && last.until(s.at.day) <= r.Rest {
				shut("rest", last, func() string { return restWords(r.Rest, last) }, nil)
			}
		}
		if r.Take == "allowed" {
			opens, sure = opens || left, sure && applies == yes
		}
	}
	if h.Set.otherwise() == WhiteList && !opens {
		s.shut(d, noteKey{n, -1, "otherwise", sure, civil{}}, nil, func() string {
			return "Only what the rules name may be taken here, and none of it on this day."
		}, nil)
	}
}

// anybody says whether somebody of the party may be exempt; without a party, whether
// anybody could be.
func (s *shutter) anybody(u *Unless) truth {
	if u == nil {
		return no
	}
	all, out := yes, no
	for i := range s.Party {
		s.person, s.Find.By = &s.Party[i], s.Party[i].ID
		t := s.exempt(u)
		all, out = all.and(t), out.or(t)
	}
	s.person, s.Find.By = nil, ""
	switch {
	case len(s.Party) > 0 && all == yes:
		return yes
	case len(s.Party) > 0 && out == no:
		return no
	}
	return lacking(factBy)
}

// everything says whether a rule is about whatever is met.
func (of *Subject) everything() bool { return of.All && of.Except == nil && of.States == nil }

// shut notes something once for all days; r is nil where no one rule says it.
func (s *shutter) shut(d *shutDay, key noteKey, r *compiled, words func() string, leaves []stretch) {
	at, noted := s.notes[key]
	if !noted {
		at = len(s.all)
		s.notes[key] = at
		n := Note{Set: s.held.ID, What: key.what, Text: words(), Of: "everything", Sure: key.sure}
		if r != nil {
			n.Rule, n.Of = r.name, r.Of.words()
		}
		s.all = append(s.all, n)
	}
	into := 1
	switch {
	case s.house:
		into = 2
	case r == nil || r.Of.everything():
		into = 0
	}
	d.shut[into] = append(d.shut[into], shutting{at, leaves})
}

// hours gives the open spans of a day.
func (s *shutter) hours(h *Hours, whole stretch) (open []stretch, known bool) {
	clock := func(minute int) int64 { return s.at.day.at(minute, s.Zone).Unix() }
	leave := func(w stretch) {
		if w = w.with(whole); w.some() {
			open = append(open, w)
		}
	}
	from, fromClock := clockMinute(h.From, h.FromMin)
	to, toClock := clockMinute(h.To, h.ToMin)
	switch {
	case fromClock && toClock && from <= to:
		leave(stretch{clock(from), clock(to)})
		return open, true
	case fromClock && toClock:
		leave(stretch{whole.from, clock(to)})
		leave(stretch{clock(from), whole.to})
		return open, true
	case s.spot == nil:
		return nil, false
	}
	if !s.light {
		const day = 24 * time.Hour
		lit, err := sky.Lit(sky.Site{LatDeg: s.spot.LatDeg, LonEastDeg: s.spot.LonEastDeg}, sky.LightSun, time.Unix(s.span.from, 0).Add(-day), time.Unix(s.span.to, 0).Add(day))
		if err != nil {
			return nil, false
		}
		s.lit, s.light = lit, true
	}
	// As of a find, no more is known of the light than of the days beside this one.
	first, last := s.at.day.plus(-1).in(s.Zone), s.at.day.plus(2).in(s.Zone)
	for _, l := range s.lit {
		if !stretchOf(l.From, l.To).with(whole).some() {
			continue
		}
		if l.From.Before(first) {
			l.From, l.FromIsEdge = first, true
		}
		if l.To.After(last) {
			l.To, l.ToIsEdge = last, true
		}
		leave(stretchOf(h.lit(l, s.at.day, s.Zone)))
	}
	return open, true
}
