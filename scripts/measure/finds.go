package main

import (
	"context"
	"fmt"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// manyFinds are those of some years.
const manyFinds = 10_000

// seedFinds puts finds onto the phone as if they had been saved, and gives true.
const seedFinds = `(async (n) => {
  const db = await new Promise((resolve, reject) => { const r = indexedDB.open('wrackbook'); r.onsuccess = () => resolve(r.result); r.onerror = () => reject(r.error); });
  const taxa = ['Ulva lactuca', 'Chondrus crispus', 'Fucus serratus', 'Fucus vesiculosus', 'Palmaria palmata', 'Codium tomentosum'];
  const start = Date.now() - 300 * 86400000;
  const id = (a, i) => '0190' + a + '000-' + String(i).padStart(4, '0').slice(-4) + '-7000-8000-' + String(i).padStart(12, '0');
  for (let from = 0; from < n; from += 1000) {
    const tx = db.transaction(['changes', 'records'], 'readwrite');
    for (let i = from; i < Math.min(n, from + 1000); i++) {
      const at = new Date(start + Math.floor(i / 50) * 86400000 + (i % 50) * 60000).toISOString().slice(0, 19) + 'Z';
      const fields = {at, outing: null, shore: null, taxon: taxa[i % 6], group: i % 6 === 1 ? 'reds' : 'greens', state: 'drift', amount: {value: 1 + i % 4, unit: 'count'}, fate: 'seen'};
      tx.objectStore('changes').put({id: id('a', i), kind: 'find', record: id('b', i), stamp: String(i).padStart(20, '0'), outbox: String(i).padStart(20, '0'), fields});
      tx.objectStore('records').put({kind: 'find', id: id('b', i), fields, flags: [], deleted: false});
    }
    await new Promise((resolve, reject) => { tx.oncomplete = resolve; tx.onerror = () => reject(tx.error); });
  }
  db.close();
  return true;
})`

// logFinds logs finds by the buttons of the page. It gives the milliseconds from the tap on
// Save until the words say that it is saved, each from the page's own marks.
const logFinds = `(async (n) => {
  const until = async (is) => { for (;;) { const found = is(); if (found) return found; await new Promise(requestAnimationFrame); } };
  const times = [];
  for (let i = 0; i < n; i++) {
    (await until(() => document.querySelector('[data-list="recent"] [data-taxon="Ulva lactuca"], [data-list="hits"] [data-taxon="Ulva lactuca"]'))).click();
    const save = await until(() => document.querySelector('[data-do="save"]'));
    performance.clearMarks();
    save.click();
    await until(() => performance.getEntriesByName('find-saved').length);
    times.push(performance.getEntriesByName('find-saved')[0].startTime - performance.getEntriesByName('find-tap')[0].startTime);
    await until(() => document.querySelector('[data-saved]') && document.querySelector('.groups'));
  }
  return times.sort((a, b) => a - b);
})`

// findFirst types a name, so that a phone without finds offers the same kind.
const findFirst = `(() => { const other = document.querySelector('#other'); other.value = 'Ulva lactuca'; other.dispatchEvent(new Event('input', {bubbles: true})); return true; })`

// finds measures saving one on a phone that has none and on one that has many, and how
// long the page takes to open there, as fast as this machine and slowed down.
func finds(allocator context.Context, url string) error {
	ctx, cancel := chromedp.NewContext(allocator)
	defer cancel()
	ctx, cancelTime := context.WithTimeout(ctx, 3*time.Minute)
	defer cancelTime()
	if err := chromedp.Run(ctx, chromedp.Navigate(url+"/house")); err != nil {
		return err
	}
	fmt.Println("\nLogging a find")
	var done bool
	for _, on := range []struct{ n int }{{0}, {manyFinds}} {
		if on.n > 0 {
			if err := chromedp.Run(ctx, evaluate(seedFinds, &done, fmt.Sprint(on.n))); err != nil {
				return fmt.Errorf("seeding: %w", err)
			}
		}
		for _, slower := range []float64{1, throttle} {
			var open float64
			var times []float64
			err := chromedp.Run(ctx,
				emulation.SetCPUThrottlingRate(slower),
				chromedp.Navigate(url+"/shore/log"),
				evaluate(untilShown, &open, `.groups [data-group="fish"]`),
				evaluate(findFirst, &done),
				evaluate(logFinds, &times, "11"),
				emulation.SetCPUThrottlingRate(1))
			if err != nil {
				return fmt.Errorf("with %d finds: %w", on.n, err)
			}
			middle, worst := times[len(times)/2], times[len(times)-1]
			fmt.Printf("  %-44s %10.0f ms   page %g× slower\n", fmt.Sprintf("%d on the phone: the page opens", on.n), open, slower)
			fmt.Printf("  %-44s %10.0f ms   worst of %d: %.0f ms   budget 100 ms: %s\n", "tap to saved, median", middle, len(times), worst, verdict(worst, 100))
		}
	}
	return nil
}
