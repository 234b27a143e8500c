package store

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/json"
	"errors"
	"slices"
	"time"

	bolt "go.etcd.io/bbolt"

	"wrackbook/internal/fault"
)

// An invitation's code is 24 random bytes in base64url, 32 characters: 8 name it, 16 prove
// it. The store keeps a hash of the latter.
const (
	inviteIDSize     = 8
	inviteSecretSize = 16

	maxInvites   = 100 // open ones
	minInviteAge = time.Minute
	maxInviteAge = 30 * 24 * time.Hour
	keeperAge    = 24 * time.Hour // of the pairing code at start

	inviteTries = 5 // wrong secrets, then the invitation is void
	// Wrong codes of any kind, for the whole household; then nobody redeems until the
	// window has passed. 128 bits need no such help; a log that fills up does.
	allTries    = 50
	triesWindow = 10 * time.Minute
)

type invitation struct {
	Role       Role
	SecretHash [sha256.Size]byte
	CreatedMS  int64
	ExpiresMS  int64
	Tries      int  // wrong ones so far
	First      bool // the pairing code of the first keeper: void once there is one
}

// tries counts wrong codes of the whole household since a window began.
type tries struct {
	SinceMS int64
	Count   int
}

var triesKey = []byte("tries")

// Invite makes an invitation that works once, within validFor (a minute to 30 days), and
// gives its code, which is told only now.
func (s *Store) Invite(role Role, validFor time.Duration) (code string, err error) {
	if !slices.Contains([]Role{Keeper, Collector, Child, Guest}, role) {
		return "", fault.New(fault.BadInput, "role", "The role is %.20q; it is one of keeper, collector, child and guest.", role)
	}
	if validFor < minInviteAge || validFor > maxInviteAge {
		return "", fault.New(fault.BadInput, "validFor", "An invitation is valid for a minute at least and 30 days at most.")
	}
	err = s.commit(1<<10, func(tx *bolt.Tx) error {
		now := s.opts.Now().UnixMilli()
		open, err := dropInvites(tx, func(i *invitation) bool { return i.ExpiresMS <= now })
		if err != nil {
			return err
		}
		if open >= maxInvites {
			return fault.New(fault.BadInput, "", "%d invitations are open. Use them or let them run out before making more.", open)
		}
		code, err = newInvite(tx, role, now, validFor, false)
		return err
	})
	return code, err
}

// KeeperCode gives a fresh one-time code of role keeper while no keeper's device may come
// in, and voids the one before; "" once there is such a device.
func (s *Store) KeeperCode() (code string, err error) {
	need := true
	err = s.view(func(tx *bolt.Tx) (err error) { need, err = needsKeeper(tx); return err })
	if err != nil || !need {
		return "", err
	}
	err = s.commit(1<<10, func(tx *bolt.Tx) error {
		code = ""
		need, err := needsKeeper(tx)
		if err != nil || !need {
			return err
		}
		if _, err := dropInvites(tx, func(i *invitation) bool { return i.First }); err != nil {
			return err
		}
		code, err = newInvite(tx, Keeper, s.opts.Now().UnixMilli(), keeperAge, true)
		return err
	})
	return code, err
}

// Redeem turns a code into a device and its token. Whoever is first has it; everyone else,
// and every code that is wrong, used, run out or void, gets the same NoInvitation. After
// too many wrong codes in ten minutes it is TooManyTries, for all.
func (s *Store) Redeem(code, name string) (d Device, token string, err error) {
	if name, err = cleanName(name); err != nil {
		return Device{}, "", err
	}
	raw, err := base64.RawURLEncoding.DecodeString(code)
	wellFormed := err == nil && len(code) <= 64 && len(raw) == inviteIDSize+inviteSecretSize
	nowMS := s.opts.Now().UnixMilli()
	var blocked bool
	if err := s.view(func(tx *bolt.Tx) (err error) { _, blocked, err = readTries(tx, nowMS); return err }); err != nil {
		return Device{}, "", err
	}
	if blocked {
		return Device{}, "", tooManyTries()
	}
	var wrong error // a wrong code is counted: the transaction must go through
	err = s.commit(2<<10, func(tx *bolt.Tx) error {
		d, token, wrong = Device{}, "", nil
		count, blocked, err := readTries(tx, nowMS)
		if err != nil {
			return err
		}
		if blocked {
			wrong = tooManyTries()
			return nil
		}
		if wellFormed {
			i, err := proveInvite(tx, raw, nowMS)
			if err != nil {
				return err
			}
			if i != nil {
				d, token, err = newDevice(tx, name, i.Role, nowMS)
				return err
			}
		}
		wrong = noInvitation()
		count.Count++
		return putJSON(tx.Bucket(metaBucket), triesKey, count)
	})
	if err == nil {
		err = wrong
	}
	if err != nil {
		return Device{}, "", err
	}
	s.opts.Logger.Info("a device joined", "device", d.ID, "role", d.Role)
	return d, token, nil
}

