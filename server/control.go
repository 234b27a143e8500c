package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// One process holds the book. A subcommand that wants something of a book that is being
// served asks the server for it, through a socket in the book's folder: whoever may read
// that folder has the book anyway, and nobody else reaches it.

const controlName = "control.sock"

// control serves the chores over the socket.
type control struct {
	house  *household
	site   *site
	log    *slog.Logger
	mu     sync.Mutex
	server *http.Server // nil until there is a book
}

// listen begins to serve the chores of an open book.
func (c *control) listen(*store.Store) {
	path := filepath.Join(c.house.dir, controlName)
	os.Remove(path) // left by a process that was killed: we hold the book's lock
	listener, err := net.Listen("unix", path)
	if err == nil {
		err = os.Chmod(path, 0o600)
	}
	if err != nil {
		c.log.Warn("backup, check and other chores must wait until this server is stopped: it cannot be asked", "cause", err)
		return
	}
	mux := http.NewServeMux()
	for name, chore := range chores {
		mux.HandleFunc("POST /"+name, c.answer(chore))
	}
	server := &http.Server{Handler: mux, ReadHeaderTimeout: time.Minute}
	c.mu.Lock()
	c.server = server
	c.mu.Unlock()
	go server.Serve(listener)
}

// answer runs a chore. Where it fails after it has begun to answer, the answer is cut off,
// which the other side sees.
func (c *control) answer(chore chore) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		book, leave, err := c.house.enter()
		if err == nil && book != nil {
			defer leave()
			out := &begun{w: w}
			err = chore(book, task{c.site, r.URL.Query().Get("as"), r.Body, out})
			if err == nil {
				return
			}
			if out.any {
				c.log.Error("a chore failed", "chore", r.URL.Path, "cause", err)
				panic(http.ErrAbortHandler)
			}
		}
		http.Error(w, fault.From(err).Message, http.StatusConflict)
	}
}

// begun notes whether anything was written.
type begun struct {
	w   io.Writer
	any bool
}

func (b *begun) Write(p []byte) (int, error) {
	b.any = true
	return b.w.Write(p)
}

// close ends what is being served; the book is closed after it.
func (c *control) close() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.server != nil {
		c.server.Shutdown(context.Background())
	}
}

// errNotServed: nobody answers at the socket.
var errNotServed = errors.New("no server answers")

// askServer has the server of the book in dir do a chore.
func askServer(dir, name string, t task) error {
	path := filepath.Join(dir, controlName)
	client := http.Client{Transport: &http.Transport{DialContext: func(ctx context.Context, _, _ string) (net.Conn, error) {
		return (&net.Dialer{}).DialContext(ctx, "unix", path)
	}}}
	in := t.in
	if in != nil {
		in = io.NopCloser(in) // it is read here, where no server answers
	}
	request, err := http.NewRequest(http.MethodPost, "http://control/"+name+"?as="+url.QueryEscape(t.as), in)
	if err != nil {
		return err
	}
	response, err := client.Do(request)
	if dial := (*net.OpError)(nil); errors.As(err, &dial) && dial.Op == "dial" {
		return errNotServed
	}
	if err != nil {
		return fmt.Errorf("the server broke off: %w", err)
	}
	defer response.Body.Close()
	if response.StatusCode != http.StatusOK {
		message, err := io.ReadAll(io.LimitReader(response.Body, 4<<10))
		if err != nil {
			return err
		}
		return errors.New(strings.TrimSpace(string(message)))
	}
	if _, err = io.Copy(t.out, response.Body); err != nil {
		return fmt.Errorf("the server broke off; its log says why: %w", err)
	}
	return nil
}
