package take

import (
	"time"

	"wrackbook/internal/sky"
)

// civil is a day of the shore's calendar: the midnight of it in UTC, which has no
// daylight-saving time, so that days can be counted.
type civil struct{ time.Time }

func civilOf(local time.Time) civil {
	y, m, d := local.Date()
	return civil{time.Date(y, m, d, 0, 0, 0, 0, time.UTC)}
}

// civilNamed reads a day that has been checked.
func civilNamed(s string) civil {
	t, _ := time.Parse(time.DateOnly, s)
	return civil{t}
}

func (c civil) plus(days int) civil { return civil{c.AddDate(0, 0, days)} }
func (c civil) until(d civil) int   { return int(d.Sub(c.Time) / (24 * time.Hour)) }

// String gives "2026-11-25". It is asked for often: Format takes four times as long.
func (c civil) String() string {
	y, m, d := c.Date()
	digit := func(n int) byte { return '0' + byte(n%10) }
	return string([]byte{digit(y / 1000), digit(y / 100), digit(y / 10), digit(y), '-', digit(int(m) / 10), digit(int(m)), '-', digit(d / 10), digit(d)})
}

// in gives the first instant of the day in a zone. Where the clock skips midnight it is
// the instant of the skip, which for a day that a zone left out is that of the next; where
// midnight comes twice it is the first.
func (c civil) in(z *time.Location) time.Time {
	y, m, d := c.Date()
	t := time.Date(y, m, d, 0, 0, 0, 0, z)
	if civilOf(t).Before(c.Time) {
		_, t = t.ZoneBounds()
		return t
	}
	if start, _ := t.ZoneBounds(); !start.IsZero() {
		_, now := t.Zone()
		_, before := start.Add(-time.Second).Zone()
		first := t.Add(time.Duration(now-before) * time.Second)
		if first.Before(start) && !civilOf(first).Before(c.Time) {
			return first
		}
		if civilOf(start) == c && start.Before(t) && civilOf(start.Add(-time.Second)).Before(c.Time) {
			return start // the clock skipped midnight
		}
	}
	return t
}

func moment(t time.Time, zone *time.Location) at {
	local := t.In(zone)
	return at{t.UTC(), local, civilOf(local)}
}

// open says whether the season is open on a day.
func (s *Season) open(day civil, zone *time.Location) bool {
	if s == nil {
		return true
	}
	if s.Open != nil {
		return onAny(s.Open, day, zone)
	}
	return !onAny(s.Closed, day, zone)
}

func onAny(spans []Span, day civil, zone *time.Location) bool {
	for i := range spans {
		if spans[i].has(day, zone) {
			return true
		}
	}
	return false
}

func (p *Span) has(day civil, zone *time.Location) bool {
	switch {
	case len(p.From) == len("11-25"):
		_, m, d := day.Date()
		md, from, to := int(m)*100+d, monthDay(p.From), monthDay(p.To)
		if from <= to {
			return from <= md && md <= to
		}
		return from <= md || md <= to
	case p.From != "":
		text := day.String()
		return p.From <= text && text <= p.To
	case p.Months != nil:
		for _, m := range p.Months {
			if time.Month(m) == day.Month() {
				return true
			}
		}
		return false
	case p.Days != nil:
		return has(p.Days, day.String())
	}
	return p.Moon.has(day, zone)
}

// monthDay reads "11-25", which has been checked, as 1125.
func monthDay(s string) int {
	return int(s[0]-'0')*1000 + int(s[1]-'0')*100 + int(s[3]-'0')*10 + int(s[4]-'0')
}

func (m *Moon) has(day civil, zone *time.Location) bool {
	phases, err := sky.Phases(day.plus(-m.Last).in(zone), day.plus(1-m.First).in(zone))
	if err != nil {
		return false // outside 1900 to 2100, which Evaluate refuses first
	}
	for _, p := range phases {
		if p.Phase == sky.NewMoon && m.Of != "full" || p.Phase == sky.FullMoon && m.Of != "new" {
			n := civilOf(p.Time.In(zone)).until(day)
			if m.First <= n && n <= m.Last {
				return true
			}
		}
	}
	return false
}

