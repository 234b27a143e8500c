package store

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/fault"
)

func TestFirstStart(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "made", "household")
	c := &clock{start}
	s := openIn(t, dir, Options{Now: c.Now})
	m := s.Meta()
	assert.Equal(t, 1, m.Schema)
	assert.Equal(t, start.UnixMilli(), m.CreatedMS)
	const uuid4 = `^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$` // RFC 9562 section 5.4
	assert.Regexp(t, uuid4, m.Epoch)
	assert.Regexp(t, uuid4, m.Household)
	assert.NotEqual(t, m.Epoch, m.Household)
	_, err := s.PutPhoto(photo(1))
	require.NoError(t, err)
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		require.NoError(t, err)
		info, err := d.Info()
		require.NoError(t, err)
		want := fs.FileMode(0o600)
		if d.IsDir() {
			want = 0o700
		}
		assert.Equal(t, want, info.Mode().Perm(), path)
		return nil
	})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	again, err := Open(dir, Options{})
	require.NoError(t, err)
	defer again.Close()
	assert.Equal(t, m, again.Meta(), "another start begins nothing anew")
}

func TestOpenRefuses(t *testing.T) {
	write := func(name, text string) func(*testing.T, string) {
		return func(t *testing.T, dir string) {
			require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o700))
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
		}
	}
	schema := func(n int) func(*testing.T, string) {
		return func(t *testing.T, dir string) {
			editBook(t, dir, func(tx *bolt.Tx) error {
				m, err := readMeta(tx)
				m.Schema = n
				return errors.Join(err, putJSON(tx.Bucket(metaBucket), bookKey, m))
			})
		}
	}
	for _, row := range []struct {
		name    string
		prepare func(*testing.T, string)
		want    Reason
		says    string
	}{
		{"an empty file", write("book.db", ""), Damaged, "restore the newest backup"},
		{"another file", write("book.db", strings.Repeat("no book ", 4000)), Damaged, "restore the newest backup"},
		{"a short file", write("book.db", "x"), Damaged, "restore the newest backup"},
		{"photos and no book", write("photos/ab/"+strings.Repeat("ab", 32), "x"), Missing, "Put the book back"},
		{"a newer schema", schema(2), Newer, "Install the newer program"},
		{"a schema never written", schema(-1), Damaged, "no Wrackbook ever wrote"},
		{"no record of meta", func(t *testing.T, dir string) {
			editBook(t, dir, func(tx *bolt.Tx) error { return remove(tx.Bucket(metaBucket), bookKey) })
		}, Damaged, "restore the newest backup"},
		{"a bucket is missing", func(t *testing.T, dir string) {
			editBook(t, dir, func(tx *bolt.Tx) error { return tx.DeleteBucket(idsBucket) })
		}, Damaged, "restore the newest backup"},
		{"a key is missing", func(t *testing.T, dir string) {
			editBook(t, dir, func(tx *bolt.Tx) error { return tx.Bucket(journalBucket).Delete(seqKey(1)) })
		}, Damaged, "restore the newest backup"},
		{"a value is another", func(t *testing.T, dir string) {
			editBook(t, dir, func(tx *bolt.Tx) error { return tx.Bucket(journalBucket).Put(seqKey(1), []byte("sealed?")) })
		}, Damaged, "restore the newest backup"},
		{"a folder where the book should be", func(t *testing.T, dir string) {
			require.NoError(t, os.MkdirAll(filepath.Join(dir, "book.db"), 0o700))
		}, Damaged, "restore the newest backup"},
	} {
		t.Run(row.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "household")
			row.prepare(t, dir)
			s, err := Open(dir, Options{})
			require.Error(t, err)
			require.Nil(t, s)
			assert.Equal(t, row.want, ReasonOf(err), "%v", errors.Unwrap(err))
			assert.Contains(t, err.Error(), row.says)
			var f *fault.Error
			require.ErrorAs(t, err, &f)
		})
	}
}

// editBook makes a book of one change and lets edit at it behind the store's back.
func editBook(t *testing.T, dir string, edit func(*bolt.Tx) error) {
	t.Helper()
	s, err := Open(dir, Options{})
	require.NoError(t, err)
	pushAll(t, s, newMaker(1, 1).changes(1))
	require.NoError(t, s.Close())
	db, err := bolt.Open(filepath.Join(dir, bookName), 0o600, nil)
	require.NoError(t, err)
	require.NoError(t, db.Update(edit))
	require.NoError(t, db.Close())
}

