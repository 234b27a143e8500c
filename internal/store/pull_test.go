package store

import (
	"encoding/json"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

func TestPullPages(t *testing.T) {
	s := open(t)
	page, err := s.Pull("", 0, 0)
	require.NoError(t, err)
	assert.Equal(t, Page{Epoch: s.Meta().Epoch, Changes: []json.RawMessage{}}, page)
	changes := newMaker(1, 3).changes(300)
	pushAll(t, s, changes)
	page, err = s.Pull("", 0, 100)
	require.NoError(t, err)
	require.Len(t, page.Changes, 100)
	assert.Equal(t, uint64(100), page.Next)
	assert.Equal(t, uint64(300), page.Head)
	page, err = s.Pull(page.Epoch, 299, 100)
	require.NoError(t, err)
	require.Len(t, page.Changes, 1)
	assert.Equal(t, changes[299].ID, decode(t, page.Changes[0]).ID)
	page, err = s.Pull(page.Epoch, 300, 100)
	require.NoError(t, err)
	assert.Empty(t, page.Changes)
	assert.Equal(t, uint64(300), page.Next)
	for name, try := range map[string]func() (Page, error){
		"past the end":     func() (Page, error) { return s.Pull(s.Meta().Epoch, 301, 100) },
		"another epoch":    func() (Page, error) { return s.Pull(newID(), 100, 100) },
		"no epoch, a seq":  func() (Page, error) { return s.Pull("", 100, 100) },
		"the greatest seq": func() (Page, error) { return s.Pull(s.Meta().Epoch, 1<<64-1, 100) },
	} {
		_, err := try()
		assert.Equal(t, Stale, ReasonOf(err), name)
	}
}

func TestPullBoundsBytes(t *testing.T) {
	s := open(t)
	changes := newMaker(1, 3).changes(150)
	for i := range changes {
		changes[i].Fields = map[string]json.RawMessage{"text": json.RawMessage(`"` + strings.Repeat("x", 60_000) + `"`)}
	}
	pushAll(t, s, changes[:75])
	pushAll(t, s, changes[75:])
	page, err := s.Pull("", 0, 0)
	require.NoError(t, err)
	sum := 0
	for _, c := range page.Changes {
		sum += len(c)
	}
	assert.Less(t, sum, pageBytes+journal.MaxChangeBytes+1000)
	assert.Len(t, pullAll(t, s), 150)
}

func TestHistory(t *testing.T) {
	s := open(t)
	m := newMaker(1, 3)
	changes := m.changes(100)
	pushAll(t, s, changes)
	key := journal.Key{Kind: "find", ID: m.records[0]}
	refused := m.change()
	refused.Kind, refused.Record = key.Kind, key.ID
	_, err := s.Push([]journal.Change{refused}, func(*journal.Change) string { return "no" })
	require.NoError(t, err)
	var want []string
	for _, c := range append(changes, refused) {
		if c.Key() == key {
			want = append(want, c.ID)
		}
	}
	history, err := s.History(key)
	require.NoError(t, err)
	var got []string
	for _, c := range history {
		got = append(got, c.ID)
	}
	assert.Equal(t, want, got)
	assert.Equal(t, "no", history[len(history)-1].Receipt.Refused)
}

func TestRecords(t *testing.T) {
	s := open(t)
	m := newMaker(1, 30)
	pushAll(t, s, m.changes(1000))
	var ids []string
	for after := ""; ; {
		list, err := s.Records("find", after, 4)
		require.NoError(t, err)
		if len(list) == 0 {
			break
		}
		for _, r := range list {
			assert.Equal(t, "find", r.Key().Kind)
			assert.Greater(t, r.Key().ID, after)
			after = r.Key().ID
			ids = append(ids, after)
		}
	}
	assert.Len(t, ids, 15, "every other one of 30 is a find")
	none, err := s.Records("fin", "", 0)
	require.NoError(t, err)
	assert.Empty(t, none, "a kind is a whole word")
	record, err := s.Record(journal.Key{Kind: "find", ID: "no id"})
	require.NoError(t, err)
	assert.Nil(t, record)
}

// A new phone that takes the snapshot while others write, page by page, and then pulls from
// the fence has what one has that pulls from zero.
func TestSnapshotAndPullIsPullFromZero(t *testing.T) {
	s := open(t)
	m := newMaker(1, 60)
	push := func(n int) {
		_, err := s.Push(m.changes(n), func(c *journal.Change) string {
			if c.ID[0] == '7' {
				return "no"
			}
			return ""
		})
		require.NoError(t, err)
	}
	push(400)
	var phone journal.Fold
	pages, cursor, through := 0, "", uint64(0)
	for {
		page, err := s.Snapshot(cursor, 7)
		require.NoError(t, err)
		require.Equal(t, s.Meta().Epoch, page.Epoch)
		if pages > 0 {
			require.Equal(t, through, page.Through, "the fence stands")
		}
		for _, stored := range page.Changes {
			c := decode(t, stored)
			phone.Apply(&c)
		}
		pages, cursor, through = pages+1, page.Next, page.Through
		if cursor == "" {
			break
		}
		m.records = append(m.records, m.uuid()) // records come in before and behind the cursor
		push(30)
	}
	require.Greater(t, pages, 8)
	for _, stored := range pullFrom(t, s, through) {
		c := decode(t, stored)
		phone.Apply(&c)
	}
	var whole journal.Fold
	for _, stored := range pullAll(t, s) {
		c := decode(t, stored)
		whole.Apply(&c)
	}
	require.Greater(t, whole.Len(), 60)
	assert.Equal(t, string(whole.AppendSnapshot(nil, 1)), string(phone.AppendSnapshot(nil, 1)))
}

func TestSnapshotRefusesOtherCursors(t *testing.T) {
	s := open(t)
	m := newMaker(1, 60)
	pushAll(t, s, m.changes(100))
	first, err := s.Snapshot("", 5)
	require.NoError(t, err)
	parts := strings.Split(first.Next, ".")
	for name, cursor := range map[string]string{
		"another epoch":   newID() + "." + parts[1] + "." + parts[2],
		"a later fence":   parts[0] + ".101." + parts[2],
		"no number":       parts[0] + ".-1." + parts[2],
		"no key":          parts[0] + "." + parts[1] + ".",
		"no base64":       parts[0] + "." + parts[1] + ".???",
		"too few parts":   parts[0],
		"far too long":    first.Next + strings.Repeat("A", 1000),
		"one part more":   first.Next + ".x",
		"a word":          "next",
		"another's bytes": "\x00\xff",
	} {
		_, err := s.Snapshot(cursor, 5)
		assert.Equal(t, Stale, ReasonOf(err), name)
	}
	empty := open(t)
	page, err := empty.Snapshot("", 5)
	require.NoError(t, err)
	assert.Equal(t, SnapshotPage{Epoch: empty.Meta().Epoch, Changes: []json.RawMessage{}}, page)
}

// Readers page through the journal while writers add to it, and see a growing, dense row.
func TestPullWhileWriting(t *testing.T) {
	s := open(t)
	var writers, readers sync.WaitGroup
	for i := range 8 {
		writers.Go(func() {
			m := newMaker(uint64(i), 5)
			for range 20 {
				_, err := s.Push(m.changes(5), nil)
				assert.NoError(t, err)
			}
		})
		readers.Go(func() {
			for after := uint64(0); after < 800; {
				page, err := s.Pull(s.Meta().Epoch, after, 50)
				if !assert.NoError(t, err) {
					return
				}
				for i, stored := range page.Changes {
					c, err := journal.DecodeChange(stored)
					if !assert.NoError(t, err) || !assert.Equal(t, after+uint64(i)+1, c.Receipt.Seq) {
						return
					}
				}
				after = page.Next
			}
		})
	}
	writers.Wait()
	readers.Wait()
}
