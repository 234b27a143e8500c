package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"
	"pgregory.net/rapid"

	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
)

func TestPush(t *testing.T) {
	c := &clock{start}
	s := openIn(t, filepath.Join(t.TempDir(), "household"), Options{Now: c.Now})
	changes := newMaker(1, 3).changes(4)
	malformed := changes[3]
	malformed.Record = "../../etc"
	noChild := func(c *journal.Change) string {
		if c.ID == changes[2].ID {
			return "A child's phone clears no quarantine."
		}
		return ""
	}
	results, err := s.Push([]journal.Change{changes[0], malformed, changes[0], changes[2]}, noChild)
	require.NoError(t, err)
	require.Len(t, results, 4)
	at := start.UnixMilli()
	assert.Equal(t, Result{ID: changes[0].ID, Seq: 1, AtMS: at}, results[0])
	assert.Equal(t, fault.BadInput, fault.From(results[1].Err).Code)
	assert.Equal(t, Result{ID: changes[0].ID, Seq: 1, AtMS: at, Duplicate: true}, results[2], "twice in one push")
	assert.Equal(t, Result{ID: changes[2].ID, Seq: 2, AtMS: at + 1, Refused: "A child's phone clears no quarantine."}, results[3])

	altered := changes[0]
	altered.Fields = map[string]json.RawMessage{"note": json.RawMessage(`"another"`)}
	results, err = s.Push([]journal.Change{altered, changes[2]}, nil)
	require.NoError(t, err)
	assert.Equal(t, Result{ID: altered.ID, Seq: 1, AtMS: at, Duplicate: true, Altered: true}, results[0])
	assert.Equal(t, Result{ID: changes[2].ID, Seq: 2, AtMS: at + 1, Duplicate: true, Refused: "A child's phone clears no quarantine."}, results[1],
		"a refusal stands, whoever pushes it again")

	stored := pullAll(t, s)
	require.Len(t, stored, 2)
	kept := decode(t, stored[0])
	assert.Equal(t, &journal.Receipt{Seq: 1, AtMS: at}, kept.Receipt)
	kept.Receipt = nil
	assert.Equal(t, changes[0], kept, "what came first stays")
	assert.Equal(t, "A child's phone clears no quarantine.", decode(t, stored[1]).Receipt.Refused)
}

func TestPushTakesNoReceiptFromAPhone(t *testing.T) {
	s := open(t)
	c := newMaker(1, 1).change()
	c.Receipt = &journal.Receipt{Seq: 99, AtMS: 7}
	results, err := s.Push([]journal.Change{c}, nil)
	require.NoError(t, err)
	assert.Equal(t, uint64(1), results[0].Seq)
	assert.Greater(t, results[0].AtMS, int64(7))
	assert.Equal(t, int64(7), c.Receipt.AtMS, "the caller's change is left alone")
	results, err = s.Push([]journal.Change{c}, nil)
	require.NoError(t, err)
	assert.False(t, results[0].Altered, "a receipt is no part of the contents")
}

func TestPushBounds(t *testing.T) {
	s := open(t)
	m := newMaker(1, 1)
	_, err := s.Push(m.changes(MaxPush+1), nil)
	assert.Equal(t, fault.TooLarge, fault.From(err).Code)
	heavy := m.changes(200)
	for i := range heavy {
		heavy[i].Fields = map[string]json.RawMessage{"text": json.RawMessage(`"` + strings.Repeat("x", 60_000) + `"`)}
	}
	_, err = s.Push(heavy, nil)
	assert.Equal(t, fault.TooLarge, fault.From(err).Code)
	assert.Empty(t, pullAll(t, s), "all or nothing")
	results, err := s.Push(nil, nil)
	require.NoError(t, err)
	assert.Empty(t, results)
	results, err = s.Push(m.changes(1), func(*journal.Change) string { return strings.Repeat("é", 300) })
	require.NoError(t, err)
	assert.Equal(t, strings.Repeat("é", 200), results[0].Refused, "shortened to 400 bytes between letters")
}

