package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// One property: after any history, and then a quiet hour with a good signal, all copies of
// the book are equal. internal/journal plays it with a server of its own; here the server is
// the app behind a socket, and the phones are reference clients of its protocol.
//
// Requests and answers may be lost, cut at any byte, come late, twice, and after ones sent
// later. Phones' clocks are up to a day wrong, the server's goes back at times; one phone is
// silent for a month, one joins late from a snapshot. The server is restarted, and sometimes
// restored from an older backup. Devices are of every role.
//
// A failure prints its seed; WRACKBOOK_HISTORY=n plays that one again, alone.

const histories = 1000

func TestAllCopiesAgree(t *testing.T) {
	t.Parallel()
	if text := os.Getenv("WRACKBOOK_HISTORY"); text != "" {
		seed, err := strconv.ParseUint(text, 10, 64)
		require.NoError(t, err)
		total, err := newPlayhouse(t).play(seed)
		require.NoError(t, err)
		t.Logf("%+v", total)
		return
	}
	var next atomic.Uint64
	var mu sync.Mutex
	var total tally
	failed := map[uint64]error{}
	var all sync.WaitGroup
	for range 3 { // the server's work and the phones' share two cores well
		house := newPlayhouse(t)
		all.Go(func() {
			for seed := next.Add(1); seed <= histories; seed = next.Add(1) {
				one, err := house.play(seed)
				mu.Lock()
				total.add(one)
				if err != nil {
					failed[seed] = err
				}
				stop := len(failed) > 0
				mu.Unlock()
				if stop {
					return
				}
			}
		})
	}
	all.Wait()
	for seed, err := range failed {
		assert.NoError(t, err, "play it again with WRACKBOOK_HISTORY=%d", seed)
	}
	t.Logf("%d histories: %+v", histories, total)
	// What the histories are for must have happened in them.
	require.Equal(t, histories, total.Histories)
	require.Greater(t, total.Changes, 10*histories)
	for what, n := range map[string]int{
		"requests lost": total.Lost, "requests cut": total.Cut, "answers lost": total.AnswersLost, "answers cut": total.AnswersCut,
		"requests late": total.Late, "requests twice": total.Twice, "answers late": total.AnswersLate, "changes refused": total.Refused,
	} {
		require.Greater(t, n, histories/2, what)
	}
	for what, n := range map[string]int{
		"restarts": total.Restarts, "restores": total.Restores, "joined from a snapshot": total.Snapshots,
		"server's clock set back": total.Back, "phones that began again": total.BeganAgain,
	} {
		require.Greater(t, n, histories/8, what)
	}
}

// tally counts what happened.
type tally struct {
	Histories, Changes, Refused, Restarts, Backups, Restores, BeganAgain, Snapshots, Back int
	Lost, Cut, AnswersLost, AnswersCut, Late, Twice, AnswersLate                          int
}

func (n *tally) add(m tally) {
	n.Histories += m.Histories
	n.Changes += m.Changes
	n.Refused += m.Refused
	n.Restarts += m.Restarts
	n.Backups += m.Backups
	n.Restores += m.Restores
	n.BeganAgain += m.BeganAgain
	n.Snapshots += m.Snapshots
	n.Back += m.Back
	n.Lost += m.Lost
	n.Cut += m.Cut
	n.AnswersLost += m.AnswersLost
	n.AnswersCut += m.AnswersCut
	n.Late += m.Late
	n.Twice += m.Twice
	n.AnswersLate += m.AnswersLate
}

// playhouse is a served app in which one history is played after the other, each with a
// household that begins alike: five devices have joined and nothing is written.
type playhouse struct {
	app      *testApp
	wire     *wire
	fresh    string // folder of the household as it begins
	dir      string // for the households
	tokens   []string
	roles    []store.Role
	restored int
}

