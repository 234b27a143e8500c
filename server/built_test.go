package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The tests in browser_test.go and this file are about the program as it is delivered: the
// app built into the binary, the binary run as a process.

// workDir holds what TestMain removes at the end.
var workDir string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "wrackbook-test-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	workDir = dir
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// builtBinary builds the app and the server with it, once.
var builtBinary = sync.OnceValues(func() (string, error) {
	if err := readInputs(); err != nil {
		return "", err
	}
	if err := atRoot("go", "run", "./pwa/build"); err != nil {
		return "", err
	}
	binary := filepath.Join(workDir, "wrackbook")
	return binary, atRoot("go", "build", "-o", binary, "./server")
})

// readInputs reads what the app is built from. The go command runs a test that has passed
// again only when something changed that the test itself has read, and the build happens
// outside of it.
func readInputs() error {
	for _, dir := range []string{"app", "build", "core", "lib"} {
		err := filepath.WalkDir(filepath.Join("..", "pwa", dir), func(name string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			_, err = os.ReadFile(name)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// atRoot runs a program at the root of the repository.
func atRoot(name string, args ...string) error {
	cmd := exec.Command(name, args...)
	cmd.Dir = ".."
	if out, err := cmd.CombinedOutput(); err != nil {
		return fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, out)
	}
	return nil
}

// process is a running server.
type process struct {
	url    string
	cmd    *exec.Cmd
	stderr *bytes.Buffer
}

// startServer runs the binary until the test ends or stop is called.
func startServer(t *testing.T, binary, addr string) *process {
	t.Helper()
	p, _ := startHousehold(t, binary, addr, t.TempDir())
	return p
}

// startHousehold serves the household in dir. code is what a first keeper types; "" where
// there is a keeper.
func startHousehold(t *testing.T, binary, addr, dir string, flags ...string) (p *process, code string) {
	t.Helper()
	p = &process{cmd: exec.Command(binary, append([]string{"serve", "-addr", addr, "-data", "household"}, flags...)...), stderr: &bytes.Buffer{}}
	p.cmd.Dir = dir
	p.cmd.Stderr = p.stderr
	stdout, err := p.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, p.cmd.Start())
	t.Cleanup(func() { _ = p.cmd.Process.Kill() })
	said := bufio.NewReader(stdout)
	line, err := said.ReadString('\n')
	require.NoError(t, err, "the server said nothing: %s", p.stderr)
	url, ok := strings.CutPrefix(strings.TrimSpace(line), "Wrackbook is at ")
	require.True(t, ok, line)
	p.url = url
	if _, err := os.Stat(filepath.Join(dir, "household", bookFile)); err == nil {
		return p, ""
	}
	for code == "" {
		line, err := said.ReadString('\n')
		require.NoError(t, err)
		if _, after, found := strings.Cut(line, "/pair#"); found {
			code = strings.TrimSpace(after)
		}
	}
	return p, code
}

// kill ends the server at once, as a lost signal looks to the phone.
func (p *process) kill(t *testing.T) {
	t.Helper()
	require.NoError(t, p.cmd.Process.Kill())
	_ = p.cmd.Wait()
	_, err := http.Get(p.url + "/api/health")
	require.Error(t, err, "the server still answers")
}

func TestServedProgram(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	server := startServer(t, binary, "127.0.0.1:0")
	assert.Regexp(t, `^http://127\.0\.0\.1:\d+$`, server.url)

	response, err := http.Get(server.url + "/api/health")
	require.NoError(t, err)
	response.Body.Close()
	assert.Equal(t, 200, response.StatusCode)

	// The port is taken: a second one says so and ends.
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	second := exec.CommandContext(ctx, binary, "serve", "-addr", strings.TrimPrefix(server.url, "http://"))
	out, err := second.CombinedOutput()
	require.Error(t, err)
	assert.Equal(t, exitFailure, second.ProcessState.ExitCode())
	assert.Contains(t, string(out), "choose another -addr")

	// A keep-alive connection is open; an orderly stop does not wait for it.
	require.NoError(t, server.cmd.Process.Signal(syscall.SIGTERM))
	require.NoError(t, server.cmd.Wait())
	entries, err := os.ReadDir(server.cmd.Dir)
	require.NoError(t, err)
	assert.Empty(t, entries, "serving alone must store nothing")
}

// buildVariant builds a binary whose app differs in one sentence, as the next release
// would. The app is swapped by an overlay, so that the repository stays as it is.
func buildVariant(t *testing.T, file, before, after string) string {
	t.Helper()
	dir := t.TempDir()
	source := filepath.Join(dir, "app")
	require.NoError(t, os.CopyFS(source, os.DirFS("../pwa/app")))
	words, err := os.ReadFile(filepath.Join(source, file))
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(words), before))
	require.NoError(t, os.WriteFile(filepath.Join(source, file), []byte(strings.Replace(string(words), before, after, 1)), 0o600))
	dist := filepath.Join(dir, "dist")
	require.NoError(t, atRoot("go", "run", "./pwa/build", "-app", source, "-out", dist))

	root, err := filepath.Abs("..")
	require.NoError(t, err)
	replace := map[string]string{}
	overlay := func(from string, to func(rel string) string) {
		require.NoError(t, filepath.WalkDir(from, func(name string, d os.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				rel, _ := filepath.Rel(from, name)
				replace[filepath.Join(root, "pwa", "dist", rel)] = to(name)
			}
			return err
		}))
	}
	overlay(filepath.Join(root, "pwa", "dist"), func(string) string { return "" }) // "" removes
	overlay(dist, func(name string) string { return name })
	data, err := json.Marshal(map[string]any{"Replace": replace})
	require.NoError(t, err)
	overlayFile := filepath.Join(dir, "overlay.json")
	require.NoError(t, os.WriteFile(overlayFile, data, 0o600))
	binary := filepath.Join(dir, "wrackbook-next")
	require.NoError(t, atRoot("go", "build", "-overlay", overlayFile, "-o", binary, "./server"))
	return binary
}
