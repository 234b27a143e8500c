package settle

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
	"wrackbook/internal/zone"
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
	Named  []Named `json:"-"` // later identifications of the find
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
}

// Tank is a vessel; Use is holding, quarantine or display.
type Tank struct {
	ID      string  `json:"id"`
	Use     string  `json:"use"`
	VolumeL float64 `json:"volumeL"`
	Keeps   *Keeps  `json:"keeps"`
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
}

// Protocol is the quiet days (1 to 365) and dips (0 to 20) that a clearance asks for.
type Protocol struct {
	QuietDays int `json:"quietDays"`
	Dips      int `json:"dips"`
}

// Read reads the records. What is deleted is left out; what cannot be read is noted in
// Unread and keeps anybody from being cleared. The error is a *fault.Error.
func Read(in *Records) (*Book, error) {
	b := &Book{Region: in.Region, Days: map[string]int{}, Adults: map[string]bool{}, Specimens: map[string]*Specimen{},
		Tanks: map[string]*Tank{}, Systems: map[string]*System{}}
	if err := b.home(in); err != nil {
		return nil, err
	}
	for _, list := range [][]json.RawMessage{in.Members, in.Specimens, in.Finds, in.Tanks, in.Systems} {
		if len(list) > maxRecords {
			return nil, fault.New(fault.TooLarge, "specimens", "There are more than %d records of one kind. Leave out those that are long gone.", maxRecords)
		}
	}
	if len(in.Events) > maxEvents || len(in.Readings) > maxEvents {
		return nil, fault.New(fault.TooLarge, "events", "There are more than %d events or readings. Leave out those of other years.", maxEvents)
	}
	b.each(in.Members, func(id string, data []byte) bool {
		var m struct {
			Age string `json:"age"`
		}
		err := json.Unmarshal(data, &m)
		b.Adults[id] = m.Age == "adult"
		return err == nil
	})
	b.each(in.Specimens, func(id string, data []byte) bool {
		s := new(Specimen)
		b.Specimens[id] = s
		return json.Unmarshal(data, s) == nil
	})
	names := map[string][]Named{} // by find
	b.each(in.Finds, func(id string, data []byte) bool {
		var fields map[string]json.RawMessage
		err := json.Unmarshal(data, &fields)
		for field, value := range fields {
			var n Named
			if strings.HasPrefix(field, "identified/") && string(value) != "null" {
				if json.Unmarshal(value, &n) != nil {
					return false
				}
				names[id] = append(names[id], n)
			}
		}
		return err == nil
	})
	for _, s := range b.Specimens {
		s.Named = names[s.Find]
	}
	b.each(in.Tanks, func(id string, data []byte) bool {
		t := new(Tank)
		b.Tanks[id] = t
		return json.Unmarshal(data, t) == nil
	})
	b.each(in.Systems, func(id string, data []byte) bool {
		s := new(System)
		b.Systems[id] = s
		return json.Unmarshal(data, s) == nil
	})
	b.each(in.Readings, func(_ string, data []byte) bool {
		var r Reading
		err := json.Unmarshal(data, &r)
		b.Readings = append(b.Readings, r)
		return err == nil
	})
	for _, data := range in.Events {
		switch e, deleted, ok := readEvent(data); {
		case deleted:
		case ok:
			b.Events = append(b.Events, e)
		default:
			b.Unread = append(b.Unread, e.ID)
		}
	}
	return b, nil
}

// home reads the household's own record: its zone and region, where they are not given beside
// it, and its own numbers.
func (b *Book) home(in *Records) error {
	zoneName := in.Zone
	if len(in.Household) > 0 {
		var fields map[string]json.RawMessage
		if json.Unmarshal(in.Household, &fields) != nil {
			b.Unread = append(b.Unread, book.HouseholdID)
		}
		var home struct{ Zone, Region string }
		if json.Unmarshal(fields["home"], &home) == nil {
			zoneName, b.Region = cmp.Or(zoneName, home.Zone), cmp.Or(b.Region, home.Region)
		}
		for name, value := range fields {
			var own struct{ Days int }
			if group, ok := strings.CutPrefix(name, "handling/"); ok && json.Unmarshal(value, &own) == nil && own.Days > 0 {
				b.Days[group] = own.Days
			}
		}
	}
	if zoneName == "" {
		return fault.New(fault.BadInput, "zone", "Without the time zone of the home its days are not known. Give it, such as \"Europe/Oslo\".")
	}
	z, err := zone.Load(zoneName)
	b.Zone = z
	return err
}

// each hands on the records that are not deleted, with their ids. use says whether it
// could be read.
func (b *Book) each(list []json.RawMessage, use func(id string, data []byte) bool) {
	for _, data := range list {
		var head struct {
			ID      string `json:"id"`
			Deleted bool   `json:"deleted"`
		}
		ok := json.Unmarshal(data, &head) == nil && head.ID != ""
		if ok && head.Deleted {
			continue
		}
		if !ok || !use(head.ID, data) {
			b.Unread = append(b.Unread, head.ID)
		}
	}
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
