package tide

import "math"

// nodeStep is the spacing of the nodes in seconds. Between nodes the height is the quintic
// that takes the height, slope and curvature at both: its error is at most
// A (ω·nodeStep/2)⁶/720 for a constituent of amplitude A and speed ω, that is 6e-9 A for
// M2 and 2e-5 A for M8, under 0.1 mm at every station of the catalogue.
const nodeStep = 1800

// region is a stretch of nodes; derivatives are per nodeStep and per nodeStep².
type region struct {
	start   int64 // Unix time of the first node
	h, d, a []float64
}

// cell is one quintic p(u) = c0 + c1 u + … + c5 u⁵ over u in [0, 1] between two nodes.
type cell struct{ c0, c1, c2, c3, c4, c5 float64 }

func (r *region) cell(i int) cell {
	h0, d0, a0 := r.h[i], r.d[i], r.a[i]
	h1, d1, a1 := r.h[i+1], r.d[i+1], r.a[i+1]
	dh := h1 - h0
	return cell{
		h0, d0, a0 / 2,
		10*dh - 6*d0 - 4*d1 - 1.5*a0 + 0.5*a1,
		-15*dh + 8*d0 + 7*d1 + 1.5*a0 - a1,
		6*dh - 3*d0 - 3*d1 - 0.5*a0 + 0.5*a1,
	}
}

func (c *cell) height(u float64) float64 {
	return c.c0 + u*(c.c1+u*(c.c2+u*(c.c3+u*(c.c4+u*c.c5))))
}

func (c *cell) slope(u float64) float64 {
	return c.c1 + u*(2*c.c2+u*(3*c.c3+u*(4*c.c4+u*5*c.c5)))
}

func (c *cell) curvature(u float64) float64 {
	return 2*c.c2 + u*(6*c.c3+u*(12*c.c4+u*20*c.c5))
}

// at finds the cell and the place in it of a Unix time inside the region.
func (r *region) at(x float64) (i int, u float64) {
	y := (x - float64(r.start)) / nodeStep
	i = min(max(int(y), 0), len(r.h)-2)
	return i, y - float64(i)
}

// root finds where f, which has different signs at a and b, is zero, to within tol, by
// false position after Illinois with bisection where that stalls.
func root(a, b, fa, fb, tol float64, f func(float64) float64) float64 {
	side := 0
	for n := 0; n < 80 && math.Abs(b-a) > tol; n++ {
		x := (a*fb - b*fa) / (fb - fa)
		if n%8 == 7 || !(x > min(a, b) && x < max(a, b)) {
			x = (a + b) / 2
		}
		fx := f(x)
		switch {
		case fx == 0:
			return x
		case (fx > 0) == (fb > 0):
			b, fb = x, fx
			if side == 1 {
				fa /= 2
			}
			side = 1
		default:
			a, fa = x, fx
			if side == -1 {
				fb /= 2
			}
			side = -1
		}
		if math.Abs(fx) == 0 {
			break
		}
	}
	if math.Abs(fa) < math.Abs(fb) {
		return a
	}
	return b
}