// A caller's judgement may read the store, and take its time, without holding anyone up.
func TestRefuseMayReadTheStore(t *testing.T) {
	s := open(t)
	m := newMaker(1, 1)
	pushAll(t, s, m.changes(1))
	key := journal.Key{Kind: "find", ID: m.records[0]}
	_, err := s.Push(m.changes(3), func(c *journal.Change) string {
		record, err := s.Record(key)
		if err != nil || record == nil {
			return "not there"
		}
		return ""
	})
	require.NoError(t, err)
	for _, stored := range pullAll(t, s) {
		assert.Empty(t, decode(t, stored).Receipt.Refused)
	}
}

// The work of one that fails is undone; that of those who shared its transaction is not.
func TestOneFailsAlone(t *testing.T) {
	s := open(t)
	var all sync.WaitGroup
	for i := range 40 {
		all.Go(func() {
			m := newMaker(uint64(i), 2)
			if i%4 > 0 {
				_, err := s.Push(m.changes(3), nil)
				assert.NoError(t, err)
				return
			}
			mine := fmt.Errorf("number %d", i)
			err := s.commit(1, func(tx *bolt.Tx) error {
				if err := put(tx.Bucket(journalBucket), seqKey(1<<40), []byte("never to be seen")); err != nil {
					return err
				}
				return mine
			})
			assert.ErrorIs(t, err, mine)
		})
	}
	all.Wait()
	assert.Len(t, pullAll(t, s), 90)
}

// A panic in the midst of a write costs the write and all after it, and not the process.
func TestPanicInTheMidst(t *testing.T) {
	s := open(t)
	m := newMaker(1, 1)
	pushAll(t, s, m.changes(1))
	err := s.commit(1, func(tx *bolt.Tx) error { panic("as bbolt does over a bad page") })
	assert.Equal(t, Damaged, ReasonOf(err))
	_, err = s.Push(m.changes(1), nil)
	assert.Equal(t, Damaged, ReasonOf(err), "no write after it")
	assert.Len(t, pullAll(t, s), 1, "reading goes on")
	assert.Equal(t, Damaged, ReasonOf(s.Close()))
	require.NoError(t, s.db.Close()) // for the check: this time bbolt had let go of its lock
}

// model is a book as plain lists and maps, with a folding of its own.
type model struct {
	list  []journal.Change
	place map[string]int
}

func (m *model) push(c journal.Change, refuse string, r Result) error {
	if i, ok := m.place[c.ID]; ok {
		have := m.list[i]
		if !r.Duplicate || r.Seq != have.Receipt.Seq || r.AtMS != have.Receipt.AtMS || r.Refused != have.Receipt.Refused {
			return fmt.Errorf("duplicate answered %+v, first %+v", r, have.Receipt)
		}
		have.Receipt = nil
		if r.Altered != !bytes.Equal(have.Append(nil), c.Append(nil)) {
			return fmt.Errorf("altered answered %v", r.Altered)
		}
		return nil
	}
	if r.Duplicate || r.Altered || r.Refused != refuse || r.Seq != uint64(len(m.list)+1) {
		return fmt.Errorf("new answered %+v", r)
	}
	c.Receipt = &journal.Receipt{Seq: r.Seq, AtMS: r.AtMS, Refused: refuse}
	m.place[c.ID] = len(m.list)
	m.list = append(m.list, c)
	return nil
}

// fields folds by the definition: the value of the accepted change that is last in (the
// earlier of stamp and receipt, counter, device, id).
func (m *model) fields(key journal.Key) map[string]string {
	type winner struct{ order, value string }
	winners := map[string]winner{}
	for _, c := range m.list {
		if c.Key() != key || c.Receipt.Refused != "" {
			continue
		}
		stamp, _ := c.Stamp.Read()
		order := fmt.Sprintf("%015d %05d %s %s", min(stamp.MS, c.Receipt.AtMS), stamp.Counter, stamp.Device, c.ID)
		for name, value := range c.Fields {
			if order > winners[name].order {
				winners[name] = winner{order, string(value)}
			}
		}
	}
	fields := map[string]string{}
	for name, w := range winners {
		fields[name] = w.value
	}
	return fields
}

