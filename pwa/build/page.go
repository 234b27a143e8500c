package main

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
)

// addPage adds the icons, the manifest and index.html. The page is added under "/" by
// the server; here it is a file like any other.
func addPage(l layout, f *files, id ids, appURL, cssURL string) error {
	urls := map[string]string{"{{BUILD}}": id.Build, "{{APP}}": appURL, "{{CSS}}": cssURL}
	for _, icon := range icons() {
		var buf bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&buf, icon.draw()); err != nil {
			return err
		}
		urls["{{ICON_"+icon.name+"}}"] = f.addHashed("icons/"+icon.file, buf.Bytes())
	}
	for _, name := range []string{"manifest.webmanifest", "index.html"} {
		source, err := os.ReadFile(filepath.Join(l.app, name))
		if err != nil {
			return err
		}
		filled, err := fill(name, string(source), urls)
		if err != nil {
			return err
		}
		f.add(name, []byte(filled))
	}
	return nil
}

// fill puts values in place of the {{marks}} of a template and refuses one that is left.
func fill(name, source string, values map[string]string) (string, error) {
	for mark, value := range values {
		source = strings.ReplaceAll(source, mark, value)
	}
	if _, rest, left := strings.Cut(source, "{{"); left {
		mark, _, _ := strings.Cut(rest, "}}")
		return "", fmt.Errorf("%s: nothing fills {{%s}}", name, mark)
	}
	return source, nil
}

// addServiceWorker adds sw.js, built with the list of every hash-named file made so far.
func addServiceWorker(l layout, f *files, id ids) error {
	hashed := []string{}
	for _, file := range f.list {
		if file.path != "index.html" && file.path != "manifest.webmanifest" {
			hashed = append(hashed, "/"+file.path)
		}
	}
	sw, err := bundle(l, "sw.js", map[string]any{"BUILD": id.Build, "FILES": hashed})
	if err != nil {
		return err
	}
	f.add("sw.js", sw)
	return nil
}
