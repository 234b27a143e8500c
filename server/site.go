package main

import (
	"fmt"
	"net"
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wrackbook/internal/fault"
)

// site is where browsers find this server: the public address, and the loopback names of
// the address that it listens on.
type site struct {
	url     string          // without a slash at the end
	secure  bool            // https
	origins map[string]bool // as browsers write them in Origin
	hosts   map[string]bool // as they write them in Host
}

// newSite reads -url; an empty one means the listening address.
func newSite(public string, listens net.Addr) (*site, error) {
	if public == "" {
		public = "http://" + listens.String()
	}
	u, err := url.Parse(public)
	switch {
	case err != nil || (u.Scheme != "http" && u.Scheme != "https") || u.Hostname() == "" || u.User != nil ||
		strings.Trim(u.Path, "/") != "" || u.RawQuery != "" || u.Fragment != "":
		return nil, fmt.Errorf("-url %q is not the address of a site, such as https://ledge.example", public)
	case u.Scheme == "http" && !isLoopback(u.Hostname()):
		return nil, fmt.Errorf("-url %q is plain HTTP, which anyone between can read and change. Give an https address, of the proxy that has the certificate", public)
	}
	s := &site{url: u.Scheme + "://" + strings.ToLower(u.Host), secure: u.Scheme == "https", origins: map[string]bool{}, hosts: map[string]bool{}}
	s.add(u.Scheme, strings.ToLower(u.Host))
	if _, port, err := net.SplitHostPort(listens.String()); err == nil {
		for _, name := range []string{"127.0.0.1", "localhost", "::1"} {
			s.add("http", net.JoinHostPort(name, port))
		}
		s.add("http", listens.String())
	}
	return s, nil
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

// callerAddress is where a request came from, for counting tries: that of the connection,
// or what a proxy on this machine says of it. Of IPv6 it is the network, which is one
// household's.
func callerAddress(ctx *fiber.Ctx) string {
	ip := ctx.Context().RemoteIP()
	if ip.IsLoopback() {
		said := ctx.Get(fiber.HeaderXForwardedFor)
		last := net.ParseIP(strings.TrimSpace(said[strings.LastIndexByte(said, ',')+1:])) // the proxy's own word is the last
		if last != nil {
			ip = last
		}
	}
	if ip.To4() == nil {
		ip = ip.Mask(net.CIDRMask(64, 128))
	}
	return ip.String()
}
