package settle

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
)

// stage is a system in one of the states of the table: "rack" with rosa and tom in "jar",
// "jar2" beside it, waiting 5 of 14 days, on 2026-03-10 at 10:00; the state is reached by
// what happened before.
func stage(t *testing.T, state string) *history {
	lines := []string{"rules table", "tank jar2 quarantine", "tank spare quarantine", "amount rosa 6 count", "tank vat holding",
		"01-02 12:00 joined jar2 rack", "> rack"}
	tank, quiet := "jar", "03-02..03-09"
	switch state {
	case "paused":
		quiet = "03-02..03-05"
	case "stopped":
		lines = append(lines, "03-08 10:00 sign rack notify #stop")
	case "done":
		lines = append(lines, "wait 5")
	case "no quarantine":
		// The same life in a tank for holding; rack is then the system of holding tanks.
		lines = append(lines, "tank jar holding", "tank jar2 holding", "tank spare holding")
	}
	lines = append(lines,
		"03-01 09:00 arrived rosa "+tank, "03-01 09:00 arrived tom "+tank,
		"03-01 09:00 arrived ann cup", "03-01 09:00 arrived bob vat",
		quiet+" 12:00 checked rack", "now 03-11 01:00")
	return readHistory(t, state, lines)
}

// acts are the rows of the table as events of 10 March, 10:00.
var acts = map[string]struct {
	what  string
	parts fields
}{
	"arrived, a newcomer":                    {"arrived", fields{"of": "specimen/new", "tank": "jar"}},
	"arrived, in another system":             {"arrived", fields{"of": "specimen/new", "tank": "cup"}},
	"checked, no signs, by an adult":         {"checked", fields{"of": "system/rack", "signs": []string{}}},
	"checked, no signs, by a child":          {"checked", fields{"of": "system/rack", "signs": []string{}, "by": "kid"}},
	"checked, no signs, by nobody named":     {"checked", fields{"of": "system/rack", "signs": []string{}, "by": nil}},
	"checked, with signs":                    {"checked", fields{"of": "tank/jar", "signs": []string{"spots"}}},
	"sign, harmless":                         {"sign", fields{"of": "specimen/rosa", "grade": "harmless", "what": "amphipod"}},
	"sign, watch":                            {"sign", fields{"of": "specimen/rosa", "grade": "watch", "what": "pale"}},
	"sign, pest":                             {"sign", fields{"of": "tank/jar", "grade": "pest", "what": "glass anemone"}},
	"sign, unsure":                           {"sign", fields{"of": "system/rack", "grade": "unsure", "what": "spots"}},
	"sign, notify":                           {"sign", fields{"of": "specimen/rosa", "grade": "notify", "what": "it must be told"}},
	"confirmed, a day nobody checked":        {"confirmed", fields{"of": "system/rack", "day": "2026-03-10"}},
	"settled, no such sign":                  {"settled", fields{"of": "system/rack", "sign": "nothing", "how": "gone"}},
	"settled, the sign that stopped it":      {"settled", fields{"of": "system/rack", "sign": "stop", "how": "the authority says so"}},
	"dipped, planned":                        {"dipped", fields{"of": "specimen/rosa", "planned": true, "how": "fresh"}},
	"dipped, unplanned":                      {"dipped", fields{"of": "specimen/rosa", "planned": false, "how": "fresh"}},
	"treated, planned":                       {"treated", fields{"of": "tank/jar", "planned": true, "how": "as written"}},
	"treated, unplanned":                     {"treated", fields{"of": "tank/jar", "planned": false, "how": "in haste"}},
	"moved, in from another system":          {"moved", fields{"of": "specimen/ann", "tank": "jar"}},
	"moved, within the system":               {"moved", fields{"of": "specimen/rosa", "tank": "jar2"}},
	"moved, out of it":                       {"moved", fields{"of": "specimen/rosa", "tank": "pot"}},
	"merged, in the same water":              {"merged", fields{"of": "specimen/rosa", "into": "tom"}},
	"merged, from another system":            {"merged", fields{"of": "specimen/ann", "into": "tom"}},
	"toppedUp":                               {"toppedUp", fields{"of": "tank/jar", "litres": nil}},
	"acclimated":                             {"acclimated", fields{"of": "tank/jar", "specimens": []string{}, "ended": nil}},
	"parted, in the same water":              {"parted", fields{"of": "specimen/rosa", "into": "bud"}},
	"joined, by a tank that holds something": {"joined", fields{"of": "tank/vat", "system": "rack"}},
	"joined, by a tank that never did":       {"joined", fields{"of": "tank/spare", "system": "rack"}},
	"left, by one of its tanks":              {"left", fields{"of": "tank/jar2", "system": "rack"}},
	"waterChanged, clean":                    {"waterChanged", fields{"of": "system/rack", "litres": 2, "from": "clean"}},
	"waterChanged, stored":                   {"waterChanged", fields{"of": "tank/jar", "litres": 2, "from": "stored"}},
	"waterChanged, shore":                    {"waterChanged", fields{"of": "tank/jar", "litres": 2, "from": "shore"}},
	"waterChanged, another system":           {"waterChanged", fields{"of": "tank/jar", "litres": 0, "from": "system", "system": "bench"}},
	"waterChanged, a system nobody named":    {"waterChanged", fields{"of": "tank/jar", "litres": 2, "from": "system"}},
	"waterChanged, its own system":           {"waterChanged", fields{"of": "tank/jar", "litres": 2, "from": "system", "system": "rack"}},
	"waterChanged, given to another system":  {"waterChanged", fields{"of": "tank/cup", "litres": 2, "from": "system", "system": "rack"}},
	"trimmed":                                {"trimmed", fields{"of": "specimen/rosa"}},
	"fed":                                    {"fed", fields{"of": "tank/jar"}},
	"died, explained":                        {"died", fields{"of": "specimen/tom", "explained": "dropped"}},
	"died, unexplained":                      {"died", fields{"of": "specimen/tom", "explained": nil}},
	"gone, given away":                       {"gone", fields{"of": "specimen/tom", "how": "given away"}},
	"cleared, one of its residents":          {"cleared", fields{"of": "specimen/tom", "tank": "show"}},
	"graduated":                              {"graduated", fields{"of": "system/rack"}},
	"overruled, a clearance":                 {"overruled", fields{"of": "system/rack", "what": "clearance", "reason": "we go away"}},
}

