package book

import (
	_ "embed"
	"encoding/json"
	"strings"
	"sync"
)

// Kind is what a record is about.
type Kind struct {
	Name   string  `json:"name"`
	What   string  `json:"what"`
	Others Role    `json:"others"` // the least role that may write fields this program does not know
	Fields []Field `json:"fields"`
	byName map[string]*Field
}

// Field is one row of the table.
type Field struct {
	Name    string `json:"name"`    // "party/*" is a set, one field an element
	What    string `json:"what"`    // for people; begins the sentence of a flag
	Write   Role   `json:"write"`   // the least role that may
	Needed  bool   `json:"needed"`  // a record without it is flagged
	Private bool   `json:"private"` // children and guests do not see it
	Element string `json:"element"` // how the elements of a set are named: byID, byHash or byWord
	Value
}

// How elements of sets are named.
const (
	byID   = "a UUID"
	byHash = "a SHA-256, 64 hexadecimal digits"
	byWord = "a word"
)

const deleted = "deleted"

// The table is data, one row a line: as Go literals it weighed 25 kB more in the browser.
//
//go:embed fields.json
var fieldsJSON []byte

type tables struct {
	kinds  []*Kind
	byName map[string]*Kind
}

// table reads the table once. It is part of the program, so that a table that cannot be
// read is the programmer's error.
var table = sync.OnceValue(func() *tables {
	t := &tables{byName: map[string]*Kind{}}
	if err := json.Unmarshal(fieldsJSON, &t.kinds); err != nil {
		panic("fields.json: " + err.Error())
	}
	for _, k := range t.kinds {
		// Every record can be deleted and brought back: by a child only a find, which it may
		// have logged by mistake.
		write := k.Others
		if write == Child && k.Name != "find" {
			write = Collector
		}
		k.Fields = append(k.Fields, Field{Name: deleted, What: "whether it is deleted", Write: write, Value: Value{Type: Bool}})
		k.byName = make(map[string]*Field, len(k.Fields))
		for i := range k.Fields {
			k.byName[k.Fields[i].Name] = &k.Fields[i]
		}
		t.byName[k.Name] = k
	}
	return t
})

// Kinds lists the kinds in the order of the table. It is not to be altered.
func Kinds() []*Kind { return table().kinds }

func kindNamed(name string) (*Kind, bool) {
	k, ok := table().byName[name]
	return k, ok
}

// field finds the row of a field; for an element of a set, that of the set.
func (k *Kind) field(name string) (*Field, bool) {
	f, ok := k.byName[name]
	if !ok {
		if set, _, isSet := strings.Cut(name, "/"); isSet {
			f, ok = k.byName[set+"/*"]
		}
	}
	return f, ok
}

// HouseholdID is the id of the one record of the kind household: every phone writes to the
// same one, also before it has joined.
const HouseholdID = "00000000-0000-7000-8000-000000000001"
