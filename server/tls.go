package main

import (
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"time"
)

// How phones reach the server. A browser gives a page its service worker and its position
// over HTTPS only, or on the machine itself. So beyond this machine the server speaks TLS,
// with a certificate that it is given (tls_files.go), that it makes (authority.go) or that it
// fetches (tls_acme.go), or it stands behind a proxy that does. tls_listener.go has the
// connections.

// reach holds the flags that say how devices reach the server.
type reach struct {
	data      string // folder
	addr      string
	url       string
	cert, key string // files
	tls       string // "own" or ""
	acme      string // an email address
	directory string // of ACME
	acmeHTTP  string // where HTTP-01 is answered
	proxy     string
	plain     bool // readable by all

	client  *http.Client   // for ACME; nil for one that trusts what this machine trusts
	public  *url.URL       // -url, or what stands for it; nil for the loopback address
	proxies []netip.Prefix // -proxy
}

const defaultPort = "8710"

func (r *reach) register(f *flag.FlagSet) {
	f.StringVar(&r.addr, "addr", "", "`address` to listen on; port 0 takes a free one. "+defaultAddr+" unless given; with TLS the port of -url on every address of this machine")
	f.StringVar(&r.data, "data", defaultData, "`folder` of the household's book, made when the first device joins, or at once for what -tls own and -acme keep in it")
	f.StringVar(&r.url, "url", "", "`address` at which devices reach this server, such as https://ledge.example. Unless given: http:// and -addr; with -tls own, this machine's name in the home network, https://NAME.local:"+defaultPort)
	f.StringVar(&r.cert, "cert", "", "`file` of the TLS certificate and those between it and its root, PEM; with -key and -url. Read again within a minute when it changes, or on SIGHUP")
	f.StringVar(&r.key, "key", "", "`file` of the key of -cert, PEM")
	f.StringVar(&r.tls, "tls", "", "`own`: TLS by an authority of this household, which wrackbook makes and keeps in -data. It can vouch for the host of -url and for nothing else; every phone must be told once to trust it")
	f.StringVar(&r.acme, "acme", "", "`email` address: TLS by a certificate that is fetched and renewed by ACME for the host of -url. Giving it accepts the terms of service of the certificate authority. Needs a public name, and port 443 or 80 of it led to this machine")
	f.StringVar(&r.directory, "acme-directory", "", "`address` of the directory of another ACME authority than Let's Encrypt")
	f.StringVar(&r.acmeHTTP, "acme-http", ":80", "`address` that port 80 of the host of -url leads to, for the authority's HTTP-01 checks; \"\" for none. Where it cannot be had, those over port 443 must do")
	f.StringVar(&r.proxy, "proxy", "", "`addresses` or networks, joined by commas, of proxies whose X-Forwarded-For is believed when wrong pairing codes are counted; without it the header is ignored. A proxy on this machine speaks plain HTTP to 127.0.0.1. To one on another machine give the line TLS as well (-cert, or -tls own and have the proxy trust it)")
	f.BoolVar(&r.plain, "plain-http-readable-by-all", false, "plain HTTP also for other machines: everyone between reads and changes all that is sent, devices' tokens too, and the app works only in part, without service worker (so not on the shore) and position")
}

// settle fills in what was not given and refuses flags that contradict each other. machine
// is the name of this one.
func (r *reach) settle(machine string) (err error) {
	ways := 0
	for _, given := range []bool{r.cert != "" || r.key != "", r.tls != "", r.acme != ""} {
		if given {
			ways++
		}
	}
	switch {
	case ways > 1:
		return errors.New("-cert with -key, -tls and -acme are three ways to have TLS. Choose one")
	case (r.cert == "") != (r.key == ""):
		return errors.New("-cert and -key belong together. Give both files")
	case r.tls != "" && r.tls != "own":
		return fmt.Errorf("-tls %q is not known; it can be own. For a certificate in files give -cert and -key, for ACME -acme", r.tls)
	case r.plain && ways > 0:
		return errors.New("-plain-http-readable-by-all is the contrary of TLS. Leave it out")
	case r.directory != "" && r.acme == "":
		return errors.New("-acme-directory goes with -acme")
	}
	if r.proxies, err = parseProxies(r.proxy); err != nil {
		return err
	}
	if r.tls == "own" && r.url == "" {
		if r.url, err = r.ownURL(machine); err != nil {
			return err
		}
	}
	if r.url != "" {
		if r.public, err = parseSite(r.url); err != nil {
			return err
		}
	}
	if ways > 0 {
		err = r.settleTLS()
	} else {
		err = r.settlePlain()
	}
	if err != nil {
		return err
	}
	if _, _, err := net.SplitHostPort(r.addr); err != nil {
		return fmt.Errorf("-addr %q is not an address and a port, such as %s", r.addr, defaultAddr)
	}
	return nil
}

