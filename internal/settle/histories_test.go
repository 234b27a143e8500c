package settle

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
)

// history is one of testdata/settle/histories.txt; its README has the notation.
type history struct {
	name    string
	zone    *time.Location
	records *Records
	now     time.Time
	expect  []string
}

type fields = map[string]any

func record(t testing.TB, id string, f fields) json.RawMessage {
	f["id"] = id
	data, err := json.Marshal(f)
	require.NoError(t, err)
	return data
}

// scene is what every history begins with.
func scene(t testing.TB) (map[string]fields, map[string]fields) {
	tanks := map[string]fields{"jar": {"use": "quarantine"}, "cup": {"use": "quarantine"}, "show": {"use": "display"},
		"tub": {"use": "holding"}, "pot": {"use": "quarantine"}}
	systems := map[string]fields{"rack": {"protocol": fields{"quietDays": 14, "dips": 0}},
		"bench": {"protocol": fields{"quietDays": 14, "dips": 0}}, "home": {}}
	return tanks, systems
}

func readHistories(t testing.TB) []*history {
	data, err := os.ReadFile("../../testdata/settle/histories.txt")
	require.NoError(t, err)
	var list []*history
	for _, text := range strings.Split("\n"+string(data), "\n= ")[1:] {
		name, body, _ := strings.Cut(text, "\n")
		list = append(list, readHistory(t, name, strings.Split(body, "\n")))
	}
	require.GreaterOrEqual(t, len(list), 120, "histories were lost")
	return list
}

func readHistory(t testing.TB, name string, lines []string) *history {
	h := &history{name: name, records: &Records{Zone: "Europe/London"}}
	tanks, systems := scene(t)
	specimens := map[string]fields{}
	specimen := func(id string) fields {
		if specimens[id] == nil {
			specimens[id] = fields{"taxon": "unsure", "group": "snails"}
		}
		return specimens[id]
	}
	var dated [][]string
	rules := 0
	for _, line := range lines {
		w := strings.Fields(line)
		if len(w) == 0 {
			continue
		}
		switch w[0] {
		case "rules":
			rules = len(w) - 1
		case "zone":
			h.records.Zone = w[1]
		case "wait":
			n, err := strconv.Atoi(w[1])
			require.NoError(t, err)
			systems["rack"]["protocol"].(fields)["quietDays"] = n
		case "dips":
			n, err := strconv.Atoi(w[1])
			require.NoError(t, err)
			systems["rack"]["protocol"].(fields)["dips"] = n
		case "tank":
			tanks[w[1]] = fields{"use": w[2]}
		case "system":
			systems[w[1]] = fields{"protocol": fields{"quietDays": 14, "dips": 0}}
		case "amount":
			n, err := strconv.ParseFloat(w[2], 64)
			require.NoError(t, err)
			specimen(w[1])["amount"] = fields{"value": n, "unit": w[3]}
		case "numbers":
			n, err := strconv.Atoi(w[2])
			require.NoError(t, err)
			h.records.Household = record(t, "home", fields{"handling/" + w[1]: fields{"days": n}})
		case "greens", "reds", "fish", "bivalves":
			specimen(w[1])["group"] = w[0]
			if len(w) > 2 {
				specimen(w[1])["base"] = w[2]
			}
		case "now", ">":
			if w[0] == ">" {
				h.expect = append(h.expect, strings.Join(w[1:], " "))
			} else {
				dated = append(dated, w)
			}
		default:
			dated = append(dated, w)
		}
	}
	require.Positive(t, rules, "%s names no rule", name)
	require.NotEmpty(t, h.expect, "%s expects nothing", name)
	zone, err := time.LoadLocation(h.records.Zone)
	require.NoError(t, err)
	h.zone = zone
	of := func(id string) string {
		switch {
		case tanks[id] != nil:
			return "tank/" + id
		case systems[id] != nil:
			return "system/" + id
		}
		specimen(id)
		return "specimen/" + id
	}
	at := func(day, clock string) time.Time {
		at, err := time.ParseInLocation("2006-01-02 15:04", "2026-"+day+" "+clock, zone)
		require.NoError(t, err, "%s: %s %s", name, day, clock)
		return at
	}
	for i, pair := range [][2]string{{"jar", "rack"}, {"cup", "bench"}, {"show", "home"}} {
		h.add(t, fmt.Sprint("scene", i), "joined", fields{"at": "2026-01-01T00:00:00Z", "of": "tank/" + pair[0], "system": pair[1]})
	}
	for n, w := range dated {
		if w[0] == "now" {
			h.now = at(w[1], w[2])
			continue
		}
		first, last, span := strings.Cut(w[0], "..")
		if !span {
			last = first
		}
		for day := at(first, w[1]); !day.After(at(last, w[1])); day = day.AddDate(0, 0, 1) {
			h.event(t, fmt.Sprintf("%03d-%s", n, day.Format("01-02")), day, w[2:], of, specimen)
		}
	}
	require.False(t, h.now.IsZero(), "%s has no now", name)
	for id, f := range tanks {
		h.records.Tanks = append(h.records.Tanks, record(t, id, f))
	}
	for id, f := range systems {
		h.records.Systems = append(h.records.Systems, record(t, id, f))
	}
	for id, f := range specimens {
		h.records.Specimens = append(h.records.Specimens, record(t, id, f))
	}
	h.records.Members = []json.RawMessage{record(t, "mum", fields{"age": "adult"}), record(t, "kid", fields{"age": "child"})}
	return h
}

