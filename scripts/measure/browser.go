package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// throttle is how much slower than this machine the phone is taken to be.
const throttle = 4

// startWorker makes the page an ask(name, request, now, give) that the worker answers, and
// gives the milliseconds until it was ready.
const startWorker = `(async (url, build) => {
  const start = performance.now();
  const worker = new Worker(url);
  await new Promise((resolve, reject) => {
    worker.onmessage = ({data}) => {
      if (data.catalogue === 'open') resolve();
      else if (data.state !== 'ready') reject(new Error(JSON.stringify(data)));
    };
    worker.postMessage({hello: build, fetchCatalogue: true});
  });
  const ready = performance.now() - start;
  let settle;
  worker.onmessage = ({data}) => settle(data.answer);
  window.ask = (name, request, now = 0, give = false) => new Promise((resolve) => { settle = resolve; worker.postMessage({id: 1, name, request, ...(give ? {ledger: true} : {now})}); });
  return ready;
})`

// startHere runs the worker's own script on the page's main thread instead, which DevTools
// can slow down; it cannot slow a worker.
const startHere = `(async (url, build) => {
  const start = performance.now();
  let settle;
  window.postMessage = (data) => settle(data);
  const next = () => new Promise((resolve) => { settle = resolve; });
  const tell = (data) => dispatchEvent(new MessageEvent('message', {data}));
  await new Promise((resolve, reject) => {
    const script = Object.assign(document.createElement('script'), {src: url, onload: resolve, onerror: reject});
    document.head.append(script);
  });
  let answer = next();
  tell({hello: build, fetchCatalogue: true});
  for (let data = await answer; data.catalogue !== 'open'; data = await answer) {
    if (data.state !== 'ready') throw new Error(JSON.stringify(data));
    answer = next();
  }
  const ready = performance.now() - start;
  window.ask = async (name, request) => { answer = next(); tell({id: 1, name, request, now: 0}); return (await answer).answer; };
  return ready;
})`

// timeCall gives the least of eight calls in milliseconds, after one to warm up.
const timeCall = `(async (name, request, now) => {
  let least = Infinity;
  for (let i = 0; i < 9; i++) {
    const start = performance.now();
    const answer = JSON.parse(await ask(name, request, now && Date.parse(now)));
    if (answer.error) throw new Error(answer.error.message);
    if (i) least = Math.min(least, performance.now() - start);
  }
  return least;
})`

// openLedger gives the worker what verdicts count against, and the milliseconds that took.
const openLedger = `(async (records) => {
  const start = performance.now();
  const answer = JSON.parse(await ask('openLedger', records, 0, true));
  if (answer) throw new Error(answer.error.message);
  return performance.now() - start;
})`

// seedShore puts a shore on the phone as if it had been saved, and gives true.
const seedShore = `(() => new Promise((resolve, reject) => {
  const request = indexedDB.open('wrackbook');
  request.onerror = () => reject(request.error);
  request.onsuccess = () => {
    const id = '0199f0c3-a2b4-7c1e-9d3f-2b6f1c5d8e90';
    const tx = request.result.transaction(['records', 'choices'], 'readwrite');
    tx.objectStore('records').put({kind: 'shore', id, flags: [], deleted: false, fields: {name: 'Heron Ledge', cutOff: true, margin: 20, walkOut: 15, travel: 0, escape: '', swellLimit: null, wayIn: '', wayOut: '', marker: null, night: null,
      basis: {station: 'noaa/9414290', stationName: 'San Francisco', place: '', source: 'NOAA CO-OPS', datum: 'MLLW', release: '2026-09-24', differences: null, below: 0.3, wayOff: 0.9},
      place: {lat: 37.806, lon: -122.466, zone: 'America/Los_Angeles', distanceKm: null}}});
    tx.objectStore('choices').put(id, 'chosen');
    tx.oncomplete = () => { request.result.close(); resolve(true); };
    tx.onerror = () => reject(tx.error);
  };
}))`

// untilShown gives the milliseconds from the start of the navigation until a selector
// matches.
const untilShown = `(async (selector) => {
  while (!document.querySelector(selector)) await new Promise(requestAnimationFrame);
  return performance.now();
})`

// starts measures the first load and, with the server gone, the start without signal to
// the kept list on screen and to a fresh one, the page slowed down.
func starts(allocator context.Context, url string, kill func()) error {
	ctx, cancel := chromedp.NewContext(allocator)
	defer cancel()
	ctx, cancelTime := context.WithTimeout(ctx, time.Minute)
	defer cancelTime()
	var first, offline, kept, fresh, staff float64
	var seeded bool
	err := chromedp.Run(ctx,
		chromedp.Navigate(url),
		evaluate(untilShown, &first, "main h1"),
		evaluate(seedShore, &seeded),
		chromedp.Reload(),
		evaluate(untilShown, &fresh, `.windows[data-kept="false"][data-question]`),
		chromedp.Navigate(url+"/shore"),
		evaluate(untilShown, &staff, `[data-standing="fresh"]`),
		chromedp.Navigate(url+"/house"),
		evaluate(untilShown, &offline, `[data-fact="offline"][data-ready="true"]`))
	if err != nil {
		return fmt.Errorf("first visit: %w", err)
	}
	kill()
	err = chromedp.Run(ctx,
		emulation.SetCPUThrottlingRate(throttle),
		chromedp.Navigate(url+"/plan"),
		evaluate(untilShown, &kept, ".windows[data-question]"),
		evaluate(untilShown, &fresh, `.windows[data-kept="false"][data-question]`),
		chromedp.Navigate(url+"/shore"),
		evaluate(untilShown, &staff, `html:has(.back-head .turn-back) .staff-drawing svg[data-level]`))
	if err != nil {
		return fmt.Errorf("without signal: %w", err)
	}
	fmt.Println("\nThe app in Chromium")
	fmt.Printf("  %-44s %10.0f ms   on loopback\n", "first load, to the first words", first)
	fmt.Printf("  %-44s %10.0f ms   page %d× slower\n", "without signal, to the kept list", kept, throttle)
	fmt.Printf("  %-44s %10.0f ms   page %d× slower, the worker not\n", "without signal, to a fresh list", fresh, throttle)
	fmt.Printf("  %-44s %10.0f ms   page %d× slower   budget 1000 ms: %s\n", "without signal, to a live staff", staff, throttle, verdict(staff, 1000))
	return nil
}

