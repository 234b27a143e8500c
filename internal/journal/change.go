// Package journal keeps what a household writes on several phones as changes, and folds
// them into records. It never loses a change and never counts one twice: folding is
// commutative, associative and idempotent, so the order and number of arrivals do not
// matter.
//
// It knows nothing of what a record means (internal/book does) and does no I/O
// (internal/store does). Start reading here.
package journal

import "encoding/json"

// Change sets fields of one record. It is written once, on one device, and never altered.
// Its JSON form is for ever: phones that slept for a year will bring it back.
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
	// Receipt is set by the server when the change arrives; nil on a phone until then.
	Receipt *Receipt `json:"receipt,omitempty"`
}

// Receipt is the server's word on a change.
type Receipt struct {
	Seq  uint64 `json:"seq"`  // place in the server's journal, from 1
	AtMS int64  `json:"atMs"` // server's clock at arrival, Unix milliseconds
	// Refused says why the change stays out of the fold; empty for one that counts.
	Refused string `json:"refused,omitempty"`
}
