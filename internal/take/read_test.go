package take

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wrackbook/internal/fault"
)

// small is a set that is right; the tests below break it in one place each.
const small = `{"form": 1, "name": "Winkles", "layer": "regional", "authority": "the harbour office", "ask": "at the quay",
 "source": "an invented notice", "sourceDate": "2026-01-01",
 "area": {"place": "the bay", "polygons": [[[10, 60], [11, 60], [11, 61], [10, 61]]]},
 "rules": {"winkles": {"of": {"taxa": ["Littorina littorea"]}, "take": "allowed",
   "limits": [{"most": 5, "unit": "count", "base": "person", "per": "day"}],
   "sizes": [{"axis": "shell", "leastMm": 20, "mostMm": 40}],
   "season": {"open": [{"from": "05-01", "to": "10-31"}]}}}}`

// TestFaultsAreNamedByTheirPlace: each file is refused, with the place in it.
func TestFaultsAreNamedByTheirPlace(t *testing.T) {
	_, err := Decode([]byte(small))
	require.NoError(t, err)
	ring := `[[10, 60], [11, 60], [11, 61], [10, 61]]`
	for _, c := range []struct {
		name, old, new string
		code           fault.Code
		place          string
	}{
		{"a later form", `"form": 1`, `"form": 2`, fault.PleaseUpdate, "form"},
		{"a form that is none", `"form": 1`, `"form": 0`, fault.BadInput, "form"},
		{"no form", `"form": 1, `, ``, fault.BadInput, "form"},
		{"an unknown field", `"take":`, `"taken":`, fault.BadInput, "rules.winkles.taken"},
		{"an unknown field at the top", `"form": 1`, `"form": 1, "seal": "x"`, fault.BadInput, "seal"},
		{"a field in other capitals", `"take":`, `"Take":`, fault.BadInput, "rules.winkles.Take"},
		{"an unknown primitive", `"per": "day"`, `"per": "fortnight"`, fault.BadInput, "rules.winkles.limits[0].per"},
		{"an unknown rule part", `"take": "allowed"`, `"lottery": {"draws": 3}, "take": "allowed"`, fault.BadInput, "rules.winkles.lottery"},
		{"an unknown layer", `"regional"`, `"village"`, fault.BadInput, "layer"},
		{"a missing part", `"source": "an invented notice", `, ``, fault.BadInput, "source"},
		{"text of spaces", `"an invented notice"`, `"  "`, fault.BadInput, "source"},
		{"text that is a number", `"an invented notice"`, `7`, fault.BadInput, "source"},
		{"a number that is text", `"most": 5`, `"most": "5"`, fault.BadInput, "rules.winkles.limits[0].most"},
		{"a negative limit", `"most": 5`, `"most": -5`, fault.BadInput, "rules.winkles.limits[0].most"},
		{"a number past every bound", `"most": 5`, `"most": 1e999`, fault.BadInput, "rules.winkles.limits[0].most"},
		{"a list that is none", `[{"axis": "shell", "leastMm": 20, "mostMm": 40}]`, `{"axis": "shell"}`, fault.BadInput, "rules.winkles.sizes"},
		{"an empty list", `[{"axis": "shell", "leastMm": 20, "mostMm": 40}]`, `[]`, fault.BadInput, "rules.winkles.sizes"},
		{"null", `"shell"`, `null`, fault.BadInput, "rules.winkles.sizes[0].axis"},
		{"twice the same key", `"take": "allowed"`, `"take": "allowed", "take": "allowed"`, fault.BadInput, "rules.winkles.take"},
		{"no rules", `"rules": {"winkles"`, `"rules": {}, "rest": {"winkles"`, fault.BadInput, "rules"},
		{"a rule's name with a dot", `"winkles"`, `"win.kles"`, fault.BadInput, "rules.win.kles"},
		{"contradictory sizes", `"leastMm": 20`, `"leastMm": 50`, fault.BadInput, "rules.winkles.sizes[0]"},
		{"two sizes along one axis", `"mostMm": 40}`, `"mostMm": 40}, {"axis": "shell", "leastMm": 1}`, fault.BadInput, "rules.winkles.sizes[1]"},
		{"no such day", `"05-01"`, `"02-30"`, fault.BadInput, "rules.winkles.season.open[0].from"},
		{"half a span", `, "to": "10-31"`, ``, fault.BadInput, "rules.winkles.season.open[0]"},
		{"a span with one year", `"10-31"`, `"2026-10-31"`, fault.BadInput, "rules.winkles.season.open[0].to"},
		{"a span of two forms", `"to": "10-31"`, `"to": "10-31", "months": [5]`, fault.BadInput, "rules.winkles.season.open[0]"},
		{"open and closed", `"open":`, `"closed": [{"months": [1]}], "open":`, fault.BadInput, "rules.winkles.season"},
		{"weighed but counted", `"unit": "count"`, `"unit": "count", "weighed": "wet"`, fault.BadInput, "rules.winkles.limits[0].weighed"},
		{"days without a number", `"per": "day"`, `"per": "days"`, fault.BadInput, "rules.winkles.limits[0].days"},
		{"a limit a season without dates", `"day"}],
   "sizes": [{"axis": "shell", "leastMm": 20, "mostMm": 40}],
   "season": {"open": [{"from": "05-01", "to": "10-31"}]}`, `"season"}], "season": {"open": [{"moon": {"of": "new", "first": 0, "last": 2}}]}`, fault.BadInput, "rules.winkles.limits[0].per"},
		{"no kinds", `{"taxa": ["Littorina littorea"]}`, `{"states": ["living"]}`, fault.BadInput, "rules.winkles.of"},
		{"all and some", `{"taxa"`, `{"all": true, "taxa"`, fault.BadInput, "rules.winkles.of"},
		{"forbidden with a limit", `"allowed"`, `"forbidden"`, fault.BadInput, "rules.winkles.take"},
		{"a polygon that crosses itself", ring, `[[10, 60], [11, 61], [11, 60], [10, 61]]`, fault.BadInput, "area.polygons[0][0]"},
		{"a polygon that goes back on itself", ring, `[[10, 60], [11, 60], [10.5, 60], [10, 61]]`, fault.BadInput, "area.polygons[0][0]"},
		{"a polygon over the 180th meridian", ring, `[[179, 60], [-179, 60], [-179, 61], [179, 61]]`, fault.BadInput, "area.polygons[0][0]"},
		{"a polygon of two points", ring, `[[10, 60], [11, 60], [10, 60]]`, fault.BadInput, "area.polygons[0]"},
		{"a polygon with a point of three numbers", `[10, 60],`, `[10, 60, 3],`, fault.BadInput, "area.polygons[0][0]"},
		{"latitude and longitude swapped", ring, `[[60, 170], [61, 170], [61, 171]]`, fault.BadInput, "area.polygons[0][0]"},
		{"everywhere and polygons", `"polygons"`, `"everywhere": true, "polygons"`, fault.BadInput, "area"},
		{"no area", `, "polygons": [` + ring + `]`, ``, fault.BadInput, "area"},
		{"deep nesting", `"the bay"`, strings.Repeat("[", 5000), fault.BadInput, "area.place" + strings.Repeat("[0]", 10)},
		{"truncated", `"per": "day"}`, ``, fault.BadJSON, ""},
		{"no JSON", `"take"`, `take`, fault.BadJSON, "rules.winkles"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, small, c.old)
			set, err := Decode([]byte(strings.Replace(small, c.old, c.new, 1)))
			f := refusal(t, set, err)
			assert.Equal(t, c.code, f.Code, f.Message)
			if c.place != "" {
				assert.Equal(t, c.place, f.Field)
				assert.Contains(t, f.Message, f.Field)
			}
		})
	}
}

