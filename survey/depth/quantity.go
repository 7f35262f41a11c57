package depth

import (
	"math"

	"asfound/geo"
)

// term is an unknown and its coefficient.
type term struct {
	unknown int
	coef    float64
}

// quantity is something with a height or depth, in metres: a constant, a linear
// function of the unknowns, and the relief and the uneven fill of the ground at
// one place by their weights.
type quantity struct {
	constant       float64
	terms          []term // an unknown may occur twice
	relief, spread float64
	at             geo.Vec
}

// plus returns q + k·w. w must have neither relief nor spread.
func (q quantity) plus(k float64, w quantity) quantity {
	q.constant += k * w.constant
	terms := make([]term, 0, len(q.terms)+len(w.terms))
	terms = append(terms, q.terms...)
	for _, t := range w.terms {
		terms = append(terms, term{t.unknown, k * t.coef})
	}
	q.terms = terms
	return q
}

// one returns the unknown itself.
func one(unknown int) quantity { return quantity{terms: []term{{unknown, 1}}} }

// unknown is a number to be estimated and its prior under either structure.
type unknown struct{ mean, sigma [2]float64 } // by structure

// observation is a quantity that was observed.
type observation struct {
	quantity
	id, what string // id is empty for what is only usual and nowhere written
	value    float64
	sigma    float64
	written  *geo.Length // a depth as the log has it, else nil
	together *known      // its error goes with those of others; nil: by itself
}

// known is one of the covers that a finished job knew.
type known struct {
	number int
	errors []float64 // covariance with each of them, by number, metres²
}

// covariance returns the part of the covariance of two quantities that comes
// from the ground, m².
func (g ground) covariance(a, b *quantity) float64 {
	c := a.relief*b.relief*g.relief*g.relief + a.spread*b.spread*g.spread*g.spread
	smooth := a.spread * b.spread * g.smooth * g.smooth
	if c == 0 && smooth == 0 {
		return 0
	}
	x, y := a.at.X-b.at.X, a.at.Y-b.at.Y
	square := x*x + y*y
	c *= math.Exp(-math.Sqrt(square) / g.reach)
	if smooth != 0 {
		c += smooth * math.Exp(-square/(2*smoothReach*smoothReach))
	}
	return c
}