func (r *reach) settleTLS() error {
	switch {
	case r.public == nil:
		return errors.New("devices must know a name that the certificate is for. Give -url https://NAME")
	case r.public.Scheme != "https":
		return fmt.Errorf("-url %q is plain HTTP, and the other flags ask for TLS. Write https://", r.url)
	}
	host := r.public.Hostname()
	if err := checkName(host); err != nil {
		return err
	}
	if r.acme != "" {
		if err := r.checkACME(host); err != nil {
			return err
		}
	}
	if r.addr == "" {
		r.addr = ":" + portOf(r.public)
	}
	return nil
}

func (r *reach) settlePlain() error {
	if r.addr == "" {
		r.addr = defaultAddr
	}
	https := r.public != nil && r.public.Scheme == "https"
	switch {
	case len(r.proxies) > 0 && !https:
		return errors.New("-proxy names a proxy with TLS in front of this server. Give its address too: -url https://NAME")
	case !r.plain:
		return r.checkLoopback()
	case https && len(r.proxies) == 0:
		return fmt.Errorf("-url %q is https, and -plain-http-readable-by-all has no TLS. Name the proxy that has it with -proxy, or write http://", r.url)
	case r.public == nil && checkLoopback(r.addr) != nil:
		return errors.New("with -plain-http-readable-by-all, say at which address devices reach this server, such as -url http://192.0.2.7:8710")
	}
	return nil
}

// checkLoopback refuses plain HTTP for other machines.
func (r *reach) checkLoopback() error {
	if r.public != nil && r.public.Scheme == "http" && !isLoopback(r.public.Hostname()) {
		return fmt.Errorf("-url %q is plain HTTP, which anyone between can read and change. Give an https address, of this server with -tls own, -cert or -acme, or of a proxy that has the certificate", r.url)
	}
	return checkLoopback(r.addr)
}

// checkLoopback refuses an address that other machines reach: plain HTTP would show them
// everything, and a browser gives a page neither a service worker nor a position there.
func checkLoopback(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err != nil {
		return fmt.Errorf("-addr %q is not an address and a port, such as %s", addr, defaultAddr)
	}
	if isLoopback(host) {
		return nil
	}
	return fmt.Errorf("-addr %q would be reached from other machines over plain HTTP, which anyone between can read and change. "+
		"Add -tls own, -cert or -acme for TLS, or listen on 127.0.0.1 with a proxy in front that has it", addr)
}

// ownURL is where a server with an authority of its own is, when nobody says: under the
// name that its authority is for, or else under the machine's name as home networks know
// it (multicast DNS, RFC 6762). A name outlasts the addresses that a router deals out, and
// what a phone keeps belongs to the name.
func (r *reach) ownURL(machine string) (string, error) {
	port := defaultPort
	if _, given, err := net.SplitHostPort(r.addr); err == nil && given != "0" {
		port = given
	}
	host, _, _ := strings.Cut(strings.ToLower(machine), ".")
	host += ".local"
	if a, err := readAuthority(r.data); err == nil && a != nil { // what is wrong with it is said where it is opened
		host = a.host
	} else if host == ".local" || host == "localhost.local" || checkName(host) != nil {
		return "", fmt.Errorf("this machine's name, %q, is none that phones could find. Say how they reach it: -url https://NAME.local:%s, or the address that your router always gives it, -url https://192.0.2.7:%s", machine, port, port)
	}
	return "https://" + net.JoinHostPort(host, port), nil
}