func newPlayhouse(t *testing.T) *playhouse {
	t.Helper()
	app, _ := newTestApp(t, fstest.MapFS{})
	h := &playhouse{app: app, roles: []store.Role{store.Keeper, store.Collector, store.Child, store.Collector, store.Guest, store.Keeper}}
	for _, role := range h.roles {
		_, token := app.device(t, role)
		h.tokens = append(h.tokens, token)
	}
	h.fresh = app.api.house.dir
	require.NoError(t, app.api.house.close())
	h.wire = wireTo(app.listen(t), strings.TrimPrefix(testSite, "https://"))
	t.Cleanup(h.wire.close) // before the app is shut down

	// The faults here are the network's; the disk's have tests of their own.
	base := "/dev/shm"
	if _, err := os.Stat(base); err != nil {
		base = ""
	}
	dir, err := os.MkdirTemp(base, "wrackbook-histories-")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	h.dir = dir
	return h
}

// world is one history.
type world struct {
	*playhouse
	*rand.Rand
	house  *household
	skew   time.Duration // of the server's clock
	now    time.Time
	phones []*player
	late   []parcel
	backup []byte // the newest; nil for none
	kinds  []string
	shared []string // records that all write to
	count  tally
}

// player is a phone in a history.
type player struct {
	*phone
	role   store.Role
	skew   time.Duration
	silent bool
}

// parcel is what is still on the way: a request, or the answer to one.
type parcel struct {
	to     *player
	letter letter
	status int // 0 for a request
	answer []byte
}

// play plays the history of a seed and says how it went wrong, if it did.
func (h *playhouse) play(seed uint64) (count tally, err error) {
	w := &world{playhouse: h, Rand: rand.New(rand.NewPCG(seed, 0x77726b)), now: noon}
	w.kinds = []string{"find", "outing", "member", "kelp-line-of-later"}
	dir := filepath.Join(h.dir, fmt.Sprint("first-", seed))
	if err := os.CopyFS(dir, os.DirFS(h.fresh)); err != nil {
		return w.count, err
	}
	if err := w.open(dir); err != nil {
		return w.count, err
	}
	defer func() { err = errors.Join(err, w.house.close(), os.RemoveAll(w.house.dir)) }()
	for range 3 {
		w.shared = append(w.shared, newWriter(w.Uint64()).uuid())
	}
	for range 2 + w.IntN(3) {
		w.join(seed, false)
	}
	if w.IntN(3) == 0 {
		w.phones[0].silent = true
	}
	steps := 25 + w.IntN(35)
	for step := range steps {
		w.pass(time.Duration([]int64{1, 3, 3000, 60_000, 4 * 3600_000}[w.IntN(5)]) * time.Millisecond)
		if err := w.step(); err != nil {
			return w.count, fmt.Errorf("step %d: %w", step, err)
		}
		if step == steps/2 && w.IntN(2) == 0 {
			w.count.Snapshots++
			w.join(seed, true)
		}
	}
	w.pass(30 * 24 * time.Hour)
	if err := w.calm(); err != nil {
		return w.count, fmt.Errorf("in the calm: %w", err)
	}
	w.count.Histories++
	return w.count, w.compare()
}

// open serves the household in dir.
func (w *world) open(dir string) (err error) {
	if w.house, err = openHousehold(dir, store.Options{Now: func() time.Time { return w.app.now }}); err != nil {
		return err
	}
	w.app.api.house = w.house
	w.pass(0)
	return nil
}

func (w *world) pass(d time.Duration) {
	w.now = w.now.Add(d)
	w.app.now = w.now.Add(w.skew)
}

func (w *world) join(seed uint64, fromSnapshot bool) {
	n := len(w.phones)
	p := &player{phone: newPhone(seed<<8|uint64(n), w.tokens[n], fromSnapshot), role: w.roles[n]}
	w.setClock(p)
	w.phones = append(w.phones, p)
}

// setClock makes a phone's clock right, a little wrong or up to a day wrong.
func (w *world) setClock(p *player) {
	p.skew = []time.Duration{0, 2 * time.Millisecond, 3 * time.Second, 24 * time.Hour}[w.IntN(4)] * time.Duration(w.IntN(5)-2) / 2
}

