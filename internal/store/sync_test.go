package store

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/store/strace"
)

// An answer must come after the data is written, the file synced, and the folder that got
// a new name synced, in that order. What the kernel was asked for is read with strace.
func TestSyncedBeforeTheAnswer(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "household")
	trace := filepath.Join(t.TempDir(), "trace")
	lines := answer(t, child(t, "trace", dir, "", strace.Args(trace)...))
	require.Equal(t, []string{"start", "opened", "pushed", "kept", "invited", "joined"}, lines)
	text, err := os.ReadFile(trace)
	require.NoError(t, err)
	calls, err := strace.Parse(string(text))
	require.NoError(t, err)
	part := func(from, to string) []strace.Call {
		after, there := strace.Last(calls, "write", `"`+from+`\\n"`)
		require.True(t, there, from)
		before, there := strace.Last(calls, "write", `"`+to+`\\n"`)
		require.True(t, there, to)
		require.Less(t, after.End, before.Begin)
		return strace.Between(calls, after, before)
	}

	t.Run("first start", func(t *testing.T) {
		require.NoError(t, strace.InOrder(part("start", "opened"),
			strace.Call{Name: "mkdir(at)?", On: `/household`},
			strace.Call{Name: "fsync", On: `/001`}, // the folder that holds it
			strace.Call{Name: "pwrite64", On: `/book-\d+\.new`},
			strace.Call{Name: "fdatasync", On: `/book-\d+\.new`},
			strace.Call{Name: "fsync", On: `/book-\d+\.new`},
			strace.Call{Name: "linkat?", On: `/book\.db`},
			strace.Call{Name: "fsync", On: `/household`},
			strace.Call{Name: "mkdir(at)?", On: `/photos`},
			strace.Call{Name: "fsync", On: `/household`}))
	})
	for _, step := range [][2]string{{"opened", "pushed"}, {"kept", "invited"}, {"invited", "joined"}} {
		t.Run(step[1], func(t *testing.T) {
			mine := part(step[0], step[1])
			require.NoError(t, strace.InOrder(mine, // pages, then the header that makes them count
				strace.Call{Name: "pwrite64", On: `/book\.db`},
				strace.Call{Name: "fdatasync", On: `/book\.db`},
				strace.Call{Name: "pwrite64", On: `/book\.db`},
				strace.Call{Name: "fdatasync", On: `/book\.db`}))
			last, _ := strace.Last(mine, "pwrite64|fdatasync", `/book\.db`)
			assert.Equal(t, "fdatasync", last.Name, "written after the last sync")
		})
	}
	t.Run("photo", func(t *testing.T) {
		mine := part("pushed", "kept")
		require.NoError(t, strace.InOrder(mine,
			strace.Call{Name: "write", On: `/photos/new/`},
			strace.Call{Name: "fsync", On: `/photos/new/`},
			strace.Call{Name: "renameat2?|rename", On: `/photos/[0-9a-f]{2}/[0-9a-f]{64}`},
			strace.Call{Name: "fsync", On: `/photos/[0-9a-f]{2}`},
			strace.Call{Name: "fsync", On: `/photos`}))
		last, _ := strace.Last(mine, "write|fsync", `/photos/new/`)
		assert.Equal(t, "fsync", last.Name, "written after the last sync")
	})
}
