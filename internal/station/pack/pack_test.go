package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/station/embedded"
)

// brotliBudget is what the catalogue may weigh on its way to a phone, in bytes.
const brotliBudget = 600_000

// The committed pack is what the source gives today, to the byte.
func TestCommittedPackIsCurrent(t *testing.T) {
	want, err := build("../" + sourcePath)
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, embedded.Catalogue()), "run go generate in internal/station")

	again, err := build("../" + sourcePath)
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, again), "packing twice gives the same bytes")

	var small bytes.Buffer
	w := brotli.NewWriterLevel(&small, brotli.BestCompression)
	_, err = w.Write(want)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	t.Logf("catalogue.bin: %d bytes, %d with brotli", len(want), small.Len())
	assert.Less(t, small.Len(), brotliBudget)
}

// What the pack could not give back exactly is refused, never rounded or dropped.
func TestRefused(t *testing.T) {
	const good = `{"id":"a/1","name":"A","country":"NO","lat":1.5,"lon":-2,"tz":"Europe/Oslo","datum":"LAT","msl":1.234,"lowest":null,"highest":2.5,` +
		`"source":"TICON-4","licence":"CC-BY-4.0","epoch":["2001-01-01","2020-12-31"],"constituents":[["M2",1.2345,270.1]]}`
	for _, row := range []struct{ about, old, new string }{
		{"a latitude finer than the pack", `"lat":1.5`, `"lat":1.500001`},
		{"no latitude", `"lat":1.5,`, ``},
		{"an amplitude finer than the pack", `1.2345`, `1.23456`},
		{"an amplitude too large", `1.2345`, `9.2345`},
		{"a negative phase beyond the pack", `270.1`, `-4000.1`},
		{"a number with an exponent", `1.2345`, `1.2e0`},
		{"mean sea level too high", `"msl":1.234`, `"msl":70.123`},
		{"mean sea level that reads as unknown", `"msl":1.234`, `"msl":-32.768`},
		{"an unknown field", `"datum"`, `"depth":3,"datum"`},
		{"an unknown source", `"TICON-4"`, `"Elsewhere"`},
		{"another licence", `"CC-BY-4.0"`, `"CC-BY-NC-4.0"`},
		{"an unknown country", `"NO"`, `"Norway"`},
		{"an unknown state", `"country":"NO"`, `"country":"US","region":"ZZ"`},
		{"an epoch without an end", `,"2020-12-31"`, ``},
		{"a constant of two parts", `,270.1`, ``},
		{"hung on nothing there", `"constituents":[["M2",1.2345,270.1]]`, `"ref":"a/2","minutes":[1,2],"heights":[1,1],"heightsAre":"ratio"`},
		{"no JSON", `{"id"`, `{id`},
	} {
		t.Run(row.about, func(t *testing.T) {
			_, err := build(write(t, good))
			require.NoError(t, err, "the row itself is good")
			require.Contains(t, good, row.old)
			_, err = build(write(t, strings.Replace(good, row.old, row.new, 1)))
			assert.Error(t, err)
		})
	}
	_, err := build(write(t, good, good))
	assert.Error(t, err, "the same id twice")
}

func write(t *testing.T, lines ...string) string {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, err := z.Write([]byte(strings.Join(lines, "\n")))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	path := filepath.Join(t.TempDir(), "stations.jsonl.gz")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return path
}

func TestDecimal(t *testing.T) {
	for _, row := range []struct {
		number string
		places int
		want   int
	}{
		{"0", 2, 0}, {"-0.21", 3, -210}, {"1", 4, 10000}, {"62.46941", 5, 6246941}, {"-179.81", 5, -17981000}, {"684", 1, 6840},
	} {
		got, err := decimal(json.Number(row.number), row.places)
		require.NoError(t, err)
		assert.Equal(t, row.want, got, row.number)
	}
}
