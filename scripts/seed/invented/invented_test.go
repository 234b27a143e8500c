package invented

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
	"wrackbook/internal/core"
	"wrackbook/internal/fault"
	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

var until = time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)

// The book has nothing doubtful in it, and every kind of thing that a lived one has.
func TestHouseholdIsInOrder(t *testing.T) {
	made, err := Make(Options{Finds: 400, Seed: 7, Until: until})
	require.NoError(t, err)
	dir := filepath.Join(t.TempDir(), "household")
	require.NoError(t, made.Save(dir))
	s, err := store.Open(dir, store.Options{})
	require.NoError(t, err)
	defer s.Close()
	report, err := s.Check()
	require.NoError(t, err, "%v", report.Problems)
	assert.EqualValues(t, len(made.Changes), report.Head)
	assert.Equal(t, len(made.Photos), report.Photos)

	fields, counts := map[string]bool{}, map[string]int{}
	records := map[string]*journal.Record{}
	deleted := 0
	for _, kind := range book.Kinds() {
		for after := ""; ; {
			list, err := s.Records(kind.Name, after, 0)
			require.NoError(t, err)
			if len(list) == 0 {
				break
			}
			for _, r := range list {
				after = r.Key().ID
				if !r.Exists() {
					continue // its one change was refused
				}
				assert.Empty(t, book.Check(kind.Name, r.Fields()), "%s %s", kind.Name, after)
				records[kind.Name+"/"+after] = r
				counts[kind.Name]++
				if r.Deleted() {
					deleted++
				}
				for name := range r.All() {
					fields[kind.Name+"."+name] = true
				}
			}
		}
	}
	assert.Equal(t, 400, counts["find"])
	for kind, least := range map[string]int{"household": 1, "member": 4, "device": 4, "shore": 3, "ruleset": 3, "outing": 20, "specimen": 10, "tank": 25, "system": 2, "reading": 100, "event": 300} {
		assert.GreaterOrEqual(t, counts[kind], least, kind)
	}
	for _, name := range []string{"find.amount", "find.mass", "find.size", "find.putBack", "find.position", "find.candidates", "ruleset.checked", "member.born", "household.staleDays", "outing.planned", "outing.ashore", "shore.marker",
		"event.cleared", "event.confirmed", "event.checked", "event.sign", "event.settled", "event.dipped", "event.died", "event.overruled", "event.waterChanged", "event.joined"} {
		assert.True(t, fields[name], name)
	}
	assert.Positive(t, deleted, "a find that was taken out again")

	refused, lost := 0, 0
	changes := map[string][]journal.Change{}
	for after, more := uint64(0), true; more; {
		page, err := s.Pull(s.Meta().Epoch, after, 0)
		require.NoError(t, err)
		for _, raw := range page.Changes {
			c, err := journal.DecodeChange(raw)
			require.NoError(t, err)
			if c.Receipt.Refused != "" {
				refused++
				assert.Equal(t, "event", c.Kind)
				assert.Contains(t, c.Fields, "cleared")
			}
			changes[c.Kind+"/"+c.Record] = append(changes[c.Kind+"/"+c.Record], c)
		}
		after, more = page.Next, page.Next < page.Head
	}
	assert.Equal(t, 1, refused)
	for _, which := range []string{"shore.escape", "find.note"} {
		kind, field, _ := strings.Cut(which, ".")
		for name, list := range changes {
			if list[0].Kind != kind {
				continue
			}
			writers := map[string]bool{}
			for _, c := range list {
				if _, ok := c.Fields[field]; ok {
					reading, err := c.Stamp.Read()
					require.NoError(t, err)
					writers[reading.Device] = true
				}
			}
			if len(writers) > 1 && records[name] != nil {
				lost++
			}
		}
	}
	assert.GreaterOrEqual(t, lost, 2, "values that two wrote, neither knowing of the other")
}

