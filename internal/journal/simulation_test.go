package journal

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// One property: after any history, and then a quiet hour with a good signal, all copies of
// the book are equal. The simulation plays several phones and a server for some weeks.
// Every message may be lost, come late, twice, or after one sent later; an answer may be
// lost, so that the phone sends again what the server has. Phones' clocks are up to a day
// wrong and are set right or wrong on the way, the server's goes back at times; one phone is
// silent for a month; one starts late from a snapshot, and phones restart from what they
// keep. Besides, whoever wrote in knowledge of a value stands after it.
//
// A failure prints its seed; SEED=n plays that one history again.

const histories = 1500

func TestPhonesAgree(t *testing.T) {
	if text := os.Getenv("SEED"); text != "" {
		seed, err := strconv.ParseUint(text, 10, 64)
		require.NoError(t, err)
		play(t, seed)
		return
	}
	total := tally{}
	for seed := range uint64(histories) {
		total.add(play(t, seed))
		if t.Failed() {
			t.Fatalf("seed %d: play it again with SEED=%d", seed, seed)
		}
	}
	// What the histories are for must have happened in them.
	require.Greater(t, total.changes, 20*histories)
	require.Greater(t, total.clamped, histories, "changes that count by their receipts")
	require.Greater(t, total.refused, histories/2)
	require.Greater(t, total.again, histories, "changes sent again after a lost answer")
	require.Greater(t, total.overwrote, histories, "writes in knowledge of a value")
	require.Greater(t, total.restarts, histories/2)
	require.Greater(t, total.snapshots, histories/4)
	require.Greater(t, total.back, histories/4, "times the server's clock went back")
}

// tally counts what happened.
type tally struct{ changes, clamped, refused, again, overwrote, restarts, snapshots, back int }

func (n *tally) add(m tally) {
	n.changes += m.changes
	n.clamped += m.clamped
	n.refused += m.refused
	n.again += m.again
	n.overwrote += m.overwrote
	n.restarts += m.restarts
	n.snapshots += m.snapshots
	n.back += m.back
}

type phone struct {
	device string
	skewMS int64
	silent bool
	clock  *Clock
	// What it keeps: its clock, its changes that wait for an answer, what it has pulled.
	last    Stamp
	outbox  []Change // as written, in the order of writing
	pulled  []Change
	through uint64
	base    []byte // the snapshot that it started from, if any
	fold    *Fold
}

type server struct {
	skewMS  int64
	journal []Change // by Seq-1
	places  map[string]int
	fold    *Fold
}

// message is a push on its way to the server, or an answer on its way to a phone.
type message struct {
	to      *phone   // nil: the server
	from    *phone   // of a push
	changes []Change // pushed; or pulled, with receipts
	after   uint64   // the pulled changes follow this place
	answers []Change // what was pushed, with receipts
}

type world struct {
	t      *testing.T
	r      *rand.Rand
	nowMS  int64
	phones []*phone
	server server
	wire   []message
	minted int
	known  map[string][]string // change id -> ids of the changes it was written in knowledge of
	count  tally
}

const startMS = 1_790_000_000_000 // some day in 2026

func play(t *testing.T, seed uint64) tally {
	w := &world{t: t, r: rand.New(rand.NewPCG(seed, 0x77726b)), nowMS: startMS, known: map[string][]string{}}
	w.server = server{places: map[string]int{}, fold: &Fold{}}
	for range 2 + w.r.IntN(3) {
		w.addPhone()
	}
	if w.r.IntN(3) == 0 {
		w.phones[0].silent = true
	}
	steps := 60 + w.r.IntN(80)
	for step := range steps {
		w.nowMS += w.r.Int64N([]int64{1, 3, 3000, 60000, 4 * 3600 * 1000}[w.r.IntN(5)])
		w.step()
		if step == steps/2 && w.r.IntN(2) == 0 {
			w.joinLate()
		}
	}
	w.nowMS += 30 * dayMS
	w.calm()
	w.check(seed)
	return w.count
}

func (w *world) addPhone() *phone {
	p := &phone{device: id(1000 + len(w.phones)), fold: &Fold{}}
	p.clock, _ = NewClock(p.device, "")
	w.setClock(p)
	w.phones = append(w.phones, p)
	return p
}

// setClock makes a phone's clock right, a little wrong or up to a day wrong.
func (w *world) setClock(p *phone) {
	p.skewMS = []int64{0, 2, 3000, dayMS}[w.r.IntN(4)] * (w.r.Int64N(5) - 2) / 2
}

