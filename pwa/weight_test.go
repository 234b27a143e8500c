package pwa

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tooHeavy lists what must not be compiled into core.wasm, by the start of the import
// path, and why. pwa/build holds the sum to its budget, this names the culprit.
var tooHeavy = map[string]string{
	"regexp":                              "about 60 kB; a few string functions do",
	"text/template":                       "reflects on everything, which keeps the linker from dropping methods",
	"html/template":                       "as text/template, and more",
	"net":                                 "the core does no I/O",
	"crypto/tls":                          "the core does no I/O",
	"compress":                            "what the core reads is packed, and the browser unpacks what is compressed",
	"encoding/gob":                        "large, and reflects on everything",
	"encoding/xml":                        "large",
	"math/big":                            "nothing here needs it",
	"log":                                 "the core does not log; its caller does",
	"flag":                                "no command line in a browser",
	"testing":                             "only for tests",
	"gonum.org":                           "fitting is for the server",
	"go.etcd.io":                          "the core does no I/O",
	"github.com/gofiber":                  "the core does no I/O",
	"wrackbook/internal/station/embedded": "the catalogue is fetched once and cached; in the core every release would send it again",
	"wrackbook/server":                    "the dependency points the other way",
}

func TestCoreIsLight(t *testing.T) {
	// Read here so that the go command runs this test again when a room has changed.
	require.NoError(t, filepath.WalkDir("../internal", func(name string, d os.DirEntry, err error) error {
		if err == nil && filepath.Ext(name) == ".go" {
			_, err = os.ReadFile(name)
		}
		return err
	}))
	list := exec.Command("go", "list", "-deps", "./core")
	list.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := list.Output()
	require.NoError(t, err)
	deps := strings.Fields(string(out))
	require.Contains(t, deps, "wrackbook/internal/core")
	for _, dep := range deps {
		for path, why := range tooHeavy {
			assert.False(t, dep == path || strings.HasPrefix(dep, path+"/"), "%s is in core.wasm: %s", dep, why)
		}
	}
}
