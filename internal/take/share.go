package take

import (
	"fmt"
	"math"
	"strconv"

	"wrackbook/internal/fault"
)

// ShareAsk is what was counted or paced to estimate which share of a patch is taken, in one
// of three ways: all of the patch counted; squares counted and the patch paced; or the part
// and the patch paced.
type ShareAsk struct {
	Counted float64  `json:"counted"` // in all of the patch
	Taking  float64  `json:"taking"`
	Square  *Square  `json:"square"`
	Patch   *Stretch `json:"patch"`
	Part    *Stretch `json:"part"` // of the patch, that is taken
}

// Square is what was counted in squares of one size, laid anywhere in the patch.
type Square struct {
	SideM  float64   `json:"sideM"`
	Counts []float64 `json:"counts"`
}

// Stretch is a piece of shore in the paces of one person.
type Stretch struct {
	LongPaces float64 `json:"longPaces"`
	WidePaces float64 `json:"widePaces"`
	PaceM     float64 `json:"paceM"` // how long a pace is, where it was measured; 0 is not known
}

// ShareOf is the estimate: the likely part, 0 to 1, and what it may be at least and at most.
type ShareOf struct {
	Part    float64  `json:"part"`
	Low     float64  `json:"low"`
	High    float64  `json:"high"`
	How     string   `json:"how"`     // counts, squares, paces
	InPatch *float64 `json:"inPatch"` // how many there are likely to be; null by paces alone
	Text    string   `json:"text"`
}

const (
	// What a pace over rocks is where nobody measured it, and how far off: ours.
	paceM, paceOff, pacedOff = 0.7, 0.2, 0.05
	// miscounted is how far off a count of a whole patch may be; ours.
	miscounted = 0.1
	// clumped is how many times more than by chance counts are taken to vary where fewer than
	// three squares cannot tell; shore life grows in clumps. Ours.
	clumped = 4.0
	// half a pace may be lost at each measure.
	halfPace = 0.5

	maxCounted, maxPaces, maxSquares = 1e6, 2000, 50
)

// EstimateShare estimates the share, with bounds that are meant to hold nineteen times in
// twenty. The error is a *fault.Error for what cannot be.
func EstimateShare(in *ShareAsk) (ShareOf, error) {
	if in.Part == nil && !(in.Taking > 0 && in.Taking <= maxCounted) {
		return refuse("taking", "Say how many are to be taken: more than none.")
	}
	if in.Patch != nil && !in.Patch.paced() {
		return refuse("patch", "A patch is 1 to 2000 paces long and wide, and a pace 0.2 to 1.5 m.")
	}
	switch {
	case in.Square != nil && in.Patch != nil && in.Part == nil && in.Counted == 0:
		return in.bySquares()
	case in.Part != nil && in.Patch != nil && in.Square == nil && in.Counted == 0 && in.Taking == 0:
		p, of := in.Part, in.Patch
		if !p.paced() {
			return refuse("part", "The part is 1 to 2000 paces long and wide; a smaller one is counted, not paced.")
		}
		most, least := p.area(halfPace)/of.area(-halfPace), p.area(-halfPace)/of.area(halfPace)
		part := p.area(0) / of.area(0)
		if part > 1 {
			return refuse("part", "The part is larger than the patch. Pace both again.")
		}
		return shareOf(part, least, most, "paces", nil), nil
	case in.Counted != 0 && in.Square == nil && in.Patch == nil && in.Part == nil:
		if !(in.Counted >= 1 && in.Counted <= maxCounted) {
			return refuse("counted", "Count at least one, and at most a million.")
		}
		if in.Taking > in.Counted {
			return refuse("taking", "More is to be taken than was counted. Count again.")
		}
		n := in.Counted
		return shareOf(in.Taking/n, in.Taking/(n*(1+miscounted)), in.Taking/(n*(1-miscounted)), "counts", &n), nil
	}
	return refuse("", "Give what was counted in the whole patch, or squares and the patch in paces, or the part and the patch in paces.")
}

func refuse(field, text string) (ShareOf, error) {
	return ShareOf{}, fault.New(fault.BadInput, field, "%s", text)
}

func (s *Stretch) paced() bool {
	long := min(s.LongPaces, s.WidePaces) >= 1 && max(s.LongPaces, s.WidePaces) <= maxPaces // NaN is neither
	return long && (s.PaceM == 0 || s.PaceM >= 0.2 && s.PaceM <= 1.5)
}

func (s *Stretch) area(more float64) float64 { return (s.LongPaces + more) * (s.WidePaces + more) }

func (in *ShareAsk) bySquares() (ShareOf, error) {
	q := in.Square
	if !(q.SideM >= 0.05 && q.SideM <= 10) {
		return refuse("square.sideM", "The side of a square is 0.05 to 10 m.")
	}
	if len(q.Counts) == 0 || len(q.Counts) > maxSquares {
		return refuse("square.counts", "Count 1 to 50 squares.")
	}
	sum := 0.0
	for _, c := range q.Counts {
		if !(c >= 0 && c <= maxCounted) || c != math.Trunc(c) {
			return refuse("square.counts", "A count is a whole number, not below none.")
		}
		sum += c
	}
	if sum == 0 {
		return refuse("square.counts", "None was counted, so no share can be told. Lay the squares where they grow, or leave them.")
	}
	k := float64(len(q.Counts))
	mean, spread := sum/k, 0.0
	for _, c := range q.Counts {
		spread += (c - mean) * (c - mean)
	}
	vary := clumped // the variance over the mean: 1 is by chance alone
	if k >= 3 {
		vary = max(1, spread/(k-1)/mean)
	}
	pace, off := paceM, paceOff
	if in.Patch.PaceM != 0 {
		pace, off = in.Patch.PaceM, pacedOff
	}
	squares := func(more, pace float64) float64 { return in.Patch.area(more) * pace * pace / (q.SideM * q.SideM) }
	if squares(halfPace, pace*(1+off)) < k {
		return refuse("square", "The squares are larger than the patch. Measure both again.")
	}
	low, high := poissonBounds(sum / vary)
	inPatch := mean * squares(0, pace)
	if in.Taking > inPatch {
		return refuse("taking", "More is to be taken than there are by this count. Count again.")
	}
	least := high * vary / k * squares(halfPace, pace*(1+off))
	most := low * vary / k * squares(-halfPace, pace*(1-off))
	return shareOf(in.Taking/inPatch, in.Taking/least, in.Taking/most, "squares", &inPatch), nil
}

// poissonBounds gives the 95 % bounds of a mean of which n were counted: Byar's
// approximation (Breslow and Day 1987, as widely given; from memory), within 1 % of the
// exact ones from n = 5 and on the careful side of them below.
func poissonBounds(n float64) (low, high float64) {
	const z = 1.959964
	a := 1 - 1/(9*n) - z/(3*math.Sqrt(n))
	m := n + 1
	b := 1 - 1/(9*m) + z/(3*math.Sqrt(m))
	return n * max(a, 0) * a * a, m * b * b * b
}

func shareOf(part, low, high float64, how string, inPatch *float64) ShareOf {
	if !(high <= 1) {
		high = 1
	}
	to := func(v float64) float64 { return math.Round(v*10000) / 10000 }
	if inPatch != nil {
		n := math.Round(*inPatch)
		inPatch = &n
	}
	s := ShareOf{Part: to(part), Low: to(low), High: to(high), How: how, InPatch: inPatch}
	percent := func(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/10, 'f', -1, 64) }
	s.Text = fmt.Sprintf("About %s %% of the patch; it may be %s to %s %%.", percent(s.Part), percent(s.Low), percent(s.High))
	return s
}
