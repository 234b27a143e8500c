package main

import (
	"bytes"
	"compress/gzip"
	"image"
	"image/color"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func testLayout(t *testing.T) layout {
	t.Helper()
	root, err := moduleRoot()
	require.NoError(t, err)
	return layout{
		root: root, app: filepath.Join(root, "pwa", "app"), lib: filepath.Join(root, "pwa", "lib"),
		out: t.TempDir(), cache: t.TempDir(),
	}
}

// The ids stand still while nothing changes; a changed word is another build of the app
// and the same core.
func TestIdentify(t *testing.T) {
	l := testLayout(t)
	first, err := identify(l)
	require.NoError(t, err)
	again, err := identify(l)
	require.NoError(t, err)
	assert.Equal(t, first, again)
	assert.Len(t, first.Build, 12)
	assert.Len(t, first.Core, 12)

	l.app = t.TempDir()
	require.NoError(t, os.CopyFS(l.app, os.DirFS(filepath.Join(l.root, "pwa", "app"))))
	copied, err := identify(l)
	require.NoError(t, err)
	assert.Equal(t, first, copied, "where the app lies is no part of it")
	require.NoError(t, os.WriteFile(filepath.Join(l.app, "text", "en.js"), []byte("export const text = {};"), 0o600))
	changed, err := identify(l)
	require.NoError(t, err)
	assert.NotEqual(t, first.Build, changed.Build)
	assert.Equal(t, first.Core, changed.Core)

	l.app = t.TempDir()
	_, err = identify(l)
	assert.ErrorContains(t, err, "is empty")
}

func TestFillLeavesNoMark(t *testing.T) {
	got, err := fill("page", "a {{X}} b {{X}}", map[string]string{"{{X}}": "1"})
	require.NoError(t, err)
	assert.Equal(t, "a 1 b 1", got)
	_, err = fill("page", "a {{Y}}", map[string]string{"{{X}}": "1"})
	assert.ErrorContains(t, err, "{{Y}}")
}

// What is written unpacks to what was meant, from the cache as well, and what
// was there before goes.
func TestWrite(t *testing.T) {
	l := testLayout(t)
	require.NoError(t, os.WriteFile(filepath.Join(l.out, "old.js"), nil, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(l.out, ".keep"), nil, 0o600))
	data := bytes.Repeat([]byte("the tide goes out and the tide comes in\n"), 50)
	for range 2 { // the second time from the cache
		var f files
		url := f.addHashed("app.js", data)
		require.NoError(t, f.write(l))
		plain, err := os.ReadFile(filepath.Join(l.out, url))
		require.NoError(t, err)
		assert.Equal(t, data, plain)
		br, err := os.ReadFile(filepath.Join(l.out, url+".br"))
		require.NoError(t, err)
		unpacked, err := io.ReadAll(brotli.NewReader(bytes.NewReader(br)))
		require.NoError(t, err)
		assert.Equal(t, data, unpacked)
		gz, err := os.ReadFile(filepath.Join(l.out, url+".gz"))
		require.NoError(t, err)
		z, err := gzip.NewReader(bytes.NewReader(gz))
		require.NoError(t, err)
		unpacked, err = io.ReadAll(z)
		require.NoError(t, err)
		assert.Equal(t, data, unpacked)
	}
	assert.NoFileExists(t, filepath.Join(l.out, "old.js"))
	assert.FileExists(t, filepath.Join(l.out, ".keep"))
}

func TestReportRefusesWhatIsTooHeavy(t *testing.T) {
	light := files{list: []file{{"core/core.x.wasm", nil}, {"app.x.js", nil}},
		bytes: map[string]int{"core/core.x.wasm": maxCore, "app.x.js": maxRest}}
	assert.NoError(t, light.report(io.Discard))
	light.bytes["app.x.js"]++
	assert.Error(t, light.report(io.Discard))
	light.bytes["app.x.js"]--
	light.bytes["core/core.x.wasm"]++
	assert.Error(t, light.report(io.Discard))
}

// A palette is smaller, and the picture the same.
func TestIconsByPalette(t *testing.T) {
	few := image.NewNRGBA(image.Rect(0, 0, 20, 13))
	for i := range few.Pix {
		few.Pix[i] = uint8(i % 12 * 20)
	}
	many := image.NewNRGBA(image.Rect(0, 0, 257, 1))
	for i := range 257 {
		many.SetNRGBA(i, 0, color.NRGBA{uint8(i), uint8(i / 256), 7, 255})
	}
	for _, img := range []*image.NRGBA{few, many} {
		got := byPalette(img)
		_, paletted := got.(*image.Paletted)
		assert.Equal(t, img == few, paletted)
		for y := range img.Bounds().Dy() {
			for x := range img.Bounds().Dx() {
				assert.Equal(t, img.NRGBAAt(x, y), color.NRGBAModel.Convert(got.At(x, y)), "(%d, %d)", x, y)
			}
		}
	}
}

// A maskable icon may be cut to a circle of 0.8 of its side (W3C, Web Application
// Manifest, "Icon masks and safe zone"): the staff must lie inside of it.
func TestMaskableIconKeepsItsStaff(t *testing.T) {
	seen := false
	for _, i := range icons() {
		if i.name != "MASKABLE" {
			continue
		}
		seen = true
		for y := 0.0; y <= 1; y += 0.005 {
			for x := 0.0; x <= 1; x += 0.005 {
				if math.Hypot(x-0.5, y-0.5) > 0.4 {
					c := i.at(x, y)
					assert.True(t, c == paper || c == water, "the staff reaches (%.3f, %.3f)", x, y)
				}
			}
		}
	}
	assert.True(t, seen)
}
