package book

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
)

const someID = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f"

func TestTableIsSound(t *testing.T) {
	decoder := json.NewDecoder(bytes.NewReader(fieldsJSON))
	decoder.DisallowUnknownFields()
	require.NoError(t, decoder.Decode(new([]Kind)), "no word is misspelt")
	require.Len(t, Kinds(), 12)
	for _, k := range Kinds() {
		assert.NotEmpty(t, k.What, k.Name)
		assert.Contains(t, Roles(), k.Others, k.Name)
		seen := map[string]bool{}
		for _, f := range k.Fields {
			at := k.Name + "." + f.Name
			assert.False(t, seen[f.Name], "%s stands twice", at)
			seen[f.Name] = true
			assert.NotEmpty(t, f.What, at)
			assert.Contains(t, Roles(), f.Write, at)
			assert.Equal(t, strings.HasSuffix(f.Name, "/*"), slices.Contains([]string{byID, byHash, byWord}, f.Element), "%s: a set says how its elements are named", at)
			assert.False(t, f.Element != "" && !f.Null, "%s: an element can be taken out", at)
			checkForm(t, at, f.Value)
			element := map[string]string{"": "", byID: someID, byHash: strings.Repeat("a", 64), byWord: "bucket-2"}[f.Element]
			c := journal.Change{ID: someID, Kind: k.Name, Record: someID, Stamp: journal.Reading{Device: someID}.Stamp(),
				Fields: map[string]json.RawMessage{strings.Replace(f.Name, "*", element, 1): json.RawMessage("1")}}
			assert.NoError(t, journal.Validate(&c), "%s can be the field of a change", at)
		}
		assert.True(t, seen[journal.Deleted], k.Name)
	}
}

// checkForm holds every value of the table to bounds: nothing is open at an end.
func checkForm(t *testing.T, at string, v Value) {
	switch v.Type {
	case Text:
		assert.Greater(t, v.Most, 0.0, at)
	case Whole, Number:
		assert.Less(t, v.Least, v.Most, at)
	case Choice, Of:
		assert.NotEmpty(t, v.OneOf, at)
	case ID:
		assert.Len(t, v.OneOf, 1, at)
	case Object:
		assert.NotEmpty(t, v.Parts, at)
	case List:
		assert.Len(t, v.Parts, 1, at)
		assert.Greater(t, v.Most, 0.0, at)
	case Bool, Instant, Day, Group, Opaque:
	default:
		t.Errorf("%s has the unknown type %q", at, v.Type)
	}
	if v.Type == ID || v.Type == Of {
		for _, kind := range v.OneOf {
			_, ok := kindNamed(kind)
			assert.True(t, ok, "%s: %s", at, kind)
		}
	}
	for _, p := range v.Parts {
		checkForm(t, at+"."+p.Name, p.Value)
	}
}

