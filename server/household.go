package main

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"time"

	"wrackbook/internal/fault"
	"wrackbook/internal/store"
)

// household is the store behind the routes. Its folder is made when the first device
// joins, not before: whoever only looks at tides leaves nothing behind.
type household struct {
	dir     string
	options store.Options

	mu     sync.Mutex
	book   *store.Store // nil until there is one
	closed bool
	users  sync.WaitGroup // of book
	first  *firstCode     // nil where there is a book, or the code was used
	opened func(*store.Store)
}

// firstCode is the keeper's code of a household that has no book to keep it in.
type firstCode struct {
	code    string
	expires time.Time
}

const (
	bookFile     = "book.db" // as internal/store names it
	firstCodeAge = 24 * time.Hour
	codeBytes    = 24 // as many as the store's codes have
)

// openHousehold opens the book in dir if there is one.
func openHousehold(dir string, options store.Options) (*household, error) {
	if options.Logger == nil {
		options.Logger = slog.New(slog.DiscardHandler)
	}
	h := &household{dir: dir, options: options}
	there, err := hasHousehold(dir)
	if err == nil && there {
		err = h.open()
	}
	if err != nil {
		return nil, err
	}
	return h, nil
}

// hasHousehold says whether dir holds anything of a household: a book, or photos that
// should have one.
func hasHousehold(dir string) (bool, error) {
	for _, name := range []string{bookFile, "photos"} {
		switch _, err := os.Stat(filepath.Join(dir, name)); {
		case err == nil:
			return true, nil
		case !errors.Is(err, fs.ErrNotExist):
			return false, fault.Wrap(fault.Unavailable, "", err, "The folder %s cannot be read. Give the user that runs Wrackbook the right to it, or name another with -data.", dir)
		}
	}
	return false, nil
}

// open opens or begins the book; mu is held, or nobody else knows h yet.
func (h *household) open() error {
	book, err := store.Open(h.dir, h.options)
	if err != nil {
		return err
	}
	h.book = book
	if h.opened != nil {
		h.opened(book)
	}
	return nil
}

// whenOpened has do called with the book once there is one; now, if there is.
func (h *household) whenOpened(do func(*store.Store)) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.opened = do
	if h.book != nil {
		do(h.book)
	}
}

// enter gives the book until leave is called; nil where there is none yet.
func (h *household) enter() (book *store.Store, leave func(), err error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		return nil, nil, fault.New(fault.Unavailable, "", "Wrackbook is shutting down. Try again in a minute.")
	}
	if h.book == nil {
		return nil, func() {}, nil
	}
	h.users.Add(1)
	return h.book, h.users.Done, nil
}

// close waits for everyone who has entered, then closes the book.
func (h *household) close() error {
	h.mu.Lock()
	h.closed = true
	h.mu.Unlock()
	h.users.Wait()
	if h.book == nil {
		return nil
	}
	return h.book.Close()
}

// keeperCode gives a fresh one-time code for the first keeper's device, as the store
// spells it; "" where a keeper's device is there.
func (h *household) keeperCode() (string, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.book != nil {
		return h.book.KeeperCode()
	}
	raw := make([]byte, codeBytes)
	if _, err := rand.Read(raw); err != nil {
		return "", err
	}
	h.first = &firstCode{base64.RawURLEncoding.EncodeToString(raw), h.options.Now().Add(firstCodeAge)}
	return h.first.code, nil
}

// redeem turns a code, as the store spells it, into a device and its token. The first
// keeper's code begins the book.
func (h *household) redeem(code, name string) (store.Device, string, error) {
	book, code, leave, err := h.enterWith(code)
	if err != nil {
		return store.Device{}, "", err
	}
	defer leave()
	device, token, err := book.Redeem(code, name)
	if err == nil {
		h.mu.Lock()
		h.first = nil
		h.mu.Unlock()
	}
	return device, token, err
}

// enterWith gives the book and the code that it knows for code.
func (h *household) enterWith(code string) (book *store.Store, known string, leave func(), err error) {
	h.mu.Lock()
	if first := h.first; first != nil && !h.closed &&
		subtle.ConstantTimeCompare([]byte(first.code), []byte(code)) == 1 && h.options.Now().Before(first.expires) {
		if h.book == nil {
			if err = h.open(); err != nil { // a sentence for the person at the server, with its folders
				h.options.Logger.Error("the book cannot be begun", "because", err, "cause", errors.Unwrap(err))
				err = fault.Wrap(fault.Unavailable, "", err, "The book cannot be begun on the server; its log says why. Mend that there, then try again: this code still works.")
			}
		}
		if err == nil {
			code, err = h.book.KeeperCode() // "" if another keeper was quicker
		}
	}
	h.mu.Unlock()
	if err != nil {
		return nil, "", nil, err
	}
	if book, leave, err = h.enter(); err != nil {
		return nil, "", nil, err
	}
	if book == nil {
		return nil, "", nil, noInvitation()
	}
	return book, code, leave, nil
}

func noInvitation() error {
	return fault.New(fault.NoInvitation, "code", "This invitation does not work: it was used, has run out, or was mistyped. Ask a keeper for a new one.")
}
