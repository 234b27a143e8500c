package core

import (
	"encoding/json"
	"time"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
)

// The calls on the household's records hold nothing between two calls: whoever keeps the
// records sends what it kept of those that are touched, with the changes that are new.

type foldRequest struct {
	// Kept is what earlier folds of these records gave as kept.
	Kept    []keptRecord     `json:"kept"`
	Changes []journal.Change `json:"changes"`
}

// keptRecord is a record as it is kept for the next fold. Data is for this call alone: the
// changes that the record still rests on.
type keptRecord struct {
	Kind string `json:"kind"`
	ID   string `json:"id"`
	Data string `json:"data"`
}

type foldAnswer struct {
	Records []foldedRecord `json:"records"` // by kind, then id
}

type foldedRecord struct {
	Kind    string                     `json:"kind"`
	ID      string                     `json:"id"`
	Exists  bool                       `json:"exists"`  // false where every change was refused
	Deleted bool                       `json:"deleted"` // it can be brought back
	Fields  map[string]json.RawMessage `json:"fields"`
	Flags   []book.Flag                `json:"flags"` // what is doubtful in it; never null
	Kept    string                     `json:"kept"`
}

// fold folds changes into the records that they are about, and says what is doubtful in
// them. Changes may come twice and in any order.
func (c *Core) fold(in foldRequest, _ time.Time) (foldAnswer, error) {
	var all journal.Fold
	for _, k := range in.Kept {
		record, err := journal.DecodeRecord(journal.Key{Kind: k.Kind, ID: k.ID}, []byte(k.Data))
		if err != nil {
			return foldAnswer{}, err
		}
		for change := range record.Changes() {
			all.Apply(change)
		}
	}
	for i := range in.Changes {
		if err := journal.Validate(&in.Changes[i]); err != nil {
			return foldAnswer{}, err
		}
		all.Apply(&in.Changes[i])
	}
	out := foldAnswer{Records: make([]foldedRecord, 0, all.Len())}
	for record := range all.All() {
		fields := record.Fields()
		flags := []book.Flag{}
		if len(fields) > 0 {
			flags = append(flags, book.Check(record.Key().Kind, fields)...)
		}
		out.Records = append(out.Records, foldedRecord{
			Kind: record.Key().Kind, ID: record.Key().ID, Exists: len(fields) > 0, Deleted: record.Deleted(),
			Fields: fields, Flags: flags, Kept: string(record.Append(nil)),
		})
	}
	return out, nil
}

type pastRequest struct {
	Kind    string           `json:"kind"`
	ID      string           `json:"id"`
	Changes []journal.Change `json:"changes"`
}

type pastAnswer struct {
	Fields []pastField `json:"fields"` // by name
}

type pastField struct {
	Field    string        `json:"field"`
	Versions []pastVersion `json:"versions"` // earliest first
}

type pastVersion struct {
	Value   json.RawMessage `json:"value"`
	Change  string          `json:"change"`
	Written Instant         `json:"written"` // by the clock of the device that wrote it
	Device  string          `json:"device"`  // as its stamps name it
	Arrived *Instant        `json:"arrived"` // by the server's clock; null while it has not answered
	Refused string          `json:"refused,omitempty"`
	Stands  bool            `json:"stands"`
}

// past tells every value that the fields of a record ever had, the ones that lost too.
func (c *Core) past(in pastRequest, _ time.Time) (pastAnswer, error) {
	for i := range in.Changes {
		if err := journal.Validate(&in.Changes[i]); err != nil {
			return pastAnswer{}, err
		}
	}
	if in.Kind == "" || in.ID == "" {
		return pastAnswer{}, fault.New(fault.BadInput, "id", "No record was named. Give its kind and id.")
	}
	out := pastAnswer{Fields: []pastField{}}
	for _, p := range journal.History(journal.Key{Kind: in.Kind, ID: in.ID}, in.Changes) {
		f := pastField{Field: p.Field}
		for _, v := range p.Versions {
			reading, err := v.Stamp.Read()
			if err != nil {
				return pastAnswer{}, err // Validate has read it
			}
			version := pastVersion{Value: v.Value, Change: v.Change, Written: Instant(time.UnixMilli(reading.MS)), Device: reading.Device, Stands: v.Stands}
			if r := v.Receipt; r != nil {
				arrived := Instant(time.UnixMilli(r.AtMS))
				version.Arrived, version.Refused = &arrived, r.Refused
			}
			f.Versions = append(f.Versions, version)
		}
		out.Fields = append(out.Fields, f)
	}
	return out, nil
}

type taxaAnswer struct {
	Regions map[string]string    `json:"regions"`
	Groups  []book.HandlingGroup `json:"groups"`
	Taxa    []book.Taxon         `json:"taxa"`
	Named   *book.Taxon          `json:"named,omitempty"` // of the name in the request: the kind, else its genus
}

type taxaRequest struct {
	Name string `json:"name"`
}

// taxa gives the starting list of kinds.
func (c *Core) taxa(in taxaRequest, _ time.Time) (taxaAnswer, error) {
	out := taxaAnswer{Regions: book.Regions(), Groups: book.Groups(), Taxa: book.Taxa()}
	if t, ok := book.TaxonNamed(in.Name); ok {
		out.Named = &t
	}
	return out, nil
}