// proveInvite takes the invitation that raw names and proves out of the book, nil if raw
// does neither. A wrong secret is counted against it.
func proveInvite(tx *bolt.Tx, raw []byte, nowMS int64) (*invitation, error) {
	b, id, secret := tx.Bucket(invitesBucket), raw[:inviteIDSize], raw[inviteIDSize:]
	var i invitation
	if err := getJSON(b, id, &i); errors.Is(err, errAbsent) {
		return nil, nil
	} else if err != nil {
		return nil, err
	}
	hash := sha256.Sum256(secret)
	right := subtle.ConstantTimeCompare(hash[:], i.SecretHash[:]) == 1
	if i.First && right { // it may have been printed before another keeper joined
		need, err := needsKeeper(tx)
		if err != nil {
			return nil, err
		}
		right = need
	}
	if !right {
		i.Tries++
	}
	if right || i.Tries >= inviteTries || nowMS >= i.ExpiresMS {
		if err := remove(b, id); err != nil {
			return nil, err
		}
		if right && nowMS < i.ExpiresMS {
			return &i, nil
		}
		return nil, nil
	}
	return nil, putJSON(b, id, i)
}

func newInvite(tx *bolt.Tx, role Role, nowMS int64, validFor time.Duration, first bool) (string, error) {
	raw := randomBytes(inviteIDSize + inviteSecretSize)
	err := putJSON(tx.Bucket(invitesBucket), raw[:inviteIDSize], invitation{
		Role: role, SecretHash: sha256.Sum256(raw[inviteIDSize:]),
		CreatedMS: nowMS, ExpiresMS: nowMS + validFor.Milliseconds(), First: first,
	})
	return base64.RawURLEncoding.EncodeToString(raw), err
}

// dropInvites removes the invitations that drop names and counts those left.
func dropInvites(tx *bolt.Tx, drop func(*invitation) bool) (left int, err error) {
	b := tx.Bucket(invitesBucket)
	var out [][]byte // deleting under a cursor skips keys
	err = b.ForEach(func(key, sealed []byte) error {
		value, err := unseal(key, sealed)
		if err != nil {
			return err
		}
		var i invitation
		if err := json.Unmarshal(value, &i); err != nil {
			return damaged(err)
		}
		if drop(&i) {
			out = append(out, slices.Clone(key))
		} else {
			left++
		}
		return nil
	})
	for _, key := range out {
		err = errors.Join(err, remove(b, key))
	}
	return left, err
}

func needsKeeper(tx *bolt.Tx) (need bool, err error) {
	need = true
	err = eachDevice(tx, func(d *storedDevice) { need = need && (d.Role != Keeper || d.ShutOutMS != 0) })
	return need, err
}

// readTries gives the count of the window that nowMS lies in, and whether it is full.
func readTries(tx *bolt.Tx, nowMS int64) (t tries, blocked bool, err error) {
	if err := getJSON(tx.Bucket(metaBucket), triesKey, &t); err != nil && !errors.Is(err, errAbsent) {
		return t, false, err
	}
	if nowMS-t.SinceMS >= triesWindow.Milliseconds() || nowMS < t.SinceMS {
		t = tries{SinceMS: nowMS}
	}
	return t, t.Count >= allTries, nil
}

func noInvitation() error {
	return trouble(NoInvitation, nil, "This invitation does not work: it was used, has run out, or was mistyped. Ask a keeper for a new one.")
}

func tooManyTries() error {
	return trouble(TooManyTries, nil, "Too many invitations that do not work were tried. Wait ten minutes, then try again.")
}
