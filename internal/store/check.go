package store

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/journal"
)

// Report is what Check found.
type Report struct {
	Head     uint64 // last sequence number, which is how many changes there are
	Records  int
	Devices  int
	Photos   int
	Problems []string // what is wrong, without any contents; empty is what one hopes for
}

// maxProblems bounds the list: a file with more is no better known by them.
const maxProblems = 100

// Check verifies everything against everything: the pages of the file, seals, a journal
// dense from 1, the index of ids both ways, the folded records against the journal folded
// anew, tokens and devices both ways, and each photo against its name. It reads all there
// is and folds the journal in memory. The store goes on serving, but a book that is
// written much meanwhile grows. The error is Damaged if there are problems.
func (s *Store) Check() (Report, error) {
	var c checker
	s.checkPages(&c)
	err := s.view(func(tx *bolt.Tx) error {
		return errors.Join(c.journal(tx), c.records(tx), c.devices(tx))
	})
	if err != nil {
		c.problem("reading: %v", cause(err))
	}
	err = photoNames(s.dir, func(name string) error {
		c.Photos++
		if !holds(s.photoPath(name), name) {
			c.problem("photo %s has other bytes than its name says", name)
		}
		return nil
	})
	if err != nil {
		c.problem("photos: %v", err)
	}
	if len(c.Problems) > 0 {
		return c.Report, damaged(errors.New(strings.Join(c.Problems, "; ")))
	}
	return c.Report, nil
}

type checker struct {
	Report
	fold *journal.Fold
}

func (c *checker) problem(format string, args ...any) {
	if len(c.Problems) < maxProblems {
		c.Problems = append(c.Problems, fmt.Sprintf(format, args...))
	}
}

// cause gives what lies beneath the sentence for the person.
func cause(err error) error {
	var t *Trouble
	if errors.As(err, &t) {
		return t
	}
	return err
}

// checkPages reads the file itself, by our own walk and by bbolt's. Both want writers to
// stand still; what we go on reading in other transactions needs no such thing.
func (s *Store) checkPages(c *checker) {
	s.queue.turn.Lock()
	defer s.queue.turn.Unlock()
	info, err := s.file.Stat()
	if err != nil {
		c.problem("file: %v", err)
		return
	}
	h, err := readHeaders(s.file, info.Size())
	if err == nil {
		var found survey
		found, err = walk(s.file, h)
		found.judge()
		for _, err := range found.broken {
			c.problem("file: %v", err)
		}
	}
	if err != nil { // bbolt is not let near
		c.problem("file: %v", err)
		return
	}
	err = s.view(func(tx *bolt.Tx) error {
		for err := range tx.Check() {
			c.problem("bbolt: %v", err)
		}
		return nil
	})
	if err != nil {
		c.problem("bbolt: %v", cause(err))
	}
}

// journal checks that the journal is dense, its receipts rise in time, and the index leads
// to each change and nowhere else.
func (c *checker) journal(tx *bolt.Tx) error {
	ids := tx.Bucket(idsBucket)
	var last journal.Receipt
	var err error
	c.fold, err = refold(tx, func(change *journal.Change) {
		r := *change.Receipt
		if r.Seq != last.Seq+1 || r.AtMS <= last.AtMS && last.Seq > 0 {
			c.problem("change %d at %d ms follows change %d at %d ms", r.Seq, r.AtMS, last.Seq, last.AtMS)
		}
		last = r
		if at, err := get(ids, idKey(change.ID)); err != nil || seqOf(at) != r.Seq {
			c.problem("the index leads from change %d to %x", r.Seq, at)
		}
	})
	c.Head = last.Seq
	if n := ids.Stats().KeyN; uint64(n) != last.Seq {
		c.problem("the index has %d ids for %d changes", n, last.Seq)
	}
	return err
}

// records compares what is kept folded with the journal folded anew, byte for byte.
func (c *checker) records(tx *bolt.Tx) error {
	if c.fold == nil {
		return nil
	}
	cursor := tx.Bucket(recordsBucket).Cursor()
	key, sealed := cursor.First()
	for r := range c.fold.All() {
		want := recordKey(r.Key())
		for ; key != nil && bytes.Compare(key, want) < 0; key, sealed = cursor.Next() {
			c.problem("record %s is in no change", hex.EncodeToString(key))
		}
		if !bytes.Equal(key, want) {
			c.problem("record %s %s is missing", r.Key().Kind, r.Key().ID)
			continue
		}
		if stored, err := unseal(key, sealed); err != nil || !bytes.Equal(stored, r.Append(nil)) {
			c.problem("record %s %s is not what the journal folds to", r.Key().Kind, r.Key().ID)
		}
		c.Records++
		key, sealed = cursor.Next()
	}
	for ; key != nil; key, _ = cursor.Next() {
		c.problem("record %s is in no change", hex.EncodeToString(key))
	}
	return nil
}

func (c *checker) devices(tx *bolt.Tx) error {
	tokens := tx.Bucket(tokensBucket)
	err := eachDevice(tx, func(d *storedDevice) {
		c.Devices++
		if id, err := get(tokens, d.TokenHash[:]); err != nil || string(id) != d.ID {
			c.problem("the token of device %s leads elsewhere", d.ID)
		}
	})
	if n := tokens.Stats().KeyN; n != c.Devices {
		c.problem("%d tokens for %d devices", n, c.Devices)
	}
	return err
}
