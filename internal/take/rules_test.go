package take

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/zone"
)

const rulesDir = "../../testdata/rules"

// models reads the test models of public rules by the number and name of their file.
func models(t testing.TB) map[string]*Set {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(rulesDir, "*.json"))
	require.NoError(t, err)
	out := map[string]*Set{}
	for _, name := range files {
		base := strings.TrimSuffix(filepath.Base(name), ".json")
		if strings.HasSuffix(base, ".cases") {
			continue
		}
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		set, err := Decode(data)
		require.NoError(t, err, name)
		assert.True(t, strings.HasPrefix(set.Note, "Test model of a public rule, not current law."), name)
		out[base] = set
	}
	require.Len(t, out, 24)
	return out
}

// TestExportedFilesImportToTheSame: a file written from a set reads to that set.
func TestExportedFilesImportToTheSame(t *testing.T) {
	for name, set := range models(t) {
		file, err := Encode(set)
		require.NoError(t, err)
		again, err := Decode(file)
		require.NoError(t, err, name)
		assert.Equal(t, set, again, name)
	}
}

// caseFile is what was written down from a rule's text, before there was anything to read it:
// finds that it permits, those at its boundary, and those it refuses.
type caseFile struct {
	Base  ruleCase   `json:"base"`
	Cases []ruleCase `json:"cases"`
}

// ruleCase is a find and what stands around it; what it leaves out, the base of its file says.
type ruleCase struct {
	Name    string           `json:"name"`
	Find    map[string]any   `json:"find"`
	Before  []map[string]any `json:"before"` // what was taken, each differing so from the base's find
	Shore   map[string]any   `json:"shore"`
	Party   []Person         `json:"party"`
	Purpose string           `json:"purpose"`
	Answers map[string]*bool `json:"answers"`
	Tide    *[]time.Time     `json:"tide"`
	Want    Grade            `json:"want"`
	What    string           `json:"what"` // which part of a rule gives that grade
	Fact    string           `json:"fact"` // which fact is missing
	Says    string           `json:"says"` // in the text of something that spoke
	PutBack string           `json:"putBack"`
	Duty    string           `json:"duty"`
	raw     map[string]json.RawMessage
}

// UnmarshalText reads the word of a grade, as the cases have it.
func (g *Grade) UnmarshalText(text []byte) error {
	for *g = Within; *g <= Forbidden; *g++ {
		if g.String() == string(text) {
			return nil
		}
	}
	return fmt.Errorf("%q is no grade", text)
}

// over lays one object of JSON over another.
func over(base, top map[string]any) map[string]any {
	out := maps.Clone(base)
	if out == nil {
		out = map[string]any{}
	}
	maps.Copy(out, top)
	return out
}

func findOf(t testing.TB, fields map[string]any, id string) Find {
	t.Helper()
	fields = over(map[string]any{"shore": "shore", "by": "ada", "id": id}, fields)
	data, err := json.Marshal(fields)
	require.NoError(t, err)
	var f Find
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&f), string(data))
	return f
}

// question makes the question of a case.
func (c *ruleCase) question(t testing.TB, base *ruleCase) (*Question, *Ledger) {
	t.Helper()
	q := &Question{Find: findOf(t, over(base.Find, c.Find), ""), Purpose: "home", Party: base.Party, Answers: map[string]bool{}}
	if c.Purpose != "" {
		q.Purpose = c.Purpose
	}
	if c.Party != nil {
		q.Party = c.Party
	}
	if q.Party == nil {
		q.Party = []Person{{ID: "ada", Name: "Ada", As: "adult", Does: "gathers"}}
	}
	for _, answers := range []map[string]*bool{base.Answers, c.Answers} {
		for id, answer := range answers {
			delete(q.Answers, "set/"+id)
			if answer != nil {
				q.Answers["set/"+id] = *answer
			}
		}
	}
	shore := over(base.Shore, c.Shore)
	q.Shore = &Spot{LatDeg: shore["lat"].(float64), LonEastDeg: shore["lon"].(float64), WithinM: 1000}
	if spot := q.Find.spot(); spot != nil && c.Shore == nil { // a case that is elsewhere is on a shore there
		q.Shore.LatDeg, q.Shore.LonEastDeg = spot.LatDeg, spot.LonEastDeg
	}
	var err error
	q.Zone, err = zone.Load(shore["zone"].(string))
	require.NoError(t, err)
	q.Levels = map[string]float64{}
	if levels, ok := shore["levels"].(map[string]any); ok {
		for name, m := range levels {
			q.Levels[name] = m.(float64)
		}
	}
	tide := base.Tide
	if _, given := c.raw["tide"]; given {
		tide = c.Tide
	}
	if tide != nil {
		q.TideAt = &[2]time.Time{(*tide)[0], (*tide)[1]}
	}
	ledger := NewLedger()
	for i, f := range c.Before {
		ledger.Put(findOf(t, over(base.Find, f), fmt.Sprintf("before%d", i+1)))
	}
	return q, ledger
}