func (h *history) rack(t *testing.T) SystemState {
	for _, s := range h.derive(t).Systems {
		if s.Key.ID == "rack" {
			return s
		}
	}
	require.Fail(t, "no rack")
	return SystemState{}
}

// effect names what an event did, by the system without it and with it.
func effect(was, is SystemState) string {
	restarted := func(s SystemState) bool {
		for _, m := range s.Days {
			if m.Kind == Restarted && m.Day.String() == "2026-03-10" {
				return true
			}
		}
		return false
	}
	switch {
	case is.State == Stopped && was.State != Stopped:
		return "stops"
	case restarted(is):
		return "restarts"
	case (is.State == None || is.State == Empty) && was.State != is.State && was.State != Stopped:
		return "ends"
	case is.State == Paused && len(is.Open) > len(was.Open):
		return "pauses"
	case len(is.Open) > len(was.Open):
		return "noted"
	case is.Quiet > was.Quiet:
		return "counts"
	case was.State == Paused && is.State == Waiting && is.Quiet == was.Quiet:
		return "resumes"
	case was.State == Stopped && is.State == Stopped, // whatever else, everything stands still
		was.State == is.State && was.Quiet == is.Quiet && was.Wait == is.Wait:
		return "none"
	}
	return "from " + was.State + " to " + is.State
}

// The table of events by states says what each does to the clock.
func TestEffects(t *testing.T) {
	file, err := os.Open("../../testdata/settle/effects.csv")
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+len(acts), "a row of the table has no event here, or the other way about")
	states := map[string]string{"waiting": Waiting, "paused": Paused, "stopped": Stopped, "done": Done, "no quarantine": None}
	kinds := map[string]bool{}
	for column, state := range rows[0] {
		if column == 0 {
			continue
		}
		base := stage(t, state)
		was := base.rack(t)
		require.Equal(t, states[state], was.State, "the stage is not %s", state)
		for _, row := range rows[1:] {
			act, ok := acts[row[0]]
			require.True(t, ok, "no event for the row %q", row[0])
			kinds[act.what] = true
			h := stage(t, state)
			parts := fields{"by": "mum"}
			for name, value := range act.parts {
				parts[name] = value
			}
			parts["at"] = time.Date(2026, 3, 10, 10, 0, 0, 0, h.zone).UTC().Format(time.RFC3339)
			checkForm(t, act.what, parts)
			h.records.Specimens = append(h.records.Specimens, json.RawMessage(`{"id":"new","group":"snails"}`), json.RawMessage(`{"id":"bud","group":"snails"}`))
			h.add(t, "act", act.what, parts)
			assert.Equal(t, row[column], effect(was, h.rack(t)), "%s × %s", row[0], state)
		}
	}
	events := 0
	for _, kind := range book.Kinds() {
		for _, f := range kind.Fields {
			if kind.Name == "event" && f.Type == book.Object && f.Element == "" {
				events++
				assert.True(t, kinds[f.Name], "the table says nothing of the book's event %q", f.Name)
			}
		}
	}
	assert.Len(t, kinds, events)
	for what := range rank {
		assert.True(t, kinds[what] || what == named, "the table says nothing of the event %q", what)
	}
}
