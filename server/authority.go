package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A household's own certificate authority. Phones are asked to trust its root, which is a
// lot to ask: so its certificates say, as a critical constraint that phones enforce
// (RFC 5280, 4.2.1.10), that it can vouch for the one host of -url and for nothing else in the
// world. A stolen key then fools nobody about any other site.
//
// Not everyone enforces what a root says of itself (RFC 5280, 6.2, leaves that open), and
// everyone what a root says of those below it. So the root signs one certificate, which
// says the same, and its key is forgotten; that one's key is kept and signs the rest.

// authority is a root, and what it has the power of.
type authority struct {
	host   string // the only one it can vouch for: a name with those below it, or an address
	root   *x509.Certificate
	signer *x509.Certificate // under the root
	key    *ecdsa.PrivateKey // of signer
	pem    []byte            // of the root, for devices; it holds nothing secret
}

const (
	authorityFile = "authority.pem" // in the data folder: signer, root and key, mode 0600
	authorityCopy = "authority.crt" // the root alone, to be handed on
	authorityPath = "/authority.crt"
	// authorityType makes phones offer to install it.
	authorityType = "application/x-x509-ca-cert"

	rootAge = 10 * 365 * day
	// leafAge is well within the 397 days that Apple's devices accept of public
	// authorities (825 of private ones; both from memory).
	leafAge = 90 * day
	// leafSpare is left of a leaf when it is replaced.
	leafSpare = leafAge / 3
	// rootNotice is how long before its end a root is spoken of: every phone has to be
	// told to trust the next.
	rootNotice = 180 * day
	// slow is how far a phone's clock may be behind ours.
	slow = day
)

// openAuthority reads the household's authority from dir, or makes it. It must be for host.
func openAuthority(dir, host string, now time.Time) (*authority, error) {
	path := filepath.Join(dir, authorityFile)
	a, err := readAuthority(dir)
	switch {
	case err != nil:
		return nil, err
	case a == nil:
		if a, err = foundAuthority(dir, host, now); err != nil {
			return nil, err
		}
	case a.host != host:
		return nil, fmt.Errorf("the authority in %s can vouch for %s only, and -url says %s. Give -url with the former, or move that file away: then a new authority is made, which every phone must be told to trust again", path, a.host, host)
	case !now.Before(a.root.NotAfter):
		return nil, fmt.Errorf("the authority in %s ran out on %s, or this machine's clock is wrong. Move the file away: then a new one is made, which every phone must be told to trust", path, a.root.NotAfter.Format(time.DateOnly))
	}
	_ = os.Chmod(path, 0o600) // whatever a copy from elsewhere made of it; not all disks know modes
	if err := writeWhole(filepath.Join(dir, authorityCopy), a.pem, 0o644); err != nil {
		return nil, err
	}
	return a, nil
}

// foundAuthority makes an authority and writes it down.
func foundAuthority(dir, host string, now time.Time) (*authority, error) {
	a, err := newAuthority(host, now)
	if err != nil {
		return nil, err
	}
	key, err := x509.MarshalPKCS8PrivateKey(a.key)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	whole := slices.Concat(certPEM(a.signer), a.pem, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: key}))
	return a, writeWhole(filepath.Join(dir, authorityFile), whole, 0o600)
}

// newAuthority makes an authority for host, which checkName has seen.
func newAuthority(host string, now time.Time) (*authority, error) {
	if now.Year() < 2026 { // a small computer without a clock of its own, just started
		return nil, fmt.Errorf("this machine's clock says %s. Set it, so that the authority of the household begins and ends at the right time", now.Format(time.DateOnly))
	}
	rootKey, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	form := constrained(host, now)
	form.MaxPathLen = 1
	form.Subject.CommonName = "Wrackbook at " + host
	if len(form.Subject.CommonName) > 64 { // RFC 5280, A.1: ub-common-name
		form.Subject.CommonName = "Wrackbook household authority"
	}
	root, err := sign(form, form, rootKey.Public(), rootKey)
	if err != nil {
		return nil, err
	}
	form = constrained(host, now)
	form.MaxPathLenZero = true
	form.Subject.CommonName = "Wrackbook household signer"
	signer, err := sign(form, root, key.Public(), rootKey)
	if err != nil {
		return nil, err
	}
	return &authority{host, root, signer, key, certPEM(root)}, nil
}

// constrained is the form of an authority's certificate for host alone.
func constrained(host string, now time.Time) *x509.Certificate {
	form := &x509.Certificate{
		NotBefore: now.Add(-slow), NotAfter: now.Add(rootAge),
		BasicConstraintsValid: true, IsCA: true,
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		ExtKeyUsage:                 []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		PermittedDNSDomainsCritical: true,
	}
	// A kind of name that is not spoken of would be free: so both kinds are.
	if ip := net.ParseIP(host); ip != nil {
		form.PermittedIPRanges = []*net.IPNet{onlyIP(ip)}
		form.ExcludedDNSDomains = []string{""} // is in every name
	} else {
		form.PermittedDNSDomains = []string{host}
		form.ExcludedIPRanges = []*net.IPNet{
			{IP: net.IPv4zero.To4(), Mask: net.CIDRMask(0, 32)}, {IP: net.IPv6zero, Mask: net.CIDRMask(0, 128)},
		}
	}
	return form
}

