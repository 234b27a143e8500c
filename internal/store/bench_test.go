package store

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/journal"
)

// findChange makes a change of the size of a find just logged, about a record of its own
// or one that it is told.
func findChange(m *maker, record string) journal.Change {
	return journal.Change{
		ID: m.uuid(), Kind: "find", Record: record, Stamp: journal.Reading{MS: start.UnixMilli() + int64(m.made), Device: m.devices[0]}.Stamp(),
		Fields: map[string]json.RawMessage{
			"taxon": json.RawMessage(`"Palmaria palmata"`), "state": json.RawMessage(`"attached"`), "amount": json.RawMessage(`{"value":120,"unit":"g"}`),
			"shore": json.RawMessage(`"` + m.devices[1] + `"`), "height": json.RawMessage(`"low"`), "at": json.RawMessage(`1774072800000`), "note": json.RawMessage(`"by the gully"`),
		},
	}
}

// shared runs n calls of do from a number of goroutines and gives the time they took.
func shared(b *testing.B, writers, n int, do func(writer int) error) time.Duration {
	var left atomic.Int64
	left.Store(int64(n))
	var all sync.WaitGroup
	begin := time.Now()
	for writer := range writers {
		all.Go(func() {
			for left.Add(-1) >= 0 {
				if err := do(writer); err != nil {
					b.Error(err)
					return
				}
			}
		})
	}
	all.Wait()
	return time.Since(begin)
}

// BenchmarkPush is acknowledged pushes of one change each. Beside it, bbolt alone writes
// the same three values: with its own Batch (Update for one writer, which Batch makes wait
// 10 ms), as x-batch, and in turns as ours, as x-turns; both say how many times as long
// ours takes. Budget: 2 beside Batch at 50.
func BenchmarkPush(b *testing.B) {
	for _, writers := range []int{1, 10, 50} {
		b.Run(fmt.Sprintf("writers=%d", writers), func(b *testing.B) {
			makers := make([]*maker, writers)
			for i := range makers {
				makers[i] = newMaker(uint64(i), 0)
			}
			next := func(writer int) journal.Change {
				m := makers[writer]
				m.made++
				return findChange(m, m.uuid())
			}
			s := open(b)
			b.ResetTimer()
			ours := shared(b, writers, b.N, func(writer int) error {
				_, err := s.Push([]journal.Change{next(writer)}, nil)
				return err
			})
			b.StopTimer()
			b.ReportMetric(float64(b.N)/ours.Seconds(), "pushes/s")

			bare := func(run func(*Store, func(*bolt.Tx) error) error) time.Duration {
				s := open(b)
				var seq atomic.Uint64
				took := shared(b, writers, b.N, func(writer int) error {
					c := next(writer)
					c.Receipt = &journal.Receipt{Seq: seq.Add(1), AtMS: 1774072800000}
					body := c.Append(nil)
					return run(s, func(tx *bolt.Tx) error {
						if err := tx.Bucket(journalBucket).Put(seqKey(c.Receipt.Seq), body); err != nil {
							return err
						}
						if err := tx.Bucket(idsBucket).Put(idKey(c.ID), seqKey(c.Receipt.Seq)); err != nil {
							return err
						}
						return tx.Bucket(recordsBucket).Put(recordKey(c.Key()), body)
					})
				})
				err := s.db.Update(func(tx *bolt.Tx) error { // the check after a benchmark wants a book
					for _, name := range [][]byte{journalBucket, idsBucket, recordsBucket} {
						if err := tx.DeleteBucket(name); err != nil {
							return err
						}
						if _, err := tx.CreateBucket(name); err != nil {
							return err
						}
					}
					return nil
				})
				require.NoError(b, err)
				return took
			}
			batch := bare(func(s *Store, do func(*bolt.Tx) error) error {
				if writers == 1 {
					return s.db.Update(do)
				}
				return s.db.Batch(do)
			})
			turns := bare(func(s *Store, do func(*bolt.Tx) error) error { return s.commit(1000, do) })
			b.ReportMetric(ours.Seconds()/batch.Seconds(), "x-batch")
			b.ReportMetric(ours.Seconds()/turns.Seconds(), "x-turns")
		})
	}
}

// large gives a folder with a closed book of changes, each about a record of its own for
// the first records, and about one of those after that. It is made once a run.
func large(b *testing.B, changes, records int) string {
	b.Helper()
	dir := filepath.Join(b.TempDir(), "household")
	s, err := Open(dir, Options{})
	require.NoError(b, err)
	m := newMaker(1, 0)
	for n := 0; n < changes; {
		batch := make([]journal.Change, 0, MaxPush)
		for ; n < changes && len(batch) < MaxPush; n++ {
			if len(m.records) < records {
				m.records = append(m.records, m.uuid())
			}
			m.made++
			batch = append(batch, findChange(m, m.records[n%len(m.records)]))
		}
		_, err := s.Push(batch, nil)
		require.NoError(b, err)
	}
	require.NoError(b, s.Close())
	return dir
}

func BenchmarkPull100000(b *testing.B) {
	s, err := Open(large(b, 100_000, 100_000), Options{})
	require.NoError(b, err)
	defer s.Close()
	b.ResetTimer()
	for range b.N {
		n := 0
		for after := uint64(0); ; {
			page, err := s.Pull(s.meta.Epoch, after, 0)
			require.NoError(b, err)
			if n += len(page.Changes); page.Next == page.Head {
				break
			}
			after = page.Next
		}
		require.Equal(b, 100_000, n)
	}
}

func BenchmarkSnapshot100000(b *testing.B) {
	s, err := Open(large(b, 100_000, 100_000), Options{})
	require.NoError(b, err)
	defer s.Close()
	b.ResetTimer()
	for range b.N {
		n := 0
		for cursor := ""; ; {
			page, err := s.Snapshot(cursor, 0)
			require.NoError(b, err)
			n += len(page.Changes)
			if cursor = page.Next; cursor == "" {
				break
			}
		}
		require.Equal(b, 100_000, n)
	}
}

// BenchmarkOpen reads and verifies a whole book at each start.
func BenchmarkOpen(b *testing.B) {
	for _, changes := range []int{100_000, 1_000_000} {
		b.Run(fmt.Sprintf("changes=%d", changes), func(b *testing.B) {
			dir := large(b, changes, 100_000)
			b.ResetTimer()
			for range b.N {
				s, err := Open(dir, Options{})
				require.NoError(b, err)
				require.NoError(b, s.Close())
			}
		})
	}
}

func BenchmarkBackup100000(b *testing.B) {
	s, err := Open(large(b, 100_000, 100_000), Options{})
	require.NoError(b, err)
	defer s.Close()
	b.ResetTimer()
	for range b.N {
		_, err := s.Backup(discard{})
		require.NoError(b, err)
	}
}

type discard struct{}

func (discard) Write(p []byte) (int, error) { return len(p), nil }

// BenchmarkIdleMemory is what an idle process with 100,000 records has of its own, apart
// from the mapped file. Budget: 150 MB for the whole server.
func BenchmarkIdleMemory(b *testing.B) {
	dir := large(b, 100_000, 100_000)
	kB := 0.0
	b.ResetTimer()
	for range b.N {
		lines := answer(b, child(b, "idle", dir, ""))
		n, err := strconv.ParseFloat(lines[0], 64)
		require.NoError(b, err)
		kB = max(kB, n)
	}
	b.ReportMetric(kB/1000, "MB")
}
