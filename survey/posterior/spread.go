package posterior

import (
	"math"

	"asfound/geo"
	"asfound/survey/fit"
	"asfound/survey/observe"
)

// spread is the uncertainty of every place of a component: vectors, of x and y
// of each place, whose products are covariances.
type spread struct {
	root [][2][]float64
	tied [][2][]float64 // the same relative to the landmarks
}

// newSpread works out the uncertainty of a member's places.
func newSpread(m *member, datum []int) spread {
	root := roots(m.c)
	rotate(root, m.by)
	return spread{root, tiedTo(root, m.at, datum)}
}

// roots returns, for each node and point, the vectors whose products are
// covariances, in the axes of the component.
func roots(c *fit.Component) [][2][]float64 {
	n, at := c.Network, c.Placed()
	all := make([][2][]float64, n.Places())
	for i := range all {
		for axis, g := range [2]geo.Vec{{X: 1}, {Y: 1}} {
			w := make(observe.Dense, n.Size)
			at.Gradient(w, n.Place(i), g)
			c.Solution.Factor.Forward(w)
			all[i][axis] = w
		}
	}
	return all
}

// rotate turns roots with the places they belong to.
func rotate(root [][2][]float64, by geo.Motion) {
	if by == (geo.Motion{}) {
		return
	}
	s, c := math.Sincos(by.Turn.Radians())
	for _, r := range root {
		for k := range r[0] {
			x, y := r[0][k], r[1][k]
			if by.Flip {
				x = -x
			}
			r[0][k], r[1][k] = c*x-s*y, s*x+c*y
		}
	}
}

// pointCov returns the covariance of place i, m².
func pointCov(root [][2][]float64, i int) geo.Cov {
	x, y := root[i][0], root[i][1]
	return geo.Cov{XX: dot(x, x), XY: dot(x, y), YY: dot(y, y)}
}

func dot(a, b []float64) (s float64) {
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// tiedTo returns the roots of places relative to the datum: the
// S-transformation of Baarda (S-Transformations and Criterion Matrices, 1981)
// that takes the mean shift, and with two or more landmarks the mean turn, of
// the datum out of everything. at is where everything lies.
func tiedTo(root [][2][]float64, at []geo.Vec, datum []int) [][2][]float64 {
	if len(datum) == 0 {
		return root
	}
	mine := make([]geo.Vec, len(datum))
	for i, k := range datum {
		mine[i] = at[k]
	}
	size := len(root[0][0])
	shift := [2][]float64{make([]float64, size), make([]float64, size)}
	turn := make([]float64, size)
	c := geo.Mean(mine)
	var inertia float64
	for i, p := range datum {
		r, lever := root[p], mine[i].Sub(c)
		inertia += lever.Dot(lever)
		for k := range size {
			shift[0][k] += r[0][k] / float64(len(datum))
			shift[1][k] += r[1][k] / float64(len(datum))
			turn[k] += -lever.Y*r[0][k] + lever.X*r[1][k]
		}
	}
	for k := range turn {
		if len(datum) < 2 || inertia < 1e-6 {
			turn[k] = 0
			continue
		}
		turn[k] /= inertia
	}
	out := make([][2][]float64, len(root))
	for i, r := range root {
		lever := at[i].Sub(c)
		x, y := make([]float64, size), make([]float64, size)
		for k := range size {
			x[k] = r[0][k] - shift[0][k] + lever.Y*turn[k]
			y[k] = r[1][k] - shift[1][k] - lever.X*turn[k]
		}
		out[i] = [2][]float64{x, y}
	}
	return out
}
