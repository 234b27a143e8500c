package pwa

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/evanw/esbuild/pkg/api"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// mayImport says what the files under a path may import; the longest path that fits a
// file counts. Screens know data and core, never the reverse, so that a screen can be
// thrown away without touching what it stood on.
var mayImport = map[string][]string{
	"main.js":          {"ui/", "data/", "core.js", "sw-bridge.js", "lib:preact"},
	"worker.js":        {"lib:wasm_exec"},
	"sw.js":            {},
	"core.js":          {"lib:@preact/signals"},
	"sw-bridge.js":     {"lib:@preact/signals"},
	"text/":            {"text/"},
	"data/":            {"data/", "lib:@preact/signals"},
	"data/folding.js":  {"data/", "core.js"}, // what is kept is folded by the core
	"data/past.js":     {"data/", "core.js"},
	"data/rules.js":    {"data/", "core.js", "lib:@preact/signals"}, // what is counted is given to the core
	"data/db.js":       {"data/schema.js", "lib:idb", "lib:@preact/signals"},
	"ui/":              {"ui/parts/", "ui/route.js", "text/", "data/", "core.js", "sw-bridge.js", "lib:preact", "lib:preact/hooks", "lib:@preact/signals"},
	"ui/parts/html.js": {"lib:htm", "lib:preact"},
	"ui/route.js":      {"text/", "lib:@preact/signals"},
	"ui/shell.js":      {"ui/", "text/"},
	"ui/plan/":         {"ui/plan/"},
	"ui/shore/":        {"ui/shore/", "ui/plan/shore-state.js", "ui/plan/plan-state.js", "ui/plan/heights-state.js"}, // which shore, and its water
	"ui/tanks/": {"ui/tanks/", "ui/house/page.js", "ui/house/confirm.js", "ui/house/qr.js", "ui/shore/outing-state.js", "ui/shore/outing-times.js", // whose phone this is
		"ui/shore/find.js", "ui/shore/finds-state.js", "ui/shore/find-parts.js", "ui/shore/amount.js", "ui/shore/kind-pick.js", // what was taken, and how much
		"ui/shore/photo-pick.js", "ui/shore/thumb.js", "ui/plan/shore-state.js"},
	"ui/house/": {"ui/house/", "ui/rules/rules.js"},
	"ui/rules/": {"ui/rules/", "ui/house/page.js", "ui/house/confirm.js", "ui/shore/outing-state.js", "ui/shore/outing-times.js", "ui/shore/verdict.js", "ui/shore/verdict-ask.js"}, // an imagined find
}

// onlyIn lists what may be written in one file alone.
var onlyIn = map[string]string{
	"new Worker(":             "core.js",      // one module talks to the core
	"navigator.serviceWorker": "sw-bridge.js", // one module talks to the service worker
	"from 'idb'":              "data/db.js",   // one connection to the database
	"innerHTML":               "",             // markup comes from templates alone
	"eval(":                   "",
}

func TestImportsPointOneWay(t *testing.T) {
	imports := appImports(t)
	for file, targets := range imports {
		rule, ok := ruleFor(file)
		require.True(t, ok, "%s: say in mayImport what it may import", file)
		for _, target := range targets {
			allowed := false
			for _, prefix := range rule {
				allowed = allowed || target == prefix || strings.HasSuffix(prefix, "/") && strings.HasPrefix(target, prefix)
			}
			assert.True(t, allowed, "%s must not import %s", file, target)
		}
	}
	require.NoError(t, filepath.WalkDir("app", func(name string, d fs.DirEntry, err error) error {
		if err == nil && filepath.Ext(name) == ".js" {
			rel, _ := filepath.Rel("app", name)
			_, imported := imports[filepath.ToSlash(rel)]
			assert.True(t, imported, "nothing imports %s", rel)
		}
		return err
	}))
}

// ruleFor gathers what a file may import: the rule of its place, and for a place's folder
// that of ui/ as well.
func ruleFor(file string) ([]string, bool) {
	best := ""
	for prefix := range mayImport {
		if (prefix == file || strings.HasSuffix(prefix, "/") && strings.HasPrefix(file, prefix)) && len(prefix) > len(best) {
			best = prefix
		}
	}
	rule, ok := mayImport[best]
	if strings.HasPrefix(best, "ui/") && strings.HasSuffix(best, "/") && best != "ui/" {
		rule = append(append([]string{}, rule...), mayImport["ui/"]...)
	}
	return rule, ok
}

// appImports asks esbuild, which knows every form of import, what each file of the app
// imports: a path under app/, or "lib:" and the name of a library.
func appImports(t *testing.T) map[string][]string {
	t.Helper()
	app, err := filepath.Abs("app")
	require.NoError(t, err)
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{"main.js", "worker.js", "sw.js"}, AbsWorkingDir: app,
		Bundle: true, Write: false, Outdir: "out", Metafile: true, LogLevel: api.LogLevelError,
		External: []string{"preact", "preact/hooks", "htm", "@preact/signals", "idb", "wasm_exec"},
	})
	require.Empty(t, result.Errors)
	var meta struct {
		Inputs map[string]struct {
			Imports []struct {
				Path     string
				External bool
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(result.Metafile), &meta))
	require.NotEmpty(t, meta.Inputs)
	imports := map[string][]string{}
	for file, input := range meta.Inputs {
		imports[file] = nil
		for _, i := range input.Imports {
			if i.External {
				i.Path = "lib:" + i.Path
			}
			imports[file] = append(imports[file], i.Path)
		}
	}
	return imports
}

func TestOnlyOneModuleTouchesIt(t *testing.T) {
	app := os.DirFS("app")
	found := map[string]bool{}
	require.NoError(t, fs.WalkDir(app, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".js" {
			return err
		}
		source, err := fs.ReadFile(app, name)
		for words, file := range onlyIn {
			if strings.Contains(string(source), words) {
				found[words] = true
				assert.Equal(t, file, name, "%s is written there", words)
			}
		}
		return err
	}))
	for words, file := range onlyIn {
		assert.Equal(t, file != "", found[words], "%s: the rule is about nothing", words)
	}
}

// The service worker is read in one sitting, or it is not understood.
func TestServiceWorkerIsShort(t *testing.T) {
	source, err := os.ReadFile("app/sw.js")
	require.NoError(t, err)
	assert.Less(t, strings.Count(string(source), "\n"), 150)
}
