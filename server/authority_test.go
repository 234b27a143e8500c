package main

import (
	"bytes"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http/httptest"
	"net/netip"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// verify asks Go whether a client that trusts the authority and nothing else accepts a
// certificate for the host that it wants.
func verify(a *authority, shown *tls.Certificate, host string, now time.Time) error {
	roots := x509.NewCertPool()
	roots.AddCert(a.root)
	between := x509.NewCertPool()
	between.AddCert(a.signer)
	_, err := shown.Leaf.Verify(x509.VerifyOptions{Roots: roots, Intermediates: between, DNSName: host, CurrentTime: now})
	return err
}

// openssl asks OpenSSL the same. It must be asked of a certificate that holds now.
func openssl(t *testing.T, a *authority, shown *tls.Certificate, host string) error {
	t.Helper()
	dir := t.TempDir()
	root, signer, leaf := filepath.Join(dir, "root.pem"), filepath.Join(dir, "signer.pem"), filepath.Join(dir, "leaf.pem")
	require.NoError(t, os.WriteFile(root, a.pem, 0o600))
	require.NoError(t, os.WriteFile(signer, certPEM(a.signer), 0o600))
	require.NoError(t, os.WriteFile(leaf, certPEM(shown.Leaf), 0o600))
	kind := "-verify_hostname"
	if net.ParseIP(host) != nil {
		kind = "-verify_ip"
	}
	cmd := exec.Command("openssl", "verify", "-x509_strict", "-purpose", "sslserver", "-no-CApath", "-no-CAstore", "-CAfile", root, "-untrusted", signer, kind, host, leaf)
	out, err := cmd.CombinedOutput()
	require.NotErrorIs(t, err, exec.ErrNotFound, "this test needs openssl: apt-get install --no-install-recommends openssl")
	if err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	return nil
}

// The authority can vouch for its host and for nothing else, whoever holds its key: what it
// is made to sign for others is refused by Go and by OpenSSL. browser_tls_test.go asks
// Chromium.
func TestTheAuthorityVouchesForOneHost(t *testing.T) {
	tests := map[string]struct {
		host   string // of the authority
		leaf   string // what it is made to sign
		wanted bool   // whether that is accepted
	}{
		"its name":                     {"ledge.local", "ledge.local", true},
		"a name below it":              {"ledge.local", "www.ledge.local", true},
		"a name beside it":             {"ledge.local", "pool.local", false},
		"a name that ends like it":     {"ledge.local", "aledge.local", false},
		"the name above it":            {"ledge.local", "local", false},
		"a bank":                       {"ledge.local", "bank.example", false},
		"an address":                   {"ledge.local", "192.0.2.7", false},
		"an IPv6 address":              {"ledge.local", "2001:db8::7", false},
		"the loopback address":         {"ledge.local", "127.0.0.1", false},
		"its address":                  {"192.0.2.7", "192.0.2.7", true},
		"the address beside it":        {"192.0.2.7", "192.0.2.6", false},
		"a name, of an address":        {"192.0.2.7", "ledge.local", false},
		"IPv6, of an address":          {"192.0.2.7", "2001:db8::7", false},
		"its IPv6 address":             {"2001:db8::7", "2001:db8::7", true},
		"the IPv6 address beside it":   {"2001:db8::7", "2001:db8::8", false},
		"IPv4, of an IPv6 address":     {"2001:db8::7", "192.0.2.7", false},
		"a name, of an IPv6 address":   {"2001:db8::7", "ledge.local", false},
		"a name of one label":          {"ledge", "ledge", true},
		"another, of one of one label": {"ledge", "ledges", false},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			now := time.Now()
			a, err := newAuthority(test.host, now)
			require.NoError(t, err)
			shown, err := a.issue(test.leaf, now)
			require.NoError(t, err)
			inGo, inOpenSSL := verify(a, shown, test.leaf, now), openssl(t, a, shown, test.leaf)
			if test.wanted {
				assert.NoError(t, inGo)
				assert.NoError(t, inOpenSSL)
				return
			}
			var invalid x509.CertificateInvalidError
			if assert.ErrorAs(t, inGo, &invalid) {
				assert.Equal(t, x509.CANotAuthorizedForThisName, invalid.Reason)
			}
			assert.ErrorContains(t, inOpenSSL, "subtree violation")
		})
	}
}

