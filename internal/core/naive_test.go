package core

import (
	"bufio"
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// naive is an independent reckoning of the water, which shares no code with the tide room:
// a sum of cosines with arguments from the mean longitudes of Meeus (Astronomical
// Algorithms, ch. 22, 25 and 47, mean elements at J2000) and Doodson digits read straight
// from the IHO list, and node factors by the short series of Doodson and Warburg's
// Admiralty Manual of Tides (1941), from memory. It is good to a centimetre or two and a
// few minutes.
type naive struct {
	z0    float64
	terms []naiveTerm
}

type naiveTerm struct {
	amp, lag float64
	d        [7]float64
	node     string
}

type naiveStation struct {
	ID           string
	MSL          float64
	Constituents [][3]any
}

func newNaive(t *testing.T, id string) *naive {
	t.Helper()
	f, err := os.Open("../../testdata/stations/stations.jsonl.gz")
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	lines := bufio.NewScanner(z)
	lines.Buffer(nil, 1<<20)
	var s naiveStation
	for lines.Scan() {
		if strings.Contains(lines.Text(), `"id":"`+id+`"`) {
			require.NoError(t, json.Unmarshal(lines.Bytes(), &s))
			break
		}
	}
	require.Equal(t, id, s.ID)

	g, err := os.Open("../../testdata/tides/iho/constituents_with_members.csv")
	require.NoError(t, err)
	defer g.Close()
	rows, err := csv.NewReader(g).ReadAll()
	require.NoError(t, err)
	digits := map[string][]string{}
	for _, r := range rows[1:] {
		digits[strings.ToUpper(r[0])] = strings.Fields(r[2])
	}
	digits["LAM2"] = digits["LAMBDA2"]
	// Where the list's last digit differs from Schureman's sign for S1 and M1.
	digits["S1"] = strings.Fields("1 6 4 5 5 5 7")
	nodes := map[string]string{"M2": "M2", "N2": "M2", "2N2": "M2", "NU2": "M2", "MU2": "M2", "LAM2": "M2", "L2": "M2", "2MS6": "MM2",
		"M4": "MM2", "MN4": "MM2", "MS4": "M2", "M6": "MMM2", "M3": "M2", "K1": "K1", "O1": "O1", "Q1": "O1", "2Q1": "O1", "RHO1": "O1",
		"M1": "O1", "K2": "K2", "J1": "J1", "OO1": "OO1", "2MK3": "MM2", "MK3": "M2", "MF": "Mf", "MM": "Mm", "SA": "", "SSA": "", "S1": "", "P1": "", "S2": "", "T2": "", "R2": "", "S4": "", "S6": "", "2SM2": "M2", "M8": "MMM2", "MSF": "M2"}
	n := &naive{z0: s.MSL}
	for _, k := range s.Constituents {
		name := k[0].(string)
		d, ok := digits[name]
		require.True(t, ok && len(d) == 7, name)
		node, ok := nodes[name]
		require.True(t, ok, name)
		term := naiveTerm{amp: k[1].(float64), lag: k[2].(float64), node: node}
		for i, text := range d {
			v, err := strconv.ParseFloat(text, 64)
			require.NoError(t, err)
			if i > 0 {
				v -= 5
			}
			term.d[i] = v
		}
		n.terms = append(n.terms, term)
	}
	require.NotEmpty(t, n.terms)
	return n
}

// at is the height at an instant.
func (n *naive) at(t time.Time) float64 {
	const deg = math.Pi / 180
	j2000 := time.Date(2000, 1, 1, 12, 0, 0, 0, time.UTC)
	d := t.Sub(j2000).Hours() / 24
	s := 218.3164477 + 13.17639648*d
	h := 280.46646 + 0.98564736*d
	p := 83.3532465 + 0.11140353*d
	nn := -(125.04452 - 0.05295377*d)
	p1 := 282.93735 + 0.0000470935*d
	ut := float64(t.Hour())*15 + float64(t.Minute())/4 + float64(t.Second())/240
	mid := time.Date(t.Year(), 7, 2, 12, 0, 0, 0, time.UTC).Sub(j2000).Hours() / 24
	N := (125.04452 - 0.05295377*mid) * deg
	c, sn := math.Cos(N), math.Sin(N)
	c2, s2 := math.Cos(2*N), math.Sin(2*N)
	sum := n.z0
	for _, k := range n.terms {
		f, u := 1.0, 0.0
		switch k.node {
		case "M2":
			f, u = 1-0.037*c, -2.1*sn
		case "MM2":
			f, u = (1-0.037*c)*(1-0.037*c), -4.2*sn
		case "MMM2":
			f, u = math.Pow(1-0.037*c, 3), -6.3*sn
		case "K1":
			f, u = 1.006+0.115*c-0.009*c2, -8.9*sn+0.7*s2
		case "O1":
			f, u = 1.009+0.187*c-0.015*c2, 10.8*sn-1.3*s2
		case "K2":
			f, u = 1.024+0.286*c+0.008*c2, -17.7*sn+0.7*s2
		case "J1":
			f, u = 1.013+0.168*c-0.017*c2, -12.9*sn+1.3*s2
		case "OO1":
			f, u = 1.1027+0.6504*c+0.0317*c2, -36.7*sn+4.0*s2
		case "Mf":
			f, u = 1.043+0.414*c, -23.7*sn+2.7*s2
		case "Mm":
			f = 1 - 0.13*c
		}
		v := k.d[0]*(ut+h-s) + k.d[1]*s + k.d[2]*h + k.d[3]*p + k.d[4]*nn + k.d[5]*p1 + k.d[6]*90
		sum += k.amp * f * math.Cos((v+u-k.lag)*deg)
	}
	return sum
}
