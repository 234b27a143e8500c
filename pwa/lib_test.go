package pwa

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The libraries are the published files, byte for byte, each folder with its licence:
// lib/HASHES says so and this compares, in both directions.
func TestLibrariesAreAsPublished(t *testing.T) {
	listed := hashesIn(t, "lib/HASHES")
	require.NotEmpty(t, listed)
	lib := os.DirFS("lib")
	folders := map[string]bool{} // whether a licence was seen
	err := fs.WalkDir(lib, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || name == "README.md" || name == "HASHES" || strings.HasPrefix(name, "types/") {
			return err
		}
		data, err := fs.ReadFile(lib, name)
		require.NoError(t, err)
		sum := sha256.Sum256(data)
		assert.Equal(t, listed[name], hex.EncodeToString(sum[:]), name)
		delete(listed, name)
		folder := path.Dir(name)
		folders[folder] = folders[folder] || path.Base(name) == "LICENSE"
		return nil
	})
	require.NoError(t, err)
	assert.Empty(t, listed, "listed and not there")
	for folder, licensed := range folders {
		assert.True(t, licensed, "%s has no LICENSE", folder)
	}
}

// hashesIn reads what sha256sum prints.
func hashesIn(t *testing.T, name string) map[string]string {
	t.Helper()
	f, err := os.Open(name)
	require.NoError(t, err)
	defer f.Close()
	listed := map[string]string{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		hash, file, ok := strings.Cut(lines.Text(), "  ")
		require.True(t, ok, lines.Text())
		listed[file] = hash
	}
	return listed
}
