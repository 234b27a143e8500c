// Package rooms holds one test: that each room imports what it may and reads no clock.
package rooms

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// kind says by which rules a folder under internal/ is held.
type kind int

const (
	domain  kind = iota // computes; no I/O, no clock, knows other domain rooms at most
	table               // core: knows the domain rooms, held by their rules otherwise
	adapter             // does I/O with what the domain rooms gave it
	none                // this folder: only a test
)

// rooms lists every folder directly under internal/. A new one is added here first.
var rooms = map[string]kind{
	"fault": domain, "zone": domain,
	"tide": domain, "fit": domain, "station": domain, "sky": domain, "window": domain,
	"seawater": domain, "book": domain, "take": domain, "settle": domain, "survival": domain,
	"journal": domain,
	"core":    table,
	"store":   adapter, "export": adapter,
	"rooms": none,
}

// banned lists what domain rooms and the table must not import, by the start of the
// path, and why. "Every home" means server, phone and command line alike.
var banned = map[string]string{
	"os":                                  "it does I/O; bytes come in as arguments",
	"io/ioutil":                           "it does I/O; bytes come in as arguments",
	"net":                                 "it does I/O, and weighs megabytes in the browser",
	"syscall":                             "a room is the same in every home",
	"runtime":                             "a room is the same in every home",
	"log":                                 "a room returns an error; its caller logs",
	"flag":                                "a room has no command line",
	"math/rand":                           "an answer must be the same every time, in every home",
	"crypto/rand":                         "an answer must be the same every time, in every home",
	"regexp":                              "about 60 kB in the browser; a few string functions do",
	"text/template":                       "keeps the linker from dropping methods: hundreds of kB in the browser",
	"html/template":                       "keeps the linker from dropping methods: hundreds of kB in the browser",
	"time/tzdata":                         "internal/zone is the one tz database of every home",
	"testing":                             "for tests alone",
	"wrackbook/server":                    "the dependency points the other way",
	"wrackbook/pwa":                       "the dependency points the other way",
	"wrackbook/internal/store":            "the dependency points the other way",
	"wrackbook/internal/export":           "the dependency points the other way",
	"wrackbook/internal/station/embedded": "the phone fetches the catalogue; its core must not carry it",
}

// libraries lists what may be imported from outside the standard library and this
// module, by room; "" is for every domain room.
var libraries = map[string][]string{
	"":        {"github.com/soniakeys/meeus/v3", "github.com/soniakeys/unit"},
	"fit":     {"gonum.org/v1/gonum"},
	"journal": {"github.com/google/uuid"},
	"store":   {"go.etcd.io/bbolt"},
	"export":  {"github.com/arran4/golang-ical", "github.com/paulmach/orb", "rsc.io/qr"},
}

// clocks lists what of package time reads the host's clock or zone.
var clocks = map[string]string{
	"Now":          "the present instant is an argument",
	"Since":        "the present instant is an argument",
	"Until":        "the present instant is an argument",
	"Local":        "the host's zone means nothing on another machine",
	"LoadLocation": "the host's tz database may be old or missing; internal/zone has ours",
	"Sleep":        "a room computes and returns",
	"After":        "a room computes and returns",
	"AfterFunc":    "a room computes and returns",
	"Tick":         "a room computes and returns",
	"NewTimer":     "a room computes and returns",
	"NewTicker":    "a room computes and returns",
}

func TestEveryFolderIsARoom(t *testing.T) {
	entries, err := os.ReadDir("..")
	require.NoError(t, err)
	require.NotEmpty(t, entries)
	for _, e := range entries {
		_, known := rooms[e.Name()]
		assert.True(t, e.IsDir() && known, "internal/%s is no room that this test knows: say by which rules it is held", e.Name())
	}
}

func TestRoomsImportWhatTheyMay(t *testing.T) {
	files := 0
	err := filepath.WalkDir("..", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(name) != ".go" || strings.HasSuffix(name, "_test.go") {
			return err
		}
		files++
		rel, _ := filepath.Rel("..", name)
		check(t, filepath.ToSlash(rel))
		return nil
	})
	require.NoError(t, err)
	assert.Greater(t, files, 10, "the rooms were not found")
}

// check holds one file, named as seen from internal/, to the rules of its room. A
// generator (package main in a folder below a room) is run by a developer and may do I/O.
func check(t *testing.T, name string) {
	source, err := parser.ParseFile(token.NewFileSet(), filepath.Join("..", filepath.FromSlash(name)), nil, 0)
	require.NoError(t, err)
	room, _, _ := strings.Cut(name, "/")
	if source.Name.Name == "main" {
		assert.Greater(t, strings.Count(name, "/"), 1, "%s: a room is no program", name)
		return
	}
	timeName := "" // what package time is called in this file
	for _, spec := range source.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		require.NoError(t, err)
		if path == "time" {
			timeName = "time"
			if spec.Name != nil {
				timeName = spec.Name.Name
			}
		}
		checkImport(t, name, room, path)
	}
	if timeName == "" || rooms[room] == adapter {
		return
	}
	compared := map[ast.Node]bool{} // to refuse time.Local one has to name it
	ast.Inspect(source, func(n ast.Node) bool {
		if b, ok := n.(*ast.BinaryExpr); ok && (b.Op == token.EQL || b.Op == token.NEQ) {
			compared[b.X], compared[b.Y] = true, true
		}
		selector, ok := n.(*ast.SelectorExpr)
		if !ok || compared[n] && selector.Sel.Name == "Local" {
			return true
		}
		if x, ok := selector.X.(*ast.Ident); ok && x.Name == timeName && x.Obj == nil {
			why, bad := clocks[selector.Sel.Name]
			assert.False(t, bad, "%s uses time.%s: %s", name, selector.Sel.Name, why)
		}
		return true
	})
}

func checkImport(t *testing.T, name, room, path string) {
	switch first, _, _ := strings.Cut(path, "/"); {
	case first == "wrackbook":
		if rooms[room] == domain {
			assert.NotEqual(t, "wrackbook/internal/core", path, "%s: the table knows the rooms, not they it", name)
		}
	case strings.Contains(first, "."): // only a domain name has a dot: not the standard library
		allowed := false
		for _, library := range append(libraries[room], libraries[""]...) {
			allowed = allowed || under(path, library)
		}
		assert.True(t, allowed, "%s imports %s: no room but those in the list may", name, path)
	}
	if rooms[room] == adapter {
		return
	}
	for prefix, why := range banned {
		assert.False(t, under(path, prefix), "%s imports %s: %s", name, path, why)
	}
}

func under(path, prefix string) bool { return path == prefix || strings.HasPrefix(path, prefix+"/") }
