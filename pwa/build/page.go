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
func addPage(l layout, f *files, id ids, appURL, cssURL string, atOnce []string) error {
	var preload strings.Builder
	for _, url := range atOnce {
		fmt.Fprintf(&preload, "<link rel=\"modulepreload\" href=\"%s\">\n", url)
	}
	urls := map[string]string{"{{BUILD}}": id.Build, "{{APP}}": appURL, "{{CSS}}": cssURL, "{{AT_ONCE}}\n": preload.String()}
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
// The catalogue is apart: a phone on which data is dear fetches it when it is asked for.
func addServiceWorker(l layout, f *files, id ids, catalogueURL string) error {
	hashed := []string{}
	for _, file := range f.list {
		if url := "/" + file.path; url != "/index.html" && url != "/manifest.webmanifest" && url != catalogueURL {
			hashed = append(hashed, url)
		}
	}
	sw, err := bundle(l, "sw.js", map[string]any{"BUILD": id.Build, "FILES": hashed, "CATALOGUE_URL": catalogueURL})
	if err != nil {
		return err
	}
	f.add("sw.js", sw)
	return nil
}
