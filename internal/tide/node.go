package tide

import "math"

// node is the nodal modulation of a constituent: the natural logarithm of the factor f on
// its amplitude, and the correction u, in degrees, to its argument. In this form the node
// of a compound is the sum of its members'.
type node struct{ lnF, u float64 }

func (n node) f() float64 { return math.Exp(n.lnF) }

// class is one of Schureman's basic node factors.
type class uint8

const (
	solar class = iota // no factor
	classMm
	classMf
	classO1
	classJ1
	classOO1
	classM1
	classK1
	classM2
	classL2
	classK2
	numClasses
)

// nodes holds every basic node factor at an instant.
type nodes [numClasses]node

// part is a share in a basic class: f to the power f, u times u.
type part struct {
	class class
	f, u  float64
}

const rad = math.Pi / 180

// nodesAt evaluates the node factors at a Unix time taken as UT.
//
// Source of all formulae: Schureman, Manual of Harmonic Analysis and Prediction of Tides,
// Coast and Geodetic Survey Special Publication 98 (1940, reprinted 1958), paragraphs
// 65–126; equation numbers stand beside each, from memory of that book. They are checked
// against the tide_fac program and NOAA's tables in the tests.
func nodesAt(unix float64) nodes {
	l := meanLongitudes(unix)
	const (
		omega = 23.452294 * rad // obliquity of the ecliptic, 1900: 23°27′08.26″ (table 1)
		incl  = 5.145376 * rad  // inclination of the Moon's orbit to the ecliptic: 5°08′43.35″ (table 1)
	)
	N := -l.np * rad
	I := math.Acos(math.Cos(omega)*math.Cos(incl) - math.Sin(omega)*math.Sin(incl)*math.Cos(N))
	// Half sum and half difference of (N - xi) and nu, by Napier's analogies.
	a := math.Atan2(math.Cos((omega-incl)/2)*math.Sin(N/2), math.Cos((omega+incl)/2)*math.Cos(N/2))
	b := math.Atan2(math.Sin((omega-incl)/2)*math.Sin(N/2), math.Sin((omega+incl)/2)*math.Cos(N/2))
	nu := wrapPi(a - b)
	xi := wrapPi(N - (a + b))

	sinI, sin2I := math.Sin(I), math.Sin(2*I)
	cosH, sinH, tanH := math.Cos(I/2), math.Sin(I/2), math.Tan(I/2)
	nu1 := math.Atan2(sin2I*math.Sin(nu), sin2I*math.Cos(nu)+0.3347)             // (224) nu'
	nu2 := math.Atan2(sinI*sinI*math.Sin(2*nu), sinI*sinI*math.Cos(2*nu)+0.0727) // (232) 2nu''
	P := l.p*rad - xi

	fM2 := cosH * cosH * cosH * cosH / 0.9154
	fO1 := sinI * cosH * cosH / 0.3800
	t2 := tanH * tanH
	at := func(f, u float64) node { return node{math.Log(f), u / rad} }
	return nodes{
		solar:    {},
		classMm:  at((2.0/3-sinI*sinI)/0.5021, 0),                                                       // (73)
		classMf:  at(sinI*sinI/0.1578, -2*xi),                                                           // (74)
		classO1:  at(fO1, 2*xi-nu),                                                                      // (75)
		classJ1:  at(sin2I/0.7214, -nu),                                                                 // (76)
		classOO1: at(sinI*sinH*sinH/0.0164, -2*xi-nu),                                                   // (77)
		classM2:  at(fM2, 2*xi-2*nu),                                                                    // (78)
		classK1:  at(math.Sqrt(0.8965*sin2I*sin2I+0.6001*sin2I*math.Cos(nu)+0.1006), -nu1),              // (227)
		classK2:  at(math.Sqrt(19.0444*math.Pow(sinI, 4)+2.7702*sinI*sinI*math.Cos(2*nu)+0.0981), -nu2), // (235)
		// (204)–(207), with Q of (203) in the quadrant of P.
		classM1: at(fO1*math.Sqrt(2.310+1.435*math.Cos(2*P)), xi-nu+math.Atan2(0.483*math.Sin(P), math.Cos(P))),
		// (213)–(215).
		classL2: at(fM2*math.Sqrt(1-12*t2*math.Cos(2*P)+36*t2*t2),
			2*xi-2*nu-math.Atan2(math.Sin(2*P), 1/(6*t2)-math.Cos(2*P))),
	}
}

func wrapPi(x float64) float64 { return math.Atan2(math.Sin(x), math.Cos(x)) }

// letters says which class a nodal letter of the IHO list stands for. Letters with no
// entry have no factor that we have a source for.
var letters = map[byte]class{
	'z': solar,
	'm': classM2, // lunar semidiurnal
	'o': classO1, // lunar diurnal
	'j': classJ1,
	'k': classK1,
	'd': classOO1,
	'a': classMf, // Mfm
	'f': classM2, // M2 as the seasons change it
}

// own are the constituents whose factor goes by their name.
var own = map[string]class{
	"Mm": classMm, "Mf": classMf, "O1": classO1, "M1": classM1, "K1": classK1, "J1": classJ1,
	"M2": classM2, "L2": classL2, "K2": classK2, "S3": solar, "T3": solar,
	// Small terms that take the factor of their neighbour: common practice, no source.
	"gamma2": classM2, "alpha2": classM2, "delta2": classM2, "3L2": classM2, "xi2": classK2, "eta2": classK2,
}

// parts says which basic factors make a constituent's; ok is false where we have no
// source for one.
func (c *Constituent) parts() (ps []part, ok bool) {
	for _, m := range c.Members {
		more, ok := byName[upper(m.Name)].parts()
		if !ok {
			return nil, false
		}
		n := float64(m.N)
		for _, p := range more {
			ps = append(ps, part{p.class, p.f * math.Abs(n), p.u * n})
		}
	}
	if len(c.Members) > 0 {
		return ps, true
	}
	if k, ok := own[c.Name]; ok {
		return []part{{k, 1, 1}}, true
	}
	switch c.letter {
	case 'b': // MSf, MSo, MSqm: the reverse of M2
		return []part{{classM2, 1, -1}}, true
	case 'c': // 2SM
		return []part{{classM2, 2, -2}}, true
	case 'g': // M3, M5, M7: (149) and its like
		n := float64(c.Doodson[0]) / 2
		return []part{{classM2, n, n}}, true
	}
	k, ok := letters[c.letter]
	return []part{{k, 1, 1}}, ok
}

// of sums the parts of a constituent's node.
func (n *nodes) of(ps []part) (sum node) {
	for _, p := range ps {
		sum.lnF += p.f * n[p.class].lnF
		sum.u += p.u * n[p.class].u
	}
	return sum
}
