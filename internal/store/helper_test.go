package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

// TestMain runs the test binary as a child process where a test has started it as one.
func TestMain(m *testing.M) {
	if mode := os.Getenv(childMode); mode != "" {
		os.Exit(runChild(mode))
	}
	os.Exit(m.Run())
}

// start is when the clocks of these tests begin.
var start = time.Date(2026, 3, 20, 6, 30, 0, 0, time.UTC)

// clock is a clock that stands until it is told to go on.
type clock struct{ now time.Time }

func (c *clock) Now() time.Time { return c.now }

// open opens a store in a folder of its own; the test ends with a full check of it.
func open(t testing.TB) *Store {
	t.Helper()
	return openIn(t, filepath.Join(t.TempDir(), "household"), Options{})
}

// openIn opens a store in dir; the test ends with a full check of whatever is there then.
func openIn(t testing.TB, dir string, o Options) *Store {
	t.Helper()
	s, err := Open(dir, o)
	require.NoError(t, err)
	t.Cleanup(func() {
		s.Close()
		checkFolder(t, dir)
	})
	return s
}

// checkFolder opens the household in dir, which nobody else has open, and checks it all.
func checkFolder(t testing.TB, dir string) Report {
	t.Helper()
	s, err := Open(dir, Options{})
	require.NoError(t, err)
	defer s.Close()
	report, err := s.Check()
	require.NoError(t, err, "%v", report.Problems)
	for _, pattern := range []string{bookNew, filepath.Join(photosName, photosNew, "*")} {
		left, err := filepath.Glob(filepath.Join(dir, pattern))
		require.NoError(t, err)
		require.Empty(t, left, "left over")
	}
	return report
}

// maker makes changes from a seed.
type maker struct {
	*rand.Rand
	devices, records []string
	made             int
}

func newMaker(seed uint64, records int) *maker {
	m := &maker{Rand: rand.New(rand.NewPCG(seed, 1))}
	for range 3 {
		m.devices = append(m.devices, m.uuid())
	}
	for range records {
		m.records = append(m.records, m.uuid())
	}
	return m
}

func (m *maker) uuid() string {
	a, b := m.Uint64(), m.Uint64()
	return fmt.Sprintf("%08x-%04x-7%03x-%04x-%012x", a>>32, a>>16&0xffff, a&0xfff, b>>48&0x3fff|0x8000, b&(1<<48-1))
}

// change makes one about one of few records, so that many meet in one field. Its stamp is
// within a day of start.
func (m *maker) change() journal.Change {
	m.made++
	kinds := []string{"find", "outing"}
	record := m.IntN(len(m.records))
	fields := map[string]json.RawMessage{}
	for _, name := range []string{"note", "amount", "party/jo", "deleted"} {
		if m.IntN(3) == 0 {
			fields[name] = json.RawMessage(fmt.Sprintf(`"%s %d"`, name, m.made))
		}
	}
	if len(fields) == 0 || m.IntN(20) == 0 {
		fields["note"] = json.RawMessage(fmt.Sprintf(`"a longer \u2026 \"text\" é %0*d"`, 1+m.IntN(3000), m.made))
	}
	return journal.Change{
		ID: m.uuid(), Kind: kinds[record%2], Record: m.records[record], Fields: fields,
		Stamp: journal.Reading{
			MS: start.UnixMilli() + m.Int64N(172_800_000) - 86_400_000, Counter: uint16(m.IntN(3)), Device: m.devices[m.IntN(3)],
		}.Stamp(),
	}
}

func (m *maker) changes(n int) []journal.Change {
	list := make([]journal.Change, n)
	for i := range list {
		list[i] = m.change()
	}
	return list
}

// pushAll pushes changes, each of which must be taken.
func pushAll(t testing.TB, s *Store, changes []journal.Change) {
	t.Helper()
	for len(changes) > 0 {
		n := min(len(changes), 500)
		results, err := s.Push(changes[:n], nil)
		require.NoError(t, err)
		for _, r := range results {
			require.NoError(t, r.Err)
		}
		changes = changes[n:]
	}
}

// pullAll pulls the whole journal, in pages of an odd size.
func pullAll(t testing.TB, s *Store) []json.RawMessage {
	t.Helper()
	return pullFrom(t, s, 0)
}

func pullFrom(t testing.TB, s *Store, after uint64) (all []json.RawMessage) {
	t.Helper()
	for {
		page, err := s.Pull(s.Meta().Epoch, after, 137)
		require.NoError(t, err)
		all = append(all, page.Changes...)
		if page.Next == page.Head {
			return all
		}
		require.Greater(t, page.Next, after, "no way on")
		after = page.Next
	}
}

func decode(t testing.TB, stored json.RawMessage) journal.Change {
	t.Helper()
	c, err := journal.DecodeChange(stored)
	require.NoError(t, err)
	return c
}

// photo makes a small PNG that differs by n.
func photo(n int) []byte {
	picture := image.NewGray(image.Rect(0, 0, 8, 8))
	for i := range 8 {
		picture.Pix[i] = byte(n >> (8 * i))
	}
	var b bytes.Buffer
	if err := png.Encode(&b, picture); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// timeStep is a step of a clock in milliseconds.
type timeStep int64

const dayStep timeStep = 86_400_000

func (s timeStep) span() time.Duration { return time.Duration(s) * time.Millisecond }
