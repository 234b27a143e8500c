package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"sync"

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
//
// It also has each place that comes later stand on the frame that is there before it. Which
// modules share a file goes by which places want them, and so those of the first load, wanted
// in many mixtures, would come in many files: 4 kB more. All of it stays together this way.
func unindented(frame string) api.Plugin {
	return api.Plugin{Name: "unindented", Setup: func(build api.PluginBuild) {
		var later sync.Map // by path
		build.OnResolve(api.OnResolveOptions{Filter: `^\.`}, func(args api.OnResolveArgs) (api.OnResolveResult, error) {
			if args.Kind == api.ResolveJSDynamicImport {
				later.Store(filepath.Join(args.ResolveDir, filepath.FromSlash(args.Path)), true)
			}
			return api.OnResolveResult{}, nil
		})
		build.OnLoad(api.OnLoadOptions{Filter: `/app/ui/.*\.js$`}, func(args api.OnLoadArgs) (api.OnLoadResult, error) {
			data, err := os.ReadFile(args.Path)
			if err != nil {
				return api.OnLoadResult{}, err
			}
			contents := indentation.ReplaceAllString(string(data), "\n")
			if _, ok := later.Load(args.Path); ok {
				contents = fmt.Sprintf("import %q;\n", frame) + contents
			}
			return api.OnLoadResult{Contents: &contents, Loader: api.LoaderJS}, nil
		})
	}}
}

// bundle makes one file of entry and what it imports. define gives values to the names
// that app/built.d.ts declares.
func bundle(l layout, entry string, define map[string]any) ([]byte, error) {
	result, err := bundled(l, entry, define, api.BuildOptions{Format: api.FormatIIFE})
	if err != nil {
		return nil, err
	}
	if len(result.OutputFiles) != 1 {
		return nil, fmt.Errorf("bundling %s made %d files; one was expected", entry, len(result.OutputFiles))
	}
	return result.OutputFiles[0].Contents, nil
}

// bundles makes a file of entry and of each place that it imports when that is opened, and of
// what they share. It adds them to f under names that hold a hash, marks what comes later, and
// returns the URL of the entry and those of what that needs at once.
func bundles(l layout, f *files, entry string, define map[string]any) (first string, atOnce []string, err error) {
	result, err := bundled(l, entry, define, api.BuildOptions{
		Format: api.FormatESModule, Splitting: true, Metafile: true,
		EntryNames: "[name].[hash]", ChunkNames: "[name].[hash]",
	})
	if err != nil {
		return "", nil, err
	}
	var meta struct {
		Outputs map[string]struct {
			EntryPoint string
			Imports    []struct{ Path, Kind string }
		}
	}
	if err := json.Unmarshal([]byte(result.Metafile), &meta); err != nil {
		return "", nil, err
	}
	source, err := filepath.Rel(l.root, filepath.Join(l.app, filepath.FromSlash(entry)))
	if err != nil {
		return "", nil, err
	}
	urls := map[string]string{} // of each output, by its path in the metafile
	for _, file := range result.OutputFiles {
		path, err := filepath.Rel(l.root, file.Path)
		if err != nil {
			return "", nil, err
		}
		name := filepath.Base(file.Path)
		urls[filepath.ToSlash(path)] = "/" + name
		f.add(name, file.Contents)
	}
	start := ""
	for path, output := range meta.Outputs {
		if output.EntryPoint == filepath.ToSlash(source) {
			start = path
		}
	}
	if start == "" {
		return "", nil, fmt.Errorf("bundling %s: nothing was made of it", entry)
	}
	// What the entry imports at once, and what that does; the places come later.
	needed := map[string]bool{start: true}
	for wave := []string{start}; len(wave) > 0; {
		path := wave[0]
		wave = wave[1:]
		for _, i := range meta.Outputs[path].Imports {
			if i.Kind == "import-statement" && !needed[i.Path] {
				needed[i.Path] = true
				wave = append(wave, i.Path)
				atOnce = append(atOnce, urls[i.Path])
			}
		}
	}
	for path, url := range urls {
		if !needed[path] {
			f.later(url)
		}
	}
	sort.Strings(atOnce)
	return urls[start], atOnce, nil
}

// bundled runs esbuild on entry with what every bundle has in common.
func bundled(l layout, entry string, define map[string]any, options api.BuildOptions) (api.BuildResult, error) {
	options.Define = map[string]string{}
	for name, value := range define {
		literal, err := json.Marshal(value)
		if err != nil {
			return api.BuildResult{}, err
		}
		options.Define[name] = string(literal)
	}
	lib := func(name string) string { return filepath.Join(l.lib, filepath.FromSlash(name)) }
	options.EntryPoints = []string{filepath.Join(l.app, filepath.FromSlash(entry))}
	options.Bundle, options.Write, options.Outdir = true, false, l.out
	options.MinifyWhitespace, options.MinifyIdentifiers, options.MinifySyntax = true, true, true
	options.Target, options.Charset, options.LegalComments = target, api.CharsetUTF8, api.LegalCommentsNone
	options.LogLevel, options.AbsWorkingDir, options.Plugins = api.LogLevelWarning, l.root, []api.Plugin{unindented(filepath.Join(l.app, "ui", "shell.js"))}
	options.Alias = map[string]string{
		"preact":               lib("preact/preact.module.js"),
		"preact/hooks":         lib("preact/hooks.module.js"),
		"htm":                  lib("htm/htm.module.js"),
		"@preact/signals":      lib("signals/signals.module.js"),
		"@preact/signals-core": lib("signals-core/signals-core.module.js"),
		"idb":                  lib("idb/index.js"),
		"wasm_exec":            wasmExec(),
	}
	result := api.Build(options)
	if len(result.Errors) > 0 {
		return result, fmt.Errorf("bundling %s: %s", entry, result.Errors[0].Text)
	}
	return result, nil
}
