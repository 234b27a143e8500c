package main

import (
	"bytes"
	"os"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/zone"
)

// brotliBudget is what the database may weigh in the phone's download, in bytes.
const brotliBudget = 50_000

// The committed pack is what the toolchain's tz database gives today.
func TestCommittedPackIsCurrent(t *testing.T) {
	want, err := build()
	require.NoError(t, err)
	got, err := os.ReadFile("../zones.bin")
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, got), "zones.bin (tz %s) differs from the toolchain's: run go generate in internal/zone", zone.Release())

	var small bytes.Buffer
	w := brotli.NewWriterLevel(&small, brotli.BestCompression)
	_, err = w.Write(got)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	t.Logf("zones.bin: %d bytes, %d with brotli", len(got), small.Len())
	assert.Less(t, small.Len(), brotliBudget)
}

// The same zones under two names are kept once, and what does not fit is refused.
func TestEncode(t *testing.T) {
	one, err := encode("2025c", map[string][]byte{"A": []byte("zone"), "B": []byte("zone")})
	require.NoError(t, err)
	assert.Equal(t, 1, bytes.Count(one, []byte("zone")))

	_, err = encode("2025c", map[string][]byte{"A": make([]byte, 1<<16)})
	assert.Error(t, err)
}
