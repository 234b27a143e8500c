package store

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

// filled gives a household with something of everything.
func filled(t testing.TB) *Store {
	t.Helper()
	s, _, _ := paired(t, Options{})
	pushAll(t, s, newMaker(9, 12).changes(300))
	for i := range 6 {
		_, err := s.PutPhoto(photo(i))
		require.NoError(t, err)
	}
	return s
}

func backup(t testing.TB, s *Store) []byte {
	t.Helper()
	var b bytes.Buffer
	_, err := s.Backup(&b)
	require.NoError(t, err)
	return b.Bytes()
}

func restore(data []byte, dir string) error {
	_, err := Restore(bytes.NewReader(data), int64(len(data)), dir, Options{})
	return err
}

func TestBackupAndRestore(t *testing.T) {
	s, keeper, token := paired(t, Options{})
	pushAll(t, s, newMaker(9, 12).changes(300))
	for i := range 6 {
		_, err := s.PutPhoto(photo(i))
		require.NoError(t, err)
	}
	code, err := s.Invite(Guest, time.Hour)
	require.NoError(t, err)
	want := pullAll(t, s)
	var archive bytes.Buffer
	m, err := s.Backup(&archive)
	require.NoError(t, err)
	assert.Equal(t, uint64(300), m.Head)
	assert.Equal(t, s.Meta(), m.Meta)
	require.Len(t, m.Files, 7)
	assert.Less(t, m.Files[0].Size, int64(4<<20), "compact")

	dir := filepath.Join(t.TempDir(), "new")
	require.NoError(t, restore(archive.Bytes(), dir))
	r := openIn(t, dir, Options{})
	assert.Equal(t, want, pullAll(t, r))
	for i := range 6 {
		name, err := s.PutPhoto(photo(i))
		require.NoError(t, err)
		data, _, err := r.Photo(name)
		require.NoError(t, err)
		assert.Equal(t, photo(i), data)
	}
	assert.Equal(t, s.Meta().Household, r.Meta().Household)
	assert.NotEqual(t, s.Meta().Epoch, r.Meta().Epoch)
	_, err = r.Pull(s.Meta().Epoch, 300, 10)
	assert.Equal(t, Stale, ReasonOf(err), "a phone's cursor means nothing in a restored book")
	d, err := r.Authenticate(token)
	require.NoError(t, err)
	assert.Equal(t, keeper.ID, d.ID)
	_, _, err = r.Redeem(code, "late guest")
	assert.Equal(t, NoInvitation, ReasonOf(err), "open invitations are void")

	// A phone brings back what came after the backup; what is there already stays as it is.
	later := newMaker(10, 12).changes(5)
	results, err := r.Push(append([]journal.Change{withoutReceipt(decode(t, want[17]))}, later...), nil)
	require.NoError(t, err)
	assert.True(t, results[0].Duplicate && !results[0].Altered && results[0].Seq == 18)
	assert.Equal(t, uint64(301), results[1].Seq)
}

func withoutReceipt(c journal.Change) journal.Change { c.Receipt = nil; return c }

// A backup taken while many write holds a book of one instant: a dense beginning of what
// the journal came to be, with all photos that were there before it began.
func TestBackupWhileWriting(t *testing.T) {
	s := open(t)
	pushAll(t, s, newMaker(99, 5).changes(1))
	early, err := s.PutPhoto(photo(1000))
	require.NoError(t, err)
	stop := make(chan struct{})
	var writers sync.WaitGroup
	for i := range 8 {
		writers.Go(func() {
			m := newMaker(uint64(i), 5)
			for {
				select {
				case <-stop:
					return
				default:
				}
				_, err := s.Push(m.changes(5), nil)
				assert.NoError(t, err)
				_, err = s.PutPhoto(photo(m.Int()))
				assert.NoError(t, err)
			}
		})
	}
	var backups [][]byte
	for len(backups) < 5 {
		var b bytes.Buffer
		_, err := s.Backup(&b)
		assert.NoError(t, err)
		backups = append(backups, b.Bytes())
	}
	close(stop)
	writers.Wait()
	whole := pullAll(t, s)
	last := 0
	for _, data := range backups {
		dir := filepath.Join(t.TempDir(), "new")
		require.NoError(t, restore(data, dir))
		r := openIn(t, dir, Options{})
		part := pullAll(t, r)
		require.Equal(t, whole[:len(part)], part)
		require.GreaterOrEqual(t, len(part), last)
		last = len(part)
		_, _, err := r.Photo(early)
		require.NoError(t, err)
	}
	assert.Greater(t, last, 1, "nothing was written meanwhile")
}

func TestBackupSaysWhichPhotosAreDamaged(t *testing.T) {
	s := filled(t)
	name, err := s.PutPhoto(photo(3))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(s.photoPath(name), []byte("rotten"), 0o600))
	var archive bytes.Buffer
	m, err := s.Backup(&archive)
	require.NoError(t, err)
	assert.Equal(t, []string{name}, m.Damaged)
	assert.Len(t, m.Files, 1+5)
	dir := filepath.Join(t.TempDir(), "new")
	require.NoError(t, restore(archive.Bytes(), dir))
	assert.Equal(t, 5, checkFolder(t, dir).Photos)
	_, err = s.PutPhoto(photo(3))
	require.NoError(t, err)
}

type brokenPipe struct{ left int }

func (b *brokenPipe) Write(p []byte) (int, error) {
	if b.left -= len(p); b.left < 0 {
		return 0, errors.New("the phone went away")
	}
	return len(p), nil
}