func (w *world) joinLate() {
	w.count.snapshots++
	p := w.addPhone()
	p.through = uint64(len(w.server.journal))
	p.base = w.server.fold.AppendSnapshot(nil, p.through)
	w.restart(p)
}

func (w *world) step() {
	p := w.phones[w.r.IntN(len(w.phones))]
	switch w.r.IntN(12) {
	case 0, 1, 2, 3:
		w.write(p)
	case 4, 5:
		w.push(p)
	case 6, 7:
		w.pull(p)
	case 8, 9, 10:
		w.deliver()
	case 11:
		switch w.r.IntN(4) {
		case 0:
			w.setClock(p)
		case 1:
			w.count.restarts++
			w.restart(p)
		case 2:
			if w.r.IntN(4) == 0 {
				w.count.back++
				w.server.skewMS -= w.r.Int64N(2 * dayMS)
			} else {
				w.server.skewMS = 0
			}
		case 3:
			w.write(p)
			w.write(p) // within one millisecond
		}
	}
}

// write is one save on a phone: it goes into what the phone keeps and into its fold.
func (w *world) write(p *phone) {
	w.minted++
	w.count.changes++
	c := Change{ID: id(w.minted), Kind: []string{"find", "kind-of-tomorrow"}[w.r.IntN(2)], Record: id(w.r.IntN(3)),
		Stamp: p.clock.Next(w.nowMS + p.skewMS), Fields: map[string]json.RawMessage{}}
	p.last = p.clock.Last()
	for range 1 + w.r.IntN(3) {
		name := []string{"note", "taxon", "party/a", "party/b", Deleted}[w.r.IntN(5)]
		c.Fields[name] = json.RawMessage(strconv.Itoa(w.minted))
	}
	if w.r.IntN(12) == 0 {
		c.Fields["forbidden"] = json.RawMessage("true")
	}
	if r := p.fold.Record(c.Key()); r != nil {
		for name := range c.Fields {
			if v, ok := r.Get(name); ok {
				w.known[c.ID] = append(w.known[c.ID], v.Change)
				w.count.overwrote++
			}
		}
	}
	if err := Validate(&c); err != nil {
		w.t.Fatal(err)
	}
	p.outbox = append(p.outbox, c)
	p.fold.Apply(&c)
}

// push offers what waits, from the oldest on and in the order of writing.
func (w *world) push(p *phone) {
	if p.silent || len(p.outbox) == 0 {
		return
	}
	w.send(message{from: p, changes: slices.Clone(p.outbox[:1+w.r.IntN(len(p.outbox))])})
}

// pull asks for what follows; the answer holds a page of it.
func (w *world) pull(p *phone) {
	if p.silent {
		return
	}
	after := p.through
	upto := min(int(after)+1+w.r.IntN(20), len(w.server.journal))
	w.send(message{to: p, after: after, changes: slices.Clone(w.server.journal[after:upto])})
}

func (w *world) send(m message) {
	for range []int{0, 1, 1, 1, 1, 2}[w.r.IntN(6)] { // lost, sent, sent twice
		w.wire = append(w.wire, m)
	}
}

// deliver hands over any message, not the oldest: it may long have been overtaken.
func (w *world) deliver() {
	if len(w.wire) == 0 {
		return
	}
	i := w.r.IntN(len(w.wire))
	m := w.wire[i]
	w.wire = slices.Delete(w.wire, i, i+1)
	w.handle(m)
}

func (w *world) handle(m message) {
	if m.to != nil {
		w.receive(m.to, m)
		return
	}
	answers := make([]Change, len(m.changes))
	for i, c := range m.changes {
		answers[i] = w.accept(c)
	}
	w.send(message{to: m.from, answers: answers})
}

// accept is the server's: one receipt a change, however often it comes.
func (w *world) accept(c Change) Change {
	s := &w.server
	if i, ok := s.places[c.ID]; ok {
		w.count.again++
		return s.journal[i]
	}
	last := Receipt{}
	if n := len(s.journal); n > 0 {
		last = *s.journal[n-1].Receipt
	}
	reason := ""
	if _, ok := c.Fields["forbidden"]; ok {
		reason = "not yours to write"
		w.count.refused++
	}
	receipt := NextReceipt(last, w.nowMS+s.skewMS, reason)
	c.Receipt = &receipt
	if r, _ := c.Stamp.Read(); r.MS > receipt.AtMS {
		w.count.clamped++
	}
	s.places[c.ID] = len(s.journal)
	s.journal = append(s.journal, c)
	s.fold.Apply(&c)
	return c
}