func (h *history) add(t testing.TB, id, what string, parts fields) {
	h.records.Events = append(h.records.Events, record(t, id, fields{what: parts}))
}

// event adds an event from its words.
func (h *history) event(t testing.TB, id string, at time.Time, w []string, of func(string) string, specimen func(string) fields) {
	by := any("mum")
	if n := len(w); n > 2 && w[n-2] == "by" {
		by = w[n-1]
		if by == "nobody" {
			by = nil
		}
		w = w[:n-2]
	}
	if last := w[len(w)-1]; strings.HasPrefix(last, "#") {
		id, w = last[1:], w[:len(w)-1]
	}
	what := w[0]
	p := fields{"at": at.UTC().Format(time.RFC3339), "of": of(w[1]), "by": by}
	arg := func(i int) string {
		require.Greater(t, len(w), i, "%s: %v", h.name, w)
		return w[i]
	}
	switch what {
	case "arrived", "moved", "cleared":
		p["tank"] = arg(2)
	case "parted", "merged":
		specimen(arg(2))
		p["into"] = arg(2)
	case "joined", "left":
		p["system"] = arg(2)
	case "sign":
		p["grade"], p["what"] = arg(2), "seen"
	case "confirmed":
		p["day"] = "2026-" + arg(2)
	case "settled":
		p["sign"], p["how"] = arg(2), "looked into"
	case "dipped", "treated":
		require.Contains(t, []string{"planned", "unplanned"}, arg(2))
		p["planned"], p["how"] = arg(2) == "planned", "as noted"
	case "water":
		what = "waterChanged"
		p["litres"] = 1
		switch from := arg(2); from {
		case "clean", "stored", "shore", "system":
			p["from"] = from
		default:
			p["from"], p["system"] = "system", from
		}
	case "died":
		p["explained"] = nil
		if arg(2) == "explained" {
			p["explained"] = "eaten"
		}
		if len(w) > 4 {
			n, err := strconv.ParseFloat(w[3], 64)
			require.NoError(t, err)
			if w[4] == "%" {
				p["percent"] = n
			} else {
				p["amount"] = fields{"value": n, "unit": w[4]}
			}
		}
	case "gone":
		p["how"] = "given away"
	case "checked":
		p["signs"] = []string{}
		if len(w) > 2 && w[2] == "sees" {
			p["signs"] = []string{"spots"}
		}
		if len(w) > 2 && w[2] == "night" {
			p["night"] = true
		}
	case "overruled":
		p["what"], p["reason"] = arg(2), "decided"
	case "graduated", "trimmed", "fed":
	case "toppedUp":
		p["litres"] = nil
	case "identified":
		specimen(w[1])["find"] = "find of " + w[1]
		h.identify(t, "find of "+w[1], "identified/"+id, fields{"at": p["at"], "taxon": strings.Join(w[2:], " ")})
		return
	case "temp":
		c, err := strconv.ParseFloat(arg(2), 64)
		require.NoError(t, err)
		h.records.Readings = append(h.records.Readings, record(t, id, fields{"sample": fields{"at": p["at"], "of": p["of"]}, "temperatureC": c}))
		return
	default:
		require.Fail(t, "no such event", "%s: %v", h.name, w)
	}
	h.add(t, id, what, p)
	checkForm(t, what, p)
}

// identify adds a later identification to a find.
func (h *history) identify(t testing.TB, find, field string, named fields) {
	f := fields{field: named}
	for i, data := range h.records.Finds {
		var had fields
		require.NoError(t, json.Unmarshal(data, &had))
		if had["id"] == find {
			had[field] = named
			h.records.Finds[i] = record(t, find, had)
			return
		}
	}
	h.records.Finds = append(h.records.Finds, record(t, find, f))
}

// checkForm holds an event to the book, with ids in place of the names.
func checkForm(t testing.TB, what string, p fields) {
	const id = "0190a3f2-0000-7000-8000-000000000000"
	kind, _, _ := strings.Cut(p["of"].(string), "/")
	q := maps.Clone(p)
	q["of"] = kind + "/" + id
	for _, name := range []string{"by", "tank", "into", "system", "sign"} {
		if q[name] != nil {
			q[name] = id
		}
	}
	encoded, err := json.Marshal(q)
	require.NoError(t, err)
	require.Empty(t, book.Check("event", map[string]json.RawMessage{what: encoded}), "%s %v", what, p)
}

