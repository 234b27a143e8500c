package book

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTaxaAreWellFormed(t *testing.T) {
	decoder := json.NewDecoder(bytes.NewReader(taxaJSON))
	decoder.DisallowUnknownFields()
	var strict taxaFile
	require.NoError(t, decoder.Decode(&strict), "no field is misspelt")
	require.GreaterOrEqual(t, len(Taxa()), 80)
	seen, common := map[string]bool{}, map[string]bool{}
	inGroup := map[string]int{}
	for _, taxon := range Taxa() {
		name := strings.ToLower(taxon.Name)
		assert.False(t, seen[name], "%s stands twice", taxon.Name)
		seen[name] = true
		assert.NotEmpty(t, taxon.Common, taxon.Name)
		assert.False(t, common[taxon.Common], "%s is the name of two", taxon.Common)
		common[taxon.Common] = true
		assert.True(t, isBinomial(taxon.Name), "%q is genus and species", taxon.Name)
		inGroup[taxon.Group]++
		assert.NotEmpty(t, taxon.Regions, taxon.Name)
		for _, region := range append(taxon.Regions, taxon.Invasive...) {
			assert.Contains(t, Regions(), region, taxon.Name)
		}
		for _, region := range taxon.Invasive {
			assert.NotEqual(t, taxon.Regions[0], region, "%s: the first region is where it is native", taxon.Name)
		}
		found, ok := TaxonNamed(strings.ToUpper(taxon.Name))
		assert.True(t, ok)
		assert.Equal(t, taxon, found)
	}
	require.Len(t, Groups(), 14)
	for _, g := range Groups() {
		assert.GreaterOrEqual(t, inGroup[g.ID], 3, g.ID)
		assert.NotEmpty(t, g.Name)
		delete(inGroup, g.ID)
	}
	assert.Empty(t, inGroup, "groups that are not on the list")
	_, ok := TaxonNamed(Unsure)
	assert.False(t, ok)
}

// isBinomial: a genus with one capital, a space, an epithet of small letters.
func isBinomial(s string) bool {
	genus, species, ok := strings.Cut(s, " ")
	small := func(s string) bool {
		return len(s) >= 3 && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz") == ""
	}
	return ok && len(genus) >= 3 && genus[0] >= 'A' && genus[0] <= 'Z' && small(genus[1:]) && small(species)
}

func TestIsBinomial(t *testing.T) {
	for s, want := range map[string]bool{"Ulva lactuca": true, "ulva lactuca": false, "Ulva": false, "Ulva Lactuca": false, "Ulva lactuca L.": false, "Ulva sp.": false, "Codium fragile subsp fragile": false} {
		assert.Equal(t, want, isBinomial(s), s)
	}
}