func (w *world) step() error {
	p := w.phones[w.IntN(len(w.phones))]
	switch n := w.IntN(100); {
	case n < 35:
		w.write(p)
	case n < 55:
		return w.exchange(p, p.push(1+w.IntN(4), w.now.Add(p.skew)))
	case n < 75:
		return w.exchange(p, p.fetch(1+w.IntN(12)))
	case n < 90:
		return w.deliver()
	case n < 93:
		w.setClock(p)
	case n < 95:
		w.skew = 0
		if w.IntN(3) > 0 {
			w.count.Back++
			w.skew = -time.Duration(w.Int64N(int64(48 * time.Hour)))
		}
		w.pass(0)
	case n < 97:
		w.count.Restarts++
		dir := w.house.dir
		return errors.Join(w.house.close(), w.open(dir))
	case n < 99 || w.backup == nil:
		w.count.Backups++
		var b bytes.Buffer
		_, err := w.house.book.Backup(&b)
		w.backup = b.Bytes()
		return err
	default:
		return w.restore()
	}
	return nil
}

// restore puts the newest backup, which is older than the book, in its place.
func (w *world) restore() error {
	w.count.Restores++
	w.restored++
	dir := filepath.Join(w.dir, fmt.Sprint("restored-", w.restored))
	if _, err := store.Restore(bytes.NewReader(w.backup), int64(len(w.backup)), dir, store.Options{}); err != nil {
		return err
	}
	old := w.house
	return errors.Join(old.close(), os.RemoveAll(old.dir), w.open(dir))
}

// Values of the forms that JSON's writers like to alter.
var values = []string{`1.0`, `1e3`, `-0.0`, `12345678901234567890`, `"\u00e9 \/ é"`, `"<&> "`, `{"b":1, "a" : [1.50, null]}`, `null`, `true`, `[]`}

// write is one save on a phone, of a record that others write too.
func (w *world) write(p *player) {
	if p.role == store.Guest {
		return
	}
	fields := []string{}
	for _, name := range []string{"note", "taxon", "party/" + w.shared[0], "contact", "ashoreCall", "deleted"} {
		if w.IntN(3) == 0 {
			fields = append(fields, name, values[w.IntN(len(values))])
		}
	}
	if len(fields) == 0 {
		fields = []string{"note", strconv.Itoa(w.count.Changes)}
	}
	w.count.Changes++
	c := p.write(w.kinds[w.IntN(len(w.kinds))], w.shared[w.IntN(len(w.shared))], w.now.Add(p.skew), fields...)
	if judge(p.role, &c) != "" {
		w.count.Refused++
	}
}

// exchange sends a letter, and the network does with it what it does.
func (w *world) exchange(p *player, l letter) error {
	if p.silent || p.role == store.Guest && l.path == "/api/sync/push" {
		return nil
	}
	switch w.IntN(16) {
	case 0:
		w.count.Lost++
		return nil
	case 1:
		w.count.Cut++
		return w.wire.askCut(p.token, l, w.Float64())
	case 2:
		w.count.AnswersLost++
		_, _, err := w.wire.ask(p.token, l)
		return err
	case 3:
		w.count.AnswersCut++
		return w.wire.answerCut(p.token, l, w.Float64())
	case 4, 5:
		w.count.Late++
		w.late = append(w.late, parcel{to: p, letter: l})
		return nil
	case 6:
		w.count.Twice++
		w.late = append(w.late, parcel{to: p, letter: l})
	case 7, 8:
		w.count.AnswersLate++
		status, answer, err := w.wire.ask(p.token, l)
		w.late = append(w.late, parcel{p, l, status, answer})
		return err
	}
	status, answer, err := w.wire.ask(p.token, l)
	if err != nil {
		return err
	}
	return w.receive(parcel{p, l, status, answer})
}

func (w *world) receive(p parcel) error {
	before := p.to.epoch
	_, err := p.to.receive(p.letter, p.status, p.answer)
	if before != "" && p.to.epoch != before {
		w.count.BeganAgain++
	}
	return err
}