func TestSecondProcess(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "household")
	openIn(t, dir, Options{}).Close()
	holder := child(t, "hold", dir, "")
	in, err := holder.StdinPipe()
	require.NoError(t, err)
	out, err := holder.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, holder.Start())
	word := make([]byte, 5)
	_, err = io.ReadFull(out, word)
	require.NoError(t, err)
	for name, try := range map[string]func() error{
		"open":    func() error { _, err := Open(dir, Options{LockTimeout: 100 * time.Millisecond}); return err },
		"compact": func() error { _, _, err := Compact(dir, Options{LockTimeout: 100 * time.Millisecond}); return err },
		"mend":    func() error { return Mend(dir, Options{LockTimeout: 100 * time.Millisecond}) },
	} {
		err := try()
		require.Error(t, err, name)
		assert.Equal(t, Locked, ReasonOf(err), name)
		assert.Contains(t, err.Error(), filepath.Join(dir, bookName), name)
		assert.Contains(t, err.Error(), "pgrep", name)
	}
	require.NoError(t, in.Close())
	require.NoError(t, holder.Wait())
}

// As root this process may write anywhere, so the child becomes another user first.
func TestReadOnlyFolder(t *testing.T) {
	for _, row := range []struct {
		name    string
		folder  fs.FileMode
		file    fs.FileMode
		noBook  bool
		mention string
	}{
		{name: "a book that may only be read", folder: 0o555, file: 0o444, mention: "book.db"},
		{name: "a book that may not be read", folder: 0o555, file: 0o000, mention: "book.db"},
		{name: "a folder that may not be written", folder: 0o555, noBook: true, mention: "book.db"},
	} {
		t.Run(row.name, func(t *testing.T) {
			base := t.TempDir()
			dir := filepath.Join(base, "household")
			require.NoError(t, os.Chmod(base, 0o755))
			require.NoError(t, os.Chmod(filepath.Dir(base), 0o755))
			if row.noBook {
				require.NoError(t, os.Mkdir(dir, 0o700))
			} else {
				openIn(t, dir, Options{}).Close()
				require.NoError(t, os.Chmod(filepath.Join(dir, bookName), row.file))
				t.Cleanup(func() { os.Chmod(filepath.Join(dir, bookName), 0o600) })
			}
			require.NoError(t, os.Chmod(dir, row.folder))
			t.Cleanup(func() { os.Chmod(dir, 0o700) })
			lines := answer(t, child(t, "visitor", dir, ""))
			require.Len(t, lines, 1)
			assert.True(t, strings.HasPrefix(lines[0], "read_only: "), lines[0])
			assert.Contains(t, lines[0], row.mention)
		})
	}
}

// Two processes, or goroutines, begin one household at once: one book comes of it.
func TestTwoFirstStarts(t *testing.T) {
	for range 10 {
		dir := filepath.Join(t.TempDir(), "household")
		answers := make(chan string, 2)
		for range 2 {
			go func() {
				s, err := Open(dir, Options{LockTimeout: 10 * time.Second})
				if err != nil {
					answers <- err.Error()
					return
				}
				defer s.Close()
				answers <- s.Meta().Household
			}()
		}
		assert.Equal(t, <-answers, <-answers)
		checkFolder(t, dir)
	}
}

func TestLeftOversGo(t *testing.T) {
	s := open(t)
	require.NoError(t, s.Close())
	require.NoError(t, os.WriteFile(filepath.Join(s.dir, "book-123.new"), []byte("half a boo"), 0o600))
	require.NoError(t, os.MkdirAll(filepath.Join(s.dir, "photos/new"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(s.dir, "photos/new/123"), []byte("half a pho"), 0o600))
	checkFolder(t, s.dir) // also that nothing is left over
}

// Version 0 is made up for this test: it has no index of ids and nothing folded.
func TestMigrate(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "household")
	s, err := Open(dir, Options{})
	require.NoError(t, err)
	pushAll(t, s, newMaker(5, 4).changes(50))
	want, meta := pullAll(t, s), s.Meta()
	require.NoError(t, s.Close())
	db, err := bolt.Open(filepath.Join(dir, bookName), 0o600, nil)
	require.NoError(t, err)
	require.NoError(t, db.Update(func(tx *bolt.Tx) error {
		meta.Schema = 0
		return errors.Join(tx.DeleteBucket(idsBucket), tx.DeleteBucket(recordsBucket), putJSON(tx.Bucket(metaBucket), bookKey, meta))
	}))
	require.NoError(t, db.Close())
	old, err := os.ReadFile(filepath.Join(dir, bookName))
	require.NoError(t, err)

	failing := map[int]func(*bolt.Tx) error{0: func(tx *bolt.Tx) error { return errors.Join(rebuild(tx), errors.New("half way")) }}
	_, err = Open(dir, Options{steps: failing})
	require.Error(t, err)
	_, err = Open(dir, Options{}) // the failed step has undone itself: still form 0
	require.ErrorContains(t, err, "form 0")

	s = openIn(t, dir, Options{steps: map[int]func(*bolt.Tx) error{0: rebuild}})
	assert.Equal(t, 1, s.Meta().Schema)
	assert.Equal(t, meta.Epoch, s.Meta().Epoch)
	assert.Equal(t, want, pullAll(t, s))
	kept, err := readBookBytes(filepath.Join(dir, "book.db.schema-0"))
	require.NoError(t, err)
	before := filepath.Join(t.TempDir(), "old.db")
	require.NoError(t, os.WriteFile(before, old, 0o600))
	wanted, err := readBookBytes(before)
	require.NoError(t, err)
	assert.Equal(t, wanted, kept, "the copy kept is not the book as it was")
}

