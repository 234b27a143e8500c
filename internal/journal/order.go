package journal

import (
	"cmp"
	"strings"
)

// head is a change without its fields, as the fold keeps it. It is never altered, and the
// fields that one change set share one.
type head struct {
	id      string
	stamp   Stamp
	ms      int64    // of the stamp
	receipt *Receipt // nil while none is known
}

// newHead is nil for a stamp that cannot be read; Validate has refused such a change.
func newHead(c *Change) *head {
	r, err := c.Stamp.Read()
	if err != nil {
		return nil
	}
	return &head{id: c.ID, stamp: c.Stamp, ms: r.MS, receipt: c.Receipt}
}

func (h *head) refused() bool  { return h.receipt != nil && h.receipt.Refused != "" }
func (h *head) accepted() bool { return h.receipt != nil && h.receipt.Refused == "" }
func (h *head) counts() bool   { return !h.refused() }

// knowsMore orders what two copies of a change know of its receipt. A receipt knows more
// than none and an acceptance more than a refusal; of two acceptances, which only a
// restored server can have given, the later counts everywhere.
func (h *head) knowsMore(than *head) bool {
	if a, b := h.knowledge(), than.knowledge(); a != b || a == 0 {
		return a > b
	}
	a, b := h.receipt, than.receipt
	return cmp.Or(cmp.Compare(a.AtMS, b.AtMS), cmp.Compare(a.Seq, b.Seq), strings.Compare(a.Refused, b.Refused)) > 0
}

func (h *head) knowledge() int {
	switch {
	case h.receipt == nil:
		return 0
	case h.refused():
		return 1
	}
	return 2
}

// same says whether a and b are one change, whatever is known of its receipt.
func same(a, b *head) bool { return a == b || a.id == b.id && a.stamp == b.stamp }

// Order is where a change stands among those that set the same field: the later one wins.
// It is the stamp, with the earlier of its time and the server's receipt:
//
//	(min(stamp ms, receipt ms), counter, device, change id)
//
// A receipt can only move a change to an earlier place. With clocks that hear
// (Clock.Hear), receipts in strictly rising time (NextReceipt) and phones that push in the
// order of writing, a change made in knowledge of another stands after it, however wrong
// either clock is: let x have place (e, n) and y be made after hearing x, so that y's
// stamp is above (e, n) and its receipt after x's, hence above e. If y counts by its
// stamp, that is above (e, n); if by its receipt, that is above e.
type Order struct {
	ms    int64
	rest  string // counter and device, as in the stamp
	id    string
	rawMS int64 // parts two that carry one id by mistake
}

// Compare is -1, 0 or 1 as o stands before, at or after p.
func (o Order) Compare(p Order) int {
	return cmp.Or(cmp.Compare(o.ms, p.ms), strings.Compare(o.rest, p.rest), strings.Compare(o.id, p.id), cmp.Compare(o.rawMS, p.rawMS))
}

// Order is where c stands, by its receipt if it has one. The stamp must be valid; where it
// is not, c stands before all others.
func (c *Change) Order() Order {
	h := newHead(c)
	if h == nil {
		return Order{ms: -1, id: c.ID}
	}
	return h.order()
}

func (h *head) order() Order {
	o := h.written()
	if h.receipt != nil {
		o.ms = min(o.ms, h.receipt.AtMS)
	}
	return o
}

// written is where the change stands by its stamp alone: the latest place it can ever have.
func (h *head) written() Order {
	return Order{ms: h.ms, rest: string(h.stamp[timeLength:]), id: h.id, rawMS: h.ms}
}