// browser measures the calls in Chromium against the real server, beside their native
// times in milliseconds.
func browser(native map[string]float64) error {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return errors.New("chromium is missing; scripts/test installs it")
	}
	worker, build, err := app()
	if err != nil {
		return err
	}
	url, stop, err := serve()
	if err != nil {
		return err
	}
	defer stop()
	dir, err := os.MkdirTemp("", "wrackbook-measure-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true), chromedp.UserDataDir(dir),
	}
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	defer stopAllocator()
	for _, home := range []struct {
		name, start string
		slower      float64
	}{
		{"in the worker", startWorker, 1},
		{fmt.Sprintf("on the main thread, %d× slower", throttle), startHere, throttle},
	} {
		ctx, cancel := chromedp.NewContext(allocator)
		ctx, cancelTime := context.WithTimeout(ctx, 3*time.Minute)
		var ready float64
		times := map[string]float64{}
		err := chromedp.Run(ctx,
			// A page of the server that has no worker of its own.
			chromedp.Navigate(url+"/api/health"),
			emulation.SetCPUThrottlingRate(home.slower),
			evaluate(home.start, &ready, "/"+worker, build))
		for _, name := range []string{"windows", "tides", "levels"} {
			if err != nil {
				break
			}
			var ms float64
			err = chromedp.Run(ctx, evaluate(timeCall, &ms, name, map[string]string{"windows": windows, "tides": tides, "levels": levels}[name]))
			times[name] = ms
		}
		if err == nil && home.slower == 1 {
			err = takesIn(ctx, native)
		}
		cancelTime()
		cancel()
		if err != nil {
			return fmt.Errorf("%s: %w", home.name, err)
		}
		fmt.Printf("\nThe core in Chromium, %s\n", home.name)
		fmt.Printf("  %-44s %10.1f ms   from nothing, the catalogue opened\n", "ready", ready)
		for _, name := range []string{"windows", "tides", "levels"} {
			line := fmt.Sprintf("  %-44s %10.1f ms   %5.1f × native", "a year of "+name+", call to parsed answer", times[name], times[name]/native[name])
			if name == "windows" && home.slower == 1 {
				line += fmt.Sprintf("   budget 60 ms: %s", verdict(times[name], 60))
			}
			fmt.Println(line)
		}
	}
	if err := tanks(allocator, url, worker, build); err != nil {
		return fmt.Errorf("tanks: %w", err)
	}
	if err := finds(allocator, url); err != nil {
		return fmt.Errorf("finds: %w", err)
	}
	return starts(allocator, url, stop)
}

func evaluate(function string, into any, args ...string) chromedp.Action {
	quoted := make([]string, len(args))
	for i, a := range args {
		data, _ := json.Marshal(a) // a string always encodes
		quoted[i] = string(data)
	}
	return chromedp.Evaluate(function+"("+strings.Join(quoted, ",")+")", into, func(p *runtime.EvaluateParams) *runtime.EvaluateParams {
		return p.WithAwaitPromise(true)
	})
}

// app names the worker's script and the build.
func app() (worker, build string, err error) {
	found, err := filepath.Glob("pwa/dist/worker.*.js")
	if err != nil || len(found) != 1 {
		return "", "", errors.New("the app is not built: run scripts/build")
	}
	data, err := os.ReadFile("pwa/dist/build.json")
	if err != nil {
		return "", "", err
	}
	var b struct{ Build string }
	if err := json.Unmarshal(data, &b); err != nil {
		return "", "", err
	}
	return filepath.Base(found[0]), b.Build, nil
}

// serve runs the built binary on a port of its own.
func serve() (url string, stop func(), err error) {
	cmd := exec.Command("./wrackbook", "serve", "-addr", "127.0.0.1:0")
	out, err := cmd.StdoutPipe()
	if err != nil {
		return "", nil, err
	}
	if err := cmd.Start(); err != nil {
		return "", nil, fmt.Errorf("%w; run scripts/build first", err)
	}
	stop = func() { _ = cmd.Process.Kill(); _ = cmd.Wait() }
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		stop()
		return "", nil, err
	}
	url, ok := strings.CutPrefix(strings.TrimSpace(line), "Wrackbook is at ")
	if !ok {
		stop()
		return "", nil, fmt.Errorf("the server said %q", line)
	}
	return url, stop, nil
}
