package take

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestWhatAShellOrAStoneIs: a group that says less than the name does not hide what a thing
// is; without a name it does.
func TestWhatAShellOrAStoneIs(t *testing.T) {
	has := func(taxon, group string, groups ...string) truth {
		var n names
		n.add(nil, groups)
		return n.has(kindOf(taxon, group, "empty"))
	}
	assert.Equal(t, yes, has("Littorina littorea", "shells", "molluscs"))
	assert.Equal(t, no, has("Littorina littorea", "shells", "algae"))
	assert.Equal(t, yes, has("Littorina littorea", "shells", "shells"))
	assert.Equal(t, yes, has("Ulva lactuca", "rock", "algae"))
	assert.Equal(t, yes, has("Ulva lactuca", "rock", "rock"))
	assert.Equal(t, lacking(factGroup), has("unsure", "shells", "algae"))
	assert.Equal(t, lacking(factGroup), has("Trivia monacha", "shells", "molluscs"), "the list itself says no more than shells")
	assert.Equal(t, no, has("Conus textile", "", "algae"), "by its genus")
}
