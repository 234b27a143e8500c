package store

import (
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// steps bring a book's form up by one, by the schema they start from. Schema 1 is the
// first, so there is none yet. A step may count on sealed values and on bucket meta, which
// every schema has; it runs in the one transaction of the whole way.
var steps = map[int]func(*bolt.Tx) error{}

// migrate brings an older form up to Schema, after keeping a copy of the book beside it.
func (s *Store) migrate() error {
	from := s.meta.Schema
	kept := filepath.Join(s.dir, fmt.Sprintf("%s.schema-%d", bookName, from))
	if err := s.keepCopy(kept); err != nil {
		return explainOpen(kept, err)
	}
	err := s.commit(maxTurn, func(tx *bolt.Tx) error {
		for schema := from; schema < Schema; schema++ {
			step := s.opts.steps[schema]
			if step == nil {
				return trouble(Damaged, nil, "The book has form %d, which no Wrackbook ever wrote. Restore a backup into an empty folder.", schema)
			}
			if err := step(tx); err != nil {
				return err
			}
		}
		s.meta.Schema = Schema
		return putJSON(tx.Bucket(metaBucket), bookKey, s.meta)
	})
	if err != nil {
		return err
	}
	s.opts.Logger.Info("the book's form was brought up to date", "from", from, "to", Schema)
	return nil
}

// keepCopy writes the book as it stands to path, over what an earlier attempt left there.
func (s *Store) keepCopy(path string) error {
	fresh, err := newBookFile(s.dir)
	if err != nil {
		return err
	}
	defer os.Remove(fresh)
	if err := s.copyTo(fresh); err != nil {
		return err
	}
	if err := os.Rename(fresh, path); err != nil {
		return err
	}
	return syncFolder(s.dir)
}

// copyTo writes the book as of one instant into the file at path, which is on a local disk:
// the transaction stays open until it is done.
func (s *Store) copyTo(path string) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, bookFileMode)
	if err != nil {
		return err
	}
	defer f.Close()
	err = s.view(func(tx *bolt.Tx) error { _, err := tx.WriteTo(f); return err })
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	return f.Close()
}