func TestBackupToNobody(t *testing.T) {
	s := filled(t)
	size := len(backup(t, s))
	for _, left := range []int{0, 100, size / 2, size - 10} {
		_, err := s.Backup(&brokenPipe{left})
		assert.Error(t, err)
	}
	pushAll(t, s, newMaker(1, 1).changes(1))
	left, err := filepath.Glob(filepath.Join(s.dir, bookNew))
	require.NoError(t, err)
	assert.Empty(t, left)
}

func TestRestoreNeverOverwrites(t *testing.T) {
	s := filled(t)
	data := backup(t, s)
	head := s.head()
	require.NoError(t, s.Close())
	assert.Equal(t, Occupied, ReasonOf(restore(data, s.dir)))
	assert.Equal(t, head, checkFolder(t, s.dir).Head)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "letter.txt"), []byte("x"), 0o600))
	assert.Equal(t, Occupied, ReasonOf(restore(data, dir)))
	kept, err := os.ReadFile(filepath.Join(dir, "letter.txt"))
	require.NoError(t, err)
	assert.Equal(t, "x", string(kept))
	dir = t.TempDir() // there, and empty
	require.NoError(t, restore(data, dir))
	checkFolder(t, dir)
}

// Wherever a bit of an archive is flipped, or the archive cut off, restoring it says so and
// leaves nothing behind, or what is restored is whole: names of day and time may differ.
func TestRestoreDamagedArchive(t *testing.T) {
	s := filled(t)
	data := backup(t, s)
	want := pullAll(t, s)
	random := rand.New(rand.NewPCG(3, 3))
	parent := t.TempDir()
	refused := 0
	const tries = 400
	for i := range tries {
		bad := bytes.Clone(data)
		if i%4 == 0 {
			bad = bad[:random.IntN(len(bad))]
		} else {
			bad[random.IntN(len(bad))] ^= 1 << random.IntN(8)
		}
		if i%4 == 1 { // in the directory and the manifest at the end
			bad = bytes.Clone(data)
			bad[len(bad)-1-random.IntN(4000)] ^= 1 << random.IntN(8)
		}
		dir := filepath.Join(parent, "new")
		if err := restore(bad, dir); err != nil {
			refused++
			require.Contains(t, []Reason{Damaged, Newer}, ReasonOf(err))
			require.NoDirExists(t, dir)
			continue
		}
		r, err := Open(dir, Options{})
		require.NoError(t, err)
		require.Equal(t, want, pullAll(t, r))
		report, err := r.Check()
		require.NoError(t, err)
		require.Equal(t, 6, report.Photos)
		require.NoError(t, r.Close())
		require.NoError(t, os.RemoveAll(dir))
	}
	assert.Greater(t, refused, tries*8/10, "most bytes matter")
}

// Archives made to harm.
func TestRestoreForeignArchive(t *testing.T) {
	s := filled(t)
	data := backup(t, s)
	reader, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	files := map[string][]byte{}
	for _, f := range reader.File {
		r, err := f.Open()
		require.NoError(t, err)
		files[f.Name], err = io.ReadAll(r)
		require.NoError(t, err)
	}
	build := func(method uint16, edit func(m *Manifest, files map[string][]byte)) []byte {
		var m Manifest
		require.NoError(t, json.Unmarshal(files[manifestName], &m))
		mine := map[string][]byte{}
		for name, data := range files {
			mine[name] = data
		}
		edit(&m, mine)
		text, err := json.Marshal(m)
		require.NoError(t, err)
		mine[manifestName] = text
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		for name, data := range mine {
			w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: method})
			require.NoError(t, err)
			_, err = w.Write(data)
			require.NoError(t, err)
		}
		require.NoError(t, z.Close())
		return b.Bytes()
	}
	require.NoError(t, restore(build(zip.Store, func(*Manifest, map[string][]byte) {}), filepath.Join(t.TempDir(), "new")), "unaltered, it is good")
	for name, bad := range map[string][]byte{
		"compressed":  build(zip.Deflate, func(*Manifest, map[string][]byte) {}),
		"no manifest": func() []byte { var b bytes.Buffer; zip.NewWriter(&b).Close(); return b.Bytes() }(),
		"a file that is not listed": build(zip.Store, func(_ *Manifest, f map[string][]byte) {
			f["photos/extra"] = []byte("x")
		}),
		"a way out of the folder": build(zip.Store, func(m *Manifest, f map[string][]byte) {
			f["../evil"] = []byte("x")
			m.Files = append(m.Files, File{Name: "../evil", Size: 1, SHA256: "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881"})
		}),
		"a photo under another's name": build(zip.Store, func(m *Manifest, f map[string][]byte) {
			f[m.Files[1].Name] = append(bytes.Clone(f[m.Files[1].Name]), 0)
			m.Files[1].Size++
		}),
		"a book that is none": build(zip.Store, func(m *Manifest, f map[string][]byte) {
			f[bookName] = []byte("x")
			m.Files[0] = File{Name: bookName, Size: 1, SHA256: "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881"}
		}),
		"no book":        build(zip.Store, func(m *Manifest, f map[string][]byte) { delete(f, bookName); m.Files = m.Files[1:] }),
		"nothing at all": nil,
		"a text":         []byte("this is no archive"),
	} {
		dir := filepath.Join(t.TempDir(), "new")
		err := restore(bad, dir)
		assert.Equal(t, Damaged, ReasonOf(err), name)
		assert.NoDirExists(t, dir, name)
		assert.NoFileExists(t, filepath.Join(filepath.Dir(dir), "evil"), name)
	}
	err = restore(build(zip.Store, func(m *Manifest, _ map[string][]byte) { m.Form = 2 }), filepath.Join(t.TempDir(), "new"))
	assert.Equal(t, Newer, ReasonOf(err))
}
