package window

import (
	"time"

	"wrackbook/internal/tide"
)

// Answer is what Reckon found.
type Answer struct {
	// Windows in order of merit: the raised twin's minutes, the lowest usable water,
	// weekends, time.
	Windows []Window
	// None says why there is no window, and when the next is; nil when there are windows.
	None *None
	// Cautions that hold for every window.
	Cautions []Note
}

// Window is one lit part of a dry spell in which the party can work the shore.
//
//	Opens <= LitFrom <= UsableFrom < UsableTo <= LitTo <= Shuts,  UsableTo <= StartBack <= OffBy
type Window struct {
	// Day is the shore's local day of the low water, as 2027-03-28.
	Day     string
	Weekend bool // Day is a Saturday or Sunday

	// Opens and Shuts bound the dry spell: the falling and the rising tide at the workable
	// height. nil: the spell reaches further than 40 days beyond the span.
	Opens, Shuts *time.Time
	// LitFrom and LitTo bound the lit part of the spell. Where neither the tide nor the
	// light ends it, the span asked for does.
	LitFrom, LitTo time.Time
	// Low is the lowest low water of the lit part or, when it holds none, the low water of
	// the spell nearest to it.
	Low tide.Water
	// LowIsLit says that Low lies within the lit part.
	LowIsLit bool

	UsableFrom, UsableTo time.Time
	UsableMinutes        int     // whole, at least 1
	LowestUsableM        float64 // the lowest water from UsableFrom to UsableTo
	LeaveHome            time.Time
	StartBack            time.Time // OffBy less the walk out
	OffBy                time.Time
	OffByReason          OffByReason

	// Raised is the window with the sea RaiseM above prediction; nil if it has none.
	Raised *Twin
	// Pressure is the window with the sea as low air pressure stands it; nil unless the
	// pressure is below 1013 hPa. The window's own usable time is already cut to it.
	Pressure *Twin

	// EdgeFrom and EdgeTo say that the span asked for begins or ends inside the window.
	EdgeFrom, EdgeTo bool

	Rank         Rank
	Moon         Moon
	NextHigh     *tide.Water // the high water after Low
	RiseMPerHour float64     // the fastest rise between Low and NextHigh; 0 without one

	Cautions []Note
	Reasons  []Note
}

// Twin is a window with the water higher by a stated amount. It never exceeds its window.
type Twin struct {
	RiseM                float64    // how much higher than predicted
	Opens, Shuts         *time.Time // of its dry spell, as in Window
	UsableFrom, UsableTo time.Time
	UsableMinutes        int // whole, at least 1
}

// Sea names a reckoning of the water.
type Sea string

const (
	Predicted  Sea = "predicted" // as the stars have it
	ByPressure Sea = "pressure"  // higher for low air pressure
	Raised     Sea = "raised"    // higher by RaiseM
)

// OffByReason says which rule, in which reckoning of the sea, gave OffBy.
type OffByReason struct {
	Code OffByCode
	Sea  Sea
	Text string
}

// OffByCode names a rule for OffBy.
type OffByCode string

const (
	ByWayOff     OffByCode = "way_off"         // the rising tide reaches the way-off height, less the margin
	ByLowHour    OffByCode = "low_hour"        // 60 minutes after low water
	ByLight      OffByCode = "light"           // the light ends, less the walk out
	ByCutOff     OffByCode = "low_cut_off"     // start back at low water: the shore can be cut off
	ByWayUnknown OffByCode = "low_way_unknown" // start back at low water: way-off height unknown
)

// Rank places a low water among those of its local calendar month.
type Rank struct {
	Place int // 1 is the lowest; equal heights share a place
	Of    int // low waters in the month; 0 when the month could not be reckoned
	Month time.Month
	Year  int
}

// Moon tells what kind of tide the moon makes of the low water.
type Moon struct {
	Kind MoonKind // empty when the sky told nothing
	// Event is what Days count from: new or full; north or south for the greatest
	// declination.
	Event string
	Days  int // whole days from the event to the low water, negative before it
}

// MoonKind is the kind of tide by the moon.
type MoonKind string

const (
	Springs    MoonKind = "springs"
	Neaps      MoonKind = "neaps"
	MidPhase   MoonKind = "between" // between springs and neaps, or tropic and equatorial
	Tropic     MoonKind = "tropic"
	Equatorial MoonKind = "equatorial"
)

// Note is a caution or a reason: a code for programs, a sentence for people.
type Note struct {
	Code NoteCode
	Text string
}

// NoteCode names a caution or a reason.
type NoteCode string

// Cautions.
const (
	Astronomical  NoteCode = "astronomical" // on the Answer
	CutOff        NoteCode = "cut_off"
	WayOffUnknown NoteCode = "way_off_unknown"
	RaisedNone    NoteCode = "raised_none"
	RaisedShort   NoteCode = "raised_short"
	LowPressure   NoteCode = "low_pressure"
	LowLight      NoteCode = "low_light"
	Night         NoteCode = "night"
	FastRise      NoteCode = "fast_rise"
	SmallRange    NoteCode = "small_range"
	AlwaysBare    NoteCode = "always_bare"
	Edge          NoteCode = "edge"
)

// Reasons.
const (
	ReasonRank    NoteCode = "rank"
	ReasonMoon    NoteCode = "moon"
	ReasonWeekend NoteCode = "weekend"
	ReasonOffBy   NoteCode = "off_by"
)

// None says why no window was found in the span.
type None struct {
	// Causes, the one that came nearest to a window first; at least one.
	Causes []Cause
	// LowestLow of the span, lit or not; nil if no low water falls in it.
	LowestLow *tide.Water
	// Next is the first window after the span; nil when there is none before SearchedTo.
	Next       *Window
	SearchedTo time.Time
	// Text says it all in one or two sentences.
	Text string
}

// Cause is one reason for which dry spells came to nothing.
type Cause struct {
	Code  CauseCode
	Count int // dry spells, or their lit parts, that it stopped
	Text  string
}

// CauseCode names a Cause.
type CauseCode string

// In the order in which a dry spell meets them.
const (
	LevelNever       CauseCode = "level_never"        // the water never falls below the level
	LightNever       CauseCode = "light_never"        // no light in the whole span
	Dark             CauseCode = "dark"               // low only outside the light
	WayNever         CauseCode = "way_never"          // the way in is never uncovered, as predicted
	WayNeverPressure CauseCode = "way_never_pressure" // nor with the sea at this air pressure
	WayNeverRaised   CauseCode = "way_never_raised"   // nor with the raised sea
	WayLate          CauseCode = "way_late"           // the way in is uncovered only after the lit part
	OffByNone        CauseCode = "off_by"             // it is time to start back before it is time to begin
	PressureCovers   CauseCode = "pressure_covers"    // the sea at this air pressure leaves nothing
	TooShort         CauseCode = "too_short"          // less usable time than asked for
	OtherDays        CauseCode = "other_days"         // only on weekdays that were not asked for
)