// Any history of pushes, repeats, altered repeats, refusals, restarts, compactions,
// rebuildings and restorings leaves what the model has.
func TestAgainstAModel(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := &clock{start}
		o := Options{Now: c.Now}
		m := newMaker(rapid.Uint64().Draw(rt, "seed"), 5)
		dir := filepath.Join(t.TempDir(), "household")
		s, err := Open(dir, o)
		require.NoError(rt, err)
		defer func() { s.Close() }()
		want := &model{place: map[string]int{}}
		var made []journal.Change
		reopen := func() {
			require.NoError(rt, s.Close())
			s, err = Open(dir, o)
			require.NoError(rt, err)
		}
		rt.Repeat(map[string]func(*rapid.T){
			"push": func(rt *rapid.T) {
				var batch []journal.Change
				for range rapid.IntRange(1, 8).Draw(rt, "n") {
					change := m.change()
					if len(made) > 0 && rapid.IntRange(0, 3).Draw(rt, "again") == 0 {
						change = rapid.SampledFrom(made).Draw(rt, "which")
						if rapid.Bool().Draw(rt, "altered") {
							change.Fields = map[string]json.RawMessage{"note": json.RawMessage(`1`)}
						}
					}
					batch = append(batch, change)
				}
				reason := rapid.SampledFrom([]string{"", "", "no", `a "reason","receipt":{}`}).Draw(rt, "refuse")
				made = append(made, batch...)
				results, err := s.Push(batch, func(*journal.Change) string { return reason })
				require.NoError(rt, err)
				for i, r := range results {
					require.NoError(rt, r.Err)
					require.NoError(rt, want.push(batch[i], reason, r))
				}
			},
			"clock": func(rt *rapid.T) {
				c.now = c.now.Add(rapid.SampledFrom([]timeStep{-dayStep, 1, 5000, dayStep}).Draw(rt, "by").span())
			},
			"restart": func(*rapid.T) { reopen() },
			"rebuild": func(rt *rapid.T) { require.NoError(rt, s.Rebuild()) },
			"compact": func(rt *rapid.T) {
				require.NoError(rt, s.Close())
				_, _, err := Compact(dir, o)
				require.NoError(rt, err)
				s, err = Open(dir, o)
				require.NoError(rt, err)
			},
			"restore": func(rt *rapid.T) {
				var archive bytes.Buffer
				_, err := s.Backup(&archive)
				require.NoError(rt, err)
				require.NoError(rt, s.Close())
				dir = filepath.Join(t.TempDir(), "restored")
				_, err = Restore(bytes.NewReader(archive.Bytes()), int64(archive.Len()), dir, o)
				require.NoError(rt, err)
				s, err = Open(dir, o)
				require.NoError(rt, err)
			},
			"": func(rt *rapid.T) {
				report, err := s.Check()
				require.NoError(rt, err, "%v", report.Problems)
				stored := pullAll(t, s)
				require.Len(rt, stored, len(want.list))
				for i := range stored {
					require.Equal(rt, string(want.list[i].Append(nil)), string(stored[i]))
				}
				for i, id := range m.records {
					key := journal.Key{Kind: []string{"find", "outing"}[i%2], ID: id}
					got := map[string]string{}
					record, err := s.Record(key)
					require.NoError(rt, err)
					if record != nil {
						for name, v := range record.Fields() {
							got[name] = string(v)
						}
					}
					require.Equal(rt, want.fields(key), got)
				}
			},
		})
	})
}

func TestReceiptInRefusesWhatHasNone(t *testing.T) {
	for _, text := range []string{"", "{}", `{"id":"x"}`, `,"receipt":`, `{"receipt":{}`} {
		_, _, err := receiptIn([]byte(text))
		assert.Equal(t, Damaged, ReasonOf(err), text)
	}
}

func TestErrorsKeepTheirCause(t *testing.T) {
	beneath := errors.New("beneath")
	err := trouble(Locked, beneath, "sentence")
	assert.Equal(t, "sentence", err.Error())
	assert.ErrorIs(t, err, beneath)
	assert.Equal(t, Locked, ReasonOf(fmt.Errorf("outer: %w", err)))
	assert.Empty(t, ReasonOf(beneath))
	for reason := range codes {
		assert.Contains(t, fault.Codes(), codes[reason], reason)
	}
}
