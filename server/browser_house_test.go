package main

import (
	"archive/zip"
	"context"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	downloading "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"rsc.io/qr"

	"wrackbook/internal/store"
)

// The tests here use House as people do.

const (
	joined = `document.querySelector('[data-joined]')`
	// rested: House says that all is exchanged.
	rested = `document.querySelector('.exchange[data-state="resting"]')`
)

// joinByPage opens an invitation's link and presses the button. It gives what is then on
// the page.
func joinByPage(p *tab, link, name string) string {
	p.t.Helper()
	p.run(chromedp.Navigate(link))
	p.until(`document.querySelector('#code')?.value`)
	p.write("#name", name)
	p.click(`.join button[type="submit"]`)
	p.until(joined)
	said := p.textOf(".joined")
	p.click(`[data-do="on"]`)
	p.until(rested)
	return said
}

// inviteByPage has a keeper make an invitation, and gives its link.
func inviteByPage(server *process, p *tab, role store.Role, name string) (link string) {
	p.t.Helper()
	p.goTo(server, "/house/invite", `document.querySelector('#minutes')`)
	p.click(`input[value="` + string(role) + `"]`)
	if name != "" {
		p.write("#name", name)
	}
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('.made')`)
	p.eval(`document.querySelector('.made').dataset.link`, &link)
	return link
}

// tabTo presses Tab until an element has the focus, as somebody without a pointer does.
func (p *tab) tabTo(selector string) {
	p.t.Helper()
	for range 40 {
		p.run(chromedp.KeyEvent(kb.Tab))
		var there bool
		p.eval(`document.activeElement.matches(`+quoted(selector)+`)`, &there)
		if there {
			return
		}
	}
	require.Fail(p.t, "Tab does not lead to "+selector, p.text())
}

// The printed link shows only; the button redeems, also by keys alone. The invitation that
// the first keeper then makes lets a second phone in, once.
func TestFirstKeeperAndAGuest(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)

	keeper := startBrowser(t).open(t, server.url+"/pair#"+code)
	keeper.until(`document.querySelector('#code')?.value`)
	assert.Contains(t, keeper.text(), "This phone joins the household’s book")
	var at struct{ Href, Code, Name string }
	keeper.eval(`({Href: location.href, Code: document.querySelector('#code').value, Name: document.querySelector('#name').value})`, &at)
	assert.Equal(t, server.url+"/pair", at.Href, "the code is out of the address")
	assert.Equal(t, code, at.Code)
	assert.Equal(t, "Linux computer", at.Name)
	assert.NoDirExists(t, filepath.Join(dir, "household"), "nobody has joined by looking")

	keeper.tabTo("#name")
	keeper.run(chromedp.Evaluate(`document.activeElement.select()`, nil), chromedp.KeyEvent("Jo’s phone"))
	keeper.tabTo(`.join button[type="submit"]`)
	keeper.run(chromedp.KeyEvent(kb.Enter))
	keeper.until(joined)
	assert.Contains(t, keeper.textOf(".joined"), "It is “Jo’s phone”, a keeper’s device.")
	keeper.until(`document.activeElement.id === 'joined'`)
	keeper.tabTo(`[data-do="on"]`)
	keeper.run(chromedp.KeyEvent(kb.Enter))
	keeper.until(rested)
	assert.Contains(t, keeper.textOf(".who"), "Jo’s phone")

	link := inviteByPage(server, keeper, store.Guest, "Ada’s phone")
	assert.True(t, strings.HasPrefix(link, server.url+"/pair#"))
	drawn(keeper, link)
	assert.Equal(t, strings.Join(strings.Split(strings.TrimPrefix(link, server.url+"/pair#")[:47], "-"), ""),
		strings.Join(strings.Fields(keeper.textOf("[data-groups]")), ""), "the code to type is the link's")

	guest := startBrowser(t).open(t, link)
	guest.until(`document.querySelector('#name')?.value === 'Ada’s phone'`)
	guest.click(`.join button[type="submit"]`)
	guest.until(joined)
	assert.Contains(t, guest.textOf(".joined"), "May read")
	guest.click(`[data-do="on"]`)
	guest.until(rested)
	var pages []string
	guest.eval(`[...document.querySelectorAll('.rows a')].map((a) => a.pathname)`, &pages)
	assert.Equal(t, []string{"/plan/shores", "/house/rules", "/house/household", "/house/members", "/house/kinds", "/house/measures"}, pages, "a guest sees no keeper's tool")
	for _, page := range []string{"devices", "invite", "backup"} {
		guest.follow("/house/"+page, `document.querySelector('main').innerText.includes('A keeper’s page')`)
	}

	// The same link again, on a third phone: it was used.
	third := startBrowser(t).open(t, link)
	third.until(`document.querySelector('#code')?.value`)
	third.click(`.join button[type="submit"]`)
	third.until(`document.querySelector('#code-wrong').textContent.includes('it was used')`)
	third.until(`document.activeElement.id === 'code' && document.activeElement.getAttribute('aria-invalid') === 'true'`)

	// A slip is seen without the server: nothing is sent, so nothing counts as a try.
	third.eval(`window.real = fetch; window.asked = 0; window.fetch = (...a) => { asked++; return real(...a); }; 0`, new(int))
	third.write("#code", "ABCDE-FGHJ")
	third.click(`.join button[type="submit"]`)
	third.until(`document.querySelector('#code-wrong').textContent.includes('it has 9 letters and digits, and it should have 40')`)
	var asked int
	third.eval(`asked`, &asked)
	assert.Zero(t, asked)

	// The whole link pasted where the code goes, and an answer that is lost on its way.
	third.write("#code", inviteByPage(server, keeper, store.Child, ""))
	third.eval(`window.fetch = async (path, o) => { const r = await real(path, o); if (path === '/api/pair' || path === '/api/me') throw new TypeError('lost'); return r; }; 0`, new(int))
	third.click(`.join button[type="submit"]`)
	third.until(`document.querySelector('#form-wrong').textContent.includes('does not answer')`)
	third.eval(`window.fetch = real; 0`, new(int))
	third.click(`.join button[type="submit"]`)
	third.until(joined)
	assert.Contains(t, third.textOf(".joined"), "a child’s device")

	server.kill(t)
	assert.Equal(t, 3, checkBook(t, filepath.Join(dir, "household")).Devices)
}

// drawn compares the code on the screen, pixel by pixel in the middle of each module, with
// rsc.io/qr's of the link, and the four modules of light around it.
func drawn(p *tab, link string) {
	p.t.Helper()
	want, err := qr.Encode(link, qr.M)
	require.NoError(p.t, err)
	for _, scheme := range []string{"light", "dark"} {
		p.run(emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}))
		var rows []string
		p.eval(`(async () => {
			const svg = document.querySelector('.qr');
			const side = svg.viewBox.baseVal.width, each = 8;
			const copy = svg.cloneNode(true);
			copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
			copy.setAttribute('width', side * each);
			copy.setAttribute('height', side * each);
			const picture = new Image();
			picture.src = 'data:image/svg+xml,' + encodeURIComponent(copy.outerHTML);
			await picture.decode();
			const canvas = Object.assign(document.createElement('canvas'), {width: side * each, height: side * each});
			const paint = canvas.getContext('2d');
			paint.drawImage(picture, 0, 0);
			const {data} = paint.getImageData(0, 0, side * each, side * each);
			const dark = (x, y) => data[4 * ((y * each + each / 2) * side * each + x * each + each / 2)] < 128 ? '1' : '0';
			return Array.from({length: side}, (_, y) => Array.from({length: side}, (_, x) => dark(x, y)).join(''));
		})()`, &rows)
		const quiet = 4
		require.Len(p.t, rows, want.Size+2*quiet)
		for y, row := range rows {
			for x := range row {
				assert.Equal(p.t, want.Black(x-quiet, y-quiet), row[x] == '1', "%s: module %d, %d", scheme, x, y)
			}
		}
	}
	p.run(emulation.SetEmulatedMedia())
}

// downloads has the browser put files into a folder of the test.
func downloads(p *tab) (dir string) {
	p.t.Helper()
	dir = p.t.TempDir()
	p.run(chromedp.ActionFunc(func(ctx context.Context) error {
		c := chromedp.FromContext(ctx)
		return downloading.SetDownloadBehavior(downloading.SetDownloadBehaviorBehaviorAllow).WithDownloadPath(dir).WithBrowserContextID(c.BrowserContextID).Do(ctx)
	}))
	return dir
}

// arrived waits for one whole file.
func arrived(t *testing.T, dir, pattern string) (path string) {
	t.Helper()
	require.Eventually(t, func() bool {
		found, _ := filepath.Glob(filepath.Join(dir, pattern))
		if len(found) != 1 {
			return false
		}
		path = found[0]
		info, err := os.Stat(path) // chromium holds the name with an empty file until all is there
		return err == nil && info.Size() > 0
	}, patience, 20*time.Millisecond, "no %s was downloaded", pattern)
	return path
}

// What a phone wrote alone joins the book as far as its role may; it is shut out, says so,
// and what it could not send reaches the book by a file.
func TestShutOut(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	keeper := startBrowser(t).open(t, server.url)
	joinByPage(keeper, server.url+"/pair#"+code, "Jo’s phone")

	phone := startBrowser(t).open(t, server.url)
	chooseShore(phone) // made before it joins
	phone.goTo(server, "/house/members/new", `document.querySelector('#name')`)
	phone.write("#name", "Ada")
	phone.click(`input[value="child"]`)
	phone.click(`button[type="submit"]`)
	phone.until(`document.querySelector('[data-member]')?.innerText.includes('Ada')`)
	joinByPage(phone, inviteByPage(server, keeper, store.Collector, ""), "The lab’s phone")

	// The shore counts; a collector writes no members, and is told so.
	phone.until(`document.querySelector('[data-refused="1"]')`)
	assert.Contains(t, phone.textOf(".refused-changes"), "One change does not count")
	phone.eval(`document.querySelector('.refused-changes').open = true; 0`, new(int))
	assert.Contains(t, phone.textOf(".refused-changes"), `A member “Ada”`)
	assert.Contains(t, phone.textOf(".refused-changes"), `A collector may not set`)

	// The keeper asks to shut it out, thinks better of it, then does it.
	keeper.goTo(server, "/house/devices", `document.querySelectorAll('[data-device]').length === 2`)
	other := `[data-device]:not(:has(em))` // the one that is not marked as this phone
	keeper.click(other + ` [data-do="shut-out"]`)
	keeper.until(`document.activeElement.id === 'confirm'`)
	assert.Contains(t, keeper.textOf(".confirm"), "Shut out “The lab’s phone”?")
	assert.Contains(t, keeper.textOf(".confirm"), "What it wrote stays in the book.")
	keeper.run(chromedp.KeyEvent(kb.Escape))
	keeper.until(`!document.querySelector('.confirm') && document.activeElement.matches('[data-do="shut-out"]')`)
	keeper.click(other + ` [data-do="shut-out"]`)
	keeper.click(`.confirm [data-do="confirm"]`)
	keeper.until(`document.querySelector('[data-out="true"]')?.innerText.includes('Shut out ')`)
	// The last keeper's device stays.
	keeper.click(`[data-do="shut-out"]`)
	keeper.click(`.confirm [data-do="confirm"]`)
	keeper.until(`document.querySelector('.confirm .wrong').textContent.includes('only keeper')`)

	// The phone goes on by itself; every place says what is not sent, and that it is out.
	shore := keptShores(phone)[0]["id"].(string)
	editEscape(server, phone, shore, "up the steps by the boathouse")
	phone.until(`document.querySelector('[data-bar="shut-out"]')`)
	phone.until(`document.querySelector('nav [data-unsent="1"]')?.innerText === '1 not sent'`)
	phone.click(`nav a[href="/house"]`)
	phone.until(`document.querySelector('.exchange[data-state="shut-out"][data-unsent="1"]')`)
	assert.Contains(t, phone.textOf(".exchange"), "Not yet sent: 1")
	phone.until(`document.querySelector('.exchange').innerText.includes('This phone was shut out')`) // between two tries
	phone.inspect("House, shut out")
	targets(t, phone, "House, shut out")

	folder := downloads(phone)
	phone.click(`[data-do="save"]`)
	file := arrived(t, folder, "wrackbook-unsent-*.json")
	phone.until(`document.querySelector('.file').innerText.includes('in this phone’s downloads')`)
	command := exec.Command(binary, "unsent", "-data", "household", file)
	command.Dir = dir
	out, err := command.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Contains(t, string(out), "1 changes and 0 photos are in the book")
	exchanged(keeper)
	keeper.until(`document.body`)
	assert.Contains(t, recordsOf(keeper)["shore/"+shore], "up the steps by the boathouse")
}

// A phone that joins another household brings nothing of the first one's book into it, and
// takes that off only when the person says so.
func TestAnotherHousehold(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	server, code := startHousehold(t, binary, "127.0.0.1:0", t.TempDir())
	browser := startBrowser(t)
	phone := browser.open(t, server.url)
	chooseShore(phone)
	joinByPage(phone, server.url+"/pair#"+code, "Jo’s phone")
	// Another tab stays open all the time, and knows of the first household only.
	second := browser.open(t, server.url+"/house")
	second.until(rested)
	second.allowed, phone.allowed = true, true
	server.kill(t)

	dir := t.TempDir()
	other, code := startHousehold(t, binary, strings.TrimPrefix(server.url, "http://"), dir)
	phone.run(cdp.BringToFront())
	phone.goTo(other, "/house", `document.querySelector('.exchange[data-state="shut-out"]')`)
	phone.run(chromedp.Navigate(other.url + "/pair#" + code))
	phone.until(`document.querySelector('#code')?.value`)
	phone.until(`document.body.innerText.includes('This phone was shut out')`) // the bar has come, nothing moves any more
	phone.click(`.join button[type="submit"]`)
	phone.until(joined)
	phone.click(`[data-do="on"]`)
	phone.until(`document.querySelector('.exchange[data-state="strange"]')`)
	assert.Contains(t, phone.textOf(".who"), "another household’s book")
	phone.inspect("House, with another household's book")
	targets(t, phone, "House, with another household's book")
	require.Len(t, keptShores(phone), 1)
	second.run(cdp.BringToFront())
	second.eval(`dispatchEvent(new Event('online')); null`, new(any))
	second.until(`document.querySelector('.exchange[data-state="strange"]')`)

	phone.run(cdp.BringToFront())
	phone.click(`[data-do="forget"]`)
	phone.click(`.confirm [data-do="confirm"]`)
	phone.until(rested)
	assert.Empty(t, keptShores(phone))
	other.kill(t)
	in, err := store.Open(filepath.Join(dir, "household"), store.Options{})
	require.NoError(t, err)
	defer in.Close()
	pulled, err := in.Pull("", 0, 100)
	require.NoError(t, err)
	for _, change := range pulled.Changes {
		assert.Contains(t, string(change), `"kind":"device"`, "no more than what the phone is called")
	}
}

// A keeper fetches the backup by the page, and it restores.
func TestBackupByThePage(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	keeper := startBrowser(t).open(t, server.url)
	joinByPage(keeper, server.url+"/pair#"+code, "Jo’s phone")
	keeper.goTo(server, "/house/backup", `document.querySelector('[data-do="backup"]')`)
	folder := downloads(keeper)
	keeper.click(`[data-do="backup"]`)
	file := arrived(t, folder, "wrackbook-*.zip")
	archive, err := zip.OpenReader(file)
	require.NoError(t, err)
	require.NoError(t, archive.Close())
	command := exec.Command(binary, "restore", file, "again")
	command.Dir = dir
	out, err := command.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, 1, checkBook(t, filepath.Join(dir, "again")).Devices)
}

// Every screen of House in both schemes, large enough to be pressed, and no wider than the
// screen; a clock that is wrong is said on every place.
func TestHouseScreens(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	server, code := startHousehold(t, binary, "127.0.0.1:0", dir)
	p := startBrowser(t).open(t, server.url+"/house")
	p.until(`document.querySelector('[data-who="alone"]')`)
	look := func(name string) {
		t.Helper()
		p.inspect(name)
		targets(t, p, name)
	}
	look("House, alone")
	p.goTo(server, "/pair", `document.querySelector('#code')`)
	look("joining")
	p.click(`.join button[type="submit"]`)
	p.until(`document.querySelector('#code-wrong').textContent`)
	look("joining, with a mistake")
	// In the browser of an iPhone, whose app on the home screen shares nothing with it.
	p.run(emulation.SetUserAgentOverride("Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.1 Mobile/15E148 Safari/604.1"))
	p.run(chromedp.Navigate(server.url+"/house"), chromedp.Navigate(server.url+"/pair#"+code))
	p.until(`document.querySelector('main').innerText.includes('add it to the home screen first')`)
	p.until(`document.querySelector('#name')?.value === 'iPhone'`)
	look("joining, on an iPhone")
	p.run(emulation.SetUserAgentOverride(""))
	p.run(chromedp.Navigate(server.url+"/house"), chromedp.Navigate(server.url+"/pair#"+code))
	p.until(`document.querySelector('#code')?.value.length === 47`)
	p.click(`.join button[type="submit"]`)
	p.until(joined)
	look("joined")
	p.click(`[data-do="on"]`)
	p.until(rested)
	look("House")
	p.goTo(server, "/pair", `document.querySelector('main').innerText.includes('has joined already')`)
	look("joining again")

	p.goTo(server, "/house/members/new", `document.querySelector('#name')`)
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('#age-wrong').textContent`)
	look("a member, with mistakes")
	p.write("#name", "Ada")
	p.click(`input[value="child"]`)
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('[data-member]')?.innerText.includes('Child')`)
	look("members")
	p.click(`[data-member] a`)
	p.until(`document.querySelector('#name')?.value === 'Ada'`)
	p.click(`input[value="adult"]`)
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('[data-member]')?.innerText.includes('Adult')`)
	p.click(`[data-member] a`)
	p.click(`[data-do="remove"]`)
	p.until(`document.querySelector('.confirm')`)
	look("taking a member off")
	p.click(`.confirm [data-do="confirm"]`)
	p.until(`document.querySelector('main').innerText.includes('Nobody is on the list')`)

	p.goTo(server, "/house/devices", `document.querySelector('[data-device]')`)
	p.click(`[data-do="shut-out"]`)
	p.until(`document.querySelector('.confirm')`)
	look("devices")
	p.goTo(server, "/house/invite", `document.querySelector('#minutes')`)
	look("inviting")
	p.click(`button[type="submit"]`)
	p.until(`document.querySelector('.made')`)
	look("an invitation")
	p.click(`.made a[href="/house/reach"]`)
	p.until(`document.querySelector('[data-reach="other"]')?.innerText.includes('wrackbook serve -tls own')`)
	look("reaching a server on this machine alone")
	p.goTo(server, "/house/backup", `document.querySelector('[data-do="backup"]')`)
	look("backup")

	// Without signal: what a keeper's page needs of the server, it says; the clock stays wrong.
	server.kill(t)
	putChoice(p, "clockOffMs", "-7 * 60000 - 20000")
	p.goTo(server, "/house/devices", `document.querySelector('main').innerText.includes('does not answer')`)
	p.goTo(server, "/shore", `document.querySelector('[data-bar="clock"] p')?.textContent === 'This phone’s clock is 7 minutes behind. Every time on it is wrong by that: set it before you go.'`)
	look("Shore, with a wrong clock")
	p.click(`nav a[href="/house"]`)
	p.until(`document.querySelector('.exchange[data-state="no-signal"] [data-clock]')`)
	look("House, without signal")
}

