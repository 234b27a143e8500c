package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"wrackbook/internal/journal"
)

const startMS = 1_790_000_000_000 // some day in 2026

// writer makes finds of the size of one that was just logged.
type writer struct {
	*rand.Rand
	device string
	made   int64
}

func newWriter(seed uint64) *writer {
	w := &writer{Rand: rand.New(rand.NewPCG(seed, 3))}
	w.device = w.id()
	return w
}

func (w *writer) id() string {
	a, b := w.Uint64(), w.Uint64()
	return fmt.Sprintf("%08x-%04x-7%03x-%04x-%012x", a>>32, a>>16&0xffff, a&0xfff, b>>48&0x3fff|0x8000, b&(1<<48-1))
}

func (w *writer) find(record string) journal.Change {
	w.made++
	return journal.Change{ID: w.id(), Kind: "find", Record: record, Stamp: journal.Reading{MS: startMS + w.made, Device: w.device}.Stamp(),
		Fields: map[string]json.RawMessage{
			"taxon": []byte(`"Palmaria palmata"`), "state": []byte(`"attached"`), "amount": []byte(`{"value":120,"unit":"g"}`), "shore": []byte(`"` + w.device + `"`),
			"height": []byte(`"low"`), "at": []byte(`"2026-09-26T06:12:00Z"`), "note": []byte(`"by the gully"`),
		}}
}

// process is a running server.
type process struct {
	cmd    *exec.Cmd
	url    string
	client *http.Client
}

// serve starts ./wrackbook over a household and waits for its address.
func serve(dir string) (*process, error) {
	binary, err := filepath.Abs("wrackbook")
	if err != nil {
		return nil, err
	}
	p := &process{cmd: exec.Command(binary, "serve", "-addr", "127.0.0.1:0", "-data", dir), client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 100, DisableCompression: true}}}
	said, err := p.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := p.cmd.Start(); err != nil {
		return nil, fmt.Errorf("%w; build it with scripts/build", err)
	}
	line, err := bufio.NewReader(said).ReadString('\n')
	if err != nil {
		p.stop()
		return nil, fmt.Errorf("the server said nothing: %w", err)
	}
	p.url = strings.TrimSpace(strings.TrimPrefix(line, "Wrackbook is at "))
	return p, nil
}

func (p *process) stop() {
	p.cmd.Process.Signal(os.Interrupt)
	p.cmd.Wait()
}

func (p *process) post(token, path string, body []byte) (answer []byte, size int, err error) {
	request, err := http.NewRequest("POST", p.url+"/api/sync/"+path, bytes.NewReader(body))
	if err != nil {
		return nil, 0, err
	}
	request.Header.Set("Authorization", "Bearer "+token)
	request.Header.Set("Content-Type", "application/json")
	if path != "push" {
		request.Header.Set("Accept-Encoding", "gzip")
	}
	response, err := p.client.Do(request)
	if err != nil {
		return nil, 0, err
	}
	defer response.Body.Close()
	if answer, err = io.ReadAll(response.Body); err != nil {
		return nil, 0, err
	}
	size = len(answer)
	if response.Header.Get("Content-Encoding") == "gzip" {
		r, err := gzip.NewReader(bytes.NewReader(answer))
		if err != nil {
			return nil, 0, err
		}
		if answer, err = io.ReadAll(r); err != nil {
			return nil, 0, err
		}
	}
	if response.StatusCode != 200 {
		return nil, 0, fmt.Errorf("%s: %d %.200s", path, response.StatusCode, answer)
	}
	return answer, size, nil
}

// push has phones push n finds, one at a time each.
func (p *process) push(token string, phones, n int) (time.Duration, error) {
	return together(phones, n, func(w *writer) error {
		c := w.find(w.id())
		answer, _, err := p.post(token, "push", append(c.Append([]byte(`{"protocol":1,"changes":[`)), "]}"...))
		if err == nil && !bytes.Contains(answer, []byte(`"seq":`)) {
			err = fmt.Errorf("not acknowledged: %s", answer)
		}
		return err
	})
}

type page struct {
	Epoch   string
	Changes []json.RawMessage
	Next    json.RawMessage
	More    bool
	size    int
}

func (p *process) fetchPage(token, path string, after uint64, cursor string, epoch ...string) (page, string, error) {
	request := fmt.Sprintf(`{"protocol":1,"after":%d,"limit":1000,"cursor":%q,"epoch":%q}`, after, cursor, strings.Join(epoch, ""))
	answer, size, err := p.post(token, path, []byte(request))
	if err != nil {
		return page{}, "", err
	}
	one := page{size: size}
	if err := json.Unmarshal(answer, &one); err != nil {
		return page{}, "", err
	}
	return one, one.Epoch, nil
}

// fetchAll fetches the whole book, by pulling from zero or by a snapshot.
func (p *process) fetchAll(token, path string) (changes, size int, err error) {
	epoch, cursor, after := "", "", uint64(0)
	for {
		one, now, err := p.fetchPage(token, path, after, cursor, epoch)
		if err != nil {
			return 0, 0, err
		}
		epoch, changes, size = now, changes+len(one.Changes), size+one.size
		if path == "snapshot" {
			err = json.Unmarshal(one.Next, &cursor)
			one.More = cursor != ""
		} else {
			err = json.Unmarshal(one.Next, &after)
		}
		if err != nil || !one.More {
			return changes, size, err
		}
	}
}

// memory is what the kernel says of the process, in megabytes (proc_pid_status(5)).
func (p *process) memory() (anon, file float64, err error) {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		return 0, 0, err
	}
	for line := range strings.Lines(string(status)) {
		name, value, _ := strings.Cut(line, ":")
		if name != "RssAnon" && name != "RssFile" {
			continue
		}
		kB, err := strconv.ParseFloat(strings.Fields(value)[0], 64)
		if err != nil {
			return 0, 0, err
		}
		if name == "RssAnon" {
			anon = kB / 1000
		} else {
			file = kB / 1000
		}
	}
	return anon, file, nil
}

// watch looks at the memory until it is stopped and gives the most of each.
func (p *process) watch(stop <-chan struct{}, most chan<- [2]float64) {
	var peak [2]float64
	for {
		if anon, file, err := p.memory(); err == nil {
			peak = [2]float64{max(peak[0], anon), max(peak[1], file)}
		}
		select {
		case <-stop:
			most <- peak
			return
		case <-time.After(20 * time.Millisecond):
		}
	}
}
