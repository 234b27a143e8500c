package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// patience bounds one wait in the browser. It is only reached where something is wrong.
const patience = 30 * time.Second

// browser is a Chromium of its own with an empty profile, as on a first visit.
type browser struct {
	ctx   context.Context // of its first tab
	close func()          // waits until chromium is gone from its profile; again does nothing
}

// tab is one page of it. Its methods fail the test where they do not succeed.
type tab struct {
	t   *testing.T
	ctx context.Context

	mu      sync.Mutex
	thrown  []string // uncaught exceptions and errors on the console
	allowed bool     // whether those are part of the test
}

// more are further settings of that Chromium.
func startBrowser(t *testing.T, more ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	require.NoError(t, err, "the browser tests need chromium: apt-get install --no-install-recommends chromium")
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(path), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun,
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.UserDataDir(t.TempDir()),
	}
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), append(options, more...)...)
	ctx, stopBrowser := chromedp.NewContext(allocator)
	b := &browser{ctx, sync.OnceFunc(func() {
		_ = chromedp.Cancel(ctx)
		stopBrowser()
		stopAllocator()
	})}
	t.Cleanup(b.close)
	require.NoError(t, chromedp.Run(ctx), "starting chromium")
	return b
}

// open opens url in a new tab the size of a phone.
func (b *browser) open(t *testing.T, url string) *tab {
	t.Helper()
	ctx, stop := chromedp.NewContext(b.ctx)
	t.Cleanup(stop)
	// The first run binds the tab to its context: it must be this one, not one of run's,
	// or the tab closes with the first deadline.
	require.NoError(t, chromedp.Run(ctx), "opening a tab")
	page := &tab{t: t, ctx: ctx}
	chromedp.ListenTarget(ctx, func(event any) {
		page.mu.Lock()
		defer page.mu.Unlock()
		switch e := event.(type) {
		case *runtime.EventExceptionThrown:
			page.thrown = append(page.thrown, e.ExceptionDetails.Error())
		case *runtime.EventConsoleAPICalled:
			if e.Type == runtime.APITypeError || e.Type == runtime.APITypeWarning {
				page.thrown = append(page.thrown, fmt.Sprint(e.Args))
			}
		}
	})
	t.Cleanup(func() {
		page.mu.Lock()
		defer page.mu.Unlock()
		if !page.allowed {
			assert.Empty(t, page.thrown, "errors in the page")
		}
	})
	page.run(emulation.SetDeviceMetricsOverride(390, 844, 2, true), chromedp.Navigate(url))
	return page
}

func (p *tab) run(actions ...chromedp.Action) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Run(ctx, actions...); err != nil {
		require.NoError(p.t, err, "the page shows:\n%s", p.text())
	}
}

// text is what a person reads on the page, for messages of failed tests.
func (p *tab) text() string {
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	var shown string
	if err := chromedp.Run(ctx, chromedp.Evaluate(`document.body ? document.body.innerText : "(no page)"`, &shown)); err != nil {
		return err.Error()
	}
	return shown
}

// until waits for a JavaScript expression to be true.
func (p *tab) until(expression string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	for {
		var is bool
		// A page that is just being replaced cannot be asked; the next one can.
		err := chromedp.Run(ctx, chromedp.Evaluate("Boolean("+expression+")", &is))
		if err == nil && is {
			return
		}
		select {
		case <-ctx.Done():
			require.Fail(p.t, "waited in vain for "+expression, "the page shows:\n%s", p.text())
		case <-time.After(30 * time.Millisecond):
		}
	}
}

// eval gives the value of an expression, awaited if it is a promise.
func (p *tab) eval(expression string, into any) {
	p.t.Helper()
	p.run(chromedp.Evaluate(expression, into, func(e *runtime.EvaluateParams) *runtime.EvaluateParams {
		return e.WithAwaitPromise(true)
	}))
}

// click touches an element where it stands, once it stands still: a bar that comes on top
// moves what is under it, and the touch would miss.
func (p *tab) click(selector string) {
	p.t.Helper()
	p.run(chromedp.WaitVisible(selector, chromedp.ByQuery))
	var nothing any
	p.eval(`(async () => {
		const place = () => { const box = document.querySelector(`+quoted(selector)+`)?.getBoundingClientRect(); return box && box.top + ' ' + box.left; };
		for (let was = place(), still = 0; still < 6; ) {
			await new Promise((resolve) => setTimeout(resolve, 20));
			const is = place();
			still = is === was ? still + 1 : 0;
			was = is;
		}
		return null;
	})()`, &nothing)
	p.run(chromedp.Click(selector, chromedp.ByQuery))
}

func (p *tab) write(selector, words string) {
	p.t.Helper()
	p.run(chromedp.Focus(selector, chromedp.ByQuery),
		chromedp.Evaluate("document.activeElement.select()", nil), // what is typed replaces what is there
		chromedp.SendKeys(selector, words, chromedp.ByQuery))
}

// set gives an input a value as a date picker or a list does.
func (p *tab) set(selector, value string) {
	p.t.Helper()
	var nothing any
	p.eval(fmt.Sprintf(`(() => { const e = document.querySelector(%s); e.value = %s; e.dispatchEvent(new Event("change", {bubbles: true})); return null; })()`,
		quoted(selector), quoted(value)), &nothing)
}

func quoted(s string) string {
	b, _ := json.Marshal(s) // a string always encodes
	return string(b)
}
