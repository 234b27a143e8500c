package main

import (
	"github.com/chromedp/cdproto/emulation"
	"github.com/stretchr/testify/assert"
)

// wet looks at a page of Shore as a person, a reader of the screen and a wet thumb would:
// targets of 64 px and 8 px apart, but links within a sentence; text of 20 px; nothing wider
// than the screen; nothing that axe objects to, light and dark.
func (p *tab) wet(name string) {
	p.t.Helper()
	p.look(name)
	p.inspect(name)
	var wrong []string
	p.eval(`(() => {
		const within = [...document.querySelectorAll('main, .back-head, .back-more, .lock')];
		const all = (selector) => within.flatMap((e) => [...e.querySelectorAll(selector)]).filter((e) => e.checkVisibility() && !e.closest('.unseen'));
		const says = (e) => e.outerHTML.slice(0, 90);
		const targets = all('a, button, input, select, textarea, summary')
			.filter((e) => !(e.matches('a') && e.closest('p:not(:has(> a:only-child))')))
			.map((e) => e.matches('[type="checkbox"], [type="radio"]') ? e.closest('label') ?? e : e);
		if (!targets.length) return ['no target was found'];
		const boxes = targets.map((e) => ({e, b: e.getBoundingClientRect()}));
		const small = boxes.filter(({b}) => b.width < 63.5 || b.height < 63.5).map(({e}) => 'under 64 px: ' + says(e));
		const stays = (e) => e.closest('.under-thumb, .back-head, .bottom, .decide'); // it stays while the rest scrolls
		const close = boxes.flatMap(({e, b}, i) => boxes.slice(i + 1).filter(({e: other, b: c}) => {
			if (stays(e) !== stays(other) || e.contains(other) || other.contains(e)) return false;
			const [x, y] = [Math.max(b.left, c.left) - Math.min(b.right, c.right), Math.max(b.top, c.top) - Math.min(b.bottom, c.bottom)];
			return Math.max(x, y) < 7.5;
		}).map(({e: other}) => 'less than 8 px apart: ' + says(e) + ' and ' + says(other)));
		const fine = all('*').filter((e) => !e.closest('svg, .slate') && [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(e).fontSize) < 19.9)
			.map((e) => 'under 20 px: ' + says(e));
		return [...small, ...close.slice(0, 6), ...fine];
	})()`, &wrong)
	assert.Empty(p.t, wrong, name)
	for _, width := range []int64{1280, 320, 390} {
		p.run(emulation.SetDeviceMetricsOverride(width, 844, 2, width < 600))
		var wide float64
		p.eval(`document.documentElement.scrollWidth`, &wide)
		assert.LessOrEqual(p.t, wide, float64(width), "%s at %d", name, width)
	}
}
