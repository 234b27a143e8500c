package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store/strace"
)

// A kill leaves to the kernel what was written; a power cut does not. So an answer to a push,
// a photo or a device that joins may leave the program only after the file, and the folder
// that got a new name, have been synced. The running program is watched with strace.
func TestSyncedBeforeTheAnswerLeaves(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	trace := filepath.Join(dir, "trace")
	// strace gives its name and place to the program it starts.
	script := filepath.Join(dir, "traced")
	require.NoError(t, os.WriteFile(script, []byte("#!/bin/sh\nexec "+strings.Join(quotedAll(strace.Args(trace)), " ")+" '"+binary+"' \"$@\"\n"), 0o700))
	server, code := startHousehold(t, script, "127.0.0.1:0", dir)
	crew := newCrew(t, server.url, code, 2)
	m := crew.members[1]
	m.write("find", m.uuid(), noon, "note", `"calm"`)
	require.NoError(t, m.drain(crew.to(server.url), noon))
	again := m.own[0] // as after a lost answer: this one too follows a sync
	m.outbox = append(m.outbox, again)
	require.NoError(t, m.drain(crew.to(server.url), noon))
	photo := smallPhoto(5)
	name := photoName(photo)
	for range 2 {
		status, body, err := crew.request("PUT", server.url+"/api/photos/"+name, m.token, "image/png", photo)
		require.NoError(t, err)
		require.Equal(t, 201, status, "%s", body)
	}
	stopTraced(t, server.cmd)
	text, err := os.ReadFile(trace)
	require.NoError(t, err)
	calls, err := strace.Parse(string(text))
	require.NoError(t, err)

	// Each answer is one write to a socket; the one before it bounds where its syncs are sought.
	var answers []strace.Call
	for _, c := range calls {
		if strings.Contains(c.On, `"HTTP/1.1 2`) {
			answers = append(answers, c)
		}
	}
	// Two joined, one was invited, two pushes, twice the photo.
	require.Len(t, answers, 7)
	for i, what := range []string{"pair", "invite", "pair", "push", "push again", "photo", "photo again"} {
		t.Run(strconv.Itoa(i)+" "+what, func(t *testing.T) {
			before := strace.Call{End: -1}
			if i > 0 {
				before = answers[i-1]
			}
			mine := strace.Between(calls, before, answers[i])
			switch what {
			case "photo":
				require.NoError(t, strace.InOrder(mine,
					strace.Call{Name: "write", On: `/photos/new/`},
					strace.Call{Name: "fsync", On: `/photos/new/`},
					strace.Call{Name: "renameat2?|rename", On: `/photos/[0-9a-f]{2}/` + name},
					strace.Call{Name: "fsync", On: `/photos/` + name[:2]},
					strace.Call{Name: "fsync", On: `/photos`}))
			case "photo again":
				require.NoError(t, strace.InOrder(mine,
					strace.Call{Name: "fsync", On: `/photos/` + name[:2]},
					strace.Call{Name: "fsync", On: `/photos`}))
			default:
				require.NoError(t, strace.InOrder(mine,
					strace.Call{Name: "pwrite64", On: `/book\.db`},
					strace.Call{Name: "fdatasync", On: `/book\.db`},
					strace.Call{Name: "pwrite64", On: `/book\.db`},
					strace.Call{Name: "fdatasync", On: `/book\.db`}))
				last, _ := strace.Last(mine, "pwrite64|fdatasync", `/book\.db`)
				assert.Equal(t, "fdatasync", last.Name, "written after the last sync")
			}
		})
	}
	assert.Equal(t, 1, checkBook(t, filepath.Join(dir, "household")).Photos)
}

func quotedAll(words []string) []string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = "'" + w + "'"
	}
	return list
}

// stopTraced has strace's child stop in order, and strace with it.
func stopTraced(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	children, err := os.ReadFile("/proc/" + strconv.Itoa(cmd.Process.Pid) + "/task/" + strconv.Itoa(cmd.Process.Pid) + "/children")
	require.NoError(t, err)
	child, err := strconv.Atoi(strings.TrimSpace(string(children)))
	require.NoError(t, err)
	require.NoError(t, syscall.Kill(child, syscall.SIGTERM))
	require.NoError(t, cmd.Wait())
}
