package take

import (
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
)

// The bounds of what Shut is asked at once.
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
	What string `json:"what"` // take, season, hours, rest
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
	litAt *[2]time.Time // over which lit was made; nil before
	span  [2]time.Time  // of all windows
}

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

// shutDay is what is shut on a day; Open is what is left of the day.
type shutDay struct {
	from, to            time.Time
	closed, some, rests []Shut
	unchecked           string
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
		if i == 0 || w.From.Before(s.span[0]) {
			s.span[0] = w.From
		}
		if w.To.After(s.span[1]) {
			s.span[1] = w.To
		}
	}
	if s.span[1].Sub(s.span[0]) > maxShutYears*366*24*time.Hour {
		return Shutting{}, fault.New(fault.SpanTooLong, "windows", "The windows span more than %d years. Ask for fewer at a time.", maxShutYears)
	}
	s.prepare(byID(sets))
	for _, w := range windows {
		s.out.Windows = append(s.out.Windows, s.window(w))
	}
	return s.out, nil
}

// prepare finds the sets that may cover the shore, and how their checks stand now.
func (s *shutter) prepare(sets []*Held) {
	now := s.Now
	if now.IsZero() {
		now = s.span[0]
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
func (s *shutter) window(w Window) ShutWindow {
	out := ShutWindow{Closed: []Shut{}, Some: []Shut{}, Rests: []Shut{}}
	for day := civilOf(w.From.In(s.Zone)); ; day = day.plus(1) {
		d := s.day(day)
		if !d.from.Before(w.To) {
			break
		}
		piece := Window{later(w.From, d.from), earlier(w.To, d.to)}
		if !piece.To.After(piece.From) {
			continue
		}
		if out.Unchecked == "" {
			out.Unchecked = d.unchecked
		}
		for _, lists := range [...]struct {
			of   []Shut
			into *[]Shut
		}{{d.closed, &out.Closed}, {d.some, &out.Some}, {d.rests, &out.Rests}} {
			add(lists.into, lists.of, piece, w)
		}
	}
	for _, list := range [...]*[]Shut{&out.Closed, &out.Some, &out.Rests} {
		kept := (*list)[:0]
		for _, x := range *list {
			if len(x.Open) == 1 && x.Open[0].From.Equal(w.From) && x.Open[0].To.Equal(w.To) {
				continue // it leaves all of the window
			}
			at, told := s.told[x.Note]
			if !told {
				at = len(s.out.Notes)
				s.told[x.Note] = at
				s.out.Notes = append(s.out.Notes, s.all[x.Note])
			}
			x.Note = at
			kept = append(kept, x)
		}
		*list = kept
	}
	return out
}

// add lays what is shut on a day over the piece of the window in it. What a note has not
// spoken of so far was open.
func add(into *[]Shut, of []Shut, piece, w Window) {
	spoke := len(*into)
	for _, x := range of {
		i := placeIn(*into, x.Note)
		if i < 0 {
			i = len(*into)
			*into = append(*into, Shut{x.Note, []Window{}})
			(*into)[i].open(Window{w.From, piece.From})
		}
		for _, open := range x.Open {
			(*into)[i].open(Window{later(open.From, piece.From), earlier(open.To, piece.To)})
		}
	}
	for i := range (*into)[:spoke] {
		if placeIn(of, (*into)[i].Note) < 0 {
			(*into)[i].open(piece)
		}
	}
}

// placeIn is the place of a note in a list; -1 where it is not in it.
func placeIn(list []Shut, note int) int {
	for i := range list {
		if list[i].Note == note {
			return i
		}
	}
	return -1
}

// open adds a span that is left, joined to the one before.
func (x *Shut) open(w Window) {
	if !w.To.After(w.From) {
		return
	}
	if n := len(x.Open); n > 0 && !w.From.After(x.Open[n-1].To) {
		x.Open[n-1].To = later(x.Open[n-1].To, w.To)
		return
	}
	x.Open = append(x.Open, w)
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

// day says what is shut on a day.
func (s *shutter) day(day civil) *shutDay {
	if d := s.days[day]; d != nil {
		return d
	}
	d := &shutDay{from: day.in(s.Zone).UTC(), to: day.plus(1).in(s.Zone).UTC()}
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
	whole := Window{d.from, d.to}
	opens := false // whether any rule that allows leaves something of the day
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
		shut := func(what string, last civil, words func() string, leaves []Window) {
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
			if leaves, known := s.hours(r.Hours, whole); known {
				shut("hours", civil{}, func() string { return sentence(r.Hours.words()) }, leaves)
			}
		}
		if r.Rest != 0 {
			if last, visited := s.lastVisit(i, s.at.day.plus(-r.Rest)); visited && last.until(s.at.day) <= r.Rest {
				shut("rest", last, func() string { return restWords(r.Rest, last) }, nil)
			}
		}
		opens = opens || r.Take == "allowed" && left
	}
	if h.Set.otherwise() == WhiteList && !opens {
		s.shut(d, noteKey{n, -1, "otherwise", s.covers == yes, civil{}}, nil, func() string {
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
func (s *shutter) shut(d *shutDay, key noteKey, r *compiled, words func() string, leaves []Window) {
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
	into := &d.some
	switch {
	case s.house:
		into = &d.rests
	case r == nil || r.Of.everything():
		into = &d.closed
	}
	*into = append(*into, Shut{at, leaves})
}

// meetings lists what two lists of windows have in common.
func meetings(a, b []Window) []Window {
	var out []Window
	for _, x := range a {
		for _, y := range b {
			if w := (Window{later(x.From, y.From), earlier(x.To, y.To)}); w.To.After(w.From) {
				out = append(out, w)
			}
		}
	}
	return out
}

// hours gives the open spans of a day.
func (s *shutter) hours(h *Hours, whole Window) (open []Window, known bool) {
	y, m, day := s.at.day.Date()
	clock := func(minute int) time.Time { return time.Date(y, m, day, 0, minute, 0, 0, s.Zone).UTC() }
	from, fromClock := clockMinute(h.From, h.FromMin)
	to, toClock := clockMinute(h.To, h.ToMin)
	if fromClock && toClock {
		if from <= to {
			return meetings([]Window{whole}, []Window{{clock(from), clock(to)}}), true
		}
		return meetings([]Window{whole}, []Window{{whole.From, clock(to)}, {clock(from), whole.To}}), true
	}
	if !s.light() {
		return nil, false
	}
	for _, l := range s.lit {
		if !l.To.After(whole.From) || !l.From.Before(whole.To) {
			continue
		}
		w := Window{l.From.UTC(), l.To.UTC()}
		if fromClock {
			w.From = clock(from)
		} else if !l.FromIsEdge {
			w.From = w.From.Add(time.Duration(h.FromMin) * time.Minute)
		}
		if toClock {
			w.To = clock(to)
		} else if !l.ToIsEdge {
			w.To = w.To.Add(time.Duration(h.ToMin) * time.Minute)
		}
		open = append(open, meetings([]Window{whole}, []Window{w})...)
	}
	return open, true
}

// light reckons the light over all windows, once.
func (s *shutter) light() bool {
	if s.litAt == nil && s.spot != nil {
		from, to := s.span[0].Add(-24*time.Hour), s.span[1].Add(24*time.Hour)
		lit, err := sky.Lit(sky.Site{LatDeg: s.spot.LatDeg, LonEastDeg: s.spot.LonEastDeg}, sky.LightSun, from, to)
		if err == nil {
			s.lit, s.litAt = lit, &[2]time.Time{from, to}
		}
	}
	return s.litAt != nil
}
