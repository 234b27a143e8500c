package main

import (
	"bytes"
	"fmt"
	"net"
	"net/netip"
	"net/url"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/fault"
)

// site is where browsers find this server.
type site struct {
	url       string          // without a slash at the end
	secure    bool            // https
	strict    bool            // browsers are told to come by https only, see strictTransport
	origins   map[string]bool // as browsers write them in Origin
	hosts     map[string]bool // as they write them in Host
	proxies   []netip.Prefix  // whose word on where a request came from is believed
	authority *authority      // the household's own; nil where its devices need none
}

// strictTransport is sent (RFC 6797) where the certificate is one that every browser trusts:
// half a year, so that giving TLS up is possible. With an authority of the household's own it
// is not: the name is then also that of a machine of the home, whose other services on other
// ports would be cut off, and a phone that has lost the authority could not even be shown the
// page that hands it out.
const strictTransport = "max-age=15552000"

// newSite reads -url of a server that itself speaks plain HTTP on this machine; an empty one
// means the listening address.
func newSite(public string, listens net.Addr) (*site, error) {
	if public == "" {
		public = "http://" + listens.String()
	}
	u, err := parseSite(public)
	if err != nil {
		return nil, err
	}
	if u.Scheme == "http" && !isLoopback(u.Hostname()) {
		return nil, fmt.Errorf("-url %q is plain HTTP, which anyone between can read and change. Give an https address, of the proxy that has the certificate", public)
	}
	s := siteOf(u)
	s.addLoopback(listens)
	return s, nil
}

// parseSite reads the address of a site, in lower case.
func parseSite(public string) (*url.URL, error) {
	u, err := url.Parse(public)
	if err != nil || (u.Scheme != "http" && u.Scheme != "https") || u.Hostname() == "" || u.User != nil ||
		strings.Trim(u.Path, "/") != "" || u.RawQuery != "" || u.Fragment != "" {
		return nil, fmt.Errorf("-url %q is not the address of a site, such as https://ledge.example", public)
	}
	return &url.URL{Scheme: u.Scheme, Host: strings.ToLower(u.Host)}, nil
}

func siteOf(u *url.URL) *site {
	s := &site{url: u.String(), secure: u.Scheme == "https", origins: map[string]bool{}, hosts: map[string]bool{}}
	s.add(u.Scheme, u.Host)
	return s
}

// addLoopback takes in the names that only this machine reaches the server by.
func (s *site) addLoopback(listens net.Addr) {
	if _, port, err := net.SplitHostPort(listens.String()); err == nil {
		for _, name := range []string{"127.0.0.1", "localhost", "::1"} {
			s.add("http", net.JoinHostPort(name, port))
		}
		s.add("http", listens.String())
	}
}

// add takes one address in, with and without a port that goes without saying.
func (s *site) add(scheme, host string) {
	port := map[string]string{"http": ":80", "https": ":443"}[scheme]
	bare := strings.TrimSuffix(host, port)
	s.origins[scheme+"://"+bare] = true
	s.hosts[bare] = true
	s.hosts[bare+port] = true
}

func isLoopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// checkHost refuses a name that is not this server's: a page elsewhere can have its own
// name lead here, and then counts as of the same site.
func (s *site) checkHost(ctx *fiber.Ctx) error {
	if s.hosts[strings.ToLower(string(ctx.Request().Host()))] {
		return nil
	}
	return fault.New(fault.CrossSite, "", "This server is at %s and does not answer under other names. If that address is wrong, start it with another -url.", s.url)
}

// checkSender refuses what a browser sends on behalf of another site. Whoever writes without
// saying from where must hold a token in Authorization, which no page elsewhere can.
func (s *site) checkSender(ctx *fiber.Ctx) error {
	crossSite := fault.New(fault.CrossSite, "", "This was sent by another site than %s, so it is not done.", s.url)
	reads := ctx.Method() == fiber.MethodGet || ctx.Method() == fiber.MethodHead
	switch ctx.Get("Sec-Fetch-Site") {
	case "", "same-origin":
	case "none": // typed into the address line
		if !reads {
			return crossSite
		}
	default:
		return crossSite
	}
	origin := ctx.Get(fiber.HeaderOrigin)
	switch {
	case origin != "":
		if !s.origins[origin] {
			return crossSite
		}
	case !reads && ctx.Cookies(cookieName) != "" && bearer(ctx) == "":
		return crossSite
	}
	return nil
}

// maxProxies bounds -proxy.
const maxProxies = 64

// parseProxies reads addresses and networks, joined by commas.
func parseProxies(list string) (proxies []netip.Prefix, err error) {
	if list == "" {
		return nil, nil
	}
	for item := range strings.SplitSeq(list, ",") {
		item = strings.TrimSpace(item)
		p, err := netip.ParsePrefix(item)
		if a, addrErr := netip.ParseAddr(item); addrErr == nil && a.Zone() == "" {
			p, err = netip.PrefixFrom(a, a.BitLen()), nil
		}
		switch {
		case err != nil:
			return nil, fmt.Errorf("-proxy: %.80q is neither an address nor a network, such as 127.0.0.1 or 172.16.0.0/12", item)
		case p.Bits() < 8:
			return nil, fmt.Errorf("-proxy: %s is so wide that strangers' word would be believed too. Name the proxy's own address", item)
		case len(proxies) == maxProxies:
			return nil, fmt.Errorf("-proxy: more than %d are named. Join neighbours to a network", maxProxies)
		}
		proxies = append(proxies, p.Masked())
	}
	return proxies, nil
}

func (s *site) isProxy(a netip.Addr) bool {
	return slices.ContainsFunc(s.proxies, func(p netip.Prefix) bool { return p.Contains(a) })
}

// callerAddress is where a request came from, for counting tries: that of the connection,
// or, of a proxy that is named in -proxy, what it says: each hop adds the one before it at
// the end of X-Forwarded-For, so the last that is no such proxy is as far as the chain is
// believed. Of IPv6 it is the network, which is one household's.
func (s *site) callerAddress(ctx *fiber.Ctx) string {
	caller, _ := netip.AddrFromSlice(ctx.Context().RemoteIP())
	caller = caller.Unmap()
	lines := ctx.Request().Header.PeekAll(fiber.HeaderXForwardedFor)
	hops := strings.Split(string(bytes.Join(lines, []byte(","))), ",")
	for s.isProxy(caller) && len(hops) > 0 {
		last, ok := parseHop(strings.TrimSpace(hops[len(hops)-1]))
		if !ok {
			break
		}
		caller, hops = last, hops[:len(hops)-1]
	}
	if caller.Is6() {
		return netip.PrefixFrom(caller.WithZone(""), 64).Masked().String()
	}
	return caller.String()
}

// parseHop reads an address of X-Forwarded-For, to which some proxies add the port.
func parseHop(hop string) (netip.Addr, bool) {
	a, err := netip.ParseAddr(hop)
	if err != nil {
		var withPort netip.AddrPort
		withPort, err = netip.ParseAddrPort(hop)
		a = withPort.Addr()
	}
	return a.Unmap(), err == nil
}
