package core

import (
	"fmt"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/sky"
	"wrackbook/internal/tide"
	"wrackbook/internal/window"
)

// shore is what the household knows of a shore; heights in metres above the station's
// chart datum, times in minutes. See window.Shore for the bounds.
type shore struct {
	Station string `json:"station"`
	// Differences of the shore's own waters from the station's, if known.
	Differences *differences `json:"differences"`
	Below       *float64     `json:"below"`
	WayOff      *float64     `json:"wayOff"`
	CutOff      bool         `json:"cutOff"`
	Margin      *float64     `json:"margin"`  // 20 unless given
	WalkOut     *float64     `json:"walkOut"` // 15 unless given
	Travel      float64      `json:"travel"`
	Raise       *float64     `json:"raise"` // 0.2 unless given
	Lat         *float64     `json:"lat"`   // the station's unless given
	Lon         *float64     `json:"lon"`
	Zone        string       `json:"zone"` // the station's unless given
}

type differences struct {
	Minutes    [2]float64 `json:"minutes"` // at high water, at low water
	Heights    [2]float64 `json:"heights"`
	HeightsAre string     `json:"heightsAre"` // metres or ratio
}

// apply hangs a shore's own waters on a station's; nil leaves them as they are.
func (d *differences) apply(t tide.Tide) (tide.Tide, error) {
	if d == nil {
		return t, nil
	}
	return tide.NewSecondary(t, tide.Differences{
		HighMinutes: d.Minutes[0], LowMinutes: d.Minutes[1],
		High: d.Heights[0], Low: d.Heights[1], Rule: tide.HeightRule(d.HeightsAre),
	})
}

// Defaults of a shore that does not say: our own choice, on the careful side.
const (
	defaultMargin  = 20 // minutes
	defaultWalkOut = 15 // minutes
)

// settled is a shore with its station and its tide.
type settled struct {
	window.Shore
	place *place
	tide  tide.Tide
}

func (c *Core) settle(in shore) (*settled, error) {
	p, err := c.place(in.Station)
	if err != nil {
		return nil, err
	}
	if err := p.needTide(); err != nil {
		return nil, err
	}
	if p.Datum == "MSL" {
		return nil, fault.New(fault.NoDatum, "station",
			"Heights at %s count from mean sea level, not from a chart datum, so a workable height cannot be set there. Choose a station with a chart datum.", p.Name)
	}
	out := &settled{place: p}
	if out.tide, err = in.Differences.apply(p.tide); err != nil {
		return nil, err
	}
	if out.Zone, err = zoneOr(in.Zone, p.Zone); err != nil {
		return nil, err
	}
	out.Site = sky.Site{LatDeg: p.Lat, LonEastDeg: p.LonEast}
	if (in.Lat == nil) != (in.Lon == nil) {
		return nil, fault.New(fault.BadInput, "lat", "Give both latitude and longitude of the shore, or neither.")
	}
	if in.Lat != nil {
		out.Site = sky.Site{LatDeg: *in.Lat, LonEastDeg: *in.Lon}
	}
	margin, walkOut := float64(defaultMargin), float64(defaultWalkOut)
	if in.Margin != nil {
		margin = *in.Margin
	}
	if in.WalkOut != nil {
		walkOut = *in.WalkOut
	}
	if out.Margin, err = minutes("margin", margin); err != nil {
		return nil, err
	}
	if out.WalkOut, err = minutes("walkOut", walkOut); err != nil {
		return nil, err
	}
	if out.Travel, err = minutes("travel", in.Travel); err != nil {
		return nil, err
	}
	out.WayOffM, out.CanBeCutOff, out.RaiseM, out.FormNumber = in.WayOff, in.CutOff, in.Raise, p.form
	return out, nil
}

type windowsRequest struct {
	Shore    shore    `json:"shore"`
	From     string   `json:"from"`
	To       string   `json:"to"`
	Light    string   `json:"light"`    // sun unless given, civil, any
	Least    float64  `json:"least"`    // usable minutes
	Days     []string `json:"days"`     // sat, sun …; all unless given
	Pressure *float64 `json:"pressure"` // hPa
}

type windowsAnswer struct {
	Zone     string         `json:"zone"`
	Windows  []windowAnswer `json:"windows"` // best first
	None     *noneAnswer    `json:"none"`
	Cautions []note         `json:"cautions"` // for every window
	Release  string         `json:"release"`  // of the catalogue
	Core     string         `json:"core"`
}

