package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/scripts/seed/invented"
)

// forAdults are the fields that a child's phone is not given.
var forAdults = map[string][]string{"member": {"contact", "born", "licences/", "rights/", "consents/"}, "outing": {"ashoreCall"}}

// A lived book, served by the program: a keeper joins it, a phone that takes the snapshot
// has what one that pulls everything has, and a guest gets no address.
func TestLivedBookIsServed(t *testing.T) {
	binary, err := serverBinary()
	require.NoError(t, err)
	made, err := invented.Make(invented.Options{Finds: 200, Seed: 4, Until: time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)})
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, made.Save(filepath.Join(dir, "household")))
	bookWell(t, binary, dir)
	server, _ := startHousehold(t, binary, "127.0.0.1:0", dir)
	code, said, errs := run(t, binary, dir, "pair", "-data", "household")
	require.Equal(t, exitOK, code, errs)
	_, link, _ := strings.Cut(said, "/pair#")
	typed, _, _ := strings.Cut(link, "\n")
	crew := newCrew(t, server.url, typed, 4)
	pulling, taking := crew.members[0].phone, newPhone(2, crew.members[0].token, true)
	child := newPhone(3, crew.members[2].token, true)
	for _, p := range []*phone{pulling, taking, child} {
		require.NoError(t, p.catchUp(crew.to(server.url), noon, false))
		assert.EqualValues(t, len(made.Changes), p.after)
	}
	require.NoError(t, same("the snapshot", standing(pulling.fold), standing(taking.fold)))
	hidden, shown := 0, standing(child.fold)
	for field, value := range standing(pulling.fold) {
		kind, rest, _ := strings.Cut(field, "/")
		_, name, _ := strings.Cut(rest, ".")
		if slices.Contains(forAdults[kind], strings.TrimRight(name, "0123456789abcdef-")) {
			hidden++
			continue
		}
		require.Equal(t, value, shown[field], field)
	}
	assert.Greater(t, hidden, 20)
	assert.Len(t, shown, len(standing(pulling.fold))-hidden)
	for _, photo := range made.Photos {
		status, body, err := crew.request("GET", server.url+"/api/photos/"+photoName(photo), child.token, "", nil)
		require.NoError(t, err)
		require.Equal(t, 200, status)
		require.Equal(t, photoName(photo), photoName(body))
	}
}
