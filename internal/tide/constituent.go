package tide

import (
	"strings"

	"wrackbook/internal/fault"
)

// Constituent is one term of the harmonic development of the tide.
type Constituent struct {
	Name            string   // as the IHO standard list spells it
	SpeedDegPerHour float64  // degrees an hour of mean solar time
	Doodson         [6]int8  // multiples of tau, s, h, p, N' = -N, p1
	Members         []Member // of a compound: its argument and node factor are theirs
	quarter         int8     // constant part of the argument in quarter turns, 0..3
	letter          byte     // nodal letter of the list; see nodeOf
}

// Member is one part of a compound constituent: N times the constituent Name.
type Member struct {
	N    int8
	Name string
}

// aliases are the spellings of the station catalogue that differ from the list by more
// than case. Sources: testdata/stations/README.md for LAM2 and MTM; the IHO list itself
// for the rest, whose brackets the catalogue leaves out.
var aliases = map[string]string{
	"LAM2":   "lambda2",
	"MTM":    "Mfm",
	"BET1":   "beta1",
	"M2KS2":  "M2(KS)2",
	"2SNMK2": "2SN(MK)2",
	"2KMSN2": "2KM(SN)2",
	"2MS8":   "2(MS)8",
	"2MN8":   "2(MN)8",
	"OO2":    "O2", // twice O1; from memory of the name's use, no source found
}

var byName = func() map[string]*Constituent {
	m := make(map[string]*Constituent, len(list)+len(aliases))
	for i := range list {
		m[strings.ToUpper(list[i].Name)] = &list[i]
	}
	for alias, name := range aliases {
		m[alias] = m[strings.ToUpper(name)]
	}
	return m
}()

// Lookup finds a constituent by the list's name or a known alias, in any case. The error
// is fault.UnknownConstituent.
func Lookup(name string) (*Constituent, error) {
	if c, ok := byName[strings.ToUpper(name)]; ok {
		return c, nil
	}
	return nil, fault.New(fault.UnknownConstituent, "constituents",
		"No tidal constituent is named %q. Use the names of the IHO standard list, such as M2 or K1.", name)
}

func upper(s string) string { return strings.ToUpper(s) }

// Constant is one harmonic constant of a station.
type Constant struct {
	Name       string  // constituent
	AmplitudeM float64 // metres, 0 to 20
	PhaseDeg   float64 // phase lag at Greenwich, degrees
}

// Spell gives constants the names that a catalogue's single spelling has run together:
// of two constants MKS2 the first is M(KS)2, whose brackets were lost. The lists stand in
// order of speed, and M(KS)2 (29.0252° an hour) comes before MKS2 (29.0662).
func Spell(constants []Constant) []Constant {
	first := -1
	for i, k := range constants {
		if upper(k.Name) != "MKS2" {
			continue
		}
		if first >= 0 {
			out := append([]Constant(nil), constants...)
			out[first].Name = "M(KS)2"
			return out
		}
		first = i
	}
	return constants
}
