package store

import (
	"bufio"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/exec"
	"os/signal"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

// A child is this test binary, started again with childMode saying what it is to do in the
// folder named by childDir. It answers on its standard output, one line at a time.
const (
	childMode = "WRACKBOOK_STORE_CHILD"
	childDir  = "WRACKBOOK_STORE_DIR"
	childArg  = "WRACKBOOK_STORE_ARG"
)

// child readies a process of this binary; before is a command to run it under, if any.
func child(t testing.TB, mode, dir, arg string, before ...string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	line := append(before, self)
	cmd := exec.Command(line[0], line[1:]...)
	cmd.Env = append(os.Environ(), childMode+"="+mode, childDir+"="+dir, childArg+"="+arg)
	cmd.Stderr = os.Stderr
	return cmd
}

// answer runs a child to its end and gives its lines.
func answer(t testing.TB, cmd *exec.Cmd) []string {
	t.Helper()
	out, err := cmd.Output()
	require.NoError(t, err)
	return strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
}

// say writes one line in one system call, so that a kill leaves it whole or out.
func say(format string, args ...any) {
	os.Stdout.WriteString(fmt.Sprintf(format+"\n", args...))
}

func runChild(mode string) int {
	dir, arg := os.Getenv(childDir), os.Getenv(childArg)
	modes := map[string]func(dir, arg string) error{
		"hold": childHold, "write": childWrite, "visitor": childVisitor, "full": childFull, "trace": childTrace, "idle": childIdle,
	}
	if err := modes[mode](dir, arg); err != nil {
		fmt.Fprintln(os.Stderr, mode, err)
		return 1
	}
	return 0
}

// childHold keeps the book open until its standard input ends.
func childHold(dir, _ string) error {
	s, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	say("open")
	io.Copy(io.Discard, os.Stdin)
	return s.Close()
}

// childWrite writes from 50 goroutines, and says what has been acknowledged, until it is
// killed. arg is a seed.
func childWrite(dir, arg string) error {
	seed, err := strconv.ParseUint(arg, 10, 64)
	if err != nil {
		return err
	}
	s, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	var failed sync.Map
	var all sync.WaitGroup
	for writer := range 50 {
		all.Go(func() {
			shared := newMaker(7, 40) // the same records for all
			m := newMaker(seed<<8|uint64(writer), 0)
			m.devices, m.records = shared.devices, shared.records
			for i := 0; ; i++ {
				changes := m.changes(1 + m.IntN(3))
				results, err := s.Push(changes, nil)
				if err != nil {
					failed.Store(err, true)
					return
				}
				for _, r := range results {
					say("change %s %d", r.ID, r.Seq)
				}
				if m.IntN(8) == 0 {
					name, err := s.PutPhoto(photo(m.Int()))
					if err != nil {
						failed.Store(err, true)
						return
					}
					say("photo %s", name)
				}
			}
		})
	}
	all.Wait()
	failed.Range(func(e, _ any) bool { err = e.(error); return false })
	return err
}

// childVisitor tries to open and use the household as a user who may not write there.
func childVisitor(dir, _ string) error {
	if os.Geteuid() == 0 {
		if err := syscall.Setuid(65534); err != nil {
			return err
		}
	}
	s, err := Open(dir, Options{Logger: slog.New(slog.NewTextHandler(os.Stderr, nil))})
	if err == nil {
		s.Close()
	}
	say("%s: %v", ReasonOf(err), err)
	return nil
}

// childFull writes until the file may not grow, then is given room and writes on. arg is
// "grow" or "write": whether the file's growing fails, or writing inside it.
func childFull(dir, arg string) error {
	signal.Ignore(syscall.SIGXFSZ) // so that the limit is an error, as a full disk is
	var unlimited syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &unlimited); err != nil {
		return err
	}
	limit := func(bytes uint64) error {
		return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: bytes, Max: unlimited.Max})
	}
	s, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	m := newMaker(11, 10)
	push := func() error {
		changes := m.changes(20)
		for i := range changes {
			changes[i].Fields["text"] = []byte(`"` + strings.Repeat("sea ", 10_000) + `"`)
		}
		results, err := s.Push(changes, nil)
		if err != nil {
			return err
		}
		for _, r := range results {
			say("change %s %d", r.ID, r.Seq)
		}
		return nil
	}
	if err := push(); err != nil { // now the file has 16 MB, most of them a hole
		return err
	}
	size := map[string]uint64{"grow": 24 << 20, "write": 5 << 20}[arg]
	if err := limit(size); err != nil {
		return err
	}
	for failures := 0; failures < 3; { // after the first there may be room for a few in pages set free
		if err := push(); err != nil {
			say("full %s", ReasonOf(err))
			failures++
		}
	}
	if err := limit(512); err != nil {
		return err
	}
	_, err = s.PutPhoto(append(photo(1), make([]byte, 4096)...))
	say("photo %s", ReasonOf(err))
	_, err = s.Backup(io.Discard)
	say("backup %s", ReasonOf(err))
	if _, err := s.Pull("", 0, 1); err != nil {
		return err
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &unlimited); err != nil {
		return err
	}
	if err := push(); err != nil {
		return fmt.Errorf("with room again: %w", err)
	}
	if _, err := s.PutPhoto(photo(1)); err != nil {
		return err
	}
	say("room")
	if _, err := s.Check(); err != nil {
		return err
	}
	return s.Close()
}

// childTrace does one thing of each kind and says so after each.
func childTrace(dir, _ string) error {
	say("start")
	s, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	say("opened")
	results, err := s.Push([]journal.Change{newMaker(3, 1).change()}, nil)
	if err != nil || results[0].Err != nil {
		return fmt.Errorf("%v %v", err, results)
	}
	say("pushed")
	if _, err := s.PutPhoto(photo(1)); err != nil {
		return err
	}
	say("kept")
	code, err := s.KeeperCode()
	if err != nil {
		return err
	}
	say("invited")
	if _, _, err := s.Redeem(code, "a phone"); err != nil {
		return err
	}
	say("joined")
	return nil
}

// childIdle opens the book, answers once, and says how many kilobytes of memory are its own.
func childIdle(dir, _ string) error {
	s, err := Open(dir, Options{})
	if err != nil {
		return err
	}
	if _, err := s.Pull("", 0, 100); err != nil {
		return err
	}
	rollup, err := os.ReadFile("/proc/self/smaps_rollup")
	if err != nil {
		return err
	}
	for line := range strings.Lines(string(rollup)) {
		if kB, found := strings.CutPrefix(line, "Anonymous:"); found {
			say("%s", strings.Fields(kB)[0])
		}
	}
	return s.Close()
}

// each calls use with every line of r until it ends.
func each(r io.Reader, use func(line string)) error {
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		use(lines.Text())
	}
	return lines.Err()
}
