package store

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"errors"
	"strings"
	"unicode/utf8"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
)

// Bounds of one push.
const (
	MaxPush      = 1000    // changes
	MaxPushBytes = 8 << 20 // of their JSON
)

// Result is the answer to one pushed change.
type Result struct {
	ID      string
	Seq     uint64 // its place in the journal; 0 with Err
	AtMS    int64  // when it first arrived, Unix milliseconds
	Refused string // why it stays out of the fold; empty for one that counts

	Duplicate bool // it was here already; the above is what was answered the first time
	Altered   bool // it was here already with other contents, which stay
	Err       error
}

// Push takes changes into the journal and the fold and answers each in its place. Where
// the error is nil, all that has a Seq is on the disk; otherwise nothing of it counts as
// saved. A change that is not of the form has a Result.Err, is not kept, and holds up no
// other.
//
// refuse, which may be nil, gives the reason why a change is kept but not folded, "" for
// none. It is called once for each change, before any transaction, and may read the store.
func (s *Store) Push(changes []journal.Change, refuse func(*journal.Change) string) ([]Result, error) {
	if len(changes) > MaxPush {
		return nil, fault.New(fault.TooLarge, "changes", "The push has %d changes; %d are taken at once. Send the rest in another.", len(changes), MaxPush)
	}
	results := make([]Result, len(changes))
	var arrivals []arrival
	weight := 0
	for i := range changes {
		a, err := newArrival(&changes[i], refuse)
		results[i] = Result{ID: changes[i].ID, Err: err}
		if err != nil {
			continue
		}
		a.result = &results[i]
		arrivals = append(arrivals, a)
		weight += len(a.body)
	}
	if weight > MaxPushBytes {
		return nil, fault.New(fault.TooLarge, "changes", "The push has %d bytes; %d are taken at once. Send fewer changes in each.", weight, MaxPushBytes)
	}
	if len(arrivals) == 0 {
		return results, nil
	}
	err := s.commit(weight, func(tx *bolt.Tx) error { return s.take(tx, arrivals) })
	if err != nil {
		return nil, err
	}
	return results, nil
}

// arrival is a change made ready outside the transaction.
type arrival struct {
	change journal.Change
	id     []byte // 16 bytes
	body   []byte // JSON without a receipt
	refuse string
	result *Result
}

func newArrival(from *journal.Change, refuse func(*journal.Change) string) (arrival, error) {
	c := *from
	c.Receipt = nil
	if err := journal.Validate(&c); err != nil {
		return arrival{}, err
	}
	a := arrival{change: c, id: idKey(c.ID), body: c.Append(nil)}
	if refuse != nil {
		a.refuse = shorten(refuse(&c), journal.MaxRefused)
	}
	return a, nil
}

// idKey gives the 16 bytes of a UUID that has passed Validate.
func idKey(id string) []byte {
	b, _ := hex.DecodeString(strings.ReplaceAll(id, "-", ""))
	return b
}

func shorten(text string, most int) string {
	text = strings.ToValidUTF8(text, "�")
	if len(text) <= most {
		return text
	}
	for most > 0 && !utf8.RuneStart(text[most]) {
		most--
	}
	return text[:most]
}

// take writes arrivals to the journal, its index and the records. It may run again.
func (s *Store) take(tx *bolt.Tx, arrivals []arrival) error {
	entries, ids := tx.Bucket(journalBucket), tx.Bucket(idsBucket)
	entries.FillPercent = 0.95 // sequence numbers only ever grow
	last, err := lastReceipt(entries)
	if err != nil {
		return err
	}
	touched := records{bucket: tx.Bucket(recordsBucket)}
	now := s.opts.Now().UnixMilli()
	for i := range arrivals {
		a := &arrivals[i]
		known, err := get(ids, a.id)
		if err != nil {
			return err
		}
		if known != nil {
			if err := a.again(entries, known); err != nil {
				return err
			}
			continue
		}
		receipt := journal.NextReceipt(last, now, a.refuse)
		last = receipt
		c := a.change
		c.Receipt = &receipt
		if err := errors.Join(put(entries, seqKey(receipt.Seq), c.Append(nil)), put(ids, a.id, seqKey(receipt.Seq)), touched.fold(&c)); err != nil {
			return err
		}
		*a.result = Result{ID: c.ID, Seq: receipt.Seq, AtMS: receipt.AtMS, Refused: receipt.Refused}
	}
	return touched.write()
}

// again answers a change that is in the journal at the place known.
func (a *arrival) again(entries *bolt.Bucket, known []byte) error {
	stored, err := get(entries, known)
	if err != nil {
		return err
	}
	receipt, at, err := receiptIn(stored)
	if err != nil {
		return err
	}
	*a.result = Result{
		ID: a.change.ID, Seq: receipt.Seq, AtMS: receipt.AtMS, Refused: receipt.Refused,
		Duplicate: true, Altered: !bytes.Equal(stored[:at], a.body[:len(a.body)-1]),
	}
	return nil
}

// lastReceipt is that of the last change in the journal, zero for an empty one.
func lastReceipt(entries *bolt.Bucket) (journal.Receipt, error) {
	key, sealed := entries.Cursor().Last()
	if key == nil {
		return journal.Receipt{}, nil
	}
	stored, err := unseal(key, sealed)
	if err != nil {
		return journal.Receipt{}, err
	}
	receipt, _, err := receiptIn(stored)
	return receipt, err
}

// receiptMember begins the receipt, the last member of a change in the journal. Quotation
// marks inside a text are escaped, so its last place is the right one.
var receiptMember = []byte(`,"receipt":`)

// receiptIn reads the receipt of a change in the journal and says where it begins.
func receiptIn(stored []byte) (receipt journal.Receipt, at int, err error) {
	at = bytes.LastIndex(stored, receiptMember)
	if at >= 0 {
		text, whole := bytes.CutSuffix(stored[at+len(receiptMember):], []byte("}"))
		if whole && json.Unmarshal(text, &receipt) == nil && receipt.Seq > 0 {
			return receipt, at, nil
		}
	}
	return receipt, 0, damaged(errors.New("a change in the journal has no receipt"))
}
