package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wrackbook/internal/journal"
	"wrackbook/internal/store"
)

// serverBinary builds the server, once: what is tested with it wants no app.
var serverBinary = sync.OnceValues(func() (string, error) {
	binary := filepath.Join(workDir, "wrackbook-server")
	return binary, atRoot("go", "build", "-o", binary, "./server")
})

// crew is many phones at work on the delivered program over HTTP.
type crew struct {
	members []*member
	records []string // that all write to
	client  *http.Client
	now     time.Time
}

// member is one phone with what the server has told it is saved.
type member struct {
	*phone
	acked  map[string]uint64 // place in the journal by change
	photos map[string]bool
	tries  int // exchanges, answered or not
}

// newCrew has a keeper's phone join with the code of the first start, and then others.
func newCrew(t *testing.T, url, code string, size int) *crew {
	t.Helper()
	c := &crew{now: noon, client: &http.Client{Timeout: time.Minute, Transport: &http.Transport{MaxIdleConnsPerHost: size}}}
	w := newWriter(1)
	for range 40 {
		c.records = append(c.records, w.uuid())
	}
	for n := range size {
		if n > 0 {
			var invitation struct{ Code string }
			role := []store.Role{store.Keeper, store.Collector, store.Child}[n%3]
			c.mustPost(t, url, c.members[0].token, "/api/invitations", fmt.Sprintf(`{"role":%q}`, role), 201, &invitation)
			code = invitation.Code
		}
		var joined pairAnswer
		c.mustPost(t, url, "", "/api/pair", fmt.Sprintf(`{"code":%q,"name":"phone %d","bearer":true}`, code, n), 201, &joined)
		c.members = append(c.members, &member{phone: newPhone(uint64(100+n), joined.Token, false), acked: map[string]uint64{}, photos: map[string]bool{}})
	}
	return c
}

func (c *crew) mustPost(t *testing.T, url, token, path, body string, status int, answer any) {
	t.Helper()
	got, data, err := c.to(url)(token, letter{path: path, body: body})
	require.NoError(t, err)
	require.Equal(t, status, got, "%s", data)
	require.NoError(t, json.Unmarshal(data, answer), "%s", data)
}

// to sends letters to the server at a url.
func (c *crew) to(url string) asker {
	return func(token string, l letter) (int, []byte, error) {
		return c.request("POST", url+l.path, token, "application/json", []byte(l.body))
	}
}

func (c *crew) request(method, url, token, mime string, body []byte) (status int, answer []byte, err error) {
	request, err := http.NewRequest(method, url, bytes.NewReader(body))
	if err != nil {
		return 0, nil, err
	}
	request.Header.Set("Content-Type", mime)
	if token != "" {
		request.Header.Set("Authorization", "Bearer "+token)
	}
	response, err := c.client.Do(request)
	if err != nil {
		return 0, nil, err
	}
	defer response.Body.Close()
	answer, err = io.ReadAll(response.Body)
	return response.StatusCode, answer, err
}

// work has every member write, push, fetch and send photos until stop is closed or the
// server is gone, and gives what no member should meet.
func (c *crew) work(url string, stop <-chan struct{}) (problems []error) {
	var mu sync.Mutex
	var all sync.WaitGroup
	for _, m := range c.members {
		all.Go(func() {
			for {
				select {
				case <-stop:
					return
				default:
				}
				gone, err := m.once(c, url)
				if err != nil {
					mu.Lock()
					problems = append(problems, err)
					mu.Unlock()
				}
				if gone || err != nil {
					return
				}
			}
		})
	}
	all.Wait()
	return problems
}

