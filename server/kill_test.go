package main

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

// The program is killed under the load of fifty phones, again and again, at instants that
// nobody chose, sometimes while it starts. Whatever a phone was told is saved must be there
// once, in its place, after each restart, and the whole book be in order.
// WRACKBOOK_KILLS asks for more than the 15 kills of every run.
func TestKilledUnderLoad(t *testing.T) {
	t.Parallel()
	binary, err := serverBinary()
	require.NoError(t, err)
	kills := 15
	if more, err := strconv.Atoi(os.Getenv("WRACKBOOK_KILLS")); err == nil && more > kills {
		kills = more
	}
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	random := rand.New(rand.NewPCG(seed, 0))
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	crew := newCrew(t, server.url, code, 50)
	var seen witness
	productive := 0
	for kill := range kills {
		before, _ := crew.saved()
		timer := time.AfterFunc(time.Duration(20+random.IntN(300))*time.Millisecond, func() { _ = server.cmd.Process.Kill() })
		problems := crew.work(server.url, nil)
		timer.Stop()
		require.Empty(t, problems, "kill %d", kill)
		server.kill(t)
		if after, _ := crew.saved(); after > before {
			productive++
		}
		if kill%3 == 0 { // again, while it starts
			starting := exec.Command(binary, "serve", "-addr", "127.0.0.1:0", "-data", "household")
			starting.Dir = dir
			require.NoError(t, starting.Start())
			time.Sleep(time.Duration(random.IntN(150)) * time.Millisecond)
			require.NoError(t, starting.Process.Kill())
			require.Error(t, starting.Wait())
		}
		server, _ = startHousehold(t, binary, "127.0.0.1:0", dir)
		if kill%10 == 9 || kill == kills-1 {
			seen = witness{} // everything anew, what was seen before too
		}
		seen.pullOn(t, crew, server.url)
		seen.holds(t, crew)
		bookWell(t, binary, dir)
	}
	crew.photosThere(t, server.url)

	// Some phones come home and agree with the journal and each other.
	want := &journal.Fold{}
	for _, m := range crew.members {
		require.NoError(t, m.drain(crew.to(server.url), crew.now))
	}
	seen.pullOn(t, crew, server.url)
	for _, raw := range seen.all {
		c, err := journal.DecodeChange(raw)
		require.NoError(t, err)
		want.Apply(&c)
	}
	for _, m := range crew.members[:3] {
		require.NoError(t, m.catchUp(crew.to(server.url), crew.now, true))
		require.NoError(t, same("a phone", standing(want), standing(m.fold)))
	}
	written := 0
	for _, m := range crew.members {
		written += len(m.own)
	}
	require.Len(t, seen.all, written, "every change once, acknowledged before a kill or after")
	server.kill(t)
	bookWell(t, binary, dir)
	changes, photos := crew.saved()
	t.Logf("%d kills, %d of them after an acknowledgement: %d changes and %d photos", kills, productive, changes, photos)
	assert.Greater(t, productive, kills*2/3, "killed too early to show anything")
	assert.Greater(t, photos, kills)
}
