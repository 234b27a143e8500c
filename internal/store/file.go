package store

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"syscall"

	bolt "go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

const (
	bookName     = "book.db"
	bookNew      = "book-*.new" // a pattern for os.CreateTemp and filepath.Glob
	photosName   = "photos"
	photosNew    = "new"
	bookFileMode = 0o600
)

// openFile opens a book with bbolt and gives the file beneath too.
func openFile(path string, o Options, readOnly bool) (db *bolt.DB, file *os.File, err error) {
	defer guard(o, &err)()
	db, err = bolt.Open(path, bookFileMode, &bolt.Options{
		Timeout: o.LockTimeout, // zero would wait for ever
		// A reader that is open while the map grows holds up the writer, and a writer that
		// waits holds up new readers: reserve address space, and it never grows in practice.
		InitialMmapSize: mapSize(),
		FreelistType:    bolt.FreelistMapType, // the array slows down on a large file with many holes
		ReadOnly:        readOnly,
		OpenFile: func(name string, flag int, mode os.FileMode) (*os.File, error) {
			file, err = os.OpenFile(name, flag&^os.O_CREATE, mode)
			return file, err
		},
	})
	return db, file, err
}

func mapSize() int {
	switch {
	case runtime.GOOS == "windows": // there the file itself grows to the size of the map
		return 0
	case strconv.IntSize == 32:
		return 256 << 20
	}
	return 1 << 30
}

// explainOpen is explain for the person who starts the program: it names the file.
func explainOpen(path string, err error) error {
	switch {
	case err == nil || ReasonOf(err) != "":
		return err
	case errors.Is(err, bolterrors.ErrTimeout):
		return trouble(Locked, err, "Another process has %s open, most likely a second Wrackbook. Look for it with “pgrep -a wrackbook” or “lsof %s” and stop one of the two.", path, path)
	case unwritable(err):
		return trouble(ReadOnly, err, "%s cannot be read and written by this user. Give the user that runs Wrackbook that right to it and to its folder.", path)
	case full(err):
		return trouble(DiskFull, err, "The disk that holds %s is full. Make room, then start again.", path)
	case errors.Is(err, fs.ErrNotExist):
		return trouble(Missing, err, "There is no book at %s. Name the folder that holds it.", path)
	case notABook(err):
		return damagedFile(path, err)
	}
	return explain(err)
}

func damagedFile(path string, cause error) error {
	if errors.Is(cause, errOneHeader) {
		return trouble(Damaged, cause, "One of the two headers of %s is damaged, so the last thing saved may be missing from it. Keep a copy of the folder, then restore the newest backup into an empty one, or mend the book: the phones then bring everything again.", path)
	}
	return trouble(Damaged, cause, "%s is damaged. Keep a copy of its folder, then restore the newest backup into an empty folder: the phones bring back what came after it.", path)
}

// inspect reads a whole book, held against other writers, without trusting any of it.
func inspect(path string, o Options) error { return inspectFile(path, o, false) }

func inspectFile(path string, o Options, oneHeaderWillDo bool) (err error) {
	info, err := os.Stat(path)
	if err != nil {
		return explainOpen(path, err)
	}
	if info.Size() == 0 || !info.Mode().IsRegular() {
		return damagedFile(path, errors.New("it is empty, or no file at all"))
	}
	db, file, err := openFile(path, o, true)
	if errno := syscall.Errno(0); err != nil && !errors.Is(err, bolterrors.ErrTimeout) && !errors.As(err, &errno) {
		return damagedFile(path, err) // it is not the system that objects but bbolt, to the contents
	}
	if err != nil {
		return explainOpen(path, err)
	}
	defer db.Close()
	defer guard(o, &err)()
	if info, err = file.Stat(); err != nil {
		return explainOpen(path, err)
	}
	h, err := readHeaders(file, info.Size())
	if err != nil && !(oneHeaderWillDo && errors.Is(err, errOneHeader)) {
		return damagedFile(path, err)
	}
	found, err := walk(file, h)
	if err != nil {
		return damagedFile(path, err)
	}
	var m Meta
	if err := db.View(func(tx *bolt.Tx) (err error) { m, err = readMeta(tx); return err }); err != nil {
		return damagedFile(path, err)
	}
	if m.Schema > Schema {
		return trouble(Newer, nil, "%s was written by a newer Wrackbook (form %d; this one knows %d). Install the newer program again, or restore a backup made by this one into another folder.", path, m.Schema, Schema)
	}
	if m.Schema < Schema {
		return nil // an older form may want buckets; migrate makes them
	}
	if err := found.judge(); err != nil {
		return damagedFile(path, err)
	}
	return nil
}