// began gives the first day of the season that the day lies in, over spans that touch; the
// day itself where it lies in none. Spans by the moon are refused for this (sound.go).
func (s *Season) began(day civil) civil {
	first, used := day, make([]bool, len(s.Open))
	for at, more := day, true; more; at = first.plus(-1) {
		more = false
		for i := range s.Open {
			if !used[i] && s.Open[i].has(at, time.UTC) {
				used[i], more = true, true
				if begin := s.Open[i].began(at); begin.Before(first.Time) {
					first = begin
				}
			}
		}
	}
	return first
}

// began gives the first day of the span that the day lies in.
func (p *Span) began(day civil) civil {
	begin := day
	switch {
	case len(p.From) == len("11-25"):
		for n := 0; n < 366 && begin.String()[5:] != p.From; n++ {
			begin = begin.plus(-1)
		}
	case p.From != "":
		begin = civilNamed(p.From)
	case p.Days != nil:
		for _, d := range p.Days {
			if c := civilNamed(d); c.Before(begin.Time) {
				begin = c
			}
		}
	default:
		for n := 0; n < 366 && p.has(begin.plus(-1), time.UTC); n++ {
			begin = begin.plus(-1)
		}
	}
	return begin
}

// at gives the instant at which the clocks of a zone show a minute of the day.
func (c civil) at(minute int, z *time.Location) time.Time {
	y, m, d := c.Date()
	return time.Date(y, m, d, 0, minute, 0, 0, z)
}

// open says whether an instant lies in the hours.
func (h *Hours) open(t at, spot *Spot, zone *time.Location) truth {
	minute := t.local.Hour()*60 + t.local.Minute()
	from, fromClock := clockMinute(h.From, h.FromMin)
	to, toClock := clockMinute(h.To, h.ToMin)
	if fromClock && toClock {
		if from <= to {
			return is(from <= minute && minute < to)
		}
		return is(from <= minute || minute < to)
	}
	if spot == nil {
		return lacking(factPosition)
	}
	lit, err := sky.Lit(sky.Site{LatDeg: spot.LatDeg, LonEastDeg: spot.LonEastDeg}, sky.LightSun, t.day.plus(-1).in(zone), t.day.plus(2).in(zone))
	if err != nil {
		return lacking(factPosition)
	}
	for _, l := range lit {
		if from, to := h.lit(l, t.day, zone); !t.Before(from) && t.Before(to) {
			return yes
		}
	}
	return no
}

// lit gives from when to when the hours are open by one span of light, cut to the days beside
// the one that is asked about.
func (h *Hours) lit(l sky.Span, asked civil, zone *time.Location) (from, to time.Time) {
	// Far north the sun sets after midnight: its light, and the clock with it, belongs to
	// the day of its noon. Where it does not set, each day has its own clock.
	day, endless := asked, l.FromIsEdge || l.ToIsEdge
	if !endless {
		day = civilOf(l.From.Add(l.To.Sub(l.From) / 2).In(zone))
	}
	from, to = l.From, l.To
	if minute, isTime := clockMinute(h.From, h.FromMin); isTime {
		from = day.at(minute, zone)
	} else if !l.FromIsEdge {
		from = from.Add(time.Duration(h.FromMin) * time.Minute)
	}
	if minute, isTime := clockMinute(h.To, h.ToMin); isTime {
		to = day.at(minute, zone)
	} else if !l.ToIsEdge {
		to = to.Add(time.Duration(h.ToMin) * time.Minute)
	}
	if endless && from.Before(l.From) {
		from = l.From
	}
	if endless && to.After(l.To) {
		to = l.To
	}
	return from, to
}

// turned says whether the minutes that are added to two clock times change which comes first,
// or leave the day.
func (h *Hours) turned() bool {
	if h == nil {
		return false
	}
	from, fromClock := clockMinute(h.From, h.FromMin)
	to, toClock := clockMinute(h.To, h.ToMin)
	out := func(minute int, isTime bool) bool { return isTime && (minute < 0 || minute >= 24*60) }
	return out(from, fromClock) || out(to, toClock) || fromClock && toClock && (from < to) != (h.From < h.To)
}

func clockMinute(s string, plus int) (minute int, isTime bool) {
	c, err := time.Parse("15:04", s)
	return c.Hour()*60 + c.Minute() + plus, err == nil
}
