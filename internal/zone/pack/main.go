// Command pack writes internal/zone/zones.bin from the tz database of the Go toolchain
// that runs it. Run it by go generate in internal/zone. The layout is described in
// internal/zone/archive.go.
package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// noPlace is the zone of a machine whose zone was never set; no shore lies in it.
const noPlace = "Factory"

func main() {
	log.SetFlags(0)
	data, err := build()
	if err == nil {
		err = os.WriteFile("zones.bin", data, 0o644)
	}
	if err != nil {
		log.Fatal("pack: ", err)
	}
}

// build packs the tz database of the toolchain.
func build() ([]byte, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("ask for GOROOT: %w", err)
	}
	dir := filepath.Join(strings.TrimSpace(string(root)), "lib", "time")
	release, err := readRelease(filepath.Join(dir, "update.bash"))
	if err != nil {
		return nil, err
	}
	zones, err := readZip(filepath.Join(dir, "zoneinfo.zip"))
	if err != nil {
		return nil, err
	}
	return encode(release, zones)
}

// readRelease finds the edition of the tz database in the script that made the zip.
func readRelease(path string) (string, error) {
	script, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	m := regexp.MustCompile(`(?m)^DATA=(\d{4}[a-z]+)$`).FindSubmatch(script)
	if m == nil {
		return "", fmt.Errorf("%s names no release of the tz database", path)
	}
	return string(m[1]), nil
}

// readZip gives every zone file of the zip by its name.
func readZip(path string) (map[string][]byte, error) {
	z, err := zip.OpenReader(path)
	if err != nil {
		return nil, err
	}
	defer z.Close()
	zones := map[string][]byte{}
	for _, f := range z.File {
		if strings.HasSuffix(f.Name, "/") || f.Name == noPlace {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, err
		}
		data, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		zones[f.Name] = data
	}
	return zones, nil
}

// encode lays the zones out as internal/zone reads them.
func encode(release string, zones map[string][]byte) ([]byte, error) {
	names := make([]string, 0, len(zones))
	for name := range zones {
		names = append(names, name)
	}
	slices.Sort(names)

	var files [][]byte // in the order of the first name that reads them
	number := map[string]int{}
	for _, name := range names {
		if data := zones[name]; number[string(data)] == 0 {
			files = append(files, data)
			number[string(data)] = len(files) // from one, so that zero says absent
		}
	}

	var b bytes.Buffer
	var broken error
	put := func(width, n int) {
		if n < 0 || n>>(8*width) != 0 {
			broken = fmt.Errorf("%d does not fit in %d bytes", n, width)
		}
		b.Write(binary.LittleEndian.AppendUint32(nil, uint32(n))[:width])
	}
	text := func(s string) {
		put(1, len(s))
		b.WriteString(s)
	}

	b.WriteString("WRBKZONE")
	put(1, 1)
	text(release)
	put(2, len(files))
	for _, f := range files {
		put(2, len(f))
	}
	put(2, len(names))
	for _, name := range names {
		text(name)
		put(2, number[string(zones[name])]-1)
	}
	for _, f := range files {
		b.Write(f)
	}
	return b.Bytes(), broken
}
