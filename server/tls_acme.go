package main

import (
	"bytes"
	"context"
	"crypto/tls"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"golang.org/x/crypto/acme"
	"golang.org/x/crypto/acme/autocert"
)

// checkACME refuses what no public authority gives a certificate for.
func (r *reach) checkACME(host string) error {
	if name, domain, ok := strings.Cut(r.acme, "@"); !ok || name == "" || domain == "" || len(r.acme) > 254 || strings.ContainsAny(r.acme, " ,?&\"<>") {
		return fmt.Errorf("-acme %.80q is not an email address", r.acme)
	}
	if net.ParseIP(host) != nil || !strings.Contains(host, ".") || strings.HasSuffix(host, ".local") || host == "localhost" {
		return fmt.Errorf("-acme needs a name that the whole internet knows, and %q is none. For a name of the home network take -tls own", host)
	}
	if r.directory != "" {
		u, err := url.Parse(r.directory)
		if err != nil || u.Host == "" || u.Scheme != "https" && !(u.Scheme == "http" && isLoopback(u.Hostname())) {
			return fmt.Errorf("-acme-directory %.200q is not the https address of a directory", r.directory)
		}
	}
	if r.acmeHTTP != "" {
		if _, _, err := net.SplitHostPort(r.acmeHTTP); err != nil {
			return fmt.Errorf("-acme-http %q is not an address and a port, such as :80", r.acmeHTTP)
		}
	}
	return nil
}

const (
	acmeFolder = "acme" // in the data folder: the account's key, certificates and theirs
	// acmePause is between tries that failed. Authorities count them: Let's Encrypt
	// allows five for a name in an hour (from memory).
	acmePause = 30 * time.Minute
)

// fetched is a certificate that autocert fetches and renews. It is asked for by this server
// and by no handshake, so that nobody who knocks can make it bother the authority.
type fetched struct {
	manager *autocert.Manager
	get     func(*tls.ClientHelloInfo) (*tls.Certificate, error) // the manager's
	host    string
	next    time.Time // not before it is tried again
	*certificate
}

func newFetched(r *reach, now func() time.Time, log *slog.Logger) *fetched {
	host := r.public.Hostname()
	client := r.client
	if client == nil {
		client = &http.Client{Timeout: time.Minute}
	}
	f := &fetched{host: host, manager: &autocert.Manager{
		Prompt:     autocert.AcceptTOS, // by whoever gave the flag
		Cache:      autocert.DirCache(filepath.Join(r.data, acmeFolder)),
		HostPolicy: autocert.HostWhitelist(host),
		Email:      r.acme,
		Client:     &acme.Client{DirectoryURL: r.directory, HTTPClient: client, UserAgent: "wrackbook"},
	}}
	f.get = f.manager.GetCertificate
	if r.directory == "" {
		f.manager.Client.DirectoryURL = autocert.DefaultACMEDirectory
	}
	f.certificate = &certificate{renew: f.renew, expires: func() time.Time { return f.current.Load().Leaf.NotAfter }, notice: 14 * day,
		advice: "it should have been renewed by now. Are port 443 or 80 of " + host + " still led to this machine?", now: now, log: log}
	return f
}

// renew asks autocert, which has the certificate in memory and renews it there a month
// before its end; the first is fetched.
func (f *fetched) renew(now time.Time, force bool) (*tls.Certificate, error) {
	shown := f.current.Load()
	if shown == nil && now.Before(f.next) && !force {
		return nil, nil
	}
	f.next = now.Add(acmePause)
	got, err := f.get(&tls.ClientHelloInfo{
		ServerName: f.host, CipherSuites: []uint16{tls.TLS_ECDHE_ECDSA_WITH_AES_128_GCM_SHA256}, // so that it is one of ECDSA
	})
	switch {
	case err != nil && shown != nil:
		return nil, nil // its end is warned of
	case err != nil:
		return nil, fmt.Errorf("the ACME authority gave none for %s: %w. Is port 443 or 80 of that name open to the internet and led to this machine? It is tried again in %v; after the first minute also on SIGHUP", f.host, err, acmePause)
	case shown != nil && bytes.Equal(got.Leaf.Raw, shown.Leaf.Raw):
		return nil, nil
	}
	return got, nil
}

// show answers the authority's TLS-ALPN-01 checks, and everyone else with what is there.
func (f *fetched) show(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
	if slices.Equal(hello.SupportedProtos, []string{acme.ALPNProto}) {
		return f.get(hello)
	}
	return f.certificate.show(hello)
}

// listenHTTP answers HTTP-01 checks, and sends everyone else to the site, until ctx ends. It
// is no misfortune where it cannot.
func (f *fetched) listenHTTP(ctx context.Context, addr, site string) {
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		f.log.Info("checks of the ACME authority over port 80 are not answered; those over port 443 are", "cause", err)
		return
	}
	elsewhere := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, site+r.URL.RequestURI(), http.StatusPermanentRedirect)
	})
	checks := f.manager.HTTPHandler(elsewhere)
	named := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if host, _, err := net.SplitHostPort(r.Host); err == nil {
			r.Host = host // autocert knows names without ports only
		}
		checks.ServeHTTP(w, r)
	})
	server := &http.Server{
		Handler: named, MaxHeaderBytes: maxPlainHead,
		ReadTimeout: handshakeTimeout, WriteTimeout: handshakeTimeout, IdleTimeout: handshakeTimeout,
	}
	context.AfterFunc(ctx, func() { server.Close() })
	go server.Serve(listener)
}