func sign(form, parent *x509.Certificate, public any, key *ecdsa.PrivateKey) (*x509.Certificate, error) {
	der, err := x509.CreateCertificate(rand.Reader, form, parent, public, key)
	if err != nil {
		return nil, err
	}
	return x509.ParseCertificate(der)
}

func certPEM(c *x509.Certificate) []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: c.Raw})
}

func onlyIP(ip net.IP) *net.IPNet {
	if four := ip.To4(); four != nil {
		ip = four
	}
	return &net.IPNet{IP: ip, Mask: net.CIDRMask(8*len(ip), 8*len(ip))}
}

const maxAuthorityBytes = 64 << 10

// readAuthority reads the authority in dir; nil where there is none.
func readAuthority(dir string) (*authority, error) {
	path := filepath.Join(dir, authorityFile)
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var data []byte
	if err == nil && info.Size() <= maxAuthorityBytes {
		data, err = os.ReadFile(path)
	}
	if err != nil {
		return nil, err
	}
	a, err := decodeAuthority(data)
	if err != nil {
		return nil, fmt.Errorf("%s is damaged (%w). Put the copy back that you have of it, or move it away: then a new authority is made, which every phone must be told to trust again", path, err)
	}
	return a, nil
}

func decodeAuthority(data []byte) (*authority, error) {
	pair, err := tls.X509KeyPair(data, data) // checks that they belong together
	if err != nil {
		return nil, err
	}
	key, ok := pair.PrivateKey.(*ecdsa.PrivateKey)
	if !ok || len(pair.Certificate) != 2 {
		return nil, errForeign
	}
	root, err := x509.ParseCertificate(pair.Certificate[1])
	if err != nil {
		return nil, err
	}
	if !root.IsCA || root.CheckSignatureFrom(root) != nil || pair.Leaf.CheckSignatureFrom(root) != nil {
		return nil, errForeign
	}
	a := &authority{root: root, signer: pair.Leaf, key: key, pem: certPEM(root)}
	switch {
	case len(root.PermittedDNSDomains) == 1 && len(root.PermittedIPRanges) == 0:
		a.host = root.PermittedDNSDomains[0]
	case len(root.PermittedIPRanges) == 1 && len(root.PermittedDNSDomains) == 0:
		a.host = root.PermittedIPRanges[0].IP.String()
	default:
		return nil, errForeign
	}
	return a, nil
}

var errForeign = errors.New("it is none that Wrackbook made")

// issue makes a certificate for host, which clients accept where host is the authority's.
func (a *authority) issue(host string, now time.Time) (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	leaf := &x509.Certificate{
		// No common name: of what has no name beside it, some would take it for one.
		Subject:   pkix.Name{Organization: []string{"Wrackbook"}},
		NotBefore: latest(now.Add(-slow), a.root.NotBefore), NotAfter: earliest(now.Add(leafAge), a.root.NotAfter),
		BasicConstraintsValid: true,
		KeyUsage:              x509.KeyUsageDigitalSignature,
		ExtKeyUsage:           []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	if ip := net.ParseIP(host); ip != nil {
		leaf.IPAddresses = []net.IP{ip}
	} else {
		leaf.DNSNames = []string{host}
	}
	if leaf, err = sign(leaf, a.signer, key.Public(), a.key); err != nil {
		return nil, err
	}
	return &tls.Certificate{Certificate: [][]byte{leaf.Raw, a.signer.Raw}, PrivateKey: key, Leaf: leaf}, nil
}

func latest(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

func earliest(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

// certificate is what a server of the authority's host shows. Leaves live in memory only,
// and each is replaced in time, also when the clock of this machine is set.
func (a *authority) certificate(now func() time.Time, log *slog.Logger) (*certificate, error) {
	c := &certificate{expires: func() time.Time { return a.root.NotAfter }, notice: rootNotice,
		advice: "the authority of this household runs out. Choose a day, move " + authorityFile + " away and start again: a new one is made, which every phone must be told to trust", now: now, log: log}
	c.renew = func(now time.Time, _ bool) (*tls.Certificate, error) {
		if shown := c.current.Load(); shown != nil && !now.Before(shown.Leaf.NotBefore) &&
			(now.Before(shown.Leaf.NotAfter.Add(-leafSpare)) || shown.Leaf.NotAfter.Equal(a.root.NotAfter)) {
			return nil, nil
		}
		return a.issue(a.host, now)
	}
	first, err := c.renew(now(), true)
	if err != nil {
		return nil, err
	}
	c.current.Store(first)
	return c, nil
}

// fingerprint is the SHA-256 of the root, as phones show it for comparison.
func (a *authority) fingerprint() string {
	sum := sha256.Sum256(a.root.Raw)
	return strings.ReplaceAll(fmt.Sprintf("% X", sum), " ", ":")
}

// asset is the root as a file of the server, for everyone: a device needs it before it joins.
func (a *authority) asset() *asset {
	return &asset{contentType: authorityType, cacheControl: "no-cache", etag: fmt.Sprintf("%x", a.root.SerialNumber), plain: a.pem}
}
