package main

import (
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
)

// The places that come later are no part of the first load. Where one does not come, that is
// said, and it is asked for again when the person wants it.
func TestPlacesComeLater(t *testing.T) {
	t.Parallel()
	_, p := emptyPhone(t, "")
	p.allowed = true // a file that does not come is an error on the console
	var loaded []string
	p.eval(`performance.getEntriesByType('resource').map((e) => new URL(e.name).pathname)`, &loaded)
	assert.NotEmpty(t, loaded)
	for _, url := range loaded {
		assert.NotRegexp(t, `^/(house|tanks|rules|later)\.`, url)
	}
	cut := func(offline bool) {
		p.run(network.SetBypassServiceWorker(true), network.SetCacheDisabled(true),
			network.EmulateNetworkConditions(offline, 0, -1, -1))
	}
	cut(true)
	p.click(`nav a[href="/tanks"]`)
	p.until(`document.querySelector('[data-later="failed"][role="alert"] button')`)
	assert.Contains(t, p.textOf("main"), "not on this phone yet")
	p.click(`nav a[href="/plan"]`)
	p.until(`document.querySelector('#station')`)
	cut(false)
	p.click(`nav a[href="/tanks"]`)
	p.click(`[data-later="failed"] button`)
	p.until(`document.querySelector('main h1')?.textContent === 'Tanks' && !document.querySelector('[data-later]')`)
	p.run(chromedp.Reload())
	p.until(`document.querySelector('main h1')?.textContent === 'Tanks'`)
}