// The rules on file say every verdict of what was taken, in words of their own.
func TestRulesComeUp(t *testing.T) {
	made, err := Make(Options{Finds: 400, Seed: 7, Until: until})
	require.NoError(t, err)
	var sets, finds, members []map[string]any
	places := map[string]map[string]any{}
	for key, fields := range standing(made) {
		kind, id, _ := strings.Cut(key, "/")
		switch kind {
		case "ruleset":
			shores, elsewhere := []string{}, []string{}
			for name, lies := range fields {
				if shore, is := strings.CutPrefix(name, "shores/"); is && string(lies) == "true" {
					shores = append(shores, shore)
				} else if is {
					elsewhere = append(elsewhere, shore)
				}
			}
			sets = append(sets, map[string]any{"id": id, "document": fields["document"], "checked": fields["checked"], "shores": shores, "elsewhere": elsewhere})
		case "shore":
			var at struct{ Lat, Lon float64 }
			require.NoError(t, json.Unmarshal(fields["place"], &at))
			places[id] = map[string]any{"zone": "America/New_York", "lat": at.Lat, "lon": at.Lon}
		case "find":
			finds = append(finds, withID(id, fields))
		case "member":
			licences := []json.RawMessage{}
			for name, value := range fields {
				if strings.HasPrefix(name, "licences/") {
					licences = append(licences, value)
				}
			}
			members = append(members, map[string]any{"id": id, "as": fields["age"], "born": fields["born"], "licences": licences, "does": "gathers"})
		}
	}
	require.Len(t, sets, 3)
	require.Len(t, finds, 400)
	c := core.New()
	data, err := json.Marshal(map[string]any{"sets": sets, "finds": finds})
	require.NoError(t, err)
	require.NoError(t, c.OpenLedger(data))
	answers := map[string]bool{}
	for _, set := range sets {
		answers[set["id"].(string)+"/knotted weed/cut"], answers[set["id"].(string)+"/holdfast/cut"] = true, true
	}
	verdicts, house := map[string]int{}, map[string]int{}
	for _, find := range finds {
		ask := map[string]any{}
		for _, name := range []string{"id", "at", "outing", "shore", "by", "taxon", "group", "state", "amount", "mass", "size", "fate", "putBack", "container", "position", "use", "gear", "substrate", "share"} {
			if value, there := find[name]; there {
				ask[name] = value
			}
		}
		if string(find["fate"].(json.RawMessage)) != `"taken"` {
			continue
		}
		var shore string
		require.NoError(t, json.Unmarshal(find["shore"].(json.RawMessage), &shore))
		require.Contains(t, places, shore)
		request, err := json.Marshal(map[string]any{"held": true, "find": ask, "party": members, "purpose": "home", "shore": places[shore], "answers": answers})
		require.NoError(t, err)
		answer, err := c.Call("verdict", request, until)
		require.NoError(t, err)
		var v struct{ Verdict, Household string }
		require.NoError(t, json.Unmarshal(answer, &v))
		verdicts[v.Verdict]++
		house[v.Household]++
	}
	t.Log(verdicts, house)
	for _, word := range []string{"within", "atLimit", "unchecked", "over", "forbidden"} {
		assert.Positive(t, verdicts[word], word)
	}
	assert.Positive(t, house["over"], "more than a tenth of a patch")
	assert.Positive(t, house["within"])
}

// What one record names in another is there: no find without its outing, no event about a
// specimen that is none.
func TestReferencesLead(t *testing.T) {
	made, err := Make(Options{Finds: 150, Seed: 3, Until: until})
	require.NoError(t, err)
	there, named := map[string]bool{}, 0
	for _, w := range made.Changes {
		there[w.Change.Record] = true
	}
	for _, w := range made.Changes {
		for name, value := range w.Change.Fields {
			for _, id := range uuidsIn(string(value)) {
				named++
				assert.True(t, there[id], "%s.%s names %s", w.Change.Kind, name, id)
			}
		}
	}
	assert.Greater(t, named, 1000)
}

func uuidsIn(text string) (ids []string) {
	for i := 0; i+36 <= len(text); i++ {
		if s := text[i : i+36]; s[8] == '-' && s[13] == '-' && s[18] == '-' && s[23] == '-' && !slices.Contains([]byte(s), '"') {
			ids = append(ids, s)
		}
	}
	return ids
}

// The same options make the same household, others another; many finds are many.
func TestHouseholdsBySeed(t *testing.T) {
	text := func(o Options) string {
		made, err := Make(o)
		require.NoError(t, err)
		var all []byte
		for _, w := range made.Changes {
			all = w.Change.Append(all)
		}
		for _, p := range made.Photos {
			all = append(all, p...)
		}
		return string(all)
	}
	one := text(Options{Finds: 100, Seed: 1, Until: until})
	assert.True(t, one == text(Options{Finds: 100, Seed: 1, Until: until}))
	assert.False(t, one == text(Options{Finds: 100, Seed: 2, Until: until}))
	for _, o := range []Options{{Finds: 1, Seed: 5, Until: until}, {Finds: 26, Seed: 5, Until: time.Date(2000, 2, 29, 13, 0, 0, 0, time.UTC)}, {Finds: 10_000, Seed: 9, Until: until}} {
		made, err := Make(o)
		require.NoError(t, err)
		finds := map[string]bool{}
		for _, w := range made.Changes {
			if w.Change.Kind == "find" {
				finds[w.Change.Record] = true
			}
			require.LessOrEqual(t, w.AtMS, o.Until.AddDate(0, 0, 1).UnixMilli())
		}
		assert.Len(t, finds, o.Finds)
		assert.LessOrEqual(t, len(made.Photos), maxPhotos)
	}
}

func TestWhatIsNotMade(t *testing.T) {
	for _, o := range []Options{{0, 1, until}, {-1, 1, until}, {MaxFinds + 1, 1, until}, {10, 1, time.Time{}}, {10, 1, until.AddDate(100, 0, 0)}} {
		_, err := Make(o)
		require.Error(t, err, "%+v", o)
		assert.Equal(t, fault.BadInput, fault.From(err).Code)
	}
	made, err := Make(Options{Finds: 1, Until: until})
	require.NoError(t, err)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "x"), nil, 0o600))
	err = made.Save(dir)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "not empty")
	require.Error(t, (&Household{}).Save(filepath.Join(dir, "y")))
}