func (w *world) receive(p *phone, m message) {
	for _, c := range m.answers {
		w.take(p, c)
		p.outbox = slices.DeleteFunc(p.outbox, func(have Change) bool { return have.ID == c.ID })
	}
	if m.after > p.through {
		return // a page is missing before this one; ask again
	}
	for _, c := range m.changes {
		w.take(p, c)
		p.through = max(p.through, c.Receipt.Seq)
	}
}

func (w *world) take(p *phone, c Change) {
	if err := p.clock.Hear(c.Stamp, c.Receipt.AtMS); err != nil {
		w.t.Fatal(err)
	}
	p.last = p.clock.Last()
	p.pulled = append(p.pulled, c)
	p.fold.Apply(&c)
}

// restart builds a phone's copy anew from what it keeps, in any order.
func (w *world) restart(p *phone) {
	p.fold = &Fold{}
	if p.base != nil {
		f, _, err := DecodeSnapshot(p.base)
		if err != nil {
			w.t.Fatal(err)
		}
		p.fold = f
		for r := range f.All() { // the clock hears what the snapshot rests on
			for c := range r.Changes() {
				if err := p.clock.Hear(c.Stamp, c.Receipt.AtMS); err != nil {
					w.t.Fatal(err)
				}
			}
		}
		p.last = p.clock.Last()
	}
	kept := slices.Concat(p.pulled, p.outbox)
	w.r.Shuffle(len(kept), func(i, j int) { kept[i], kept[j] = kept[j], kept[i] })
	for i := range kept {
		p.fold.Apply(&kept[i])
	}
	p.clock, _ = NewClock(p.device, p.last)
}

// calm is the good signal at the end: what is on the wire arrives, then every phone pushes
// and pulls with nothing lost.
func (w *world) calm() {
	for len(w.wire) > 0 {
		m := w.wire[0]
		w.wire = w.wire[1:]
		if m.to == nil {
			for _, c := range m.changes {
				w.accept(c)
			}
		} else {
			w.handle(m)
		}
	}
	for _, p := range w.phones {
		answers := make([]Change, len(p.outbox))
		for i, c := range p.outbox {
			answers[i] = w.accept(c)
		}
		w.receive(p, message{answers: answers})
	}
	for _, p := range w.phones {
		w.receive(p, message{after: p.through, changes: w.server.journal[p.through:]})
	}
}

func (w *world) check(seed uint64) {
	t, journal := w.t, w.server.journal
	require.Len(t, journal, w.minted, "seed %d: every change is in the journal once", seed)
	want := bytesOf(w.server.fold)
	require.Equal(t, plainly(journal), standing(w.server.fold), "seed %d", seed)
	for i, p := range w.phones {
		require.Empty(t, p.outbox)
		require.Equal(t, want, bytesOf(p.fold), "seed %d: phone %d is equal", seed, i)
	}
	all := slices.Clone(journal)
	w.r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	require.Equal(t, want, bytesOf(folded(all)), "seed %d: the journal in any order", seed)
	for id, seen := range w.known {
		c := &journal[w.server.places[id]]
		for _, other := range seen {
			before := &journal[w.server.places[other]]
			require.Equal(t, 1, c.Order().Compare(before.Order()),
				"seed %d: %s\nwas written in knowledge of\n%s", seed, c.Append(nil), before.Append(nil))
		}
	}
}

func ExampleHistory() {
	fields := func(note string) map[string]json.RawMessage {
		return map[string]json.RawMessage{"note": json.RawMessage(strconv.Quote(note))}
	}
	find := Key{Kind: "find", ID: id(0)}
	changes := []Change{
		{ID: id(2), Kind: "find", Record: find.ID, Stamp: Reading{MS: 2000, Device: deviceB}.Stamp(), Fields: fields("under weed")},
		{ID: id(1), Kind: "find", Record: find.ID, Stamp: Reading{MS: 1000, Device: deviceA}.Stamp(), Fields: fields("on sand")},
	}
	for _, past := range History(find, changes) {
		for _, v := range past.Versions {
			fmt.Printf("%s: %s %t\n", past.Field, v.Value, v.Stands)
		}
	}
	// Output:
	// note: "on sand" false
	// note: "under weed" true
}