// What the design's "Doors and locks" says of roles, row by row.
func TestMayWrite(t *testing.T) {
	none, adults, all := []Role{Keeper}, []Role{Keeper, Collector}, []Role{Keeper, Collector, Child}
	rows := []struct {
		kind, field string
		want        []Role
	}{
		{"member", "name", none}, {"member", "role", none}, {"member", "deleted", none}, {"member", "born", none}, {"member", "licences/" + someID, none}, {"household", "staleDays", none}, {"member", "from-later", none},
		{"device", "name", all}, {"device", "member", all}, {"device", "from-later", none},
		{"shore", "basis", adults}, {"shore", "name", adults}, {"shore", "from-later", adults},
		{"outing", "party/" + someID, adults}, {"outing", "ashoreCall", adults}, {"outing", "heads/" + someID, adults},
		{"find", "taxon", all}, {"find", "photos/" + strings.Repeat("a", 64), all}, {"find", "putBack", all}, {"find", "from-later", all},
		{"find", "deleted", all}, {"find", "identified/" + someID, adults},
		{"ruleset", "document", adults}, {"ruleset", "shores/" + someID, adults}, {"find", "share", all}, {"find", "gear", all},
		{"specimen", "taxon", adults}, {"tank", "name", adults}, {"system", "protocol", adults},
		{"reading", "salinity", all}, {"reading", "sample", all},
		{"event", "checked", all}, {"event", "sign", all}, {"event", "fed", all}, {"event", "died", all},
		{"event", "confirmed", adults}, {"event", "cleared", adults}, {"event", "graduated", adults}, {"event", "settled", adults},
		{"event", "joined", adults}, {"event", "moved", adults}, {"event", "treated", adults}, {"event", "deleted", adults}, {"event", "from-later", adults},
		{"event", "overruled", none},
		{"kind-from-later", "name", adults},
	}
	for _, row := range rows {
		for _, role := range append(Roles(), "", "owner") {
			assert.Equal(t, slices.Contains(row.want, role), MayWrite(role, row.kind, row.field), "%q writes %s of %s", role, row.field, row.kind)
		}
	}
	// Everywhere: a role may what the next may, and a guest nothing.
	for _, k := range Kinds() {
		for _, f := range k.Fields {
			roles := Roles()
			for i := 1; i < len(roles); i++ {
				assert.False(t, MayWrite(roles[i], k.Name, f.Name) && !MayWrite(roles[i-1], k.Name, f.Name), "%s.%s", k.Name, f.Name)
			}
			assert.False(t, MayWrite(Guest, k.Name, f.Name), "%s.%s", k.Name, f.Name)
		}
	}
}

func TestMaySee(t *testing.T) {
	private := map[string]bool{"member.contact": true, "member.born": true, "member.licences/*": true, "member.rights/*": true, "member.consents/*": true, "outing.ashoreCall": true}
	found := 0
	for _, k := range Kinds() {
		for _, f := range k.Fields {
			hidden := private[k.Name+"."+f.Name]
			if hidden {
				found++
			}
			for _, role := range Roles() {
				want := !hidden || role == Keeper || role == Collector
				assert.Equal(t, want, MaySee(role, k.Name, f.Name), "%s sees %s.%s", role, k.Name, f.Name)
			}
			assert.False(t, MaySee("owner", k.Name, f.Name))
		}
	}
	assert.Equal(t, len(private), found)
	assert.False(t, MaySee(Child, "find", "from-later"), "what is not known may be an address")
	assert.True(t, MaySee(Collector, "kind-from-later", "x"))
	assert.False(t, MaySee(Guest, "kind-from-later", "x"))
}

// The app's shores are adopted as they are: same fields, same pieces.
func TestShoreIsThatOfTheApp(t *testing.T) {
	source, err := os.ReadFile("../../pwa/app/data/shore-record.js")
	require.NoError(t, err)
	names := func(after string) []string {
		_, rest, ok := strings.Cut(string(source), after+"[")
		require.True(t, ok, "%s is not in shore-record.js", after)
		rest, _, ok = strings.Cut(rest, "]")
		require.True(t, ok)
		var list []string
		for _, name := range strings.Split(rest, ",") {
			list = append(list, strings.Trim(name, " '\n"))
		}
		slices.Sort(list)
		return list
	}
	parts := func(f *Field) (list []string) {
		for _, p := range f.Parts {
			list = append(list, p.Name)
		}
		slices.Sort(list)
		return list
	}
	shore, _ := kindNamed("shore")
	assert.Equal(t, names("basis: "), parts(shore.byName["basis"]))
	assert.Equal(t, names("place: "), parts(shore.byName["place"]))
	var alone []string
	for _, f := range shore.Fields {
		if f.Name != "basis" && f.Name != "place" { // which the app has taken apart
			alone = append(alone, f.Name)
		}
	}
	slices.Sort(alone)
	assert.Equal(t, names("alone = "), alone)
}
