package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestUpToDate: the committed table is what the lists give.
func TestUpToDate(t *testing.T) {
	committed, err := os.ReadFile("../constituents.go")
	require.NoError(t, err)
	assert.Equal(t, string(committed), string(generate("../../../testdata/tides/iho/")), "run go generate ./internal/tide")
}
