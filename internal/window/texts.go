package window

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"wrackbook/internal/sky"
)

// Every sentence of the room. Plain words, short, no alarm; figures wherever a person
// could ask "by how much?".

const (
	textAstronomical  = "Predictions are astronomical only: wind, swell and air pressure move the water too. Trust the sea over the page."
	textCutOff        = "The way back can be cut off here: start back at low water at the latest."
	textWayOffUnknown = "Nobody has noted the height at which the way back is cut: start back at low water at the latest."
	textNight         = "Part of this window is dark: bring a lamp each, and somebody who knows the way."
	textLowLight      = "Part of this window lies before sunrise or after sunset: footing and finds are hard to see."
	textAlwaysBare    = "The water does not cover this level for weeks on end: check the workable height."
	textEdge          = "This window reaches beyond the days asked for."
	textWeekend       = "It falls on a weekend."
)

func (r *reckoner) raisedNoneText() string {
	return fmt.Sprintf("With the sea %s above prediction there is no window.", metres(r.shore.raiseM()))
}

func (r *reckoner) raisedShortText(w *Window) string {
	return fmt.Sprintf("With the sea %s above prediction only %d of the %d min are left.",
		metres(r.shore.raiseM()), w.Raised.minutes(), w.UsableMinutes)
}

func (r *reckoner) lowPressureText(w *Window) string {
	if w.Pressure == nil {
		return ""
	}
	return fmt.Sprintf("Low air pressure (%s hPa) stands the sea about %s higher; the window is cut to that.",
		hectopascals(*r.shore.PressureHPa), metres(w.Pressure.RiseM))
}

func fastRiseText(mPerHour float64) string {
	return fmt.Sprintf("The water rises fast after this low: up to %s in an hour, %d mm in 10 minutes.",
		metres(mPerHour), int(math.Round(mPerHour*1000/6)))
}

func smallRangeText(w *Window) string {
	if w.NextHigh == nil {
		return ""
	}
	return fmt.Sprintf("Only %s lie between this low and the next high: weather can take the whole of the window.",
		metres(w.NextHigh.HeightM-w.Low.HeightM))
}

func (r *reckoner) offByText(why OffByReason) string {
	switch why.Code {
	case ByWayOff:
		return fmt.Sprintf("Off by: the way back is cut at %s with the sea %s, less %s margin.",
			metres(*r.shore.WayOffM), r.seaText(why.Sea), span(r.shore.Margin))
	case ByCutOff:
		return "Off by: start back at low water, as the way back can be cut off."
	case ByWayUnknown:
		return "Off by: start back at low water, as the height that cuts the way back is not known."
	case ByLight:
		return fmt.Sprintf("Off by: the light ends, less %s to walk out.", span(r.shore.WalkOut))
	}
	return fmt.Sprintf("Off by: %s after low water.", span(lingerAfterLow))
}

// seaText continues "with the sea".
func (r *reckoner) seaText(sea Sea) string {
	switch sea {
	case ByPressure:
		return fmt.Sprintf("%s above prediction at %s hPa", metres(r.shore.pressureRiseM()), hectopascals(*r.shore.PressureHPa))
	case Raised:
		return metres(r.shore.raiseM()) + " above prediction"
	}
	return "as predicted"
}

func (k Rank) text() string {
	place := ordinal(k.Place) + " lowest"
	if k.Place == 1 {
		place = "The lowest"
	}
	return fmt.Sprintf("%s of the %d lows of %s %d.", place, k.Of, k.Month, k.Year)
}

func (m Moon) text() string {
	kinds := map[MoonKind]string{
		Springs: "Springs", Neaps: "Neaps", MidPhase: "Between springs and neaps",
		Tropic: "Tropic tides", Equatorial: "Equatorial tides",
	}
	events := map[string]string{
		"new": "new moon", "full": "full moon",
		"north": "the moon's greatest declination north", "south": "the moon's greatest declination south",
	}
	kind := kinds[m.Kind]
	if m.Kind == MidPhase && (m.Event == "north" || m.Event == "south") {
		kind = "Between tropic and equatorial tides"
	}
	when := "on the day of"
	switch {
	case m.Days > 0:
		when = count(m.Days, "day", "days") + " after"
	case m.Days < 0:
		when = count(-m.Days, "day", "days") + " before"
	}
	return fmt.Sprintf("%s: %s %s.", kind, when, events[m.Event])
}

