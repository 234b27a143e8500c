package settle

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"slices"
	"strings"
	"sync"
)

// Sourced is a number and where it is from, by a key of Numbers.Sources.
type Sourced struct {
	Is   float64 `json:"is"`
	From string  `json:"from"`
}

// Group is how one handling group is carried, let in and watched. One number stands where
// practice gives a range: the longer wait, the slower rate.
type Group struct {
	Weed            bool     `json:"weed"`
	Days            Sourced  `json:"days"`            // quiet days of quarantine
	SalinityPerHour Sourced  `json:"salinityPerHour"` // the fastest change that is borne, PSS-78 an hour
	CPerHour        Sourced  `json:"cPerHour"`        // and of temperature, °C an hour
	DripMin         Sourced  `json:"dripMin"`         // minutes that a drip takes at least
	FreshDipS       Sourced  `json:"freshDipS"`       // seconds in fresh water at most; 0 is never
	PHGap           *Sourced `json:"pHGap"`           // a gap in pH above which it takes a day
	Carry           Carry    `json:"carry"`
}

// Carry is how a group travels: °C between which the water or the box is kept, and the
// hours it takes at most.
type Carry struct {
	How     string   `json:"how"`
	LowC    *float64 `json:"lowC"` // null in the tropics, as highC
	HighC   *float64 `json:"highC"`
	WithinC float64  `json:"withinC,omitempty"` // of the water that it was taken from; °C
	Hours   float64  `json:"hours"`
	From    string   `json:"from"`
}

// Numbers is groups.json: every number of the household's defaults with its source.
type Numbers struct {
	Sources map[string]string `json:"sources"`
	Cold    struct {
		BelowC float64 `json:"belowC"`
		Times  float64 `json:"times"`
		From   string  `json:"from"`
	} `json:"cold"`
	Search struct {
		Nights    int    `json:"nights"`
		LeastDays int    `json:"leastDays"`
		MostDays  int    `json:"mostDays"`
		From      string `json:"from"`
	} `json:"search"`
	Siphonous struct {
		Genera    []string `json:"genera"`
		FreshDipS float64  `json:"freshDipS"`
		From      string   `json:"from"`
	} `json:"siphonous"`
	IsolatedGenera []string `json:"isolatedGenera"`
	IsolatedFrom   string   `json:"isolatedFrom"`
	Tropics        struct {
		WithinC float64 `json:"withinC"`
		From    string  `json:"from"`
	} `json:"tropics"`
	Groups map[string]*Group `json:"groups"`
	Unsure *Group            `json:"unsure"` // for a group that nobody named
}

//go:embed groups.json
var groupsJSON []byte

// numbers reads groups.json once. It is part of the program, so that a file that cannot be
// read is the programmer's error.
var numbers = sync.OnceValue(func() *Numbers {
	n := new(Numbers)
	if err := json.Unmarshal(groupsJSON, n); err != nil {
		panic("groups.json: " + err.Error())
	}
	return n
})

// Defaults gives groups.json. It is not to be altered.
func Defaults() *Numbers { return numbers() }

// group gives the numbers of a handling group; those of the unsure for one not known.
func group(id string) *Group {
	if g := numbers().Groups[id]; g != nil {
		return g
	}
	return numbers().Unsure
}

// FreshDipS is how many seconds a kind may be dipped in fresh water at most, and the key of
// the source; 0 is never. Siphonous greens burst in it whatever other greens bear.
func FreshDipS(groupID, taxon string) (seconds float64, from string) {
	genus, _, _ := strings.Cut(strings.ToLower(taxon), " ")
	if s := &numbers().Siphonous; slices.Contains(s.Genera, genus) {
		return s.FreshDipS, s.From
	}
	g := group(groupID)
	return g.FreshDipS.Is, g.FreshDipS.From
}

// CarryFor is how a kind of that group travels. In the tropics the temperatures of the
// table, which are temperate, give way to those of the water that it was taken from.
func CarryFor(groupID string, tropical bool) Carry {
	c := group(groupID).Carry
	if tropical {
		c.LowC, c.HighC = nil, nil
		c.WithinC, c.From = numbers().Tropics.WithinC, numbers().Tropics.From
	}
	return c
}

//go:embed signs.json
var signsJSON []byte

// DefaultsJSON is groups.json with what may be seen on each group, signs.json, beside it as
// "signs": each with the grade that it suggests, the groups on which it is seen (* for all,
// animals for all that is no weed), whether it is something found on them, and its source.
func DefaultsJSON() []byte {
	head := bytes.TrimSuffix(bytes.TrimSpace(groupsJSON), []byte("}"))
	return slices.Concat(head, []byte(`,"signs":`), signsJSON, []byte("}"))
}