// readBookBytes gives all that a book's file holds, as text.
func readBookBytes(path string) (string, error) {
	db, err := bolt.Open(path, 0o600, &bolt.Options{ReadOnly: true, Timeout: time.Second})
	if err != nil {
		return "", err
	}
	defer db.Close()
	var b bytes.Buffer
	err = db.View(func(tx *bolt.Tx) error {
		return tx.ForEach(func(name []byte, bucket *bolt.Bucket) error {
			return bucket.ForEach(func(k, v []byte) error {
				b.WriteString(string(name) + " " + string(k) + " " + string(v) + "\n")
				return nil
			})
		})
	})
	return b.String(), err
}

func TestCompact(t *testing.T) {
	s := open(t)
	pushAll(t, s, newMaker(5, 4).changes(500))
	want := pullAll(t, s)
	require.NoError(t, s.Close())
	_, _, err := Compact(filepath.Join(t.TempDir(), "none"), Options{})
	assert.Equal(t, Missing, ReasonOf(err))
	before, after, err := Compact(s.dir, Options{})
	require.NoError(t, err)
	assert.Less(t, after, before)
	again := openIn(t, s.dir, Options{})
	assert.Equal(t, want, pullAll(t, again))
	assert.Equal(t, s.Meta(), again.Meta(), "no new epoch: nothing was lost")
}

// Who waits for the lock while Compact exchanges the file must not go on with the old one,
// which has no name any more.
func TestOpenWhileCompacting(t *testing.T) {
	s := open(t)
	m := newMaker(5, 4)
	pushAll(t, s, m.changes(200))
	require.NoError(t, s.Close())
	for range 20 {
		opened := make(chan error, 1)
		go func() {
			s, err := Open(s.dir, Options{LockTimeout: 10 * time.Second})
			if err == nil {
				_, err = s.Push(m.changes(1), nil)
				err = errors.Join(err, s.Close())
			}
			opened <- err
		}()
		_, _, err := Compact(s.dir, Options{LockTimeout: 10 * time.Second})
		if err != nil { // it may find, too, that it waited for the wrong file: never silently
			require.ErrorContains(t, errors.Unwrap(err), "exchanged")
		}
		require.NoError(t, <-opened)
	}
	assert.Equal(t, uint64(220), checkFolder(t, s.dir).Head)
}

func TestClosed(t *testing.T) {
	s := open(t)
	require.NoError(t, s.Close())
	_, err := s.Push(newMaker(1, 1).changes(1), nil)
	assert.Equal(t, Closed, ReasonOf(err))
	_, err = s.Pull("", 0, 1)
	assert.Equal(t, Closed, ReasonOf(err))
	require.NoError(t, s.Close(), "closing twice does no harm")
}

// A log is read by more people than a book: it has no name, no token and no content.
func TestLogIsDiscreet(t *testing.T) {
	var log bytes.Buffer
	c := &clock{start}
	s := openIn(t, filepath.Join(t.TempDir(), "household"), Options{Now: c.Now, Logger: slog.New(slog.NewTextHandler(&log, nil))})
	code, err := s.KeeperCode()
	require.NoError(t, err)
	_, token, err := s.Redeem(code, "Marisol's phone")
	require.NoError(t, err)
	m := newMaker(1, 1)
	change := m.change()
	change.Fields["position"] = []byte(`{"lat":50.123456,"lonEast":-5.654321}`)
	_, err = s.Push(append(m.changes(1), change), nil)
	require.NoError(t, err)
	c.now = c.now.Add(time.Hour)
	_, err = s.Authenticate(token)
	require.NoError(t, err)
	_, err = s.Backup(io.Discard)
	require.NoError(t, err)
	require.NotEmpty(t, log.String())
	for _, secret := range []string{code, token, "Marisol", "50.123456", "5.654321"} {
		assert.NotContains(t, log.String(), secret)
	}
}
