// Command build makes pwa/dist: the core compiled to WebAssembly, the app, worker and
// service worker bundled, icons drawn, everything hash-named and compressed ahead.
//
//	go run ./pwa/build                 build
//	go run ./pwa/build -stale          say "stale" or "fresh" and build nothing
//	go run ./pwa/build -app DIR -out DIR   another source of the app, another place for it
//
// It needs Go and nothing else. Start reading at build in this file.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"wrackbook/internal/station"
	"wrackbook/internal/station/embedded"
)

// layout says where things are; every path is absolute.
type layout struct {
	root  string // the module
	app   string // source of the app
	lib   string // pinned libraries
	out   string // what is made
	cache string // compressed bytes by hash of the plain ones
}

// ids names what was built. Page, worker and service worker carry Build; the core
// carries Core, which the worker is built to expect, so that the four cannot mix. Core
// is apart so that a change of wording does not make every phone fetch the core again.
type ids struct {
	Build string `json:"build"`
	Core  string `json:"core"`
}

func main() {
	app := flag.String("app", "", "source of the app (default pwa/app)")
	out := flag.String("out", "", "where the built app goes (default pwa/dist)")
	stale := flag.Bool("stale", false, `only say "stale" or "fresh"`)
	flag.Parse()
	if err := run(*app, *out, *stale); err != nil {
		fmt.Fprintln(os.Stderr, "pwa/build:", err)
		os.Exit(1)
	}
}

func run(app, out string, staleOnly bool) error {
	root, err := moduleRoot()
	if err != nil {
		return err
	}
	l := layout{
		root: root, app: filepath.Join(root, "pwa", "app"), lib: filepath.Join(root, "pwa", "lib"),
		out: filepath.Join(root, "pwa", "dist"), cache: filepath.Join(root, ".tools", "compressed"),
	}
	if app != "" {
		if l.app, err = filepath.Abs(app); err != nil {
			return err
		}
	}
	if out != "" {
		if l.out, err = filepath.Abs(out); err != nil {
			return err
		}
	}
	id, err := identify(l)
	if err != nil {
		return err
	}
	if staleOnly {
		if built(l.out) == id {
			fmt.Println("fresh")
		} else {
			fmt.Println("stale")
		}
		return nil
	}
	return build(l, id)
}

func build(l layout, id ids) error {
	var files files
	core, err := compileCore(l, id.Core)
	if err != nil {
		return err
	}
	coreURL := files.addHashed("core/core.wasm", core)
	catalogue, err := station.Open(embedded.Catalogue())
	if err != nil {
		return err
	}
	catalogueURL := files.addHashed("core/catalogue.bin", embedded.Catalogue())

	workerJS, err := bundle(l, "worker.js", map[string]any{
		"BUILD": id.Build, "CORE_ID": id.Core, "CORE_URL": coreURL, "CATALOGUE_URL": catalogueURL,
	})
	if err != nil {
		return err
	}
	workerURL := files.addHashed("worker.js", workerJS)
	css, err := bundle(l, "style/app.css", nil)
	if err != nil {
		return err
	}
	cssURL := files.addHashed("app.css", css)
	laterCSS, err := bundle(l, "style/later.css", nil)
	if err != nil {
		return err
	}
	laterURL := files.addHashed("later.css", laterCSS)
	files.later(laterURL)
	appURL, atOnce, err := bundles(l, &files, "main.js", map[string]any{
		"BUILD": id.Build, "WORKER_URL": workerURL, "LATER_STYLE_URL": laterURL, "CATALOGUE_RELEASE": catalogue.Release(),
	})
	if err != nil {
		return err
	}
	if err := addPage(l, &files, id, appURL, cssURL, atOnce); err != nil {
		return err
	}
	if err := addServiceWorker(l, &files, id, catalogueURL); err != nil {
		return err
	}
	mark, err := json.Marshal(id)
	if err != nil {
		return err
	}
	files.add("build.json", mark)
	if err := files.write(l); err != nil {
		return err
	}
	return files.report(os.Stdout)
}

// built reads which ids dir was built with; the zero value if it was not.
func built(dir string) ids {
	var id ids
	data, err := os.ReadFile(filepath.Join(dir, "build.json"))
	if err == nil {
		_ = json.Unmarshal(data, &id) // a damaged mark is a stale one
	}
	return id
}

func moduleRoot() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		_, err := os.Stat(filepath.Join(dir, "go.mod"))
		if err == nil {
			return dir, nil
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", errors.New("no go.mod here or above: run this inside the repository")
		}
		dir = up
	}
}
