package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestCommittedTableIsCurrent(t *testing.T) {
	want, err := build()
	require.NoError(t, err)
	got, err := os.ReadFile("../table.go")
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), "run go generate in internal/station/fold")
}
