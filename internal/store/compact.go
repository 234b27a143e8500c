package store

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	bolt "go.etcd.io/bbolt"
)

// Compact rewrites the book in dir without the room that it no longer uses and gives its
// size in bytes before and after. Nobody may have it open. The new file is read, compared
// and synced before it takes the old one's place.
func Compact(dir string, options Options) (before, after int64, err error) {
	o := options.filled()
	path := filepath.Join(dir, bookName)
	if err := inspect(path, o); err != nil {
		return 0, 0, err
	}
	old, file, err := openFile(path, o, false)
	if err != nil {
		return 0, 0, explainOpen(path, err)
	}
	defer old.Close() // after the exchange: who waits for the lock finds that out (Open)
	if same, err := isFile(file, path); err != nil || !same {
		return 0, 0, explainOpen(path, errors.Join(err, errors.New("the file was exchanged")))
	}
	fresh, err := newBookFile(dir)
	if err != nil {
		return 0, 0, explainOpen(path, err)
	}
	defer os.Remove(fresh)
	if err := compactInto(fresh, old, o); err != nil {
		return 0, 0, explainOpen(path, err)
	}
	sizes := func() (a, b int64, err error) {
		x, err1 := file.Stat()
		y, err2 := os.Stat(fresh)
		if err := errors.Join(err1, err2); err != nil {
			return 0, 0, err
		}
		return x.Size(), y.Size(), nil
	}
	if before, after, err = sizes(); err != nil {
		return 0, 0, explain(err)
	}
	if err := os.Rename(fresh, path); err != nil {
		return 0, 0, explainOpen(path, err)
	}
	return before, after, explainOpen(path, syncFolder(dir))
}

// compactInto copies src into the empty file at path, densely, and reads and compares what
// came of it.
func compactInto(path string, src *bolt.DB, o Options) (err error) {
	defer guard(o, &err)()
	dst, _, err := openFile(path, o, false)
	if err != nil {
		return err
	}
	dst.AllocSize = 64 << 10 // bbolt grows a file by 16 MB at a time
	dst.NoSync = true        // once, at the end, is enough for a file that has no name yet
	err = bolt.Compact(dst, src, maxTurn)
	if err == nil {
		err = dst.Sync()
	}
	if err = errors.Join(err, dst.Close()); err != nil {
		return err
	}
	if err := syncFile(path); err != nil {
		return err
	}
	if err := inspect(path, o); err != nil {
		return err
	}
	dst, _, err = openFile(path, o, true)
	if err != nil {
		return err
	}
	defer dst.Close()
	return src.View(func(a *bolt.Tx) error {
		return dst.View(func(b *bolt.Tx) error { return equal(a, b) })
	})
}

// equal says whether two books hold the same.
func equal(a, b *bolt.Tx) error {
	next := func(c *bolt.Cursor, first bool) (key, value []byte) {
		if first {
			return c.First()
		}
		return c.Next()
	}
	return a.ForEach(func(name []byte, ours *bolt.Bucket) error {
		theirs := b.Bucket(name)
		if theirs == nil {
			return fmt.Errorf("the copy has no bucket %s", name)
		}
		x, y := ours.Cursor(), theirs.Cursor()
		for first := true; ; first = false {
			xKey, xValue := next(x, first)
			yKey, yValue := next(y, first)
			if !bytes.Equal(xKey, yKey) || !bytes.Equal(xValue, yValue) {
				return fmt.Errorf("the copy of bucket %s differs at key %x", name, xKey)
			}
			if xKey == nil {
				return nil
			}
		}
	})
}

// Mend makes a book usable again of whose two headers one is damaged, and nothing else:
// it goes on from the other. What was saved last may be missing, so a new epoch begins, in
// which every phone brings all that it has. A copy of the book is kept beside it.
func Mend(dir string, options Options) error {
	o := options.filled()
	path := filepath.Join(dir, bookName)
	if err := inspectFile(path, o, true); err != nil {
		return err
	}
	if err := copyFile(path, path+".before-mending"); err != nil {
		return explainOpen(path, err)
	}
	if err := newEpoch(path, o, func(*bolt.Tx) error { return nil }); err != nil {
		return explainOpen(path, err)
	}
	return inspect(path, o)
}

// newEpoch gives the closed book at path a new epoch and does also what more does.
func newEpoch(path string, o Options, more func(*bolt.Tx) error) (err error) {
	defer guard(o, &err)()
	db, _, err := openFile(path, o, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	epoch := newID()
	for range 2 { // headers are written in turn: twice, and both are whole
		err := db.Update(func(tx *bolt.Tx) error {
			m, err := readMeta(tx)
			if err != nil {
				return err
			}
			m.Epoch = epoch
			return errors.Join(more(tx), putJSON(tx.Bucket(metaBucket), bookKey, m))
		})
		if err != nil {
			return err
		}
	}
	return nil
}
