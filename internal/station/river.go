package station

import (
	"fmt"
	"strings"

	"wrackbook/internal/station/fold"
)

// riverWords are words of names that tell of water which is not the open shore's, folded.
// They tell less than the water itself: Campbell River is a town on a strait. Hence "may".
var riverWords = map[string]bool{
	"river": true, "rv": true, "rio": true, "riviere": true, "fleuve": true,
	"creek": true, "crk": true, "brook": true, "slough": true, "bayou": true, "arroyo": true, "khal": true,
	"canal": true, "ditch": true, "spillway": true, "dam": true, "lock": true, "locks": true, "weir": true, "ecluse": true,
	"lake": true, "pond": true, "swamp": true, "marsh": true,
}

// riverParts are the same inside the compounds of German names.
var riverParts = []string{"wehr", "schleuse"}

// seaNames are names that hold a river word and mean the sea, folded.
var seaNames = []string{"rio de janeiro", "lake worth pier ocean"}

// inlandKeepers are the networks, by the last part of a TICON-4 id, that mostly gauge
// rivers, canals, lakes and marshes. (The abbreviations are those of GESLA-4's
// contributors; their names from memory.)
var inlandKeepers = map[string]string{
	"usgs":   "the U.S. Geological Survey, whose gauges mostly stand on rivers",
	"cdwr":   "the California Department of Water Resources, whose gauges mostly stand in the delta's rivers",
	"crms":   "the Coastwide Reference Monitoring System, whose gauges stand in Louisiana's marshes",
	"sfwmd":  "the South Florida Water Management District, whose gauges mostly stand on canals",
	"nwfwmd": "the Northwest Florida Water Management District, whose gauges mostly stand on rivers and bays",
}

// riverSigns lists what tells of a river, lake or marsh gauge, as parts of a sentence.
func (s *Station) riverSigns() []string {
	var signs []string
	if word := riverWord(s.Name); word != "" {
		signs = append(signs, fmt.Sprintf("its name says %q", word))
	}
	if keeper := inlandKeepers[s.ID[strings.LastIndexByte(s.ID, '-')+1:]]; keeper != "" {
		signs = append(signs, "it is kept by "+keeper)
	}
	if !s.Secondary() && s.AnnualM >= riverAnnualM && s.AnnualM > s.TideM/2 {
		signs = append(signs, fmt.Sprintf("its level swings by %.0f cm over the year", s.AnnualM*100))
	}
	return signs
}

// riverWord is the first river word of a name, or empty.
func riverWord(name string) string {
	folded := fold.String(name, 0)
	for _, sea := range seaNames {
		if strings.Contains(folded, sea) {
			return ""
		}
	}
	for word := range strings.FieldsSeq(folded) {
		if riverWords[word] {
			return word
		}
		for _, part := range riverParts {
			if strings.Contains(word, part) {
				return part
			}
		}
	}
	return ""
}