// causeText says what stopped the dry spells of a tally.
func (r *reckoner) causeText(code CauseCode, t tally) string {
	below := toMillimetre(r.shore.BelowM)
	parts := count(t.count, "lit dry spell", "lit dry spells")
	needs := func(riseM float64) string {
		return fmt.Sprintf("the way in needs less than %s, and the lowest of %s is %s",
			toMillimetre(*r.shore.WayOffM-riseM), count(t.count, "low", "lows"), toMillimetre(t.low.HeightM))
	}
	switch code {
	case LevelNever:
		if t.low.Kind == "" {
			return fmt.Sprintf("The water does not fall below %s in this time, which holds no low water.", below)
		}
		return fmt.Sprintf("The water does not fall below %s in this time: the lowest low is %s on %s.",
			below, toMillimetre(t.low.HeightM), r.day(t.low.Time))
	case LightNever:
		if r.query.Light == sky.LightSun {
			return "The sun does not rise in this time."
		}
		return "There is not even twilight in this time."
	case Dark:
		return fmt.Sprintf("The water falls below %s %s in this time, but only outside the light.", below, times(t.count))
	case WayNever:
		return fmt.Sprintf("The way in is never bare: %s.", needs(0))
	case WayNeverPressure:
		return fmt.Sprintf("With the sea %s the way in is never bare: as predicted %s.",
			r.seaText(ByPressure), needs(r.shore.pressureRiseM()))
	case WayNeverRaised:
		return fmt.Sprintf("With the sea %s the way in is never bare, so nothing is usable: as predicted %s.",
			r.seaText(Raised), needs(r.shore.raiseM()))
	case WayLate:
		return fmt.Sprintf("In %s the light or the dry spell ends before the way in is safely bare.", parts)
	case OffByNone:
		return fmt.Sprintf("In %s it is time to start back before there is time to work. %s", parts, t.offBy.Text)
	case PressureCovers:
		return fmt.Sprintf("With the sea %s nothing usable is left of %s.", r.seaText(ByPressure), parts)
	case TooShort:
		return fmt.Sprintf("In %s the longest usable time is %d min; %s is asked for.",
			parts, t.minutes, span(max(r.query.Least, defaultLeast)))
	case OtherDays:
		return fmt.Sprintf("%s only on other weekdays, the lowest low on %s.",
			count(t.count, "window falls", "windows fall"), r.day(t.low.Time))
	}
	return ""
}

func (r *reckoner) nextText(none *None) string {
	if none.Next == nil {
		return fmt.Sprintf("There is no window before %s.", r.day(none.SearchedTo))
	}
	return fmt.Sprintf("The next window is on %s.", r.day(none.Next.Low.Time))
}

// day is the shore's local date, as Wed 3 March 2027.
func (r *reckoner) day(t time.Time) string { return t.In(r.shore.Zone).Format("Mon 2 January 2006") }

// metres writes a height to the centimetre.
func metres(m float64) string { return toMillimetre(math.Round(m*100) / 100) }

// toMillimetre writes a height in full, for one that is told against a level that it just
// misses. It has one decimal at least.
func toMillimetre(m float64) string {
	text := strconv.FormatFloat(float64(millimetres(m))/1000, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text + " m"
}

// hectopascals writes an air pressure to the tenth, or to the unit if that is exact.
func hectopascals(hPa float64) string {
	return strconv.FormatFloat(math.Round(hPa*10)/10, 'f', -1, 64)
}

// span writes a length of time to the minute.
func span(d time.Duration) string { return fmt.Sprintf("%d min", int(math.Round(d.Minutes()))) }

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return fmt.Sprintf("%d times", n)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// ordinal writes 1st, 2nd, 3rd, 4th, 11th, 21st.
func ordinal(n int) string {
	suffix := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			suffix = "st"
		case 2:
			suffix = "nd"
		case 3:
			suffix = "rd"
		}
	}
	return strconv.Itoa(n) + suffix
}
