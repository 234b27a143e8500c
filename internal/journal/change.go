// Package journal keeps what a household writes on several phones as changes, and folds
// them into records. It never loses a change and never counts one twice: folding is
// commutative, associative and idempotent, so the order and number of arrivals do not
// matter.
//
// It knows nothing of what a record means (internal/book does) and does no I/O
// (internal/store does). Start reading here, then order.go and record.go.
package journal

import (
	"encoding/json"
	"strings"
	"unicode/utf8"

	"wrackbook/internal/fault"
)

// Change sets fields of one record. It is written once, on one device, and never altered.
// Its JSON form is for ever: phones that slept for a year will bring it back. Write it
// with Append, which leaves every byte of a value as it came; json.Marshal rewrites some.
type Change struct {
	// ID is a UUIDv7, minted by the device that wrote the change.
	ID string `json:"id"`
	// Kind and Record name the record: a kind such as "find" and a UUIDv7. Kinds that this
	// program does not know are kept and passed on.
	Kind   string `json:"kind"`
	Record string `json:"record"`
	// Stamp orders changes of one field; see Stamp.
	Stamp Stamp `json:"stamp"`
	// Fields are what the change sets: field name to value. Values that mean something only
	// together are one field; a set is one field an element, "party/<member>"; a deletion
	// is the field "deleted". Unknown fields are kept and passed on.
	Fields map[string]json.RawMessage `json:"fields"`
	// Receipt is set by the server when the change arrives; nil on a phone until then. The
	// server takes no receipt from a phone.
	Receipt *Receipt `json:"receipt,omitempty"`
}

// Bounds of a change.
const (
	MaxChangeBytes = 64 << 10 // as JSON, without its receipt
	MaxFields      = 200
	MaxFieldName   = 120 // bytes
	MaxKind        = 40  // bytes
)

// Deleted is the field that says whether a record is deleted: true or false. A deleted
// record keeps its fields and can be brought back.
const Deleted = "deleted"

// Key names a record.
type Key struct{ Kind, ID string }

// Key names the record that c is about.
func (c *Change) Key() Key { return Key{c.Kind, c.Record} }

// Validate holds a change to its form and bounds; a breach is a *fault.Error naming the
// member or the field. What the fields mean is not looked at.
func Validate(c *Change) error {
	if err := checkID("id", "The change's id", c.ID); err != nil {
		return err
	}
	if err := checkKey(c.Key()); err != nil {
		return err
	}
	if _, err := c.Stamp.Read(); err != nil {
		return err
	}
	if len(c.Fields) == 0 || len(c.Fields) > MaxFields {
		return fault.New(fault.BadInput, "fields", "The change sets %d fields; it must set 1 to %d.", len(c.Fields), MaxFields)
	}
	size := len(`{"id":"","kind":"","record":"","stamp":"","fields":{}}`) + len(c.ID) + len(c.Kind) + len(c.Record) + len(c.Stamp) - 1
	for name, value := range c.Fields {
		if err := checkField(name, value); err != nil {
			return err
		}
		size += len(`"":,`) + len(name) + len(value)
	}
	if size > MaxChangeBytes {
		return fault.New(fault.TooLarge, "fields", "The change has %d bytes; at most %d are kept. Shorten the longest text.", size, MaxChangeBytes)
	}
	if c.Receipt != nil {
		return c.Receipt.check()
	}
	return nil
}

func checkKey(k Key) error {
	if !isKind(k.Kind) {
		return fault.New(fault.BadInput, "kind", "The kind is %.60q; it must be a small letter, then small letters, digits and dashes, %d at most.", k.Kind, MaxKind)
	}
	return checkID("record", "The record's id", k.ID)
}

func checkField(name string, value json.RawMessage) error {
	if !isFieldName(name) {
		return fault.New(fault.BadInput, "fields", "A field is named %.140q; names are letters, digits, '.', '_' and '-' in parts parted by '/', beginning with a letter, %d bytes at most.", name, MaxFieldName)
	}
	if !json.Valid(value) || !utf8.Valid(value) {
		return fault.New(fault.BadJSON, name, "The value of %s is not JSON in UTF-8.", name)
	}
	return nil
}

func isKind(s string) bool {
	if s == "" || len(s) > MaxKind || s[0] < 'a' || s[0] > 'z' {
		return false
	}
	for i := range len(s) {
		if b := s[i]; !(b >= 'a' && b <= 'z' || b >= '0' && b <= '9' || b == '-') {
			return false
		}
	}
	return true
}

func isFieldName(s string) bool {
	if s == "" || len(s) > MaxFieldName || !isLetter(s[0]) || s[len(s)-1] == '/' || strings.Contains(s, "//") {
		return false
	}
	for i := range len(s) {
		if b := s[i]; !isLetter(b) && !(b >= '0' && b <= '9') && b != '.' && b != '_' && b != '-' && b != '/' {
			return false
		}
	}
	return true
}

func isLetter(b byte) bool { return b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z' }
