package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// workerScript starts the app's own worker in a page and leaves window.askWorker, which
// asks it one thing.
const workerScript = `(async (url, build) => {
  const worker = new Worker(url);
  const waiting = new Map();
  let last = 0;
  await new Promise((resolve, reject) => {
    worker.onmessage = ({data}) => {
      if (data.catalogue === 'open') resolve();
      else if (data.state !== 'ready') reject(new Error(JSON.stringify(data)));
    };
    worker.postMessage({hello: build, fetchCatalogue: true});
  });
  worker.onmessage = ({data}) => waiting.get(data.id)(data.answer);
  window.askWorker = (name, request, now) => new Promise((resolve) => {
    const id = ++last;
    waiting.set(id, resolve);
    worker.postMessage({id, name, request, now});
  });
  return true;
})`

// TestVectorsInTheWorker: the core as WebAssembly in the browser's worker gives the same
// bytes as natively, to the last digit, and what the sources say.
func TestVectorsInTheWorker(t *testing.T) {
	t.Parallel()
	binary, err := builtBinary()
	require.NoError(t, err)
	worker, err := filepath.Glob("../pwa/dist/worker.*.js")
	require.NoError(t, err)
	require.Len(t, worker, 1)
	var built struct{ Build string }
	data, err := os.ReadFile("../pwa/dist/build.json")
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(data, &built))

	server := startServer(t, binary, "127.0.0.1:0")
	page := startBrowser(t).open(t, server.url)
	var ready bool
	page.eval(workerScript+`(`+quoted("/"+filepath.Base(worker[0]))+`,`+quoted(built.Build)+`)`, &ready)
	require.True(t, ready)
	for _, v := range vectors(t) {
		t.Run(v.Name, func(t *testing.T) {
			request, err := json.Marshal(string(v.Request))
			require.NoError(t, err)
			now, err := json.Marshal(noon.UnixMilli())
			require.NoError(t, err)
			var answer string
			page.eval(`askWorker(`+quoted(v.Call)+`,`+string(request)+`,`+string(now)+`)`, &answer)
			assert.JSONEq(t, string(native(t, v)), answer)
			if v.Error == "" {
				assert.Equal(t, string(native(t, v)), answer)
			}
			v.check(t, []byte(answer))
		})
	}
}
