package store

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/book"
	"wrackbook/internal/fault"
)

// Role says what a device may do; who holds it may do no more.
type Role = book.Role

// The roles of internal/book, which says what each may write.
const (
	Keeper    = book.Keeper
	Collector = book.Collector
	Child     = book.Child
	Guest     = book.Guest
)

// Device is a phone or another browser that has joined the household.
type Device struct {
	ID        string // a UUID of the server's; the one in its stamps is the phone's own
	Name      string // as its owner calls it; for keepers' eyes, never for a log
	Role      Role
	CreatedMS int64 // Unix milliseconds
	SeenMS    int64 // exact to ten minutes
	ShutOutMS int64 // 0 while it may come in
}

// storedDevice adds what never leaves this room.
type storedDevice struct {
	Device
	TokenHash [sha256.Size]byte
}

const (
	tokenSize    = 32 // bytes: 256 bits
	maxName      = 60 // bytes of a device's name
	seenInterval = 10 * time.Minute
)

// newDevice writes a device and gives it with its token, which is told only now.
func newDevice(tx *bolt.Tx, name string, role Role, nowMS int64) (Device, string, error) {
	secret := randomBytes(tokenSize)
	d := storedDevice{
		Device:    Device{ID: newID(), Name: name, Role: role, CreatedMS: nowMS, SeenMS: nowMS},
		TokenHash: sha256.Sum256(secret),
	}
	err := errors.Join(
		putJSON(tx.Bucket(devicesBucket), []byte(d.ID), d),
		put(tx.Bucket(tokensBucket), d.TokenHash[:], []byte(d.ID)),
	)
	return d.Device, base64.RawURLEncoding.EncodeToString(secret), err
}

// Authenticate gives the device that holds a token, and notes that it was seen. A token
// that is none, is unknown, or belongs to a device that is shut out is NoDevice.
func (s *Store) Authenticate(token string) (Device, error) {
	if len(token) != base64.RawURLEncoding.EncodedLen(tokenSize) {
		return Device{}, noDevice()
	}
	secret, err := base64.RawURLEncoding.DecodeString(token)
	if err != nil || len(secret) != tokenSize { // it passes over line ends
		return Device{}, noDevice()
	}
	// The hash is what is looked up, so the time a look-up takes tells nothing of a token.
	hash := sha256.Sum256(secret)
	var d storedDevice
	err = s.view(func(tx *bolt.Tx) error {
		id, err := get(tx.Bucket(tokensBucket), hash[:])
		if err != nil {
			return err
		}
		if id == nil {
			return noDevice()
		}
		return readDevice(tx, string(id), &d)
	})
	if err != nil {
		return Device{}, err
	}
	if subtle.ConstantTimeCompare(hash[:], d.TokenHash[:]) != 1 || d.ShutOutMS != 0 {
		return Device{}, noDevice()
	}
	s.note(&d.Device)
	return d.Device, nil
}

// note writes that a device was seen, at most every ten minutes. A disk that will not have
// it keeps nobody out.
func (s *Store) note(d *Device) {
	now := s.opts.Now().UnixMilli()
	s.seenMu.Lock()
	last := max(s.seen[d.ID], d.SeenMS)
	due := now-last >= seenInterval.Milliseconds() || now < last // a clock set back counts too
	if due {
		s.seen[d.ID] = now
	}
	s.seenMu.Unlock()
	if !due {
		return
	}
	err := s.editDevice(d.ID, func(d *storedDevice) { d.SeenMS = now })
	if err != nil {
		s.opts.Logger.Warn("that a device was seen could not be written", "device", d.ID, "err", errors.Unwrap(err))
		return
	}
	d.SeenMS = now
}

// Devices lists every device, those shut out too, by id.
func (s *Store) Devices() ([]Device, error) {
	list := []Device{}
	err := s.view(func(tx *bolt.Tx) error {
		list = list[:0]
		return eachDevice(tx, func(d *storedDevice) { list = append(list, d.Device) })
	})
	return list, err
}

// ShutOut ends a device's access for good; its changes stay. Shutting it out again does
// nothing. When no keeper is left, KeeperCode gives a way back in.
func (s *Store) ShutOut(id string) error {
	now := s.opts.Now().UnixMilli()
	return s.editDevice(id, func(d *storedDevice) {
		if d.ShutOutMS == 0 {
			d.ShutOutMS = now
		}
	})
}

// NameDevice gives a device another name.
func (s *Store) NameDevice(id, name string) error {
	name, err := cleanName(name)
	if err != nil {
		return err
	}
	return s.editDevice(id, func(d *storedDevice) { d.Name = name })
}

func (s *Store) editDevice(id string, edit func(*storedDevice)) error {
	if len(id) != 36 {
		return noDevice()
	}
	return s.commit(1<<10, func(tx *bolt.Tx) error {
		var d storedDevice
		if err := readDevice(tx, id, &d); err != nil {
			return err
		}
		edit(&d)
		return putJSON(tx.Bucket(devicesBucket), []byte(id), d)
	})
}

func readDevice(tx *bolt.Tx, id string, d *storedDevice) error {
	err := getJSON(tx.Bucket(devicesBucket), []byte(id), d)
	if errors.Is(err, errAbsent) {
		return noDevice()
	}
	return err
}

func eachDevice(tx *bolt.Tx, do func(*storedDevice)) error {
	return tx.Bucket(devicesBucket).ForEach(func(key, sealed []byte) error {
		value, err := unseal(key, sealed)
		if err != nil {
			return err
		}
		var d storedDevice
		if err := json.Unmarshal(value, &d); err != nil {
			return damaged(err)
		}
		do(&d)
		return nil
	})
}

func noDevice() error {
	return trouble(NoDevice, nil, "This device does not belong to the household, or was shut out. Ask a keeper for an invitation.")
}

// cleanName holds a device's name to one line of bounded length.
func cleanName(name string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" || len(name) > maxName || !utf8.ValidString(name) || strings.ContainsFunc(name, unicode.IsControl) {
		return "", fault.New(fault.BadInput, "name", "Give the device a name of one line, %d bytes at most.", maxName)
	}
	return name, nil
}

func randomBytes(n int) []byte {
	b := make([]byte, n)
	io.ReadFull(rand.Reader, b) // never fails: crypto/rand ends the program instead
	return b
}
