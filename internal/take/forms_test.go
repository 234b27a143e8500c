package take

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// filled answers what the empty forms ask, as an invented notice would.
var filled = map[string]*strings.Replacer{
	"notice": strings.NewReplacer(`"most": null`, `"most": 5`, `"leastMm": null`, `"leastMm": 25`, `"taxa": [""]`, `"taxa": ["Littorina littorea"]`,
		`{"from": "", "to": ""}`, `{"from": "05-01", "to": "08-31"}`, `"return": ""`, `"return": "allowed"`, `"sourceDate": ""`, `"sourceDate": "2026-01-01"`, `""`, `"the harbour office"`),
	"reserve": strings.NewReplacer(`{"from": "", "to": ""}`, `{"from": "05-01", "to": "08-31"}`, `"groups": [""]`, `"groups": ["algae"]`, `"sourceDate": ""`, `"sourceDate": "2026-01-01"`, `""`, `"the harbour office"`),
	"closure": strings.NewReplacer(`"groups": [""]`, `"groups": ["bivalves"]`, `"sourceDate": ""`, `"sourceDate": "2026-01-01"`, `"from": ""`, `"from": "2026-01-01"`, `"to": ""`, `"to": "2026-02-01"`, `""`, `"the harbour office"`),
}

// TestEmptyFormsAreRefusedUntilFilled: an empty form is no rule set, and one that is filled
// in is; a place that was left empty is named.
func TestEmptyFormsAreRefusedUntilFilled(t *testing.T) {
	files, err := filepath.Glob("forms/*.json")
	require.NoError(t, err)
	require.Len(t, files, len(filled))
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		_, err = Decode(data)
		require.Error(t, err, file)
		assert.NotEmpty(t, fault.From(err).Field, file)
		assert.Contains(t, string(data), "?", "%s asks nothing", file)

		name := strings.TrimSuffix(filepath.Base(file), ".json")
		require.NotNil(t, filled[name], file)
		set, err := Decode([]byte(filled[name].Replace(string(data))))
		require.NoError(t, err, file)
		assert.NotEmpty(t, set.Rules)
	}
}
