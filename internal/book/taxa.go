package book

import (
	_ "embed"
	"encoding/json"
	"slices"
	"strings"
	"sync"
)

// Unsure is a proper answer to what a find is, and to its group.
const Unsure = "unsure"

// Taxon is a kind on the starting list, which a household extends: a record may name any
// other. The list is no key and no authority; testdata/taxa/README.md says where it is from.
type Taxon struct {
	Name       string   `json:"name"`   // scientific: genus and species, or a genus
	Common     string   `json:"common"` // in English
	Group      string   `json:"group"`
	Regions    []string `json:"regions"`    // where it is met, by the list's own codes
	Hurts      bool     `json:"hurts"`      // stings, bites, pinches or pricks so that it matters
	Controlled bool     `json:"controlled"` // some law somewhere forbids or licenses taking or keeping it
	Invasive   []string `json:"invasive"`   // regions to which it was brought and where it spreads
	Harm       *Harm    `json:"harm,omitempty"`
	Trade      string   `json:"trade,omitempty"` // the appendix of CITES that it stands in
	From       []string `json:"from,omitempty"`  // where the flags are from, by testdata/taxa/README.md
}

// Harm is how a kind hurts, and where that comes up.
type Harm struct {
	How   []string `json:"how"`             // sting, bite, spine, venom, toxin, irritant, pinch
	Where []string `json:"where"`           // shore, tank
	Grave bool     `json:"grave,omitempty"` // it can kill, or send to hospital
}

// HandlingGroup is the kinds that are carried, acclimated and watched alike.
type HandlingGroup struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

//go:embed taxa.json
var taxaJSON []byte

type taxaFile struct {
	Regions map[string]string `json:"regions"`
	Groups  []HandlingGroup   `json:"groups"`
	Taxa    []Taxon           `json:"taxa"`
	byName  map[string]int
}

// taxaList reads the list once. It is part of the program, so that a list that cannot be
// read is the programmer's error.
var taxaList = sync.OnceValue(func() *taxaFile {
	var f taxaFile
	if err := json.Unmarshal(taxaJSON, &f); err != nil {
		panic("taxa.json: " + err.Error())
	}
	f.byName = make(map[string]int, len(f.Taxa))
	for i, t := range f.Taxa {
		f.byName[strings.ToLower(t.Name)] = i
	}
	return &f
})

// Taxa lists the starting list, by group. It is not to be altered.
func Taxa() []Taxon { return taxaList().Taxa }

// Groups lists the handling groups. It is not to be altered.
func Groups() []HandlingGroup { return taxaList().Groups }

// Regions gives the codes of regions and what they mean. It is not to be altered.
func Regions() map[string]string { return taxaList().Regions }

// TaxonNamed finds a kind on the list by its scientific name, capitals or not; for a species
// that is not on it, its genus, where that is.
func TaxonNamed(name string) (Taxon, bool) {
	name = strings.ToLower(name)
	i, ok := taxaList().byName[name]
	if genus, _, species := strings.Cut(name, " "); !ok && species {
		i, ok = taxaList().byName[genus]
	}
	if !ok {
		return Taxon{}, false
	}
	return taxaList().Taxa[i], true
}

func knownGroup(id string) bool {
	return slices.ContainsFunc(Groups(), func(g HandlingGroup) bool { return g.ID == id })
}
