package book

import (
	"bytes"
	"encoding/json"
	"os"
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
		assert.True(t, isBinomial(taxon.Name) || isBinomial(taxon.Name+" species"), "%q is genus and species, or a genus", taxon.Name)
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

// TestFlagsSayWhyAndFromWhere: whatever is flagged says how, and from where that is known.
func TestFlagsSayWhyAndFromWhere(t *testing.T) {
	sources := []string{"S7", "S29", "S54", "S55", "S56", "S57", "S58", "S59", "S60", "memory"}
	readme, err := os.ReadFile("../../testdata/taxa/README.md")
	require.NoError(t, err)
	for _, source := range sources {
		assert.Contains(t, string(readme), "| "+source+" |")
	}
	flagged := 0
	for _, taxon := range Taxa() {
		assert.Equal(t, taxon.Hurts, taxon.Harm != nil, taxon.Name)
		if taxon.Harm != nil {
			assert.NotEmpty(t, taxon.Harm.How, taxon.Name)
			assert.Subset(t, []string{"sting", "bite", "spine", "venom", "toxin", "irritant", "pinch"}, taxon.Harm.How, taxon.Name)
			assert.NotEmpty(t, taxon.Harm.Where, taxon.Name)
			assert.Subset(t, []string{"shore", "tank"}, taxon.Harm.Where, taxon.Name)
		}
		if taxon.Trade != "" {
			assert.Contains(t, []string{"I", "II", "III"}, taxon.Trade, taxon.Name)
			assert.True(t, taxon.Controlled, taxon.Name)
		}
		if taxon.Hurts || taxon.Controlled || len(taxon.Invasive) > 0 {
			flagged++
			assert.NotEmpty(t, taxon.From, taxon.Name)
		}
		assert.Subset(t, sources, taxon.From, taxon.Name)
	}
	assert.Greater(t, flagged, 80)
}

// TestWhatHurtsAndWhatIsControlledIsOnTheList: the kinds that the design names, by the genus
// where the kinds are many. The stony corals and their like, giant clams and seahorses are
// those of testdata/taxa/README.md (S54, S55).
func TestWhatHurtsAndWhatIsControlledIsOnTheList(t *testing.T) {
	for name, how := range map[string]string{
		"Conus textile": "venom", "Hapalochlaena lunulata": "venom", "Diadema setosum": "spine", "Toxopneustes pileolus": "venom",
		"Hermodice carunculata": "irritant", "Millepora alcicornis": "sting", "Macrorhynchia philippina": "sting",
		"Palythoa toxica": "toxin", "Zoanthus sociatus": "toxin", "Cyanea capillata": "sting", "Chironex fleckeri": "venom", "Pelagia noctiluca": "sting",
		"Physalia utriculus": "sting", "Zosimus aeneus": "toxin", "Lophozozymus pictor": "toxin", "Moorena producens": "irritant", "Lyngbya majuscula": "irritant",
		"Synanceia verrucosa": "venom", "Pterois volitans": "venom", "Trachinus draco": "spine", "Dasyatis pastinaca": "spine", "Hydrophis platurus": "bite",
	} {
		taxon, ok := TaxonNamed(name)
		require.True(t, ok, name)
		assert.True(t, taxon.Hurts, name)
		assert.Contains(t, taxon.Harm.How, how, name)
	}
	for _, name := range []string{"Acropora palmata", "Caryophyllia smithii", "Millepora complanata", "Stylaster roseus", "Tubipora musica", "Heliopora coerulea", "Antipathes fiordensis",
		"Tridacna gigas", "Hippopus hippopus", "Hippocampus guttulatus"} {
		taxon, ok := TaxonNamed(name)
		require.True(t, ok, name)
		assert.Equal(t, "II", taxon.Trade, name)
		assert.True(t, taxon.Controlled, name)
	}
	for name, region := range map[string]string{"Caulerpa racemosa": "NEP", "Caulerpa taxifolia": "MED", "Caulerpa brachypus": "AUS", "Rugulopteryx okamurae": "MED", "Sargassum muticum": "NEA"} {
		taxon, ok := TaxonNamed(name)
		require.True(t, ok, name)
		assert.Contains(t, taxon.Invasive, region, name)
	}
	_, ok := TaxonNamed("Nowherea nulla")
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
