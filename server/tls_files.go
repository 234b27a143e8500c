package main

import (
	"crypto/tls"
	"fmt"
	"log/slog"
	"os"
	"time"
)

// certFiles is a certificate and its key in files that something else renews.
type certFiles struct {
	cert, key string // paths
	host      string // what it must be for
	seen      [2]fileMark
	loaded    time.Time // NotAfter of what was loaded last
}

// fileMark tells one content of a file from the next.
type fileMark struct {
	changed time.Time
	size    int64
}

// openFiles loads the pair; without one there is nothing to serve with.
func openFiles(cert, key, host string, now func() time.Time, log *slog.Logger) (*certificate, error) {
	f := &certFiles{cert: cert, key: key, host: host}
	pair, err := f.renew(now(), true)
	if err != nil {
		return nil, err
	}
	c := &certificate{renew: f.renew, expires: func() time.Time { return f.loaded }, notice: 14 * day,
		advice: "renew the certificate in " + cert + ". The new one is taken by itself", now: now, log: log}
	c.current.Store(pair)
	return c, nil
}

// renew loads the pair if its files have changed. A broken pair, such as one of which only
// half is written yet, is left, and looked at again when it has changed again.
func (f *certFiles) renew(now time.Time, force bool) (*tls.Certificate, error) {
	seen, err := markFiles(f.cert, f.key)
	if err != nil {
		if f.seen == seen && !force { // gone, and said so
			return nil, nil
		}
		f.seen = seen
		return nil, err
	}
	if seen == f.seen && !force {
		return nil, nil
	}
	f.seen = seen // before they are read: what changes meanwhile is read again
	pair, err := tls.LoadX509KeyPair(f.cert, f.key)
	if err != nil {
		return nil, fmt.Errorf("%s and %s are not a certificate and its key: %w", f.cert, f.key, err)
	}
	if err := pair.Leaf.VerifyHostname(f.host); err != nil {
		return nil, fmt.Errorf("the certificate in %s is not for the host of -url, %s, but for %v %v", f.cert, f.host, pair.Leaf.DNSNames, pair.Leaf.IPAddresses)
	}
	if !now.Before(pair.Leaf.NotAfter) {
		return nil, fmt.Errorf("the certificate in %s ran out on %s, or this machine's clock is wrong. Renew it", f.cert, pair.Leaf.NotAfter.Format(time.DateOnly))
	}
	f.loaded = pair.Leaf.NotAfter
	return &pair, nil
}

func markFiles(paths ...string) (marks [2]fileMark, err error) {
	for i, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return [2]fileMark{}, fmt.Errorf("the TLS certificate cannot be read: %w", err)
		}
		marks[i] = fileMark{info.ModTime(), info.Size()}
	}
	return marks, nil
}