// deliver hands over anything that is on the way, most likely long overtaken.
func (w *world) deliver() error {
	if len(w.late) == 0 {
		return nil
	}
	i := w.IntN(len(w.late))
	p := w.late[i]
	w.late = slices.Delete(w.late, i, i+1)
	if p.status != 0 {
		return w.receive(p)
	}
	status, answer, err := w.wire.ask(p.to.token, p.letter)
	if err != nil || w.IntN(2) == 0 { // the phone has given up on the answer
		return err
	}
	return w.receive(parcel{p.to, p.letter, status, answer})
}

// calm is the good signal at the end: what is on the way arrives, then all push and pull.
func (w *world) calm() error {
	for len(w.late) > 0 {
		if err := w.deliver(); err != nil {
			return err
		}
	}
	for range 2 { // the first pulls before the last has pushed
		for _, p := range w.phones {
			if err := p.catchUp(w.wire.ask, w.now.Add(p.skew), p.role != store.Guest); err != nil {
				return fmt.Errorf("a %s's phone: %w", p.role, err)
			}
		}
	}
	return nil
}

// compare holds the phones and the server against each other, and the journal against what
// was written.
func (w *world) compare() error {
	kept := w.house.book
	if report, err := kept.Check(); err != nil {
		return fmt.Errorf("check: %v", report.Problems)
	}
	page, err := kept.Pull("", 0, 0)
	if err != nil {
		return err
	}
	inJournal := map[string]string{} // the bytes of a change, without its receipt, by id
	all := &journal.Fold{}
	for _, raw := range page.Changes {
		c, err := journal.DecodeChange(raw)
		if err != nil {
			return err
		}
		if inJournal[c.ID] != "" {
			return fmt.Errorf("change %s is twice in the journal", c.ID)
		}
		all.Apply(&c)
		c.Receipt = nil
		inJournal[c.ID] = string(c.Append(nil))
	}
	written := 0
	for _, p := range w.phones {
		for _, c := range p.own {
			written++
			if got, want := inJournal[c.ID], string(c.Append(nil)); got != want {
				return fmt.Errorf("written %s\n  kept %s", want, got)
			}
		}
	}
	if written != len(inJournal) || written != w.count.Changes {
		return fmt.Errorf("%d changes were written, the phones have %d, the journal has %d", w.count.Changes, written, len(inJournal))
	}
	records := &journal.Fold{}
	for _, kind := range w.kinds {
		list, err := kept.Records(kind, "", 0)
		if err != nil {
			return err
		}
		for _, r := range list {
			for c := range r.Changes() {
				records.Apply(c)
			}
		}
	}
	if err := same("the records", standing(all), standing(records)); err != nil {
		return err
	}
	for i, p := range w.phones {
		if err := same(fmt.Sprintf("phone %d, a %s's,", i, p.role), standing(p.due(page.Changes)), standing(p.fold)); err != nil {
			return err
		}
	}
	return nil
}

// due folds the journal as this phone must have it: what its role sees of it, and the whole
// of what it wrote itself.
func (p *player) due(list []json.RawMessage) *journal.Fold {
	fold := &journal.Fold{}
	for _, raw := range list {
		c, _ := journal.DecodeChange(raw) // was read before
		if !slices.ContainsFunc(p.own, func(mine journal.Change) bool { return mine.ID == c.ID }) {
			maps.DeleteFunc(c.Fields, func(field string, _ json.RawMessage) bool { return !book.MaySee(p.role, c.Kind, field) })
		}
		fold.Apply(&c)
	}
	return fold
}

func same(who string, want, got map[string]string) error {
	if maps.Equal(want, got) {
		return nil
	}
	for field, value := range want {
		if got[field] != value {
			return fmt.Errorf("%s differs at %s: %q, and the journal says %q", who, field, got[field], value)
		}
	}
	return fmt.Errorf("%s has more than the journal: %v beside %v", who, got, want)
}