func (h *history) derive(t testing.TB) *Picture {
	b, err := Read(h.records)
	require.NoError(t, err)
	require.Empty(t, b.Unread, h.name)
	return Derive(b, h.now)
}

// told writes a picture in the notation of the histories, for the names that are asked.
func told(p *Picture, asked []string) []string {
	var out []string
	questions := false
	for _, line := range asked {
		name, _, _ := strings.Cut(line, " ")
		if name == "question" {
			questions = true
			continue
		}
		for _, s := range p.Systems {
			if s.Key.ID == name {
				out = append(out, name+" "+tellSystem(s))
			}
		}
		for _, s := range p.Specimens {
			if s.ID == name {
				out = append(out, name+" "+tellSpecimen(s))
			}
		}
	}
	var asks []string
	for _, s := range p.Systems {
		for _, q := range s.Questions {
			asks = append(asks, strings.Join(strings.Fields("question "+s.Key.ID+" "+q.Specimen+" "+strings.Join(q.Missing, " ")), " "))
		}
	}
	if questions && len(asks) == 0 {
		asks = []string{"question none"}
	}
	return append(out, asks...)
}

func tellSystem(s SystemState) string {
	letters := map[string]string{Restarted: "R", Quiet: "Q", Unwatched: "U", Paused: "P", Stopped: "S", Done: "D", Today: "T"}
	var runs []string
	for i := 0; i < len(s.Days); {
		n := 1
		for i+n < len(s.Days) && s.Days[i+n].Kind == s.Days[i].Kind {
			n++
		}
		run := letters[s.Days[i].Kind]
		if n > 1 {
			run = strconv.Itoa(n) + run
		}
		runs = append(runs, run)
		i += n
	}
	text := s.State
	if s.State != Empty && s.State != None && s.Wait > 0 {
		text += fmt.Sprintf(" %d/%d", s.Quiet, s.Wait)
	}
	if s.Ends != nil {
		text += "; ends " + s.Ends.String()[len("2026-"):]
	}
	switch {
	case len(runs) == 0 && s.State == Stopped:
		return "none; " + text
	case len(runs) == 0:
		return text
	}
	return strings.Join(runs, " ") + "; " + text
}

func tellSpecimen(s SpecimenState) string {
	word := "not"
	switch {
	case s.Gone != "":
		return "gone"
	case s.Cleared != nil && len(s.Missing) == 0:
		word = "cleared"
	case s.May:
		word = "may"
	}
	return strings.Join(append([]string{word}, s.Missing...), " ")
}

// Every history says what is expected of it, in any order of its events.
func TestHistories(t *testing.T) {
	for _, h := range readHistories(t) {
		t.Run(h.name, func(t *testing.T) {
			p := h.derive(t)
			require.Equal(t, h.expect, told(p, h.expect))
			want, err := json.Marshal(p)
			require.NoError(t, err)
			shuffle := rand.New(rand.NewSource(7))
			for range 5 {
				r := h.records
				for _, list := range [][]json.RawMessage{r.Events, r.Tanks, r.Systems, r.Specimens, r.Readings} {
					shuffle.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
				}
				got, err := json.Marshal(h.derive(t))
				require.NoError(t, err)
				require.JSONEq(t, string(want), string(got))
			}
		})
	}
}

// Every rule of the README has a history.
func TestEveryRuleHasAHistory(t *testing.T) {
	readme, err := os.ReadFile("../../testdata/settle/README.md")
	require.NoError(t, err)
	_, table, _ := strings.Cut(string(readme), "## Rules")
	table, _, _ = strings.Cut(table, "What the design leaves open")
	data, err := os.ReadFile("../../testdata/settle/histories.txt")
	require.NoError(t, err)
	used := map[string]bool{}
	for _, line := range strings.Split(string(data), "\n") {
		if rest, ok := strings.CutPrefix(line, "rules "); ok {
			for _, rule := range strings.Fields(rest) {
				used[rule] = true
			}
		}
	}
	var rules []string
	for _, line := range strings.Split(table, "\n") {
		if cells := strings.Split(line, "|"); len(cells) == 4 {
			if name := strings.TrimSpace(cells[1]); name != "name" && name != "---" {
				rules = append(rules, name)
			}
		}
	}
	require.Greater(t, len(rules), 20)
	for _, rule := range rules {
		assert.True(t, used[rule], "no history rests on the rule %q", rule)
	}
	for rule := range used {
		assert.True(t, slices.Contains(rules, rule), "a history rests on %q, which is no rule", rule)
	}
}
