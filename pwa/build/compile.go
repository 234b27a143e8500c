package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// wasmEnv is the environment in which the go command works for the browser.
func wasmEnv() []string {
	return append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=-mod=readonly")
}

// wasmExec is Go's own JavaScript half of a WebAssembly program. It must be of the same
// Go as the compiler.
func wasmExec() string {
	out, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return "go-env-GOROOT-failed" // reading it then says so
	}
	return filepath.Join(strings.TrimSpace(string(out)), "lib", "wasm", "wasm_exec.js")
}

// inlined lists the packages that are compiled with inlining: those that reckon. Without
// it elsewhere core.wasm is 68 kB smaller over the wire, 7 %, and a year of windows takes
// about a tenth longer in the worker. Answers are the same to the bit.
var inlined = []string{
	"wrackbook/internal/tide", "wrackbook/internal/sky", "wrackbook/internal/window",
	"github.com/soniakeys/...", "math", "time",
}

func compileCore(l layout, id string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "wrackbook-core-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "core.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid= -X main.id=" + id, "-gcflags=all=-l"}
	for _, path := range inlined {
		args = append(args, "-gcflags="+path+"=") // of several that fit a package the last holds
	}
	cmd := exec.Command("go", append(args, "-o", out, "./pwa/core")...)
	cmd.Dir, cmd.Env, cmd.Stderr = l.root, wasmEnv(), os.Stderr
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("go build ./pwa/core: %w", err)
	}
	return os.ReadFile(out)
}

// target is the oldest language the app is written for. WebAssembly with what Go needs
// of it came to Safari later than this, so nothing is lost.
const target = api.ES2020

var indentation = regexp.MustCompile(`\n[ \t]+`)

// unindented takes the indentation out of the screens, whose templates esbuild leaves as they
// are: 0.7 kB of the first load. htm drops it anyway, beside tags and values; within words it
// is one space, as the line end alone is.
var unindented = api.Plugin{Name: "unindented", Setup: func(build api.PluginBuild) {
	build.OnLoad(api.OnLoadOptions{Filter: `/app/ui/.*\.js$`}, func(args api.OnLoadArgs) (api.OnLoadResult, error) {
		data, err := os.ReadFile(args.Path)
		if err != nil {
			return api.OnLoadResult{}, err
		}
		contents := indentation.ReplaceAllString(string(data), "\n")
		return api.OnLoadResult{Contents: &contents, Loader: api.LoaderJS}, nil
	})
}}

// bundle makes one file of entry and what it imports. define gives values to the names
// that app/built.d.ts declares.
func bundle(l layout, entry string, define map[string]any) ([]byte, error) {
	quoted := map[string]string{}
	for name, value := range define {
		literal, err := json.Marshal(value)
		if err != nil {
			return nil, err
		}
		quoted[name] = string(literal)
	}
	lib := func(name string) string { return filepath.Join(l.lib, filepath.FromSlash(name)) }
	result := api.Build(api.BuildOptions{
		EntryPoints: []string{filepath.Join(l.app, filepath.FromSlash(entry))},
		Bundle:      true, Write: false, Outdir: l.out,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true,
		Target: target, Format: api.FormatIIFE, Charset: api.CharsetUTF8, LegalComments: api.LegalCommentsNone,
		Define: quoted, LogLevel: api.LogLevelWarning, AbsWorkingDir: l.root, Plugins: []api.Plugin{unindented},
		Alias: map[string]string{
			"preact":               lib("preact/preact.module.js"),
			"preact/hooks":         lib("preact/hooks.module.js"),
			"htm":                  lib("htm/htm.module.js"),
			"@preact/signals":      lib("signals/signals.module.js"),
			"@preact/signals-core": lib("signals-core/signals-core.module.js"),
			"idb":                  lib("idb/index.js"),
			"wasm_exec":            wasmExec(),
		},
	})
	if len(result.Errors) > 0 {
		return nil, fmt.Errorf("bundling %s: %s", entry, result.Errors[0].Text)
	}
	if len(result.OutputFiles) != 1 {
		return nil, fmt.Errorf("bundling %s made %d files; one was expected", entry, len(result.OutputFiles))
	}
	return result.OutputFiles[0].Contents, nil
}