func refusal(t *testing.T, set *Set, err error) *fault.Error {
	t.Helper()
	var f *fault.Error
	require.True(t, errors.As(err, &f), "%v", err)
	require.Nil(t, set, "half a set came in")
	return f
}

// TestFilesCutShort: no beginning of a file is a file.
func TestFilesCutShort(t *testing.T) {
	for n := range len(small) {
		set, err := Decode([]byte(small[:n]))
		f := refusal(t, set, err)
		assert.Equal(t, fault.BadJSON, f.Code, "%d bytes: %s", n, f.Message)
	}
}

func TestFilesTooLarge(t *testing.T) {
	for _, bytes := range []int{5 << 20, MaxFileBytes + 1} {
		set, err := Decode([]byte(small + strings.Repeat(" ", bytes-len(small))))
		assert.Equal(t, fault.TooLarge, refusal(t, set, err).Code)
	}
	_, err := Decode([]byte(small + strings.Repeat(" ", MaxFileBytes-len(small))))
	assert.NoError(t, err, "spaces are no rules")

	note := `"note": "` + strings.Repeat("x", 1000) + `", "take"`
	rule := `"winkles": {"of": {"all": true}, ` + note + `: "allowed"}`
	long := `"rules": {` + rule
	for i := range 80 {
		long += `, "r` + string(rune('a'+i%26)) + string(rune('a'+i/26)) + `": {"of": {"all": true}, ` + note + `: "allowed"}`
	}
	set, err := Decode([]byte(small[:strings.Index(small, `"rules"`)] + long + "}}"))
	assert.Equal(t, fault.TooLarge, refusal(t, set, err).Code)
}

// FuzzDecode: whatever comes in, nothing panics, a refusal is a fault with a sentence, and
// what is taken in goes out and comes in the same.
func FuzzDecode(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(rulesDir, "*.json"))
	require.NoError(f, err)
	require.Greater(f, len(files), 40)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Add([]byte(small))
	f.Fuzz(func(t *testing.T, data []byte) {
		set, err := Decode(data)
		if err != nil {
			require.NotEmpty(t, refusal(t, set, err).Message)
			return
		}
		file, err := Encode(set)
		require.NoError(t, err)
		again, err := Decode(file)
		require.NoError(t, err)
		require.Equal(t, set, again)
	})
}