// checkName refuses what can be no name in a certificate (RFC 5280, 4.2.1.6; RFC 1123,
// 2.1: letters, digits, hyphens; 63 bytes a label, 253 in all), and is no address either.
func checkName(host string) error {
	if ip, err := netip.ParseAddr(host); err == nil {
		if ip.Zone() != "" || ip.IsUnspecified() || ip.IsMulticast() || ip.Is4In6() {
			return fmt.Errorf("-url: %s is no address that leads to one machine from all others. Give the machine's name", host)
		}
		return nil
	}
	bad := len(host) > 253
	for label := range strings.SplitSeq(host, ".") {
		bad = bad || label == "" || len(label) > 63 || strings.Trim(label, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" ||
			strings.HasPrefix(label, "-") || strings.HasSuffix(label, "-")
	}
	if bad {
		return fmt.Errorf("-url: %.80q cannot be a name in a certificate: it takes letters of a to z, digits and hyphens, between dots. Write other letters as browsers send them, xn--…", host)
	}
	return nil
}

func portOf(u *url.URL) string {
	if u.Port() != "" {
		return u.Port()
	}
	return map[string]string{"http": "80", "https": "443"}[u.Scheme]
}

// site is what the app is told of where it is.
func (r *reach) site(listens net.Addr) (*site, error) {
	var s *site
	var err error
	switch {
	case r.speaksTLS():
		s = siteOf(r.public)
		s.strict = r.tls != "own" && net.ParseIP(r.public.Hostname()) == nil // RFC 6797, 8.1.1: names only
	case r.plain && r.public != nil:
		s = siteOf(r.public)
		s.addLoopback(listens)
	default:
		s, err = newSite(r.url, listens)
	}
	if err != nil {
		return nil, err
	}
	s.proxies = r.proxies
	return s, nil
}

func (r *reach) speaksTLS() bool { return r.cert != "" || r.tls != "" || r.acme != "" }

// certificate is what the server shows in handshakes: the one of the moment, and how to come
// by the next. Handshakes only read it; nobody outside can set anything in motion.
type certificate struct {
	current atomic.Pointer[tls.Certificate]
	// renew gives another certificate, or nil where the current one stays. force: somebody
	// asked for it.
	renew func(now time.Time, force bool) (*tls.Certificate, error)
	// expires is when devices are refused unless a person does what advice says, which
	// the log says once a day from notice before it.
	expires func() time.Time
	notice  time.Duration
	advice  string

	now    func() time.Time
	log    *slog.Logger
	warned time.Time
}

const day = 24 * time.Hour

// check renews the certificate if it is time, and warns.
func (c *certificate) check(force bool) {
	now := c.now()
	fresh, err := c.renew(now, force)
	if err != nil {
		c.log.Warn("no new TLS certificate: "+err.Error(), "old one stays", c.current.Load() != nil)
	}
	if fresh != nil {
		c.current.Store(fresh)
		c.log.Info("TLS certificate taken", "expires", fresh.Leaf.NotAfter)
	}
	if c.current.Load() == nil {
		return
	}
	if expires := c.expires(); expires.Sub(now) < c.notice && now.Sub(c.warned) >= day {
		c.warned = now
		message := "TLS stops working in " + strconv.Itoa(int(expires.Sub(now)/day)) + " days: "
		if !now.Before(expires) {
			message = "TLS has stopped working: "
		}
		c.log.Warn(message+c.advice, "expires", expires)
	}
}

// tend checks every minute, and when asked (SIGHUP), until ctx ends.
func (c *certificate) tend(ctx context.Context, asked <-chan os.Signal) {
	tick := time.NewTicker(time.Minute)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			c.check(false)
		case <-asked:
			c.check(true)
		}
	}
}

var errNoCertificate = errors.New("there is no certificate yet")

// show is tls.Config.GetCertificate.
func (c *certificate) show(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	if current := c.current.Load(); current != nil {
		return current, nil
	}
	return nil, errNoCertificate
}

// writeWhole writes a file under a passing name first: what has the right name is whole.
func writeWhole(path string, data []byte, mode os.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".wrackbook-*") // mode 0600
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(mode)
	}
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return err
	}
	return syncDir(filepath.Dir(path))
}
