package main

import (
	"bytes"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"log/slog"
	"math/big"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// certFolder is where something else, such as an ACME client, puts a certificate and a key.
type certFolder struct {
	t         *testing.T
	cert, key string
	writes    int
}

func newCertFolder(t *testing.T) *certFolder {
	dir := t.TempDir()
	return &certFolder{t: t, cert: filepath.Join(dir, "cert.pem"), key: filepath.Join(dir, "key.pem")}
}

// put writes a file with a time of change of its own, as files written at different times have.
func (f *certFolder) put(path string, data []byte) {
	f.t.Helper()
	f.writes++
	require.NoError(f.t, os.WriteFile(path, data, 0o600))
	changed := noon.Add(time.Duration(f.writes) * time.Second)
	require.NoError(f.t, os.Chtimes(path, changed, changed))
}

// pair makes a certificate for host that begins at from.
func (f *certFolder) pair(host string, from time.Time) (cert, key []byte, leaf *x509.Certificate) {
	f.t.Helper()
	a, err := newAuthority(host, from)
	require.NoError(f.t, err)
	made, err := a.issue(host, from)
	require.NoError(f.t, err)
	der, err := x509.MarshalPKCS8PrivateKey(made.PrivateKey)
	require.NoError(f.t, err)
	cert = append(certPEM(made.Leaf), certPEM(a.signer)...)
	return cert, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: der}), made.Leaf
}

func TestCertificateFilesAreReloaded(t *testing.T) {
	var log bytes.Buffer
	f, now := newCertFolder(t), noon
	cert, key, leaf := f.pair("ledge.example", noon)
	f.put(f.cert, cert)
	f.put(f.key, key)
	c, err := openFiles(f.cert, f.key, "ledge.example", func() time.Time { return now }, slog.New(slog.NewTextHandler(&log, nil)))
	require.NoError(t, err)
	check := func(want *x509.Certificate, said string) {
		t.Helper()
		got, err := c.show(&tls.ClientHelloInfo{})
		require.NoError(t, err)
		assert.Equal(t, want.SerialNumber, got.Leaf.SerialNumber)
		assert.Len(t, got.Certificate, 2, "with the certificates in between")
		if said == "" {
			assert.Empty(t, log.String())
		} else {
			assert.Contains(t, log.String(), said)
		}
		log.Reset()
	}
	c.check(false)
	check(leaf, "")

	now = noon.Add(30 * day)
	cert, key, renewed := f.pair("ledge.example", now)
	f.put(f.cert, cert) // the key is not there yet
	c.check(false)
	check(leaf, "old one stays\"=true")
	c.check(false)
	check(leaf, "") // said once
	f.put(f.key, key)
	c.check(false)
	check(renewed, "TLS certificate taken")

	for name, broken := range map[string]func() []byte{
		"no certificate":      func() []byte { return []byte("-----BEGIN") },
		"of another host":     func() []byte { other, _, _ := f.pair("pool.example", now); return other },
		"nothing in the file": func() []byte { return nil },
	} {
		t.Run(name, func(t *testing.T) {
			f.put(f.cert, broken())
			c.check(false)
			check(renewed, "no new TLS certificate")
			f.put(f.cert, cert)
			c.check(false)
			check(renewed, "TLS certificate taken")
		})
	}
	require.NoError(t, os.Remove(f.cert))
	c.check(false)
	check(renewed, "cannot be read")
	c.check(false)
	check(renewed, "")

	// Asked by a signal, they are read though they look the same.
	f.put(f.cert, cert)
	c.check(false)
	log.Reset()
	c.check(true)
	check(renewed, "TLS certificate taken")

	now = renewed.NotAfter.Add(-10 * day)
	c.check(false)
	check(renewed, "in 10 days")
}

func TestCertificateFilesThatAreRefused(t *testing.T) {
	open := func(f *certFolder, host string, now time.Time) error {
		_, err := openFiles(f.cert, f.key, host, func() time.Time { return now }, slog.New(slog.DiscardHandler))
		return err
	}
	f := newCertFolder(t)
	assert.ErrorContains(t, open(f, "ledge.example", noon), "cannot be read")
	cert, key, leaf := f.pair("ledge.example", noon)
	f.put(f.cert, cert)
	f.put(f.key, key)
	assert.NoError(t, open(f, "ledge.example", noon))
	assert.ErrorContains(t, open(f, "pool.example", noon), "not for the host of -url, pool.example, but for [ledge.example]")
	assert.ErrorContains(t, open(f, "ledge.example", leaf.NotAfter), "ran out")
	_, other, _ := f.pair("ledge.example", noon)
	f.put(f.key, other)
	assert.ErrorContains(t, open(f, "ledge.example", noon), "are not a certificate and its key")
	f.put(f.key, cert)
	assert.ErrorContains(t, open(f, "ledge.example", noon), "are not a certificate and its key")
}

// The program takes a new certificate when it is told by a signal, and does not stop.
func TestSignalToReload(t *testing.T) {
	binary, err := builtBinary()
	require.NoError(t, err)
	f := newCertFolder(t)
	renew := func() *x509.Certificate {
		cert, key, leaf := f.pair("ledge.example", time.Now())
		f.put(f.cert, cert)
		f.put(f.key, key)
		return leaf
	}
	first := renew()
	addr := freePort(t)
	server, _ := startHousehold(t, binary, addr, t.TempDir(), "-cert", f.cert, "-key", f.key, "-url", "https://ledge.example")
	assert.Equal(t, "https://ledge.example", server.url)
	shown := func() *big.Int {
		c, err := tls.Dial("tcp", addr, &tls.Config{InsecureSkipVerify: true}) // which one it is, is the question
		require.NoError(t, err)
		defer c.Close()
		return c.ConnectionState().PeerCertificates[0].SerialNumber
	}
	assert.Equal(t, first.SerialNumber, shown())
	second := renew()
	require.NoError(t, server.cmd.Process.Signal(syscall.SIGHUP))
	require.Eventually(t, func() bool { return shown().Cmp(second.SerialNumber) == 0 }, patience, 10*time.Millisecond)
	require.NoError(t, server.cmd.Process.Signal(syscall.SIGTERM))
	assert.NoError(t, server.cmd.Wait())
}
