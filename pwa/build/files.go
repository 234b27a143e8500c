package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"

	"github.com/andybalholm/brotli"
)

// Budgets of the first load, brotli bytes (gzip's are larger; every browser that can run
// the app takes brotli). Of the core's, the Go runtime is 440,000, encoding/json and fmt
// 250,000, zones 90,000 and meeus 30,000; what the rooms themselves weigh is the rest. It was
// 1,000,000 for tides, windows and the book; the rules of taking are about 95,000 more, the clock of
// the tanks with sea water 90,000, the kinds and their flags 10,000. The places that come later are fetched when they are opened, or by
// the service worker behind everything else.
const (
	maxCore  = 1_220_000
	maxRest  = 122_000
	maxLater = 150_000
)

// files is what a build makes, by its path under dist.
type files struct {
	list   []file
	bytes  map[string]int  // compressed size by path, after write
	behind map[string]bool // by URL: no part of the first load
}

type file struct {
	path string
	data []byte
}

func (f *files) add(path string, data []byte) { f.list = append(f.list, file{path, data}) }

// later says that the file of a URL is no part of the first load.
func (f *files) later(url string) {
	if f.behind == nil {
		f.behind = map[string]bool{}
	}
	f.behind[url] = true
}

// addHashed adds data under a name that holds its hash and returns its URL. Such a file
// never changes, so that it is cached for ever.
func (f *files) addHashed(name string, data []byte) string {
	sum := sha256.Sum256(data)
	ext := path.Ext(name)
	hashed := fmt.Sprintf("%s.%s%s", strings.TrimSuffix(name, ext), short(sum[:]), ext)
	f.add(hashed, data)
	return "/" + hashed
}

// write puts the files and their compressed twins into the layout's out and removes what
// was there before, last, so that a reader always finds one whole version.
func (f *files) write(l layout) error {
	keep := map[string]bool{".keep": true}
	f.bytes = map[string]int{}
	for _, file := range f.list {
		variants := map[string][]byte{"": file.data}
		f.bytes[file.path] = len(file.data)
		if compressible(file.path) {
			br, err := compressed(l.cache, ".br", file.data, writeBrotli)
			if err != nil {
				return err
			}
			gz, err := compressed(l.cache, ".gz", file.data, writeGzip)
			if err != nil {
				return err
			}
			f.bytes[file.path] = len(br)
			if len(br) < len(file.data) {
				variants[".br"] = br
			}
			if len(gz) < len(file.data) {
				variants[".gz"] = gz
			}
		}
		for suffix, data := range variants {
			name := filepath.FromSlash(file.path + suffix)
			keep[name] = true
			if err := writeFile(filepath.Join(l.out, name), data); err != nil {
				return err
			}
		}
	}
	return sweep(l.out, keep)
}

// sweep removes the files under dir that keep does not name.
func sweep(dir string, keep map[string]bool) error {
	return filepath.WalkDir(dir, func(name string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil || keep[rel] {
			return err
		}
		return os.Remove(name)
	})
}

func writeFile(name string, data []byte) error {
	if old, err := os.ReadFile(name); err == nil && bytes.Equal(old, data) {
		return nil // an untouched file keeps the go command's cache warm
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return os.WriteFile(name, data, 0o644)
}

func compressible(name string) bool {
	return path.Ext(name) != ".png" && name != "build.json"
}

// compressed returns data compressed, from the cache where it was done before: the best
// brotli of the core takes many seconds.
func compressed(cache, suffix string, data []byte, compress func(io.Writer, []byte) error) ([]byte, error) {
	sum := sha256.Sum256(data)
	name := filepath.Join(cache, hex.EncodeToString(sum[:])+suffix)
	if out, err := os.ReadFile(name); err == nil {
		return out, nil
	}
	var buf bytes.Buffer
	if err := compress(&buf, data); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(cache, 0o755); err != nil {
		return nil, err
	}
	// Written aside and renamed: two builds at once must not read half a file.
	temp, err := os.CreateTemp(cache, "part-")
	if err != nil {
		return nil, err
	}
	_, err = temp.Write(buf.Bytes())
	if closeErr := temp.Close(); err == nil {
		err = closeErr
	}
	if err == nil {
		err = os.Rename(temp.Name(), name)
	}
	if err != nil {
		os.Remove(temp.Name())
		return nil, err
	}
	return buf.Bytes(), nil
}

func writeBrotli(w io.Writer, data []byte) error {
	b := brotli.NewWriterOptions(w, brotli.WriterOptions{Quality: 11, LGWin: 24})
	if _, err := b.Write(data); err != nil {
		return err
	}
	return b.Close()
}

func writeGzip(w io.Writer, data []byte) error {
	z, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := z.Write(data); err != nil {
		return err
	}
	return z.Close()
}

// report prints what the first visit costs and refuses a build over budget. The
// catalogue has its own line: it comes quietly after the first paint.
func (f *files) report(w io.Writer) error {
	var core, catalogue, later, rest int
	var lines []string
	for _, file := range f.list {
		size := f.bytes[file.path]
		switch {
		case file.path == "build.json":
			continue
		case strings.HasPrefix(file.path, "core/core."):
			core += size
		case strings.HasPrefix(file.path, "core/catalogue."):
			catalogue += size
		case f.behind["/"+file.path]:
			later += size
		default:
			rest += size
		}
		lines = append(lines, fmt.Sprintf("%9d  %9d  %s", len(file.data), size, file.path))
	}
	sort.Strings(lines)
	fmt.Fprintf(w, "    bytes     brotli  file\n%s\n", strings.Join(lines, "\n"))
	fmt.Fprintf(w, "brotli: core.wasm %d of %d, first load beside it %d of %d, later %d of %d, catalogue %d\n", core, maxCore, rest, maxRest, later, maxLater, catalogue)
	if core > maxCore || rest > maxRest || later > maxLater {
		return fmt.Errorf("the app is over its budget: see the line above")
	}
	return nil
}
