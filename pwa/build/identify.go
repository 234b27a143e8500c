package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sort"

	"wrackbook/internal/station/embedded"
)

// identify hashes everything that goes into a build, so that equal ids mean equal files
// and a changed input means a changed id.
func identify(l layout) (ids, error) {
	core, err := coreID(l)
	if err != nil {
		return ids{}, err
	}
	h := sha256.New()
	fmt.Fprintln(h, core)
	part(h, "catalogue", embedded.Catalogue())
	for _, dir := range []struct{ name, path string }{
		{"app", l.app}, {"lib", l.lib}, {"build", filepath.Join(l.root, "pwa", "build")},
	} {
		if err := tree(h, dir.name, dir.path); err != nil {
			return ids{}, err
		}
	}
	shim, err := os.ReadFile(wasmExec())
	if err != nil {
		return ids{}, err
	}
	part(h, "wasm_exec.js", shim)
	for _, name := range []string{"go.mod", "go.sum"} {
		data, err := os.ReadFile(filepath.Join(l.root, name))
		if err != nil {
			return ids{}, err
		}
		part(h, name, data)
	}
	return ids{Build: short(h.Sum(nil)), Core: core}, nil
}

// coreID hashes the sources of every package outside the standard library that the core
// is compiled from, and the version of Go.
func coreID(l layout) (string, error) {
	list := exec.Command("go", "list", "-deps", "-json=Standard,Dir,ImportPath,GoFiles,EmbedFiles", "./pwa/core")
	list.Dir = l.root
	list.Env = wasmEnv()
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		return "", fmt.Errorf("go list ./pwa/core: %w", err)
	}
	h := sha256.New()
	fmt.Fprintln(h, runtime.Version())
	packages := 0
	for dec := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			Standard            bool
			Dir, ImportPath     string
			GoFiles, EmbedFiles []string
		}
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return "", err
		}
		if p.Standard {
			continue
		}
		packages++
		for _, name := range append(p.GoFiles, p.EmbedFiles...) {
			data, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				return "", err
			}
			part(h, p.ImportPath+"/"+name, data)
		}
	}
	if packages == 0 {
		return "", errors.New("go list named no package of the core")
	}
	return short(h.Sum(nil)), nil
}

// tree hashes every file under dir by its path and content, in a fixed order.
func tree(h hash.Hash, name, dir string) error {
	var paths []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() {
			paths = append(paths, path)
		}
		return err
	})
	if err != nil {
		return err
	}
	if len(paths) == 0 {
		return fmt.Errorf("%s is empty", dir)
	}
	sort.Strings(paths)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		part(h, name+"/"+filepath.ToSlash(rel), data)
	}
	return nil
}

// part adds a named piece with its length, so that no two lists of pieces hash alike.
func part(h hash.Hash, name string, data []byte) {
	fmt.Fprintf(h, "%s %d\n", name, len(data))
	h.Write(data)
}

func short(sum []byte) string { return hex.EncodeToString(sum[:6]) }
