package invented

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
	"wrackbook/internal/core"
)

// standing is the fields of every record, by its key, as they were written last by who may.
func standing(made *Household) map[string]map[string]json.RawMessage {
	all := map[string]map[string]json.RawMessage{}
	for _, w := range made.Changes { // in the order in which they were written; the last stands
		key := w.Change.Kind + "/" + w.Change.Record
		for name, value := range w.Change.Fields {
			if !book.MayWrite(w.Role, w.Change.Kind, name) {
				continue
			}
			if all[key] == nil {
				all[key] = map[string]json.RawMessage{}
			}
			all[key][name] = value
		}
	}
	return all
}

// withID is a record as the core is given it.
func withID(id string, fields map[string]json.RawMessage) map[string]any {
	record := map[string]any{"id": id}
	for name, value := range fields {
		record[name] = value
	}
	return record
}

// onFile is what the clock is told, with the names of the tanks and systems by their refs.
func onFile(made *Household) (records map[string]any, names map[string]string) {
	records, names = map[string]any{}, map[string]string{}
	lists := map[string][]any{}
	for key, fields := range standing(made) {
		kind, id, _ := strings.Cut(key, "/")
		switch kind {
		case "household":
			records["household"] = withID(id, fields)
		case "member", "specimen", "find", "tank", "system", "reading", "event":
			lists[kind+"s"] = append(lists[kind+"s"], withID(id, fields))
		}
		if name, ok := fields["name"]; ok && (kind == "tank" || kind == "system" || kind == "specimen") {
			names[key] = strings.Trim(string(name), `"`)
		}
	}
	for name, list := range lists {
		records[name] = list
	}
	return records, names
}

// On the morning after the year that was lived the shelf shows every state of a quarantine, by
// the core's own reckoning, and the display nothing doubtful.
func TestShelfShowsEveryState(t *testing.T) {
	for _, o := range []Options{{Finds: 300, Seed: 1, Until: until}, {Finds: 120, Seed: 8, Until: time.Date(2027, 3, 20, 0, 0, 0, 0, time.UTC)}, {Finds: 1, Seed: 3, Until: time.Date(2026, 7, 4, 0, 0, 0, 0, time.UTC)}} {
		made, err := Make(o)
		require.NoError(t, err)
		records, names := onFile(made)
		request, err := json.Marshal(records)
		require.NoError(t, err)
		answer, err := core.New().Call("clock", request, o.Until.Add(14*time.Hour))
		require.NoError(t, err)
		var p struct {
			Systems []struct {
				Key, State  string
				Quiet       int
				Residents   []string
				Unconfirmed []string
				Questions   []any
			}
			Specimens []struct {
				ID, Gone, GoneTo string
				May              bool
				Missing          []string
				Left             *float64
			}
			Due []struct {
				What, System string
				Overdue      bool
			}
			Notes, Unread []any
		}
		require.NoError(t, json.Unmarshal(answer, &p))
		assert.Empty(t, p.Unread)
		assert.Empty(t, p.Notes)
		states, quiet := map[string]string{}, map[string]int{}
		for _, s := range p.Systems {
			states[names[s.Key]], quiet[names[s.Key]] = s.State, s.Quiet
			assert.Empty(t, s.Questions, names[s.Key])
			if names[s.Key] == "Jar 10" {
				assert.Len(t, s.Unconfirmed, 3)
			}
		}
		for jar, state := range map[string]string{"Jar 1": "waiting", "Jar 2": "waiting", "Jar 3": "waiting", "Jar 4": "done", "Jar 5": "done", "Jar 6": "paused", "Jar 7": "paused",
			"Jar 8": "waiting", "Jar 9": "waiting", "Jar 11": "none", "Jar 12": "stopped", "back room water": "waiting", "display water": "none", "the kelp corner": "none"} {
			assert.Equal(t, state, states[jar], jar)
		}
		for jar, days := range map[string]int{"Jar 1": 0, "Jar 2": 8, "Jar 3": 12, "back room water": 8} {
			assert.Equal(t, days, quiet[jar], jar)
		}
		may, left, handed := 0, 0, 0
		for _, s := range p.Specimens {
			if s.May {
				may++
			}
			if s.Left != nil {
				left++
			}
			if strings.Contains(s.GoneTo, "Okonjo") {
				handed++
			}
		}
		assert.Positive(t, may)
		assert.Equal(t, []int{1, 1}, []int{left, handed})
		due := map[string]bool{}
		for _, d := range p.Due {
			due[d.What] = true
		}
		for _, what := range []string{"ask", "sign", "check", "confirm", "search", "clear", "waterChange", "topUp", "trim"} {
			assert.True(t, due[what], what)
		}
	}
}
