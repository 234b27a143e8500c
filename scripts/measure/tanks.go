package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"time"

	"github.com/chromedp/chromedp"

	"wrackbook/internal/core"
)

// tanksBudget is what the picture of the tanks may take after a look was noted, ms.
const tanksBudget = 50

// clockRequest is what the app asks once the tanks are held.
const clockRequest = `{"held":true,"days":120}`

// yearOfTanks is what is on file of twenty quarantine jars with two lots each, looked at every
// day of a year and read every week: 7,340 events and 1,040 readings.
func yearOfTanks() (records string, end time.Time) {
	lists := map[string][]any{"members": {map[string]any{"id": "mum", "age": "adult"}}}
	put := func(list string, record map[string]any) { lists[list] = append(lists[list], record) }
	start := time.Date(2026, 1, 1, 9, 0, 0, 0, time.UTC)
	id := func(kind, a, b int) string { return fmt.Sprintf("0190a3f2-%04d-7000-8%03d-%012d", kind, a, b) }
	for jar := range 20 {
		tank := id(1, jar, 0)
		put("tanks", map[string]any{"id": tank, "name": fmt.Sprint("Jar ", jar), "use": "quarantine", "volumeL": 3})
		for lot := range 2 {
			put("specimens", map[string]any{"id": id(2, jar, lot), "taxon": "Ulva lactuca", "group": "greens", "amount": map[string]any{"value": 20, "unit": "g"}})
			put("events", map[string]any{"id": id(3, jar, lot), "arrived": map[string]any{"at": "2026-01-01T08:00:00Z", "of": "specimen/" + id(2, jar, lot), "by": "mum", "tank": tank}})
		}
		for day := range 365 {
			at := start.AddDate(0, 0, day).Format(time.RFC3339)
			put("events", map[string]any{"id": id(4, jar, day), "checked": map[string]any{"at": at, "of": "tank/" + tank, "by": "mum", "signs": []string{}}})
			if day%7 == 0 {
				put("readings", map[string]any{"id": id(5, jar, day), "sample": map[string]any{"at": at, "of": "tank/" + tank, "by": "mum"}, "temperatureC": 12.5,
					"salinity": map[string]any{"value": 34, "instrument": "refractometer", "scale": "ppt", "sampleC": nil}})
			}
		}
	}
	all := map[string]any{"zone": "Europe/London"}
	for name, list := range lists {
		all[name] = list
	}
	data, _ := json.Marshal(all) // plain maps always encode
	return string(data), start.AddDate(0, 0, 365)
}

// oneLook is the last look of one jar, noted once more.
const oneLook = `{"events":[{"id":"0190a3f2-0004-7000-8000-000000000364","checked":{"at":"2026-12-31T09:01:00Z","of":"tank/0190a3f2-0001-7000-8000-000000000000","by":"mum","signs":[]}}]}`

// timeTanks gives the milliseconds in which the core takes the tanks in, the least of eight in
// which it takes one look more and answers the clock anew, and the least of eight of a year of
// windows beside it.
const timeTanks = `(async (records, look, request, now, windows) => {
  const put = async (name, data) => { const answer = JSON.parse(await ask(name, data, 0, true)); if (answer) throw new Error(answer.error.message); };
  let start = performance.now();
  await put('openTanks', records);
  const opened = performance.now() - start;
  let least = Infinity, size = 0, beside = Infinity;
  for (let i = 0; i < 9; i++) {
    start = performance.now();
    await put('addToTanks', look);
    const text = await ask('clock', request, Number(now));
    const answer = JSON.parse(text);
    if (answer.error) throw new Error(answer.error.message);
    if (answer.systems.length !== 20 || answer.systems.some(({state}) => state !== 'done')) throw new Error('not twenty waits that are done');
    if (i) least = Math.min(least, performance.now() - start);
    size = text.length;
    start = performance.now();
    JSON.parse(await ask('windows', windows));
    if (i) beside = Math.min(beside, performance.now() - start);
  }
  return {opened, least, size, beside};
})`

// tanks measures the picture of the tanks, natively and in the worker.
func tanks(allocator context.Context, url, worker, build string) error {
	records, end := yearOfTanks()
	c := core.New()
	open := best(func() {
		if err := c.OpenTanks([]byte(records)); err != nil {
			panic(err)
		}
	})
	look := best(func() {
		if err := c.AddToTanks([]byte(oneLook)); err != nil {
			panic(err)
		}
		answer, err := c.Call("clock", []byte(clockRequest), end)
		if err != nil {
			panic(err)
		}
		sink += float64(len(answer))
	})
	ctx, cancel := chromedp.NewContext(allocator)
	defer cancel()
	ctx, cancelTime := context.WithTimeout(ctx, time.Minute)
	defer cancelTime()
	var ready float64
	var in struct{ Opened, Least, Size, Beside float64 }
	if err := chromedp.Run(ctx,
		chromedp.Navigate(url+"/api/health"),
		evaluate(startWorker, &ready, "/"+worker, build),
		evaluate(timeTanks, &in, records, oneLook, clockRequest, strconv.FormatInt(end.UnixMilli(), 10), windows)); err != nil {
		return err
	}
	fmt.Printf("\nThe tanks, a year of twenty jars (%d kB)\n", len(records)/1000)
	table(row{"taken in, native", open, 0, 0}, row{"one look more and the clock, native", look, 0, 0})
	fmt.Printf("  %-44s %10.1f ms   %5.1f × native\n", "taken in, in the worker", in.Opened, in.Opened/open)
	fmt.Printf("  %-44s %10.1f ms   %5.1f × native   %5.2f of a year of windows   budget %d ms: %s   %.0f kB\n", "one look more and the clock, in the worker", in.Least, in.Least/look, in.Least/in.Beside, tanksBudget, verdict(in.Least, tanksBudget), in.Size/1000)
	return nil
}
