package main

import (
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/journal"
)

// bareBolt writes n finds as the server keeps them, three values each, from a number of
// goroutines, with bbolt's own Batch; one alone with Update, which Batch makes wait.
func bareBolt(path string, writers, n int) (time.Duration, error) {
	db, err := bolt.Open(path, 0o600, &bolt.Options{Timeout: time.Second, InitialMmapSize: 1 << 30, FreelistType: bolt.FreelistMapType})
	if err != nil {
		return 0, err
	}
	defer db.Close()
	names := [][]byte{[]byte("journal"), []byte("ids"), []byte("records")}
	err = db.Update(func(tx *bolt.Tx) error {
		for _, name := range names {
			if _, err := tx.CreateBucket(name); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	write := db.Batch
	if writers == 1 {
		write = db.Update
	}
	var seq atomic.Uint64
	return together(writers, n, func(w *writer) error {
		c := w.find(w.id())
		c.Receipt = &journal.Receipt{Seq: seq.Add(1), AtMS: startMS}
		body := c.Append(nil)
		key := binary.BigEndian.AppendUint64(nil, c.Receipt.Seq)
		id, err := hex.DecodeString(strings.ReplaceAll(c.ID, "-", ""))
		if err != nil {
			return err
		}
		return write(func(tx *bolt.Tx) error {
			return errors.Join(tx.Bucket(names[0]).Put(key, body), tx.Bucket(names[1]).Put(id, key),
				tx.Bucket(names[2]).Put([]byte("find\x00"+c.Record), body))
		})
	})
}

// together runs n calls of do from a number of goroutines and gives the time they took.
func together(writers, n int, do func(*writer) error) (time.Duration, error) {
	var left atomic.Int64
	left.Store(int64(n))
	failed := make(chan error, writers)
	var all sync.WaitGroup
	begin := time.Now()
	for i := range writers {
		all.Go(func() {
			w := newWriter(uint64(time.Now().UnixNano()) + uint64(i))
			for left.Add(-1) >= 0 {
				if err := do(w); err != nil {
					failed <- err
					return
				}
			}
		})
	}
	all.Wait()
	took := time.Since(begin)
	close(failed)
	return took, <-failed // nil where none is
}

// readThrough gives the time that reading a file takes, the second time.
func readThrough(path string) (took time.Duration, size int64, err error) {
	for range 2 {
		f, err := os.Open(path)
		if err != nil {
			return 0, 0, err
		}
		begin := time.Now()
		size, err = io.Copy(struct{ io.Writer }{io.Discard}, f)
		took = time.Since(begin)
		f.Close()
		if err != nil {
			return 0, 0, err
		}
	}
	return took, size, nil
}
