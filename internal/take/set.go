package take

import "time"

// Set is the rules of one authority for one area; FORM.md says what each part means to the
// person who writes it. Days are civil days ("2026-11-25"), lengths metres or millimetres
// by their name. Optional parts are left out of the JSON where they are empty.
type Set struct {
	Form       int             `json:"form"`
	Name       string          `json:"name"`
	Layer      Layer           `json:"layer"`
	Authority  string          `json:"authority"`
	Ask        string          `json:"ask"` // how to reach the authority
	Source     string          `json:"source"`
	SourceDate string          `json:"sourceDate"` // the day of the text
	From       string          `json:"from,omitempty"`
	To         string          `json:"to,omitempty"` // the last day
	Area       Area            `json:"area"`
	Purposes   []string        `json:"purposes,omitempty"`  // home, teaching, trade; see purposes
	Otherwise  Otherwise       `json:"otherwise,omitempty"` // see otherwise
	Note       string          `json:"note,omitempty"`
	Rules      map[string]Rule `json:"rules"` // by a short name that verdicts call them by
}

// Layer is whose rules they are.
type Layer string

const (
	National  Layer = "national"
	Regional  Layer = "regional"
	Park      Layer = "park"
	Closure   Layer = "closure"   // health or disease; goes stale in a day
	Household Layer = "household" // the household's own; shown apart from the law
)

// Otherwise is what a set holds of a kind that none of its rules allows by name.
type Otherwise string

const (
	Unlisted  Otherwise = "unchecked" // it is silent
	WhiteList Otherwise = "forbidden" // only what it allows may be taken
	BlackList Otherwise = "allowed"   // what it does not restrict may be taken
	Others    Otherwise = "others"    // it only adds restrictions to other sets
)

// otherwise gives the default of the layer where the set does not say.
func (s *Set) otherwise() Otherwise {
	switch {
	case s.Otherwise != "":
		return s.Otherwise
	case s.Layer == Closure || s.Layer == Household:
		return Others
	}
	return Unlisted
}

// purposes says whether the set is about outings of that purpose. Limits of a law are for
// personal use unless it says otherwise; a closure and the household's rules are for all.
func (s *Set) purposes(purpose string) truth {
	switch {
	case s.Purposes == nil && (s.Layer == Closure || s.Layer == Household):
		return yes
	case purpose == "":
		return lacking(factPurpose)
	case s.Purposes == nil:
		return is(purpose == "home")
	}
	return is(has(s.Purposes, purpose))
}

// Area is where a set or a rule holds.
type Area struct {
	Place      string `json:"place,omitempty"`      // in words
	Everywhere bool   `json:"everywhere,omitempty"` // in all of the place; the household says which shores lie in it
	Polygons   []Ring `json:"polygons,omitempty"`
	Except     []Ring `json:"except,omitempty"` // left out
	Strip      *Strip `json:"strip,omitempty"`
}

// Ring is a polygon: [longitude east, latitude north] in degrees, WGS 84. The last point
// may repeat the first.
type Ring [][2]float64

// Strip is what lies between two levels; one of them may be open.
type Strip struct {
	Above *Level `json:"above,omitempty"`
	Below *Level `json:"below,omitempty"`
}

// Level is a height: a named level of the station, or its datum where none is named, and
// metres above that.
type Level struct {
	Named string  `json:"named,omitempty"`
	PlusM float64 `json:"plusM"`
}

// Rule is what a set says of some kinds. All its parts hold together, and all rules of all
// sets that are about a find hold together.
type Rule struct {
	Of     Subject `json:"of"`
	Where  *Area   `json:"where,omitempty"`  // a part of the set's area
	During *Season `json:"during,omitempty"` // the rule holds only then
	Unless *Unless `json:"unless,omitempty"` // and for nobody of these

	Take      string  `json:"take,omitempty"` // allowed or forbidden
	Limits    []Limit `json:"limits,omitempty"`
	Sizes     []Size  `json:"sizes,omitempty"`
	Season    *Season `json:"season,omitempty"`
	Hours     *Hours  `json:"hours,omitempty"`
	Gear      *Words  `json:"gear,omitempty"`
	Use       *Words  `json:"use,omitempty"`
	Substrate *Words  `json:"substrate,omitempty"`
	Person    *Needs  `json:"person,omitempty"`
	Rest      int     `json:"rest,omitempty"` // days that a shore is left alone after a visit
	Cut       *Cut    `json:"cut,omitempty"`
	Duties    []Duty  `json:"duties,omitempty"`
	Return    string  `json:"return,omitempty"` // demanded, allowed or forbidden
	Note      string  `json:"note,omitempty"`
}

// Subject is which kinds, in which states of life.
type Subject struct {
	All    bool     `json:"all,omitempty"`
	Rest   bool     `json:"rest,omitempty"` // what no other rule of the set allows by name
	Taxa   []string `json:"taxa,omitempty"` // scientific names; a genus stands for its species
	Groups []string `json:"groups,omitempty"`
	Except *Kinds   `json:"except,omitempty"`
	States []string `json:"states,omitempty"`
}

// Kinds is taxa and groups.
type Kinds struct {
	Taxa   []string `json:"taxa,omitempty"`
	Groups []string `json:"groups,omitempty"`
}