// A phone that trusts the household's authority shows what a new one is compared with.
func TestReachingOverTLS(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	dir := t.TempDir()
	addr := freePort(t)
	_, port, err := net.SplitHostPort(addr)
	require.NoError(t, err)
	server, _ := startHousehold(t, binary, addr, dir, "-tls", "own", "-url", "https://ledge.local:"+port)
	data := filepath.Join(dir, "household")
	authority, err := readAuthority(data)
	require.NoError(t, err)
	p := startBrowser(t, at(trusting(t, filepath.Join(data, authorityCopy)))...).open(t, server.url+"/house/reach")
	p.until(`document.querySelector('[data-reach="own"]')`)
	assert.Equal(t, authority.fingerprint(), p.textOf("[data-print]"))
	assert.Contains(t, p.text(), "http://ledge.local:"+port+authorityPath)
	p.eval(`[...document.querySelectorAll('details')].forEach((d) => d.open = true); 0`, new(int))
	p.inspect("reaching over TLS")
	targets(t, p, "reaching over TLS")
}

// targets holds that everything that can be pressed is at least 48 px high and wide, and
// that nothing is wider than the screen, down to 320 px (WCAG 2.2, 1.4.10).
func targets(t *testing.T, p *tab, name string) {
	t.Helper()
	var small []string
	p.eval(`[...document.querySelectorAll('a, button, input, select, textarea, summary')]
		.filter((e) => e.checkVisibility() && !e.matches('.skip, .unseen'))
		.map((e) => e.matches('input[type="checkbox"], input[type="radio"]') ? e.closest('label') ?? e : e)
		.filter((e) => { const b = e.getBoundingClientRect(); return b.width < 47.5 || b.height < 47.5; })
		.map((e) => e.outerHTML.slice(0, 120))`, &small)
	assert.Empty(t, small, name)
	for _, width := range []int64{1280, 320, 390} {
		p.run(emulation.SetDeviceMetricsOverride(width, 844, 2, width < 600))
		var wide float64
		p.eval(`document.documentElement.scrollWidth`, &wide)
		assert.LessOrEqual(t, wide, float64(width), "%s at %d", name, width)
	}
}
