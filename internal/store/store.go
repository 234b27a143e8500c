package store

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	bolt "go.etcd.io/bbolt"
)

// Schema is the version of the form in which this program writes a book.
const Schema = 1

// Options says how to open a store. The zero value is good outside tests.
type Options struct {
	Now         func() time.Time // the clock of receipts, devices and invitations; time.Now if nil
	Logger      *slog.Logger     // gets no place, name or token; silent if nil
	LockTimeout time.Duration    // how long to wait for another process to let go; 2 s if 0

	steps map[int]func(*bolt.Tx) error // by the schema each step starts from; steps if nil
}

func (o Options) filled() Options {
	if o.Now == nil {
		o.Now = time.Now
	}
	if o.Logger == nil {
		o.Logger = slog.New(slog.DiscardHandler)
	}
	if o.LockTimeout <= 0 {
		o.LockTimeout = 2 * time.Second
	}
	if o.steps == nil {
		o.steps = steps
	}
	return o
}

// Meta is what a book says of itself.
type Meta struct {
	Schema    int    `json:"schema"`
	Epoch     string `json:"epoch"`     // a UUID; sequence numbers mean something within one epoch only
	Household string `json:"household"` // a UUID, the same through every restore
	CreatedMS int64  `json:"createdMs"` // Unix milliseconds
}

// Store is an open book with its photos. All its methods may be called at once from many
// goroutines.
type Store struct {
	dir  string
	opts Options
	db   *bolt.DB
	file *os.File // the one bbolt reads and writes
	meta Meta

	queue  committer
	broken atomic.Bool // bbolt has panicked in the midst of a write: write no more

	seenMu sync.Mutex
	seen   map[string]int64 // device → when a last-seen was last tried to be written, Unix milliseconds
}

var (
	metaBucket    = []byte("meta")        // "book" → Meta, "tries" → tries
	journalBucket = []byte("journal")     // seq → change with receipt, JSON
	idsBucket     = []byte("ids")         // change id, 16 bytes → seq
	recordsBucket = []byte("records")     // kind, 0, record → what the journal folds to
	devicesBucket = []byte("devices")     // device id → Device
	tokensBucket  = []byte("tokens")      // SHA-256 of a token → device id
	invitesBucket = []byte("invitations") // invitation id → invitation

	buckets = [][]byte{metaBucket, journalBucket, idsBucket, recordsBucket, devicesBucket, tokensBucket, invitesBucket}

	bookKey = []byte("book")
)

// Open opens the household in dir and starts a new one where there is none. It reads the
// whole book and verifies it, and brings an older form up to date after keeping a copy.
// The reasons of its errors are Damaged, Newer, Locked, DiskFull, ReadOnly and Missing
// (photos without a book: no fresh start is made over a household that lost its book).
func Open(dir string, options Options) (*Store, error) {
	o := options.filled()
	path := filepath.Join(dir, bookName)
	switch _, err := os.Stat(path); {
	case errors.Is(err, os.ErrNotExist):
		if err := begin(dir, o); err != nil {
			if _, there := os.Stat(path); there != nil { // else another process was quicker, and swept ours away
				return nil, err
			}
		}
	case err != nil:
		return nil, explainOpen(path, err)
	}
	s := &Store{dir: dir, opts: o, seen: map[string]int64{}}
	for range 3 { // the file may be exchanged by Compact while we wait for its lock
		if err := inspect(path, o); err != nil {
			return nil, err
		}
		db, file, err := openFile(path, o, false)
		if err != nil {
			return nil, explainOpen(path, err)
		}
		if same, err := isFile(file, path); err == nil && same {
			s.db, s.file = db, file
			break
		}
		db.Close()
	}
	if s.db == nil {
		return nil, explainOpen(path, errors.New("the file was exchanged three times"))
	}
	if err := s.prepare(); err != nil {
		s.db.Close()
		return nil, err
	}
	o.Logger.Info("book opened", "epoch", s.meta.Epoch, "schema", s.meta.Schema, "head", s.head())
	return s, nil
}

// prepare readies an inspected file for use.
func (s *Store) prepare() error {
	if err := s.view(func(tx *bolt.Tx) (err error) { s.meta, err = readMeta(tx); return err }); err != nil {
		return err
	}
	if s.meta.Schema < Schema {
		if err := s.migrate(); err != nil {
			return err
		}
	}
	if err := os.Mkdir(filepath.Join(s.dir, photosName), 0o700); err == nil {
		if err := syncFolder(s.dir); err != nil {
			return explain(err)
		}
	} else if !errors.Is(err, os.ErrExist) {
		return explain(err)
	}
	s.sweep()
	return nil
}

// Close waits for what is under way and closes the file.
func (s *Store) Close() error {
	s.queue.turn.Lock()
	defer s.queue.turn.Unlock()
	if s.broken.Load() {
		return damaged(errors.New("closed after a panic")) // bbolt may wait for its own lock for ever
	}
	return explain(s.db.Close())
}

// Meta gives what the book says of itself.
func (s *Store) Meta() Meta { return s.meta }

// view runs read in a read transaction. read must be short and must not call the store.
func (s *Store) view(read func(*bolt.Tx) error) (err error) {
	defer guard(s.opts, &err)()
	return explain(s.db.View(read))
}

// update runs write in a write transaction of its own; only commit.go calls it.
func (s *Store) update(write func(*bolt.Tx) error) (err error) {
	if s.broken.Load() {
		return damaged(errors.New("bbolt has panicked before"))
	}
	s.broken.Store(true)
	defer guard(s.opts, &err)()
	err = explain(s.db.Update(write))
	s.broken.Store(false)
	return err
}

// guard turns a panic of bbolt's, and the fault of reading a mapped file that has shrunk,
// into an error. Use: defer guard(options, &err)().
func guard(o Options, err *error) func() {
	old := debug.SetPanicOnFault(true)
	return func() {
		debug.SetPanicOnFault(old)
		if r := recover(); r != nil {
			o.Logger.Error("the book could not be read", "panic", r, "stack", string(debug.Stack()))
			*err = damaged(fmt.Errorf("panic: %v", r))
		}
	}
}

func readMeta(tx *bolt.Tx) (Meta, error) {
	var m Meta
	b := tx.Bucket(metaBucket)
	if b == nil {
		return m, damaged(errors.New("no bucket meta"))
	}
	err := getJSON(b, bookKey, &m)
	if errors.Is(err, errAbsent) {
		err = damaged(err)
	}
	return m, err
}

// head is the last sequence number in the journal, 0 in an empty one or on an error.
func (s *Store) head() (head uint64) {
	s.view(func(tx *bolt.Tx) error { head = headIn(tx); return nil })
	return head
}

func headIn(tx *bolt.Tx) uint64 {
	key, _ := tx.Bucket(journalBucket).Cursor().Last()
	return seqOf(key)
}

// newID gives a random UUID (version 4, RFC 9562).
func newID() string {
	var b [16]byte
	io.ReadFull(rand.Reader, b[:]) // never fails: crypto/rand ends the program instead
	b[6], b[8] = b[6]&0x0f|0x40, b[8]&0x3f|0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}
