// Package strace reads what strace(1) wrote of a process: which system calls it made on
// which files, and in what order. It is for tests of what must be on the disk before an
// answer leaves.
package strace

import (
	"fmt"
	"regexp"
	"strings"
)

// Args begins the command that traces another into a file: with its threads, the names of
// files, and the calls that write, sync, name and send.
func Args(into string) []string {
	return []string{"strace", "-f", "-y", "-qq", "-s", "300", "-o", into,
		"-e", "trace=write,writev,sendto,pwrite64,fsync,fdatasync,rename,renameat,renameat2,link,linkat,mkdir,mkdirat,ftruncate"}
}

// Call is one system call, with the lines of the trace on which it began and ended.
type Call struct {
	Name, On   string // On: the file, and what was written
	Begin, End int
}

var (
	whole   = regexp.MustCompile(`^(\d+) +(\w+)\((.*)$`)
	resumed = regexp.MustCompile(`^(\d+) +<\.\.\. (\w+) resumed>(.*)$`)
)

// Parse reads a trace. A call that another thread's interrupts stands on two lines. A sync
// that failed is an error.
func Parse(text string) (calls []Call, err error) {
	open := map[string]int{} // thread → call that it is in
	for i, line := range strings.Split(text, "\n") {
		if m := resumed.FindStringSubmatch(line); m != nil {
			at, ok := open[m[1]]
			if !ok {
				return nil, fmt.Errorf("line %d resumes what was not begun: %s", i+1, line)
			}
			calls[at].End = i
			delete(open, m[1])
		} else if m := whole.FindStringSubmatch(line); m != nil {
			calls = append(calls, Call{Name: m[2], On: m[3], Begin: i, End: i})
			if strings.Contains(line, "<unfinished ...>") {
				open[m[1]] = len(calls) - 1
				calls[len(calls)-1].End = 1 << 60
			}
		} else {
			continue // signals and exits
		}
		if strings.Contains(line, "sync") && strings.Contains(line, "= -1") {
			return nil, fmt.Errorf("line %d: a sync failed: %s", i+1, line)
		}
	}
	if len(calls) == 0 {
		return nil, fmt.Errorf("a trace without a call")
	}
	return calls, nil
}

// Last gives the last call of a name (a pattern) that says something (a pattern).
func Last(calls []Call, name, on string) (Call, bool) {
	n, o := regexp.MustCompile(`^(`+name+`)$`), regexp.MustCompile(on)
	for i := len(calls) - 1; i >= 0; i-- {
		if n.MatchString(calls[i].Name) && o.MatchString(calls[i].On) {
			return calls[i], true
		}
	}
	return Call{}, false
}

// Between gives the calls that began after one ended and ended before another began.
func Between(calls []Call, after, before Call) (part []Call) {
	for _, c := range calls {
		if c.Begin > after.End && c.End < before.Begin {
			part = append(part, c)
		}
	}
	return part
}

// InOrder finds each wanted call, of which Name and On are patterns, after the end of the
// one before, and says which is not there.
func InOrder(calls []Call, want ...Call) error {
	end := -1
	for i, w := range want {
		name, on := regexp.MustCompile(`^(`+w.Name+`)$`), regexp.MustCompile(w.On+`[>"]|`+w.On+`\w+>`)
		found := false
		for _, c := range calls {
			if c.Begin > end && name.MatchString(c.Name) && on.MatchString(c.On) {
				end, found = c.End, true
				break
			}
		}
		if !found {
			return fmt.Errorf("step %d, %s of %s, does not follow the steps before it in %v", i, w.Name, w.On, calls)
		}
	}
	return nil
}
