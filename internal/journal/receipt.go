package journal

import (
	"unicode/utf8"

	"wrackbook/internal/fault"
)

// Receipt is the server's word on a change. It is given once: a change that comes again
// gets the receipt that it has.
type Receipt struct {
	Seq uint64 `json:"seq"` // place in the server's journal, from 1
	// AtMS is the server's clock at arrival, Unix milliseconds, and always later than that
	// of the receipt before; see NextReceipt.
	AtMS int64 `json:"atMs"`
	// Refused says why the change stays out of the fold; empty for one that counts.
	Refused string `json:"refused,omitempty"`
}

// MaxRefused is how long Refused may be, in bytes.
const MaxRefused = 400

// greatestSeq is the greatest whole number that JavaScript reads without loss.
const greatestSeq = 1<<53 - 1

// NextReceipt makes the receipt that follows last, the zero Receipt for the first. Its time
// is later than the last one's even when the server's clock was set back or a batch
// arrives in one millisecond: changes that count by their receipts then stand in the order
// in which they came, and one made after another was heard of stands after it.
func NextReceipt(last Receipt, nowMS int64, refused string) Receipt {
	return Receipt{Seq: last.Seq + 1, AtMS: min(max(nowMS, last.AtMS+1), LatestMS), Refused: refused}
}

func (r *Receipt) check() error {
	if r.Seq < 1 || r.Seq > greatestSeq {
		return fault.New(fault.BadInput, "receipt", "The receipt's place in the journal is %d; places count from 1 to 2^53-1.", r.Seq)
	}
	if err := checkAtMS(r.AtMS); err != nil {
		return err
	}
	if len(r.Refused) > MaxRefused || !utf8.ValidString(r.Refused) {
		return fault.New(fault.BadInput, "receipt", "The receipt's reason must be UTF-8 text of at most %d bytes.", MaxRefused)
	}
	return nil
}

func checkAtMS(atMS int64) error {
	if atMS < 0 || atMS > LatestMS {
		return fault.New(fault.BadInput, "receipt", "The receipt's time is %d; it must be Unix milliseconds from 0 to the end of the year 9999.", atMS)
	}
	return nil
}