// begin starts a household: a book under a passing name, closed, read again, and only then
// given its name, so that a power cut at any point leaves a whole book or none.
func begin(dir string, o Options) error {
	path := filepath.Join(dir, bookName)
	if left, _ := filepath.Glob(filepath.Join(dir, photosName, "??", "*")); len(left) > 0 {
		return trouble(Missing, nil, "%s holds photos and no %s. Put the book back where it was, or restore a backup into an empty folder.", dir, bookName)
	}
	if err := makeFolder(dir); err != nil {
		return explainOpen(path, err)
	}
	fresh, err := newBookFile(dir)
	if err != nil {
		return explainOpen(path, err)
	}
	defer os.Remove(fresh)
	if err := initialise(fresh, o); err != nil {
		return explainOpen(path, err)
	}
	if err := inspect(fresh, o); err != nil {
		return err
	}
	if err := giveName(fresh, path); err != nil && ReasonOf(err) != Occupied {
		return explainOpen(path, err)
	}
	return nil // occupied: another process began the same household; ours is dropped
}

func initialise(path string, o Options) (err error) {
	db, _, err := openFile(path, o, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	return db.Update(func(tx *bolt.Tx) error {
		for _, name := range buckets {
			if _, err := tx.CreateBucketIfNotExists(name); err != nil {
				return err
			}
		}
		m := Meta{Schema: Schema, Epoch: newID(), Household: newID(), CreatedMS: o.Now().UnixMilli()}
		return putJSON(tx.Bucket(metaBucket), bookKey, m)
	})
}

// makeFolder makes dir, for its owner alone, and sees it onto the disk.
func makeFolder(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(filepath.Clean(dir)))
}

// newBookFile makes an empty file of a passing name.
func newBookFile(dir string) (string, error) {
	f, err := os.CreateTemp(dir, bookNew) // mode 0600
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// giveName gives a finished file its name for good, where nothing has that name yet.
func giveName(fresh, path string) error {
	if err := syncFile(fresh); err != nil {
		return err
	}
	err := os.Link(fresh, path) // unlike a rename it never takes another file's place
	if err != nil && !errors.Is(err, fs.ErrExist) {
		if _, statErr := os.Stat(path); errors.Is(statErr, fs.ErrNotExist) { // a file system without links
			err = os.Rename(fresh, path)
		}
	}
	if errors.Is(err, fs.ErrExist) {
		return trouble(Occupied, err, "There is a book at %s already. Choose an empty folder.", path)
	}
	if err != nil {
		return err
	}
	os.Remove(fresh)
	return syncFolder(filepath.Dir(path))
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// syncFolder sees the names in a folder onto the disk.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" { // which has no such call and journals names itself
		return nil
	}
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// copyFile copies a file and sees the copy onto the disk.
func copyFile(from, to string) (err error) {
	r, err := os.Open(from)
	if err != nil {
		return err
	}
	defer r.Close()
	w, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, bookFileMode)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, w.Close()) }()
	if _, err := io.Copy(w, r); err != nil {
		return err
	}
	return w.Sync()
}

// isFile says whether path still names the open file.
func isFile(file *os.File, path string) (bool, error) {
	a, err := file.Stat()
	if err != nil {
		return false, err
	}
	b, err := os.Stat(path)
	return err == nil && os.SameFile(a, b), err
}

// sweep removes what an end in the midst of work has left. The book's lock is ours, so
// none of it is in use by another.
func (s *Store) sweep() {
	for _, pattern := range []string{bookNew, filepath.Join(photosName, photosNew, "*")} {
		left, _ := filepath.Glob(filepath.Join(s.dir, pattern))
		for _, path := range left {
			if err := os.Remove(path); err != nil {
				s.opts.Logger.Warn("a left-over could not be removed", "err", err)
			}
		}
	}
}
