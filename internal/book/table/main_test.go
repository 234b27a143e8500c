package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestListIsUpToDate(t *testing.T) {
	have, err := os.ReadFile("../FIELDS.md")
	require.NoError(t, err)
	assert.Equal(t, markdown(), string(have), "run go generate ./internal/book")
}