// Limit is how much. The bounds of what it counts are Per (over which time), Base (whose)
// and Each (of each taxon by itself).
type Limit struct {
	Most      float64  `json:"most"`
	Unit      string   `json:"unit"`              // count, g, mL, mm, containers, share
	Weighed   string   `json:"weighed,omitempty"` // how a mass is weighed
	Base      string   `json:"base"`              // person, party, vehicle, licence, household, everyone
	Per       string   `json:"per"`               // day, tide, outing, days, possession, season, year
	Days      int      `json:"days,omitempty"`    // for days: the last so many, today with them
	Each      string   `json:"each,omitempty"`    // taxon
	Who       string   `json:"who,omitempty"`     // whose share it is: gathers (unless said), adults, all
	PutBack   string   `json:"putBack,omitempty"` // free: what was put back does not count
	KeepFirst bool     `json:"keepFirst,omitempty"`
	Or        *Measure `json:"or,omitempty"` // in this measure where the first is not known
}

// Measure is a limit's amount in another unit.
type Measure struct {
	Most    float64 `json:"most"`
	Unit    string  `json:"unit"`
	Weighed string  `json:"weighed,omitempty"`
}

// Size is the least and the greatest size along an axis; both together are a slot.
type Size struct {
	Axis    string   `json:"axis"`
	LeastMM *float64 `json:"leastMm,omitempty"`
	MostMM  *float64 `json:"mostMm,omitempty"`
}

// Season is when something is open, or when it is closed; exactly one is given.
type Season struct {
	Open   []Span `json:"open,omitempty"`
	Closed []Span `json:"closed,omitempty"`
}

// Span is days in one of four forms: from–to (with years, or every year and then over the
// new year too), months, a list of days, or days counted from a phase of the moon.
type Span struct {
	From   string   `json:"from,omitempty"`
	To     string   `json:"to,omitempty"`
	Months []int    `json:"months,omitempty"`
	Days   []string `json:"days,omitempty"`
	Moon   *Moon    `json:"moon,omitempty"`
}

// Moon is the days First to Last after the local day of a new or full moon.
type Moon struct {
	Of    string `json:"of"` // new, full, either
	First int    `json:"first"`
	Last  int    `json:"last"`
}

// Hours is the open part of a day: clock times of the shore, "sunrise" for From, "sunset"
// for To. Minutes are added to them.
type Hours struct {
	From    string `json:"from"`
	To      string `json:"to"`
	FromMin int    `json:"fromMin,omitempty"`
	ToMin   int    `json:"toMin,omitempty"`
}

// Words is a white list or a black list of words: gear, uses, substrates.
type Words struct {
	Only  []string `json:"only,omitempty"`
	Never []string `json:"never,omitempty"`
}

// Needs is what a person must have or be.
type Needs struct {
	Licence string `json:"licence,omitempty"`
	Above   *Limit `json:"above,omitempty"`   // no licence is needed up to this
	Consent string `json:"consent,omitempty"` // of whom
	AgeFrom *int   `json:"ageFrom,omitempty"` // years
	AgeTo   *int   `json:"ageTo,omitempty"`
}

// Unless is who is exempt; one of them is enough. A right or licence that nobody says they
// hold exempts nobody.
type Unless struct {
	Licences []string `json:"licences,omitempty"`
	Rights   []string `json:"rights,omitempty"`
	AgeUnder *int     `json:"ageUnder,omitempty"`
	AgeFrom  *int     `json:"ageFrom,omitempty"`
}

// Cut is what a plant keeps when a part of it is cut off.
type Cut struct {
	LeaveMM   float64 `json:"leaveMm,omitempty"`   // that much, Above
	Above     string  `json:"above,omitempty"`     // holdfast, bulb, anchor, root
	LeavePart float64 `json:"leavePart,omitempty"` // of each plant, 0 to 1
	NotTorn   bool    `json:"notTorn,omitempty"`
}

// Duty is something to do; with Ask, a condition besides: no forbids, and without an answer
// the verdict is unchecked.
type Duty struct {
	Do  string `json:"do"`
	Ask string `json:"ask,omitempty"`
}

// Checked is the last time that someone compared a set with its source.
type Checked struct {
	On string `json:"on"` // day
	By string `json:"by"`
}

// Held is a set as the book holds it.
type Held struct {
	ID      string
	Set     *Set   // nil where it cannot be read
	Fault   string // then why
	Checked *Checked
	// Shores are the shores that the household says lie in the place of a set that holds
	// everywhere in it; nil: it has not said.
	Shores []string
	// Elsewhere are those that it says lie outside; of any other it is then not known. nil: all
	// that are not among Shores do.
	Elsewhere []string
	rules     []compiled

	about   [][]truth // of the rules, by the kinds of the ledger aboutIn, as far as asked
	aboutIn *Ledger
}

// at is a moment with what the shore's zone makes of it.
type at struct {
	time.Time           // UTC
	local     time.Time // in the shore's zone
	day       civil
}

// PerTide says whether the set has a limit a tide, so that the high waters are wanted.
func (s *Set) PerTide() bool {
	for _, r := range s.Rules {
		for _, l := range r.Limits {
			if l.Per == "tide" {
				return true
			}
		}
		if r.Person != nil && r.Person.Above != nil && r.Person.Above.Per == "tide" {
			return true
		}
	}
	return false
}
