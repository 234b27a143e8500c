package store

import (
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// paired opens a household with a keeper's device.
func paired(t testing.TB, o Options) (s *Store, keeper Device, token string) {
	t.Helper()
	s = openIn(t, filepath.Join(t.TempDir(), "household"), o)
	code, err := s.KeeperCode()
	require.NoError(t, err)
	keeper, token, err = s.Redeem(code, "first phone")
	require.NoError(t, err)
	return s, keeper, token
}

func TestPairingTheFirstKeeper(t *testing.T) {
	c := &clock{start}
	s := openIn(t, filepath.Join(t.TempDir(), "household"), Options{Now: c.Now})
	old, err := s.KeeperCode()
	require.NoError(t, err)
	code, err := s.KeeperCode()
	require.NoError(t, err)
	require.NotEqual(t, old, code)
	_, _, err = s.Redeem(old, "late")
	assert.Equal(t, NoInvitation, ReasonOf(err), "a new code voids the one before")
	c.now = c.now.Add(keeperAge)
	_, _, err = s.Redeem(code, "later")
	assert.Equal(t, NoInvitation, ReasonOf(err), "it runs out")
	code, err = s.KeeperCode()
	require.NoError(t, err)
	keeper, token, err := s.Redeem(code, "  first phone ")
	require.NoError(t, err)
	assert.Equal(t, Device{ID: keeper.ID, Name: "first phone", Role: Keeper, CreatedMS: c.now.UnixMilli(), SeenMS: c.now.UnixMilli()}, keeper)
	code, err = s.KeeperCode()
	require.NoError(t, err)
	assert.Empty(t, code, "there is a keeper")
	require.NoError(t, s.ShutOut(keeper.ID))
	_, err = s.Authenticate(token)
	assert.Equal(t, NoDevice, ReasonOf(err))
	code, err = s.KeeperCode()
	require.NoError(t, err)
	assert.NotEmpty(t, code, "no keeper may come in: there is a way back")
}

func TestTheFirstKeepersCodeDiesWithTheNeed(t *testing.T) {
	c := &clock{start}
	s, keeper, _ := paired(t, Options{Now: c.Now})
	invitation, err := s.Invite(Keeper, time.Hour)
	require.NoError(t, err)
	require.NoError(t, s.ShutOut(keeper.ID))
	code, err := s.KeeperCode()
	require.NoError(t, err)
	_, _, err = s.Redeem(invitation, "second phone")
	require.NoError(t, err)
	_, _, err = s.Redeem(code, "whoever read the log")
	assert.Equal(t, NoInvitation, ReasonOf(err))
}

func TestInvite(t *testing.T) {
	c := &clock{start}
	s, _, _ := paired(t, Options{Now: c.Now})
	for _, role := range []Role{Keeper, Collector, Child, Guest} {
		code, err := s.Invite(role, time.Hour)
		require.NoError(t, err)
		d, token, err := s.Redeem(code, string(role)+"'s phone")
		require.NoError(t, err)
		assert.Equal(t, role, d.Role)
		again, err := s.Authenticate(token)
		require.NoError(t, err)
		assert.Equal(t, d, again)
		_, _, err = s.Redeem(code, "another")
		assert.Equal(t, NoInvitation, ReasonOf(err), "it works once")
	}
	late, err := s.Invite(Guest, time.Minute)
	require.NoError(t, err)
	c.now = c.now.Add(time.Minute)
	_, _, err = s.Redeem(late, "late")
	assert.Equal(t, NoInvitation, ReasonOf(err))
	for name, try := range map[string]func() error{
		"no role":        func() error { _, err := s.Invite("owner", time.Hour); return err },
		"too short":      func() error { _, err := s.Invite(Guest, time.Second); return err },
		"too long":       func() error { _, err := s.Invite(Guest, 31*24*time.Hour); return err },
		"no name":        func() error { _, _, err := s.Redeem(late, " "); return err },
		"a long name":    func() error { _, _, err := s.Redeem(late, strings.Repeat("x", 61)); return err },
		"two lines":      func() error { _, _, err := s.Redeem(late, "a\nb"); return err },
		"no UTF-8":       func() error { _, _, err := s.Redeem(late, "\xff"); return err },
		"name of nobody": func() error { return s.NameDevice(newID(), "") },
	} {
		assert.Equal(t, fault.BadInput, fault.From(try()).Code, name)
	}
	for range maxInvites {
		_, err = s.Invite(Guest, time.Hour)
		require.NoError(t, err)
	}
	_, err = s.Invite(Guest, time.Hour)
	assert.ErrorContains(t, err, "100 invitations are open")
	c.now = c.now.Add(time.Hour)
	_, err = s.Invite(Guest, time.Hour)
	assert.NoError(t, err, "those that have run out make room")
}

// However many hands hold one code, one device comes of it.
func TestRedeemRace(t *testing.T) {
	s, _, _ := paired(t, Options{})
	for round := range 20 {
		code, err := s.Invite(Collector, time.Hour)
		require.NoError(t, err)
		var all sync.WaitGroup
		var mu sync.Mutex
		won, lost := 0, 0
		for i := range 10 {
			all.Go(func() {
				_, token, err := s.Redeem(code, fmt.Sprintf("phone %d", i))
				mu.Lock()
				defer mu.Unlock()
				switch ReasonOf(err) {
				case "":
					assert.NoError(t, err)
					assert.NotEmpty(t, token)
					won++
				case NoInvitation, TooManyTries: // those who come late count as tries
					lost++
				}
			})
		}
		all.Wait()
		require.Equal(t, 1, won)
		require.Equal(t, 9, lost)
		devices, err := s.Devices()
		require.NoError(t, err)
		require.Len(t, devices, round+2)
		if (round+1)%5 == 0 { // 45 wrong tries of 50: begin the window anew
			s.opts.Now = func() time.Time { return time.Now().Add(time.Duration(round+1) * triesWindow) }
		}
	}
}

func TestTriesAreCounted(t *testing.T) {
	c := &clock{start}
	s, _, _ := paired(t, Options{Now: c.Now})
	code, err := s.Invite(Guest, time.Hour)
	require.NoError(t, err)
	raw, err := base64.RawURLEncoding.DecodeString(code)
	require.NoError(t, err)
	raw[len(raw)-1] ^= 1
	wrong := base64.RawURLEncoding.EncodeToString(raw)
	for range inviteTries - 1 {
		_, _, err = s.Redeem(wrong, "guess")
		require.Equal(t, NoInvitation, ReasonOf(err))
	}
	require.NoError(t, s.Close())
	s = openIn(t, s.dir, Options{Now: c.Now}) // a restart does not forget
	_, _, err = s.Redeem(wrong, "guess")
	require.Equal(t, NoInvitation, ReasonOf(err))
	_, _, err = s.Redeem(code, "the one it was for")
	assert.Equal(t, NoInvitation, ReasonOf(err), "void after %d wrong secrets", inviteTries)

	good, err := s.Invite(Guest, time.Hour)
	require.NoError(t, err)
	tried := inviteTries + 1
	for _, bad := range []string{"", "x", strings.Repeat("A", 32), strings.Repeat("A", 4000), code} {
		_, _, err = s.Redeem(bad, "guess")
		require.Equal(t, NoInvitation, ReasonOf(err), bad)
		tried++
	}
	for ; tried < allTries; tried++ {
		_, _, err = s.Redeem("nonsense", "guess")
		require.Equal(t, NoInvitation, ReasonOf(err))
	}
	_, _, err = s.Redeem(good, "honest")
	assert.Equal(t, TooManyTries, ReasonOf(err))
	c.now = c.now.Add(triesWindow)
	_, _, err = s.Redeem(good, "honest")
	assert.NoError(t, err)
}

func TestAuthenticate(t *testing.T) {
	c := &clock{start}
	s, keeper, token := paired(t, Options{Now: c.Now})
	raw, err := base64.RawURLEncoding.DecodeString(token)
	require.NoError(t, err)
	assert.Len(t, raw, 32, "256 bits")
	raw[0] ^= 1
	for _, wrong := range []string{"", "x", token[1:], token + "A", base64.RawURLEncoding.EncodeToString(raw), strings.Repeat("A", 1<<20), "\n" + token, "\n" + token[1:]} {
		_, err := s.Authenticate(wrong)
		assert.Equal(t, NoDevice, ReasonOf(err))
	}
	seen := func() int64 {
		devices, err := s.Devices()
		require.NoError(t, err)
		require.Len(t, devices, 1)
		return devices[0].SeenMS
	}
	c.now = start.Add(seenInterval - time.Millisecond)
	_, err = s.Authenticate(token)
	require.NoError(t, err)
	assert.Equal(t, start.UnixMilli(), seen(), "not written yet")
	c.now = start.Add(seenInterval)
	d, err := s.Authenticate(token)
	require.NoError(t, err)
	assert.Equal(t, c.now.UnixMilli(), d.SeenMS)
	assert.Equal(t, c.now.UnixMilli(), seen())

	require.NoError(t, s.NameDevice(keeper.ID, "Kitchen tablet"))
	require.NoError(t, s.ShutOut(keeper.ID))
	first := s.opts.Now().UnixMilli()
	c.now = c.now.Add(time.Hour)
	require.NoError(t, s.ShutOut(keeper.ID))
	devices, err := s.Devices()
	require.NoError(t, err)
	assert.Equal(t, first, devices[0].ShutOutMS, "shut out once")
	assert.Equal(t, "Kitchen tablet", devices[0].Name)
	for _, id := range []string{"", newID(), strings.Repeat("x", 1<<16)} {
		assert.Equal(t, NoDevice, ReasonOf(s.ShutOut(id)))
		assert.Equal(t, NoDevice, ReasonOf(s.NameDevice(id, "x")))
	}
}

// Whoever steals the folder or a backup gets no way in.
func TestNoSecretOnTheDisk(t *testing.T) {
	s, _, token := paired(t, Options{})
	code, err := s.Invite(Keeper, time.Hour)
	require.NoError(t, err)
	require.NoError(t, s.Close())
	data, err := os.ReadFile(filepath.Join(s.dir, bookName))
	require.NoError(t, err)
	tokenBytes, err := base64.RawURLEncoding.DecodeString(token)
	require.NoError(t, err)
	codeBytes, err := base64.RawURLEncoding.DecodeString(code)
	require.NoError(t, err)
	for name, secret := range map[string]string{
		"token": token, "token's bytes": string(tokenBytes), "code": code, "secret's bytes": string(codeBytes[inviteIDSize:]),
		"token in base64": base64.StdEncoding.EncodeToString(tokenBytes),
	} {
		assert.False(t, strings.Contains(string(data), secret), name)
	}
}