// What the authority and its certificates are, by the numbers of the standards.
func TestFormOfTheAuthority(t *testing.T) {
	a, err := newAuthority("ledge.local", noon)
	require.NoError(t, err)
	root, signer := a.root, a.signer
	for _, c := range []*x509.Certificate{root, signer} {
		assert.Equal(t, x509.ECDSAWithSHA256, c.SignatureAlgorithm)
		assert.True(t, c.IsCA)
		assert.True(t, c.PermittedDNSDomainsCritical)
		assert.Equal(t, []string{"ledge.local"}, c.PermittedDNSDomains)
		assert.Len(t, c.ExcludedIPRanges, 2)
		assert.Equal(t, []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, c.ExtKeyUsage)
	}
	assert.Equal(t, "Wrackbook at ledge.local", root.Subject.CommonName)
	assert.Equal(t, 1, root.MaxPathLen)
	assert.True(t, signer.MaxPathLen == 0 && signer.MaxPathLenZero, "the key that is kept can make no other authority")
	assert.NotEqual(t, root.PublicKey, &a.key.PublicKey, "the root's key is forgotten")
	assert.WithinDuration(t, noon.AddDate(10, 0, 0), root.NotAfter, 5*day)

	leaf, err := a.issue("ledge.local", noon)
	require.NoError(t, err)
	assert.LessOrEqual(t, leaf.Leaf.NotAfter.Sub(leaf.Leaf.NotBefore), 397*day)
	assert.Equal(t, []string{"ledge.local"}, leaf.Leaf.DNSNames)
	assert.Empty(t, leaf.Leaf.Subject.CommonName)
	assert.Equal(t, signer.SubjectKeyId, leaf.Leaf.AuthorityKeyId)
	assert.Error(t, verify(a, leaf, "ledge.local", noon.Add(-2*day)))
	assert.NoError(t, verify(a, leaf, "ledge.local", noon.Add(-day/2)), "a phone whose clock is slow")
	assert.Error(t, verify(a, leaf, "ledge.local", leaf.Leaf.NotAfter.Add(time.Minute)))

	long := strings.Repeat("a", 60) + ".local"
	a, err = newAuthority(long, noon)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(a.root.Subject.CommonName), 64, "RFC 5280, A.1")

	_, err = newAuthority("ledge.local", time.Unix(0, 0))
	assert.ErrorContains(t, err, "clock")

	// The fingerprint is that which openssl prints of the file that is handed out.
	file := filepath.Join(t.TempDir(), "authority.crt")
	require.NoError(t, os.WriteFile(file, a.pem, 0o600))
	printed, err := exec.Command("openssl", "x509", "-in", file, "-noout", "-fingerprint", "-sha256").Output()
	require.NoError(t, err)
	_, want, _ := strings.Cut(strings.TrimSpace(string(printed)), "=")
	assert.Equal(t, want, a.fingerprint())
}

// Every name that -url may have can have an authority, which then vouches for it.
func TestEveryNameCanHaveAnAuthority(t *testing.T) {
	label := rapid.StringMatching(`[a-z0-9]([a-z0-9-]{0,20}[a-z0-9])?`)
	name := rapid.Map(rapid.SliceOfN(label, 1, 5), func(labels []string) string { return strings.Join(labels, ".") })
	address := func(size int) *rapid.Generator[string] {
		return rapid.Map(rapid.SliceOfN(rapid.Byte(), size, size), func(b []byte) string { a, _ := netip.AddrFromSlice(b); return a.String() })
	}
	hosts := rapid.OneOf(name, address(4), address(16)).Filter(func(host string) bool { return checkName(host) == nil })
	rapid.Check(t, func(t *rapid.T) {
		host := hosts.Draw(t, "host")
		a, err := newAuthority(host, noon)
		require.NoError(t, err)
		shown, err := a.issue(host, noon)
		require.NoError(t, err)
		require.NoError(t, verify(a, shown, host, noon), host)
	})
}

