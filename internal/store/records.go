package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"slices"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/journal"
)

// The folded records stand beside the journal and change in its transactions. They hold
// nothing that the journal does not: Rebuild makes them anew, Check compares.

// recordKey is the kind, a zero and the id: records lie by kind, and then in the order of
// making. No kind has a zero in it (journal.Validate).
func recordKey(key journal.Key) []byte { return []byte(key.Kind + "\x00" + key.ID) }

func keyOf(stored []byte) journal.Key {
	kind, id, _ := bytes.Cut(stored, []byte{0})
	return journal.Key{Kind: string(kind), ID: string(id)}
}

// records are those that one transaction touches: each is read and written once.
type records struct {
	bucket  *bolt.Bucket
	touched map[journal.Key]*journal.Record
}

// fold folds a change with its receipt. Refused ones go in too: they count for nothing,
// and the record then knows so of any copy that has no receipt.
func (r *records) fold(c *journal.Change) error {
	key := c.Key()
	record := r.touched[key]
	if record == nil {
		var err error
		if record, err = readRecord(r.bucket, key); err != nil {
			return err
		}
		if record == nil {
			record = journal.NewRecord(key)
		}
		if r.touched == nil {
			r.touched = map[journal.Key]*journal.Record{}
		}
		r.touched[key] = record
	}
	record.Apply(c)
	return nil
}

func (r *records) write() error {
	var err error
	for key, record := range r.touched {
		err = errors.Join(err, put(r.bucket, recordKey(key), record.Append(nil)))
	}
	return err
}

// readRecord is nil without an error where no change was about such a record.
func readRecord(b *bolt.Bucket, key journal.Key) (*journal.Record, error) {
	stored, err := get(b, recordKey(key))
	if err != nil || stored == nil {
		return nil, err
	}
	record, err := journal.DecodeRecord(key, stored)
	if err != nil {
		return nil, damaged(err)
	}
	return record, nil
}

// Record gives a folded record; nil where no change was about such a one.
func (s *Store) Record(key journal.Key) (record *journal.Record, err error) {
	if len(key.Kind) > journal.MaxKind || len(key.ID) != 36 {
		return nil, nil
	}
	err = s.view(func(tx *bolt.Tx) (err error) {
		record, err = readRecord(tx.Bucket(recordsBucket), key)
		return err
	})
	return record, err
}

// Records gives the folded records of a kind by id, those after the id given, at most
// limit (0 or more than MaxPage: MaxPage). Fewer than asked for may come with more to
// follow; none means the end.
func (s *Store) Records(kind, after string, limit int) ([]*journal.Record, error) {
	if limit <= 0 || limit > MaxPage {
		limit = MaxPage
	}
	var list []*journal.Record
	err := s.view(func(tx *bolt.Tx) error {
		list = nil
		sum := 0
		prefix := []byte(kind + "\x00")
		cursor := tx.Bucket(recordsBucket).Cursor()
		for key, sealed := cursor.Seek(append(prefix[:len(prefix):len(prefix)], after...)); bytes.HasPrefix(key, prefix) && len(list) < limit && sum < pageBytes; key, sealed = cursor.Next() {
			name := keyOf(key)
			if after != "" && name.ID <= after {
				continue
			}
			stored, err := unseal(key, sealed)
			if err != nil {
				return err
			}
			record, err := journal.DecodeRecord(name, stored)
			if err != nil {
				return damaged(err)
			}
			list, sum = append(list, record), sum+len(stored)
		}
		return nil
	})
	return list, err
}

// Rebuild makes the folded records and the index of ids anew from the journal. Writers
// wait meanwhile.
func (s *Store) Rebuild() error {
	return s.commit(maxTurn, rebuild)
}

func rebuild(tx *bolt.Tx) error {
	for _, name := range [][]byte{idsBucket, recordsBucket} {
		if tx.Bucket(name) != nil {
			if err := tx.DeleteBucket(name); err != nil {
				return err
			}
		}
		if _, err := tx.CreateBucket(name); err != nil {
			return err
		}
	}
	ids := map[string]uint64{}
	fold, err := refold(tx, func(c *journal.Change) { ids[string(idKey(c.ID))] = c.Receipt.Seq })
	if err != nil {
		return err
	}
	b := tx.Bucket(idsBucket)
	for _, id := range slices.Sorted(maps.Keys(ids)) { // in order, which fills pages best
		if err := put(b, []byte(id), seqKey(ids[id])); err != nil {
			return err
		}
	}
	b = tx.Bucket(recordsBucket)
	for r := range fold.All() {
		if err := put(b, recordKey(r.Key()), r.Append(nil)); err != nil {
			return err
		}
	}
	return nil
}

// refold folds the whole journal and shows each change to see on the way.
func refold(tx *bolt.Tx, see func(*journal.Change)) (*journal.Fold, error) {
	fold := &journal.Fold{}
	err := tx.Bucket(journalBucket).ForEach(func(key, sealed []byte) error {
		stored, err := unseal(key, sealed)
		if err != nil {
			return err
		}
		c, err := journal.DecodeChange(stored)
		if err != nil {
			return damaged(err)
		}
		if c.Receipt == nil || c.Receipt.Seq != seqOf(key) {
			return damaged(errors.New("a change in the journal stands in another's place"))
		}
		see(&c)
		fold.Apply(&c)
		return nil
	})
	return fold, err
}

// lines takes a folded record, as journal.Record.Append wrote it, apart into its changes.
func lines(stored []byte) (changes []json.RawMessage) {
	for len(stored) > 0 {
		line, rest, _ := journal.CutLine(stored)
		changes, stored = append(changes, bytes.Clone(line)), rest
	}
	return changes
}
