package main

import (
	"context"
	"encoding/json"
	"fmt"
	"log"
	"time"

	"github.com/chromedp/chromedp"

	"wrackbook/internal/book"
	"wrackbook/internal/core"
)

// The shore and the day of every question on rules.
var (
	takeNow   = time.Date(2026, 6, 10, 10, 0, 0, 0, time.UTC)
	takeShore = map[string]any{"id": "bay", "lat": 60.5, "lon": 10.5, "zone": "Europe/Oslo"}
)

// takeQuestions are what the worker is asked about rules, by what the tables call them: of
// fifty rules in five sets and 10,000 finds of five years by four people, all of them held.
var takeQuestions = []struct {
	name, call string
	budget     float64 // in the worker, ms
	ledger     string  // common, or worst: every rule is about every find
	request    func() map[string]any
}{
	{"a verdict, 50 rules, 10,000 finds", "verdict", 30, "common", takeVerdict},
	{"a verdict, each rule about each find", "verdict", 30, "worst", takeVerdict},
	{"a day's rules and tallies", "onFile", 0, "common", func() map[string]any {
		return map[string]any{"held": true, "at": takeNow, "outing": "outing 0", "shore": takeShore, "purpose": "home", "party": takeParty}
	}},
	{"what shuts 366 windows of a year", "closed", 60, "common", func() map[string]any {
		var windows []map[string]any
		for day := range 366 {
			from := takeNow.Add(time.Duration(day) * 24 * time.Hour)
			windows = append(windows, map[string]any{"from": from, "to": from.Add(3 * time.Hour)})
		}
		return map[string]any{"held": true, "shore": takeShore, "purpose": "home", "party": takeParty, "windows": windows}
	}},
}

var takeParty = []map[string]any{{"id": "p0", "as": "adult"}, {"id": "p1", "as": "adult"}, {"id": "p2", "as": "child"}, {"id": "p3", "as": "child"}}

func takeVerdict() map[string]any {
	return map[string]any{"held": true, "shore": takeShore, "purpose": "home", "party": takeParty,
		"find": map[string]any{"at": takeNow, "by": "p1", "outing": "outing 0", "shore": "bay", "taxon": "Littorina littorea", "state": "living", "amount": map[string]any{"value": 1, "unit": "count"}}}
}

// takeLedger is what openLedger is given.
func takeLedger(which string) string {
	groups, taxa := book.Groups(), book.Taxa()
	pers := []string{"day", "outing", "possession", "year", "season", "days"}
	var sets, finds []map[string]any
	for n := range 5 {
		rules := map[string]any{}
		for i := range 10 {
			limits := []map[string]any{}
			for k := range 2 {
				l := map[string]any{"most": 1e6, "unit": "count", "base": []string{"person", "party", "household"}[(n+i)%3], "per": pers[(n+i*(k+1)+k)%len(pers)]}
				if which == "worst" {
					l["per"] = "possession"
				}
				if l["per"] == "days" {
					l["days"] = 30
				}
				limits = append(limits, l)
			}
			r := map[string]any{"of": map[string]any{"groups": []string{groups[(n*10+i)%len(groups)].ID}}, "take": "allowed", "limits": limits,
				"season": map[string]any{"open": []map[string]any{{"from": "02-01", "to": "12-20"}}}}
			if which == "worst" {
				r["of"] = map[string]any{"all": true}
			}
			rules[fmt.Sprint("rule ", i)] = r
		}
		if n == 0 {
			rules["by day"] = map[string]any{"of": map[string]any{"all": true}, "hours": map[string]any{"from": "sunrise", "to": "sunset"}}
		}
		sets = append(sets, map[string]any{"id": fmt.Sprint("set ", n), "shores": []string{"bay"}, "checked": map[string]any{"on": "2026-06-09", "by": "Ada"},
			"document": map[string]any{"form": 1, "name": "invented", "layer": "national", "authority": "the office", "ask": "at the quay", "source": "a notice", "sourceDate": "2026-01-01",
				"area": map[string]any{"place": "the bay", "everywhere": true}, "rules": rules}})
	}
	for i := range manyFinds {
		finds = append(finds, map[string]any{"id": fmt.Sprintf("find %05d", i), "at": takeNow.Add(-time.Duration(i/8) * 35 * time.Hour), "by": fmt.Sprint("p", i%4),
			"taxon": taxa[i*7%len(taxa)].Name, "outing": fmt.Sprint("outing ", i/8), "shore": []string{"bay", "cove", "ledge"}[i%3], "state": "living", "fate": "taken",
			"amount": map[string]any{"value": i % 7, "unit": "count"}})
	}
	data, err := json.Marshal(map[string]any{"sets": sets, "finds": finds})
	if err != nil {
		log.Fatal(err)
	}
	return string(data)
}

// takesNative times the questions natively, and a plain pass over the finds beside them.
func takesNative() map[string]float64 {
	fmt.Println("\nRules on file, native")
	var decoded struct {
		Finds []struct {
			By, Taxon string
			Amount    struct{ Value float64 }
		}
	}
	if err := json.Unmarshal([]byte(takeLedger("common")), &decoded); err != nil {
		log.Fatal(err)
	}
	plain := best(func() {
		sums := map[string]float64{}
		for i := range decoded.Finds {
			f := &decoded.Finds[i]
			sums[f.By+f.Taxon] += f.Amount.Value
		}
		sink += sums["p0"]
	})
	fmt.Printf("  %-44s %10.3f ms\n", "one sum over 10,000 finds, by person and kind", plain)
	times := map[string]float64{}
	for _, which := range []string{"common", "worst"} {
		c := core.New()
		if err := c.OpenLedger([]byte(takeLedger(which))); err != nil {
			log.Fatal(err)
		}
		for _, q := range takeQuestions {
			if q.ledger != which {
				continue
			}
			request, err := json.Marshal(q.request())
			if err != nil {
				log.Fatal(err)
			}
			times[q.name] = best(func() {
				answer, err := c.Call(q.call, request, takeNow)
				if err != nil {
					log.Fatal(err)
				}
				sink += float64(len(answer))
			})
			line := fmt.Sprintf("  %-44s %10.3f ms   %7.2f of that sum", q.name, times[q.name], times[q.name]/plain)
			if q.call == "verdict" {
				line += fmt.Sprintf("   budget 5 ms: %s", verdict(times[q.name], 5))
			}
			fmt.Println(line)
		}
	}
	return times
}

// takesIn times the questions in the worker that ctx has.
func takesIn(ctx context.Context, native map[string]float64) error {
	fmt.Println("\nRules on file, in the worker")
	for _, which := range []string{"common", "worst"} {
		var opened float64
		if err := chromedp.Run(ctx, evaluate(openLedger, &opened, takeLedger(which))); err != nil {
			return err
		}
		fmt.Printf("  %-44s %10.1f ms\n", "opened: 5 sets, 10,000 finds, "+which, opened)
		for _, q := range takeQuestions {
			if q.ledger != which {
				continue
			}
			request, err := json.Marshal(q.request())
			if err != nil {
				return err
			}
			var ms float64
			if err := chromedp.Run(ctx, evaluate(timeCall, &ms, q.call, string(request), takeNow.Format(time.RFC3339))); err != nil {
				return err
			}
			line := fmt.Sprintf("  %-44s %10.1f ms   %5.1f × native", q.name, ms, ms/native[q.name])
			if q.budget > 0 {
				line += fmt.Sprintf("   budget %g ms: %s", q.budget, verdict(ms, q.budget))
			}
			fmt.Println(line)
		}
	}
	return nil
}