func TestTheAuthorityIsKept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "household")
	first, err := openAuthority(dir, "ledge.local", noon)
	require.NoError(t, err)
	path := filepath.Join(dir, authorityFile)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "it holds the key")

	require.NoError(t, os.Chmod(path, 0o644)) // as a copy from a stick would be
	again, err := openAuthority(dir, "ledge.local", noon.Add(time.Hour))
	require.NoError(t, err)
	assert.Equal(t, first.fingerprint(), again.fingerprint())
	info, err = os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	copied, err := os.ReadFile(filepath.Join(dir, authorityCopy))
	require.NoError(t, err)
	assert.Equal(t, string(first.pem), string(copied))
	assert.NotContains(t, string(copied), "PRIVATE")

	for _, host := range []string{"pool.local", "192.0.2.7"} {
		_, err = openAuthority(dir, host, noon)
		assert.ErrorContains(t, err, "can vouch for ledge.local only")
	}
	_, err = openAuthority(dir, "ledge.local", noon.AddDate(11, 0, 0))
	assert.ErrorContains(t, err, "ran out")

	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	other, err := newAuthority("ledge.local", noon)
	require.NoError(t, err)
	keyPEM := whole[bytes.Index(whole, []byte("-----BEGIN PRIVATE")):]
	leaf, err := first.issue("ledge.local", noon)
	require.NoError(t, err)
	for name, data := range map[string][]byte{
		"empty":             {},
		"cut short":         whole[:len(whole)-40],
		"without its key":   first.pem,
		"without its root":  slices.Concat(certPEM(first.signer), keyPEM),
		"of another's root": slices.Concat(certPEM(first.signer), other.pem, keyPEM),
		"of another's key":  slices.Concat(certPEM(other.signer), other.pem, keyPEM),
		"a leaf":            slices.Concat(certPEM(leaf.Leaf), first.pem, keyPEM),
		"enormous":          make([]byte, maxAuthorityBytes+1),
	} {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, os.WriteFile(path, data, 0o600))
			_, err := openAuthority(dir, "ledge.local", noon)
			assert.ErrorContains(t, err, "damaged")
			kept, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, data, kept, "it is not written over")
		})
	}
}

// Certificates are replaced a month before their end, also after the clock was set, and never
// outlive the authority.
func TestCertificatesOfTheAuthorityAreReplaced(t *testing.T) {
	a, err := newAuthority("ledge.local", noon)
	require.NoError(t, err)
	now := noon
	c, err := a.certificate(func() time.Time { return now }, slog.New(slog.NewTextHandler(io.Discard, nil)))
	require.NoError(t, err)
	shown := func() *tls.Certificate {
		got, err := c.show(nil)
		require.NoError(t, err)
		return got
	}
	first := shown()
	now = noon.Add(leafAge - leafSpare - time.Minute)
	c.check(false)
	assert.Same(t, first, shown())
	now = now.Add(2 * time.Minute)
	c.check(false)
	second := shown()
	assert.NotSame(t, first, second)
	assert.NoError(t, verify(a, second, "ledge.local", now.Add(leafAge-time.Hour)))
	now = noon // set back
	c.check(false)
	assert.NoError(t, verify(a, shown(), "ledge.local", now))

	now = a.root.NotAfter.Add(-time.Hour)
	c.check(false)
	last := shown()
	assert.NoError(t, verify(a, last, "ledge.local", now))
	assert.True(t, last.Leaf.NotAfter.Equal(a.root.NotAfter))
	c.check(false)
	assert.Same(t, last, shown(), "nothing better is to be had")
}

// Everyone may fetch the root, in the form that devices install.
func TestTheAuthorityIsHandedOut(t *testing.T) {
	var log bytes.Buffer
	a, err := newAuthority("ledge.local", noon)
	require.NoError(t, err)
	app := newStrangersApp(t, fstest.MapFS{}, &log)
	app.files.byPath[authorityPath] = a.asset()
	response, body := send(t, app, httptest.NewRequest("GET", authorityPath, nil))
	assert.Equal(t, 200, response.StatusCode)
	assert.Equal(t, authorityType, response.Header.Get("Content-Type"))
	block, rest := pem.Decode([]byte(body))
	require.NotNil(t, block)
	assert.Empty(t, rest)
	assert.Equal(t, a.root.Raw, block.Bytes)
}