type windowAnswer struct {
	Day           string   `json:"day"` // the shore's local day of the low water
	Weekend       bool     `json:"weekend"`
	Opens         *Instant `json:"opens"`
	Low           water    `json:"low"`
	LowIsLit      bool     `json:"lowIsLit"`
	Shuts         *Instant `json:"shuts"`
	LitFrom       Instant  `json:"litFrom"`
	LitTo         Instant  `json:"litTo"`
	UsableFrom    Instant  `json:"usableFrom"`
	UsableTo      Instant  `json:"usableTo"`
	UsableMinutes int      `json:"usableMinutes"`
	LowestUsable  float64  `json:"lowestUsable"`
	LeaveHome     Instant  `json:"leaveHome"`
	StartBack     Instant  `json:"startBack"`
	OffBy         Instant  `json:"offBy"`
	OffByReason   offBy    `json:"offByReason"`
	Raised        *twin    `json:"raised"`
	Pressure      *twin    `json:"pressure,omitempty"`
	EdgeFrom      bool     `json:"edgeFrom,omitempty"`
	EdgeTo        bool     `json:"edgeTo,omitempty"`
	Rank          *rank    `json:"rank,omitempty"`
	Moon          *moon    `json:"moon,omitempty"`
	NextHigh      *water   `json:"nextHigh,omitempty"`
	RisePerHour   float64  `json:"risePerHour"`
	Reasons       []note   `json:"reasons"`
	Cautions      []note   `json:"cautions"`
}

type offBy struct {
	Code string `json:"code"`
	Sea  string `json:"sea"`
	Text string `json:"text"`
}

type twin struct {
	Rise          float64  `json:"rise"`
	Opens         *Instant `json:"opens"`
	Shuts         *Instant `json:"shuts"`
	UsableFrom    Instant  `json:"usableFrom"`
	UsableTo      Instant  `json:"usableTo"`
	UsableMinutes int      `json:"usableMinutes"`
}

type rank struct {
	Place int    `json:"place"`
	Of    int    `json:"of"`
	Month string `json:"month"` // 2026-12
}

type moon struct {
	Kind  string `json:"kind"`
	Event string `json:"event"`
	Days  int    `json:"days"`
}

type note struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

type noneAnswer struct {
	Code       string        `json:"code"` // of the cause that came nearest to a window
	Text       string        `json:"text"`
	Causes     []cause       `json:"causes"`
	LowestLow  *water        `json:"lowestLow"`
	Next       *windowAnswer `json:"next"`
	SearchedTo Instant       `json:"searchedTo"`
}

type cause struct {
	Code  string `json:"code"`
	Count int    `json:"count"`
	Text  string `json:"text"`
}

// windows lists the low-tide windows of a shore, best first.
func (c *Core) windows(in windowsRequest, _ time.Time) (windowsAnswer, error) {
	s, err := c.settle(in.Shore)
	if err != nil {
		return windowsAnswer{}, err
	}
	if in.Shore.Below == nil {
		return windowsAnswer{}, fault.New(fault.BadInput, "below", "Give the height below which the shore lies bare, in metres above chart datum.")
	}
	s.BelowM, s.PressureHPa = *in.Shore.Below, in.Pressure
	from, to, err := span(in.From, in.To, s.Zone)
	if err != nil {
		return windowsAnswer{}, err
	}
	q := window.Query{From: from, To: to, Light: lightOr(in.Light)}
	if q.Least, err = minutes("least", in.Least); err != nil {
		return windowsAnswer{}, err
	}
	if q.Days, err = days(in.Days); err != nil {
		return windowsAnswer{}, err
	}
	answer, err := window.Reckon(s.Shore, s.tide, q)
	if err != nil {
		return windowsAnswer{}, err
	}
	out := windowsAnswer{Zone: s.Zone.String(), Windows: []windowAnswer{}, Cautions: notes(answer.Cautions), Core: Version}
	if catalogue, err := c.open(); err == nil {
		out.Release = catalogue.Release()
	}
	for i := range answer.Windows {
		out.Windows = append(out.Windows, windowOf(&answer.Windows[i]))
	}
	if n := answer.None; n != nil {
		out.None = noneOf(n)
	}
	return out, nil
}

func lightOr(text string) sky.Light {
	if text == "" {
		return sky.LightSun
	}
	return sky.Light(text)
}

