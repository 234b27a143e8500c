package tide

// Form is the form number (K1+O1)/(M2+S2) of a station's constants, the usual measure of
// how diurnal a tide is: under 0.25 semidiurnal, to 1.5 mixed but mainly semidiurnal, to 3
// mixed but mainly diurnal, above it diurnal. A station without M2 and S2 has +99.
func Form(constants []Constant) float64 {
	a := amplitudes(constants)
	semi := a["M2"] + a["S2"]
	if semi == 0 {
		return 99
	}
	return min((a["K1"]+a["O1"])/semi, 99)
}

// leastTideM is the sum of the five main amplitudes under which a station is said to have
// no distinct tide: its whole range is then under about 4 cm, less than an hour's waves
// and the barometer make of it. Our own choice.
const leastTideM = 0.02

// Distinct says whether the constants hold a tide that stands out from the weather.
func Distinct(constants []Constant) bool {
	a := amplitudes(constants)
	return a["M2"]+a["S2"]+a["N2"]+a["K1"]+a["O1"] >= leastTideM
}

func amplitudes(constants []Constant) map[string]float64 {
	a := map[string]float64{}
	for _, k := range constants {
		if c, err := Lookup(k.Name); err == nil {
			a[c.Name] += k.AmplitudeM
		}
	}
	return a
}
