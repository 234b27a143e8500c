package store

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Fifty writers are killed in the midst of work, again and again, sometimes before the book
// is there. Whatever was acknowledged must be there once, in its place, ever after.
// WRACKBOOK_KILLS asks for more kills than the 40 of every run.
func TestKilledInTheMidstOfWork(t *testing.T) {
	kills := 40
	if more, err := strconv.Atoi(os.Getenv("WRACKBOOK_KILLS")); err == nil && more > kills {
		kills = more
	}
	const perHousehold = 8 // then the next begins, so that first starts are killed too
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	var dir string
	var acked acknowledged
	productive, total := 0, 0
	for kill := range kills {
		if kill%perHousehold == 0 {
			dir = filepath.Join(t.TempDir(), "household")
			acked = acknowledged{seq: map[string]uint64{}, photos: map[string]bool{}}
		}
		before := len(acked.seq)
		delay := time.Duration(random.Int64N(int64(120 * time.Millisecond)))
		fromFirst := kill%2 == 1 // else from the process's start, which may not come to an answer
		if before == 0 && !fromFirst {
			delay /= 10 // into a first start, which is over soon
		}
		acked.during(t, dir, fmt.Sprint(seed>>20+uint64(kill)), delay, fromFirst)
		if n := len(acked.seq) - before; n > 0 {
			productive++
			total += n
		}
		acked.verify(t, dir)
	}
	t.Logf("%d kills, %d of them after the first answer, %d changes acknowledged", kills, productive, total)
	assert.Greater(t, productive, kills/3, "killed too early to show anything")
}

// acknowledged is what children have said is saved.
type acknowledged struct {
	seq    map[string]uint64 // by change id
	photos map[string]bool
}

// during runs a child, kills it a delay after its start or its first answer, and takes note
// of what it said.
func (a *acknowledged) during(t *testing.T, dir, seed string, delay time.Duration, fromFirst bool) {
	t.Helper()
	cmd := child(t, "write", dir, seed)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	var once sync.Once
	kill := func() { once.Do(func() { time.AfterFunc(delay, func() { cmd.Process.Kill() }) }) }
	if !fromFirst {
		kill()
	}
	err = each(out, func(line string) {
		kill()
		words := strings.Fields(line)
		switch words[0] {
		case "change":
			seq, err := strconv.ParseUint(words[2], 10, 64)
			require.NoError(t, err)
			a.seq[words[1]] = seq
		case "photo":
			a.photos[words[1]] = true
		default:
			require.Fail(t, "an unknown line", line)
		}
	})
	require.NoError(t, err)
	err = cmd.Wait()
	require.Error(t, err)
	require.Equal(t, -1, cmd.ProcessState.ExitCode(), "it ended by itself: %v", err)
}

func (a *acknowledged) verify(t *testing.T, dir string) {
	t.Helper()
	s, err := Open(dir, Options{})
	require.NoError(t, err)
	defer s.Close()
	report, err := s.Check()
	require.NoError(t, err, "%v", report.Problems)
	seen := map[string]bool{}
	left := len(a.seq)
	for _, stored := range pullAll(t, s) {
		c := decode(t, stored)
		require.False(t, seen[c.ID], "twice in the journal")
		seen[c.ID] = true
		if seq, ok := a.seq[c.ID]; ok {
			require.Equal(t, seq, c.Receipt.Seq)
			left--
		}
	}
	require.Zero(t, left, "acknowledged and lost")
	for name := range a.photos {
		_, _, err := s.Photo(name)
		require.NoError(t, err, "a photo was acknowledged and lost")
	}
}