// once does one thing that a phone does. gone says that there was no answer.
func (m *member) once(c *crew, url string) (gone bool, err error) {
	m.tries++
	switch n := m.IntN(20); {
	case n == 0:
		photo := smallPhoto(m.Int())
		name := photoName(photo)
		status, body, err := c.request("PUT", url+"/api/photos/"+name, m.token, "image/png", photo)
		if err != nil {
			return true, nil
		}
		if status != 201 {
			return false, fmt.Errorf("a photo: %d %s", status, body)
		}
		m.photos[name] = true
		return false, nil
	case n == 1:
		l := m.fetch(200)
		status, body, err := c.to(url)(m.token, l)
		if err != nil {
			return true, nil
		}
		_, err = m.receive(l, status, body)
		return false, err
	}
	for range 1 + m.IntN(3) {
		m.write("find", c.records[m.IntN(len(c.records))], c.now.Add(time.Duration(m.tries)*time.Second), "note", fmt.Sprintf(`"note %d"`, m.tries), "taxon", `"Chondrus crispus"`)
	}
	l := m.push(100, c.now)
	status, body, err := c.to(url)(m.token, l)
	if err != nil {
		return true, nil // the outbox stays as it is
	}
	var a syncAnswer
	if status == 200 {
		err = json.Unmarshal(body, &a)
	}
	for _, r := range a.Results {
		m.acked[r.ID] = r.Seq
	}
	if err == nil {
		_, err = m.receive(l, status, body)
	}
	return false, err
}

// saved counts what the members have been told is saved.
func (c *crew) saved() (changes, photos int) {
	for _, m := range c.members {
		changes += len(m.acked)
		photos += len(m.photos)
	}
	return changes, photos
}

// witness is the journal as far as it has been pulled and verified.
type witness struct {
	after uint64
	seqs  map[string]uint64 // by change
	all   []json.RawMessage
}

// pullOn pulls what follows: every change once, in a place of its own, without a gap.
func (f *witness) pullOn(t *testing.T, c *crew, url string) {
	t.Helper()
	if f.seqs == nil {
		f.seqs = map[string]uint64{}
	}
	var me struct{ Epoch string }
	_, body, err := c.request("GET", url+"/api/me", c.members[0].token, "", nil)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(body, &me), "%s", body)
	for more := true; more; {
		var page pullAnswer
		c.mustPost(t, url, c.members[0].token, "/api/sync/pull", fmt.Sprintf(`{"protocol":1,"epoch":%q,"after":%d}`, me.Epoch, f.after), 200, &page)
		for _, raw := range page.Changes {
			change, err := journal.DecodeChange(raw)
			require.NoError(t, err)
			f.after++
			require.Equal(t, f.after, change.Receipt.Seq, "a gap in the journal")
			require.Zero(t, f.seqs[change.ID], "twice in the journal")
			f.seqs[change.ID] = f.after
			f.all = append(f.all, raw)
		}
		more = page.More
	}
}

// holds says that all the members were told is saved is there, in its place.
func (f *witness) holds(t *testing.T, c *crew) {
	t.Helper()
	for _, m := range c.members {
		for id, seq := range m.acked {
			require.Equal(t, seq, f.seqs[id], "change %s was acknowledged at %d", id, seq)
		}
	}
}

// photosThere says that every photo that was acknowledged can be witness.
func (c *crew) photosThere(t *testing.T, url string) {
	t.Helper()
	for _, m := range c.members {
		for name := range m.photos {
			status, body, err := c.request("GET", url+"/api/photos/"+name, m.token, "", nil)
			require.NoError(t, err)
			require.Equal(t, 200, status, "photo %s was acknowledged: %s", name, body)
			require.Equal(t, name, photoName(body))
		}
	}
}

// run runs a subcommand of the program in a folder and gives what it said.
func run(t *testing.T, binary, dir string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, binary, args...)
	cmd.Dir = dir
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); cmd.ProcessState == nil {
		require.NoError(t, err)
	}
	require.NoError(t, ctx.Err(), "it does not end: %s", out.String())
	return cmd.ProcessState.ExitCode(), out.String(), errs.String()
}

// bookWell has the program check the book of the household served from dir, or that was.
func bookWell(t *testing.T, binary, dir string) {
	t.Helper()
	code, out, errs := run(t, binary, dir, "check", "-data", "household")
	require.Equal(t, exitOK, code, "%s%s", out, errs)
	require.True(t, strings.HasPrefix(out, "All is well: "), out)
	left, err := filepath.Glob(filepath.Join(dir, "household", "photos", "new", "*"))
	require.NoError(t, err)
	require.Empty(t, left)
}
