package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"time"
)

// wire is a connection of one client to a server, written by hand so that it can be cut at
// any byte, of the request and of the answer.
type wire struct {
	address string // host:port
	host    string // as the server is named
	conn    net.Conn
	answers *bufio.Reader
}

// ask sends a request and reads the answer.
func (w *wire) ask(token string, l letter) (status int, body []byte, err error) {
	for range 2 { // a server that was restarted has closed the connection
		if status, body, err = w.once(token, l); err == nil {
			return status, body, nil
		}
		w.close()
	}
	return 0, nil, err
}

func (w *wire) once(token string, l letter) (status int, body []byte, err error) {
	if err := w.open(); err != nil {
		return 0, nil, err
	}
	if err := w.conn.SetDeadline(time.Now().Add(time.Minute)); err != nil {
		return 0, nil, err
	}
	if _, err := w.conn.Write(w.request(token, l)); err != nil {
		return 0, nil, err
	}
	response, err := http.ReadResponse(w.answers, nil)
	if err != nil {
		return 0, nil, err
	}
	defer response.Body.Close()
	body, err = io.ReadAll(response.Body)
	return response.StatusCode, body, err
}

// askCut sends a part of a request, all but at least one byte of its body.
func (w *wire) askCut(token string, l letter, part float64) error {
	w.close() // so that the server waits for nothing before it
	if err := w.open(); err != nil {
		return err
	}
	defer w.close()
	request := w.request(token, l)
	_, err := w.conn.Write(request[:int(part*float64(len(request)))])
	return err
}

// answerCut sends a request and reads a part of the answer, at least one byte: the server
// has done what it was asked.
func (w *wire) answerCut(token string, l letter, part float64) error {
	w.close()
	if err := w.open(); err != nil {
		return err
	}
	defer w.close()
	if _, err := w.conn.Write(w.request(token, l)); err != nil {
		return err
	}
	first, err := w.answers.ReadByte()
	if err != nil {
		return err
	}
	head, err := w.answers.Peek(w.answers.Buffered()) // what the network brought first
	if err != nil {
		return err
	}
	got := append([]byte{first}, head[:int(part*float64(len(head)))]...)
	response, err := http.ReadResponse(bufio.NewReader(bytes.NewReader(got)), nil)
	if err == nil {
		_, err = io.ReadAll(response.Body)
		response.Body.Close()
	}
	if err == nil {
		return fmt.Errorf("%d bytes of an answer, cut short, pass for a whole one", len(got))
	}
	return nil
}

func (w *wire) request(token string, l letter) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "POST %s HTTP/1.1\r\nHost: %s\r\nAuthorization: Bearer %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s",
		l.path, w.host, token, len(l.body), l.body)
	return b.Bytes()
}

func (w *wire) open() (err error) {
	if w.conn != nil {
		return nil
	}
	if w.conn, err = net.DialTimeout("tcp", w.address, 10*time.Second); err != nil {
		w.conn = nil
		return err
	}
	w.answers = bufio.NewReaderSize(w.conn, 64<<10)
	return nil
}

func (w *wire) close() {
	if w.conn != nil {
		w.conn.Close()
		w.conn = nil
	}
}

// wireTo is a wire to the server at a url that goes by a name.
func wireTo(url, name string) *wire {
	return &wire{address: strings.TrimPrefix(url, "http://"), host: name}
}