// UnmarshalJSON reads a case strictly, and remembers which keys it has.
func (c *ruleCase) UnmarshalJSON(data []byte) error {
	type plain ruleCase
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode((*plain)(c)); err != nil {
		return err
	}
	return json.Unmarshal(data, &c.raw)
}

// cases reads the cases of one model.
func cases(t testing.TB, name string) caseFile {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(rulesDir, name+".cases.json"))
	require.NoError(t, err)
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var file caseFile
	require.NoError(t, d.Decode(&file), name)
	return file
}

// checkedYesterday holds a set that somebody checked the day before the find.
func checkedYesterday(set *Set, q *Question) *Held {
	return &Held{ID: "set", Set: set, Shores: []string{"shore"},
		Checked: &Checked{On: moment(q.Find.At, q.Zone).day.plus(-1).String(), By: "Ada"}}
}

// TestModelsOfPublicRules holds the evaluator to the cases beside each model.
func TestModelsOfPublicRules(t *testing.T) {
	count := map[Grade]int{}
	for name, set := range models(t) {
		file := cases(t, name)
		require.GreaterOrEqual(t, len(file.Cases), 5, name)
		grades := map[Grade]bool{}
		for _, c := range file.Cases {
			count[c.Want]++
			grades[c.Want] = true
			t.Run(name+"/"+c.Name, func(t *testing.T) {
				q, ledger := c.question(t, &file.Base)
				v, err := Evaluate([]*Held{checkedYesterday(set, q)}, ledger, q)
				require.NoError(t, err)
				c.check(t, &v)
			})
		}
		assert.True(t, grades[Within], "%s: nothing is permitted", name)
		assert.True(t, grades[Forbidden] || grades[Over], "%s: nothing is refused", name)
	}
	total := 0
	for _, n := range count {
		total += n
	}
	assert.GreaterOrEqual(t, total, 250)
	assert.GreaterOrEqual(t, count[AtLimit], 25)
	assert.GreaterOrEqual(t, count[Unchecked], 30)
}

func (c *ruleCase) check(t *testing.T, v *Verdict) {
	t.Helper()
	all, _ := json.MarshalIndent(v, "", " ")
	require.Equal(t, c.Want, v.Verdict, string(all))
	if c.What != "" {
		assert.True(t, slices.ContainsFunc(v.Spoke, func(s Spoke) bool { return s.What == c.What && s.Verdict == c.Want }), "no %s spoke: %s", c.What, all)
	}
	if c.Fact != "" {
		assert.True(t, slices.ContainsFunc(v.Missing, func(f Fact) bool { return f.Fact == c.Fact }), "%s is not missing: %s", c.Fact, all)
	} else if c.Want == Within {
		assert.Empty(t, v.Missing)
	}
	if c.Says != "" {
		assert.Contains(t, string(all), c.Says)
	}
	if c.PutBack != "" {
		assert.Equal(t, c.PutBack, v.PutBack)
	}
	if c.Duty != "" {
		assert.True(t, slices.ContainsFunc(v.Duties, func(d Told) bool { return d.Text == c.Duty }), "%s", all)
	}
}
