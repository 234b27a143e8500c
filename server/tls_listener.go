package main

import (
	"bufio"
	"crypto/tls"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"time"

	"golang.org/x/crypto/acme"
)

// handshakeTimeout bounds a handshake, so that whoever connects and says nothing is soon
// gone.
const handshakeTimeout = 10 * time.Second

// tlsListener makes TLS of the connections of another listener. The handshake is done by
// whoever serves a connection, so that one that is slow holds up no other.
type tlsListener struct {
	net.Listener
	config *tls.Config
	plain  func(path string) plainAnswer // for who speaks plain HTTP
	wait   time.Duration                 // for the whole handshake
}

func (l *tlsListener) Accept() (net.Conn, error) {
	raw, err := l.Listener.Accept()
	if err != nil {
		return nil, err
	}
	c := &rawConn{Conn: raw}
	return &tlsConn{Conn: tls.Server(c, l.config), raw: c, of: l}, nil
}

// rawConn is a connection of which a byte was read ahead.
type rawConn struct {
	net.Conn
	ahead []byte
}

func (c *rawConn) Read(p []byte) (int, error) {
	if len(c.ahead) > 0 {
		n := copy(p, c.ahead)
		c.ahead = c.ahead[n:]
		return n, nil
	}
	return c.Conn.Read(p)
}

// peek reads the first byte ahead.
func (c *rawConn) peek() (byte, error) {
	first := make([]byte, 1)
	if _, err := io.ReadFull(c.Conn, first); err != nil {
		return 0, err
	}
	c.ahead = first
	return first[0], nil
}

type tlsConn struct {
	*tls.Conn
	raw *rawConn
	of  *tlsListener
}

// Handshake is what fasthttp begins with. One that fails counts as a connection that broke
// off, of which fasthttp's log says nothing: half the internet knocks.
func (c *tlsConn) Handshake() error {
	if c.begin() != nil {
		return io.ErrUnexpectedEOF
	}
	return nil
}

const recordHandshake = 22 // RFC 8446, 5.1: how the first record begins

func (c *tlsConn) begin() error {
	if err := c.raw.SetDeadline(time.Now().Add(c.of.wait)); err != nil {
		return err
	}
	first, err := c.raw.peek()
	if err != nil {
		return err
	}
	if first != recordHandshake {
		answerPlain(c.raw, c.of.plain)
		return io.EOF
	}
	if err := c.Conn.Handshake(); err != nil {
		return err
	}
	if c.ConnectionState().NegotiatedProtocol == acme.ALPNProto { // RFC 8737, 3: nothing is said after the handshake
		return io.EOF
	}
	return c.raw.SetDeadline(time.Time{}) // the next is fasthttp's
}

// plainAnswer is said to who speaks plain HTTP where TLS is spoken.
type plainAnswer struct {
	status      int
	contentType string
	body        []byte
}

const maxPlainHead = 8 << 10 // bytes of a request

func answerPlain(c net.Conn, answer func(path string) plainAnswer) {
	request, err := http.ReadRequest(bufio.NewReader(io.LimitReader(c, maxPlainHead)))
	if err != nil {
		return
	}
	a := answer(request.URL.Path)
	response := http.Response{
		StatusCode: a.status, ProtoMajor: 1, ProtoMinor: 1, Request: request, Close: true,
		Header: http.Header{
			"Content-Type": {a.contentType}, "Cache-Control": {"no-store"}, "X-Content-Type-Options": {"nosniff"},
			"Content-Security-Policy": {"default-src 'none'; frame-ancestors 'none'"},
		},
		Body: io.NopCloser(strings.NewReader(string(a.body))), ContentLength: int64(len(a.body)),
	}
	_ = response.Write(c) // whoever does not wait for it does not need it
}

// wrongScheme shows a person who wrote http:// the way, and hands out the household's
// authority, which a new phone needs before it can speak TLS. The authority's fingerprint
// stands on the server's screen and not here: whoever could change the one on its way could
// change the other.
func wrongScheme(s *site) func(path string) plainAnswer {
	first := ""
	if s.authority != nil {
		first = fmt.Sprintf("<p>Is this phone new here? It must first be told to trust this household: "+
			"<a href=\"%s\">download its authority</a>, and compare its fingerprint with the one on the server’s screen before you install it.</p>\n", authorityPath)
	}
	page := fmt.Appendf(nil, `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Wrackbook</title>
<h1>Wrackbook is at https</h1>
%s<p>Then, and always: <a href="%s">%s</a></p>
</html>
`, first, s.url, s.url) // of letters that need no escaping: see checkName
	return func(path string) plainAnswer {
		if s.authority != nil && path == authorityPath {
			return plainAnswer{http.StatusOK, authorityType, s.authority.pem}
		}
		return plainAnswer{http.StatusBadRequest, "text/html; charset=utf-8", page}
	}
}