func windowOf(w *window.Window) windowAnswer {
	out := windowAnswer{
		Day: w.Day, Weekend: w.Weekend, Opens: instant(w.Opens), Low: waterOf(w.Low), LowIsLit: w.LowIsLit, Shuts: instant(w.Shuts),
		LitFrom: Instant(w.LitFrom), LitTo: Instant(w.LitTo),
		UsableFrom: Instant(w.UsableFrom), UsableTo: Instant(w.UsableTo), UsableMinutes: w.UsableMinutes,
		LowestUsable: round(w.LowestUsableM, 1000),
		LeaveHome:    Instant(w.LeaveHome), StartBack: Instant(w.StartBack), OffBy: Instant(w.OffBy),
		OffByReason: offBy{string(w.OffByReason.Code), string(w.OffByReason.Sea), w.OffByReason.Text},
		Raised:      twinOf(w.Raised), Pressure: twinOf(w.Pressure), EdgeFrom: w.EdgeFrom, EdgeTo: w.EdgeTo,
		RisePerHour: round(w.RiseMPerHour, 100), Reasons: notes(w.Reasons), Cautions: notes(w.Cautions),
	}
	out.Low.Kind = ""
	if w.Rank.Of > 0 {
		out.Rank = &rank{w.Rank.Place, w.Rank.Of, fmt.Sprintf("%04d-%02d", w.Rank.Year, int(w.Rank.Month))}
	}
	if w.Moon.Kind != "" {
		out.Moon = &moon{string(w.Moon.Kind), w.Moon.Event, w.Moon.Days}
	}
	if w.NextHigh != nil {
		h := waterOf(*w.NextHigh)
		h.Kind = ""
		out.NextHigh = &h
	}
	return out
}

func twinOf(t *window.Twin) *twin {
	if t == nil {
		return nil
	}
	return &twin{round(t.RiseM, 1000), instant(t.Opens), instant(t.Shuts), Instant(t.UsableFrom), Instant(t.UsableTo), t.UsableMinutes}
}

func notes(in []window.Note) []note {
	out := make([]note, len(in))
	for i, n := range in {
		out[i] = note{string(n.Code), n.Text}
	}
	return out
}

func noneOf(n *window.None) *noneAnswer {
	out := &noneAnswer{Text: n.Text, SearchedTo: Instant(n.SearchedTo), Causes: []cause{}}
	for _, k := range n.Causes {
		out.Causes = append(out.Causes, cause{string(k.Code), k.Count, k.Text})
	}
	if len(n.Causes) > 0 {
		out.Code = string(n.Causes[0].Code)
	}
	if n.LowestLow != nil {
		w := waterOf(*n.LowestLow)
		w.Kind = ""
		out.LowestLow = &w
	}
	if n.Next != nil {
		w := windowOf(n.Next)
		out.Next = &w
	}
	return out
}

type levelsRequest struct {
	Shore  shore     `json:"shore"`
	From   string    `json:"from"`
	To     string    `json:"to"`
	Light  string    `json:"light"`
	Levels []float64 `json:"levels"` // from the lowest low upward unless given
}

type levelsAnswer struct {
	Levels []level `json:"levels"`
}

type level struct {
	Level    float64 `json:"level"`
	PerMonth float64 `json:"perMonth"` // lit windows a month
	Median   int     `json:"median"`   // minutes
	Fewest   *int    `json:"fewest"`   // in the leanest whole month
}

// levels counts how often each workable height is bare in the light.
func (c *Core) levels(in levelsRequest, _ time.Time) (levelsAnswer, error) {
	s, err := c.settle(in.Shore)
	if err != nil {
		return levelsAnswer{}, err
	}
	from, to, err := span(in.From, in.To, s.Zone)
	if err != nil {
		return levelsAnswer{}, err
	}
	counts, err := window.LitByLevel(s.tide, window.LevelQuery{
		From: from, To: to, Light: lightOr(in.Light), Site: s.Site, Zone: s.Zone, LevelsM: in.Levels,
	})
	if err != nil {
		return levelsAnswer{}, err
	}
	out := levelsAnswer{Levels: []level{}}
	for _, k := range counts {
		out.Levels = append(out.Levels, level{round(k.LevelM, 1000), k.WindowsPerMonth, k.MedianMinutes, k.FewestInAMonth})
	}
	return out, nil
}
