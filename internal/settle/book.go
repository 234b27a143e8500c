package settle

import (
	"encoding/json"
	"slices"
	"strings"
	"time"

	"wrackbook/internal/book"
)

// Records is what a household has on file of its tanks, as records are kept: fields with
// the id beside them. Fields that are not needed are passed over.
type Records struct {
	Zone      string            `json:"zone"`      // of the home, such as "Europe/Oslo"; "" is as the household says
	Region    string            `json:"region"`    // of the starting list of kinds; "" is as the household says
	Household json.RawMessage   `json:"household"` // its one record; may be left out
	Members   []json.RawMessage `json:"members"`
	Specimens []json.RawMessage `json:"specimens"`
	Finds     []json.RawMessage `json:"finds"` // those that specimens come from: later identifications
	Tanks     []json.RawMessage `json:"tanks"`
	Systems   []json.RawMessage `json:"systems"`
	Readings  []json.RawMessage `json:"readings"`
	Events    []json.RawMessage `json:"events"`
	Removed   []string          `json:"removed"` // ids of what is held no longer
}

// The most that is read at once: more than a club has in ten years.
const (
	maxRecords = 5_000
	maxEvents  = 200_000
)

// Book is what Derive reads.
type Book struct {
	Zone      *time.Location
	Region    string
	Days      map[string]int  // the household's own quiet days by handling group
	Adults    map[string]bool // by id of the member
	Specimens map[string]*Specimen
	Tanks     map[string]*Tank
	Systems   map[string]*System
	Readings  []Reading
	Events    []Event
	Unread    []string // ids of records that cannot be read: each may be a sign

	names            map[string][]Named // by find
	events, readings map[string]int     // where one stands in Events and Readings
}

// Specimen is one animal or plant, or a lot of them.
type Specimen struct {
	ID     string  `json:"id"`
	Taxon  string  `json:"taxon"`
	Group  string  `json:"group"`
	Amount *Amount `json:"amount"`
	Lot    string  `json:"lot"`    // the lot it was parted from or found on
	Base   string  `json:"base"`   // of a weed: cut, holdfast or stone; "" is not said
	Origin string  `json:"origin"` // Wild or HomeGrown; "" is not said
	Find   string  `json:"find"`
}

// Where a specimen comes from.
const (
	Wild      = "wild"
	HomeGrown = "homeGrown"
)

// Named is an identification with its day.
type Named struct {
	At    time.Time `json:"at"`
	Taxon string    `json:"taxon"`
	Group string    `json:"group"`
}

// Tank is a vessel; Use is holding, quarantine or display.
type Tank struct {
	ID      string  `json:"id"`
	Use     string  `json:"use"`
	VolumeL float64 `json:"volumeL"`
	Keeps   *Keeps  `json:"keeps"`
	Every   Every   `json:"every"`
}

// Keeps is what a tank is kept within: salinity (PSS-78) and °C.
type Keeps struct {
	SalinityLow  float64 `json:"salinityLow"`
	SalinityHigh float64 `json:"salinityHigh"`
	LowC         float64 `json:"lowC"`
	HighC        float64 `json:"highC"`
}

// System is tanks that share water, with the household's own protocol if it has one.
type System struct {
	ID       string    `json:"id"`
	Protocol *Protocol `json:"protocol"`
	Every    Every     `json:"every"`
}

// Every is how many days at most lie between two acts; 0 is not said.
type Every struct {
	WaterChangeDays int `json:"waterChangeDays"`
	TopUpDays       int `json:"topUpDays"`
	TrimDays        int `json:"trimDays"`
	ReadDays        int `json:"readDays"`
}

// Protocol is the quiet days (1 to 365) and dips (0 to 20) that a clearance asks for.
type Protocol struct {
	QuietDays int `json:"quietDays"`
	Dips      int `json:"dips"`
}

// isolated tells whether a kind is protected or invasive, so that a lot of it stops
// everything. Controlled anywhere is enough: whoever may keep it says so by overruling.
func (b *Book) isolated(taxon string) bool {
	genus, _, _ := strings.Cut(strings.ToLower(taxon), " ")
	if slices.Contains(numbers().IsolatedGenera, genus) {
		return true
	}
	t, ok := book.TaxonNamed(taxon)
	return ok && (t.Controlled || b.Region != "" && slices.Contains(t.Invasive, b.Region))
}
