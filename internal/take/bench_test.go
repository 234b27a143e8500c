package take

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/book"
)

// fullBook is 50 rules in five sets and 10,000 finds of five years by four people on three
// shores, of all kinds of the starting list.
func fullBook() ([]*Held, []Find) {
	groups := book.Groups()
	pers := []string{"day", "tide", "possession", "year", "season", "outing", "days"}
	var sets []*Held
	for n := range 5 {
		rules := map[string]Rule{}
		for i := range 10 {
			r := Rule{Of: Subject{Groups: []string{groups[(n*10+i)%len(groups)].ID}}, Take: "allowed", Season: &Season{Open: []Span{{From: "02-01", To: "12-20"}}}}
			if i == 9 {
				r.Of = Subject{Rest: true}
			}
			for _, per := range []string{pers[(n+i)%len(pers)], pers[(n+2*i+1)%len(pers)]} {
				l := Limit{Most: 1e6, Unit: "count", Base: []string{"person", "party", "household"}[(n+i)%3], Per: per}
				if per == "days" {
					l.Days = 30
				}
				r.Limits = append(r.Limits, l)
			}
			rules[fmt.Sprint("rule ", i)] = r
		}
		h := lawOf(fmt.Sprint("set ", n), National, rules)
		if n > 0 {
			h.Set.Area = Area{Place: "the bay", Polygons: []Ring{{{10, 60}, {11, 60}, {11, 61}, {10.5, 61.5}, {10, 61}}}}
		}
		sets = append(sets, h)
	}
	taxa := book.Taxa()
	var finds []Find
	for i := range 10_000 {
		f := winkle(fmt.Sprintf("find %05d", i), float64(i%7))
		f.At = noon.Add(-time.Duration(i/8) * 35 * time.Hour)
		f.By, f.Taxon, f.Outing, f.Shore = fmt.Sprint("p", i%4), taxa[i*7%len(taxa)].Name, fmt.Sprint("outing ", i/8), []string{"bay", "cove", "far"}[i%3]
		finds = append(finds, f)
	}
	return sets, finds
}

func benchQuestion() *Question {
	f := winkle("", 1)
	f.By, f.Outing = "p1", "outing 0"
	return &Question{Find: f, Shore: &Spot{60.5, 10.5, 1000}, Zone: mustZone("Europe/Oslo"), Purpose: "home",
		TideAt: &[2]time.Time{noon.Add(-6 * time.Hour), noon.Add(6 * time.Hour)},
		Party:  []Person{{ID: "p0"}, {ID: "p1"}, {ID: "p2"}, {ID: "p3"}}}
}

// BenchmarkVerdict is held to 5 ms: 50 rules, 10,000 finds.
func BenchmarkVerdict(b *testing.B) {
	sets, finds := fullBook()
	l := NewLedger()
	for _, f := range finds {
		l.Put(f)
	}
	for b.Loop() {
		v, err := Evaluate(sets, l, benchQuestion())
		require.NoError(b, err)
		require.NotEmpty(b, v.Spoke)
	}
}

// BenchmarkVerdictOfAll is the worst: every rule is about every find, and all are held.
func BenchmarkVerdictOfAll(b *testing.B) {
	sets, finds := fullBook()
	for _, h := range sets {
		for name, r := range h.Set.Rules {
			r.Of = Subject{All: true}
			for i := range r.Limits {
				r.Limits[i].Per, r.Limits[i].Days = "possession", 0
			}
			h.Set.Rules[name] = r
		}
	}
	l := NewLedger()
	for _, f := range finds {
		l.Put(f)
	}
	for b.Loop() {
		_, err := Evaluate(sets, l, benchQuestion())
		require.NoError(b, err)
	}
}

// BenchmarkOpen is what it costs to open such a ledger from JSON.
func BenchmarkOpen(b *testing.B) {
	_, finds := fullBook()
	var records []json.RawMessage
	for _, f := range finds {
		data, _ := json.Marshal(f)
		records = append(records, data)
	}
	for b.Loop() {
		l := NewLedger()
		for _, r := range records {
			f, ok := ReadFind(r)
			require.True(b, ok)
			l.Put(f)
		}
		l.settle()
	}
}

func BenchmarkDecode(b *testing.B) {
	sets := models(b)
	file, err := Encode(sets["19-finistere"])
	require.NoError(b, err)
	b.SetBytes(int64(len(file)))
	for b.Loop() {
		_, err := Decode(file)
		require.NoError(b, err)
	}
}
