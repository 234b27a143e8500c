package store

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// call is one system call of the traced child, with the lines on which it began and ended.
type call struct {
	name, on   string // on: the file or what was written
	begin, end int
}

// An answer must come after the data is written, the file synced, and the folder that got
// a new name synced, in that order. What the kernel was asked for is read with strace.
func TestSyncedBeforeTheAnswer(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "household")
	trace := filepath.Join(t.TempDir(), "trace")
	lines := answer(t, child(t, "trace", dir, "", "strace", "-f", "-y", "-qq", "-s", "200", "-o", trace,
		"-e", "trace=write,pwrite64,fsync,fdatasync,rename,renameat,renameat2,link,linkat,mkdir,mkdirat,ftruncate"))
	require.Equal(t, []string{"start", "opened", "pushed", "kept", "invited", "joined"}, lines)
	text, err := os.ReadFile(trace)
	require.NoError(t, err)
	calls := parseTrace(t, string(text))
	part := func(from, to string) []call { return between(t, calls, from, to) }

	t.Run("first start", func(t *testing.T) {
		inOrder(t, part("start", "opened"),
			call{name: "mkdir(at)?", on: `/household`},
			call{name: "fsync", on: `/001`}, // the folder that holds it
			call{name: "pwrite64", on: `/book-\d+\.new`},
			call{name: "fdatasync", on: `/book-\d+\.new`},
			call{name: "fsync", on: `/book-\d+\.new`},
			call{name: "linkat?", on: `/book\.db`},
			call{name: "fsync", on: `/household`},
			call{name: "mkdir(at)?", on: `/photos`},
			call{name: "fsync", on: `/household`})
	})
	for _, step := range [][2]string{{"opened", "pushed"}, {"kept", "invited"}, {"invited", "joined"}} {
		t.Run(step[1], func(t *testing.T) {
			mine := part(step[0], step[1])
			inOrder(t, mine, // pages, then the header that makes them count
				call{name: "pwrite64", on: `/book\.db`},
				call{name: "fdatasync", on: `/book\.db`},
				call{name: "pwrite64", on: `/book\.db`},
				call{name: "fdatasync", on: `/book\.db`})
			assert.Equal(t, "fdatasync", onlyOf(mine, "pwrite64", "fdatasync", `/book\.db`), "written after the last sync")
		})
	}
	t.Run("photo", func(t *testing.T) {
		mine := part("pushed", "kept")
		inOrder(t, mine,
			call{name: "write", on: `/photos/new/`},
			call{name: "fsync", on: `/photos/new/`},
			call{name: "renameat2?|rename", on: `/photos/[0-9a-f]{2}/[0-9a-f]{64}`},
			call{name: "fsync", on: `/photos/[0-9a-f]{2}`},
			call{name: "fsync", on: `/photos`})
		assert.Equal(t, "fsync", onlyOf(mine, "write", "fsync", `/photos/new/`), "written after the last sync")
	})
}

// between gives the calls that began after the child had said one word and ended before it
// began to say another.
func between(t *testing.T, calls []call, from, to string) (part []call) {
	t.Helper()
	after, before := -1, -1
	for _, c := range calls {
		if c.name == "write" && strings.Contains(c.on, `"`+from+`\n"`) {
			after = c.end
		}
		if c.name == "write" && strings.Contains(c.on, `"`+to+`\n"`) {
			before = c.begin
		}
	}
	require.True(t, 0 <= after && after < before, "%s … %s: not in the trace", from, to)
	for _, c := range calls {
		if c.begin > after && c.end < before {
			part = append(part, c)
		}
	}
	return part
}

// inOrder finds each wanted call after the end of the one before; name and on are patterns.
func inOrder(t *testing.T, calls []call, want ...call) {
	t.Helper()
	end := -1
	for i, w := range want {
		name, on := regexp.MustCompile(`^(`+w.name+`)$`), regexp.MustCompile(w.on+`[>"]|`+w.on+`\w+>`)
		found := false
		for _, c := range calls {
			if c.begin > end && name.MatchString(c.name) && on.MatchString(c.on) {
				end, found = c.end, true
				break
			}
		}
		require.True(t, found, "step %d, %s of %s, does not follow the steps before it in %v", i, w.name, w.on, calls)
	}
}

// onlyOf gives the name of the last call to either of two on a file.
func onlyOf(calls []call, a, b, on string) (last string) {
	pattern := regexp.MustCompile(on)
	for _, c := range calls {
		if (c.name == a || c.name == b) && pattern.MatchString(c.on) {
			last = c.name
		}
	}
	return last
}

// parseTrace reads strace's lines; a call that another thread's interrupts comes on two.
func parseTrace(t *testing.T, text string) (calls []call) {
	t.Helper()
	whole := regexp.MustCompile(`^(\d+) +(\w+)\((.*)$`)
	resumed := regexp.MustCompile(`^(\d+) +<\.\.\. (\w+) resumed>(.*)$`)
	open := map[string]int{} // thread → call that it is in
	for i, line := range strings.Split(text, "\n") {
		if m := resumed.FindStringSubmatch(line); m != nil {
			at, ok := open[m[1]]
			require.True(t, ok, line)
			calls[at].end = i
			require.NotContains(t, m[3], "= -1", line)
			delete(open, m[1])
			continue
		}
		m := whole.FindStringSubmatch(line)
		if m == nil {
			continue // signals and exits
		}
		calls = append(calls, call{name: m[2], on: m[3], begin: i, end: i})
		if strings.Contains(line, "<unfinished ...>") {
			open[m[1]] = len(calls) - 1
			calls[len(calls)-1].end = 1 << 60
		}
	}
	require.NotEmpty(t, calls)
	return calls
}
