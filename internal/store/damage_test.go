package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

// bookBytes makes a closed book of several levels, with free pages, and gives its bytes.
func bookBytes(t testing.TB) (data []byte, used int) {
	t.Helper()
	s := filled(t)
	for range 30 { // rewritten records leave free pages
		pushAll(t, s, newMaker(uint64(s.head()), 12).changes(2))
	}
	require.NoError(t, s.Close())
	data, err := os.ReadFile(filepath.Join(s.dir, bookName))
	require.NoError(t, err)
	h, err := readHeaders(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	return data[:h.high*uint64(h.pageSize)], int(h.high) // bbolt has grown the file beyond its use
}

// A bit flipped anywhere in a book is either found when it is opened, with a sentence that
// says what to do, or lies where nothing is kept. Nothing is ever read wrong, and the
// process never falls over. The other half of the promise, that a backup and the phones
// bring everything back, is in backup_test.go.
func TestFlippedBits(t *testing.T) {
	data, used := bookBytes(t)
	dir := filepath.Join(t.TempDir(), "household")
	require.NoError(t, os.Mkdir(dir, 0o700))
	path := filepath.Join(dir, bookName)
	require.NoError(t, os.WriteFile(path, data, 0o600))
	s, err := Open(dir, Options{})
	require.NoError(t, err)
	wantJournal := pullAll(t, s)
	wantDevices, err := s.Devices()
	require.NoError(t, err)
	require.NoError(t, s.Close())
	pageSize := len(data) / used

	random := rand.New(rand.NewPCG(5, 5))
	var offsets []int
	for page := range used { // all headers of pages and the first elements
		for i := range 32 {
			offsets = append(offsets, page*pageSize+i)
		}
	}
	for range 1200 {
		offsets = append(offsets, random.IntN(len(data)))
	}
	found := 0
	file, err := os.OpenFile(path, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer file.Close()
	write := func(b byte, offset int) {
		_, err := file.WriteAt([]byte{b}, int64(offset))
		require.NoError(t, err)
	}
	for _, offset := range offsets {
		write(data[offset]^1<<random.IntN(8), offset)
		s, err := Open(dir, Options{})
		if err != nil {
			found++
			require.Equal(t, Damaged, ReasonOf(err), "byte %d: %v", offset, err)
			require.Contains(t, err.Error(), path)
			write(data[offset], offset)
			continue
		}
		require.Equal(t, wantJournal, pullAll(t, s), "byte %d", offset)
		devices, err := s.Devices()
		require.NoError(t, err)
		require.Equal(t, wantDevices, devices, "byte %d", offset)
		report, err := s.Check()
		require.NoError(t, err, "byte %d: %v", offset, report.Problems)
		require.NoError(t, s.Close())
		write(data[offset], offset)
	}
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.True(t, bytes.Equal(data, now), "opening and checking write nothing")
	t.Logf("%d of %d flipped bits found; the others lay in free pages and gaps", found, len(offsets))
	assert.Greater(t, found, len(offsets)/3)
}

func TestTruncated(t *testing.T) {
	data, _ := bookBytes(t)
	dir := filepath.Join(t.TempDir(), "household")
	require.NoError(t, os.Mkdir(dir, 0o700))
	random := rand.New(rand.NewPCG(6, 6))
	sizes := []int{0, 1, 63, 64, 80, 4095, 4096, 4097, 8191, 8192, 8193, 16384, len(data) / 2, len(data) - 4096, len(data) - 1}
	for range 100 {
		sizes = append(sizes, random.IntN(len(data)))
	}
	for _, size := range sizes {
		require.NoError(t, os.WriteFile(filepath.Join(dir, bookName), data[:size], 0o600))
		_, err := Open(dir, Options{})
		require.Equal(t, Damaged, ReasonOf(err), "%d bytes", size)
		require.Contains(t, err.Error(), "restore the newest backup")
		left, err := os.ReadFile(filepath.Join(dir, bookName))
		require.NoError(t, err)
		require.Len(t, left, size, "a damaged book is left as it is")
	}
}

// Blocks of zeros or of other pages are what a failing disk leaves.
func TestLostBlocks(t *testing.T) {
	data, used := bookBytes(t)
	dir := filepath.Join(t.TempDir(), "household")
	require.NoError(t, os.Mkdir(dir, 0o700))
	path := filepath.Join(dir, bookName)
	pageSize := len(data) / used
	for page := range used {
		for name, block := range map[string][]byte{"zeros": make([]byte, pageSize), "its neighbour": data[(page+1)%used*pageSize:][:pageSize]} {
			bad := bytes.Clone(data)
			copy(bad[page*pageSize:], block)
			require.NoError(t, os.WriteFile(path, bad, 0o600))
			s, err := Open(dir, Options{})
			if err == nil { // a free page
				report, err := s.Check()
				require.NoError(t, err, "page %d, %s: %v", page, name, report.Problems)
				require.NoError(t, s.Close())
				continue
			}
			require.Equal(t, Damaged, ReasonOf(err), "page %d, %s", page, name)
		}
	}
}

// One header of two is damaged: bbolt would go on from the other and say nothing, though
// the last push may be missing there. Ours says so, and mending begins a new epoch.
func TestOneHeader(t *testing.T) {
	for page := range 2 {
		t.Run(fmt.Sprint(page), func(t *testing.T) {
			s := filled(t)
			meta := s.Meta()
			before := pullAll(t, s)
			last := newMaker(77, 1).changes(1)
			pushAll(t, s, last)
			require.NoError(t, s.Close())
			path := filepath.Join(s.dir, bookName)
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			data[page*os.Getpagesize()+30] ^= 4
			require.NoError(t, os.WriteFile(path, data, 0o600))
			_, err = Open(s.dir, Options{})
			require.Equal(t, Damaged, ReasonOf(err))
			require.ErrorContains(t, err, "mend")
			require.NoError(t, Mend(s.dir, Options{}))
			r, err := Open(s.dir, Options{})
			require.NoError(t, err)
			defer r.Close()
			assert.NotEqual(t, meta.Epoch, r.Meta().Epoch, "phones bring everything again")
			after := pullAll(t, r)
			require.GreaterOrEqual(t, len(after), len(before))
			assert.Equal(t, before, after[:len(before)])
			results, err := r.Push(last, nil)
			require.NoError(t, err)
			assert.Equal(t, uint64(len(before)+1), results[0].Seq)
			kept, err := os.ReadFile(path + ".before-mending")
			require.NoError(t, err)
			assert.Equal(t, data, kept)
			require.NoError(t, os.Remove(path+".before-mending"))
		})
	}
}

func TestMendMendsNothingElse(t *testing.T) {
	data, _ := bookBytes(t)
	dir := filepath.Join(t.TempDir(), "household")
	require.NoError(t, os.Mkdir(dir, 0o700))
	data[30] ^= 4
	data = data[:len(data)/2]
	require.NoError(t, os.WriteFile(filepath.Join(dir, bookName), data, 0o600))
	assert.Equal(t, Damaged, ReasonOf(Mend(dir, Options{})))
	left, err := os.ReadFile(filepath.Join(dir, bookName))
	require.NoError(t, err)
	assert.Equal(t, data, left)
}

// A file that shrinks while it is open faults where it is read: an error, not the end.
func TestShrunkWhileOpen(t *testing.T) {
	s := filled(t)
	path := filepath.Join(s.dir, bookName)
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.Truncate(path, int64(2*os.Getpagesize())))
	_, err = s.Pull(s.Meta().Epoch, 0, 0)
	assert.Equal(t, Damaged, ReasonOf(err))
	_, err = s.Record(journal.Key{Kind: "find", ID: newMaker(9, 12).records[0]})
	assert.Equal(t, Damaged, ReasonOf(err))
	_, err = s.Check()
	assert.Equal(t, Damaged, ReasonOf(err))
	require.NoError(t, os.WriteFile(path, whole, 0o600)) // the same file, so the map has it again
	_, err = s.Pull(s.Meta().Epoch, 0, 0)
	assert.NoError(t, err)
}

// walk must end, and without a panic, over any bytes.
func FuzzWalk(f *testing.F) {
	s := open(f)
	pushAll(f, s, newMaker(1, 2).changes(3))
	require.NoError(f, s.Close())
	data, err := os.ReadFile(filepath.Join(s.dir, bookName))
	require.NoError(f, err)
	h, err := readHeaders(bytes.NewReader(data), int64(len(data)))
	require.NoError(f, err)
	data = data[:h.high*uint64(h.pageSize)]
	f.Add(data, uint32(4096*3), uint64(1))
	f.Add(data, uint32(70), uint64(1<<40))
	f.Fuzz(func(t *testing.T, data []byte, at uint32, with uint64) {
		if len(data) >= 8 {
			data = bytes.Clone(data)
			binary.NativeEndian.PutUint64(data[int(at)%(len(data)-7):], with)
		}
		if h, err := readHeaders(bytes.NewReader(data), int64(len(data))); err == nil {
			walk(bytes.NewReader(data), h)
		}
	})
}

// CRC-32C of "123456789" is e3069283 (the check value in Koopman's and the RFC 3720
// appendix B.4 family of tables; from memory).
func TestSealIsCastagnoli(t *testing.T) {
	assert.Equal(t, uint32(0xe3069283), checksum([]byte("1234"), []byte("56789")))
}

// On a full disk nothing is acknowledged that is not kept, reading goes on, and with room
// again so does writing.
func TestFullDisk(t *testing.T) {
	for _, way := range []string{"grow", "write"} {
		t.Run(way, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "household")
			acked := acknowledged{seq: map[string]uint64{}}
			var words []string
			for _, line := range answer(t, child(t, "full", dir, way)) {
				if fields := strings.Fields(line); fields[0] == "change" {
					var seq uint64
					_, err := fmt.Sscan(fields[2], &seq)
					require.NoError(t, err)
					acked.seq[fields[1]] = seq
				} else {
					words = append(words, line)
				}
			}
			assert.Equal(t, []string{"full disk_full", "full disk_full", "full disk_full", "photo disk_full", "backup disk_full", "room"}, words)
			assert.Greater(t, len(acked.seq), 40)
			acked.verify(t, dir)
			checkFolder(t, dir)
		})
	}
}

func TestEveryFullDiskIsKnown(t *testing.T) {
	for _, errno := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		err := explain(&os.PathError{Op: "write", Path: "x", Err: errno})
		assert.Equal(t, DiskFull, ReasonOf(err), errno)
	}
	for _, errno := range []syscall.Errno{syscall.EROFS, syscall.EACCES, syscall.EPERM} {
		err := explain(&os.PathError{Op: "write", Path: "x", Err: errno})
		assert.Equal(t, ReadOnly, ReasonOf(err), errno)
	}
	assert.Empty(t, ReasonOf(explain(&os.PathError{Op: "write", Path: "x", Err: syscall.EIO})))
}
