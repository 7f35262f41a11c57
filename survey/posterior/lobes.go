package posterior

import (
	"math"

	"asfound/geo"
)

// lobe is one Gaussian of a mixture: its weight, its covariance about its own
// mean, and how far that mean lies from the mixture's.
type lobe struct {
	weight float64
	cov    geo.Cov
	off    geo.Vec
}

// lobes are a mixture of Gaussians.
type lobes []lobe

// total returns the covariance of a mixture about its mean, m².
func total(all lobes) (c geo.Cov) {
	for _, l := range all {
		c = c.Add(l.about().Scale(l.weight))
	}
	return c
}

// about returns the second moment of a lobe about the mixture's mean.
func (l lobe) about() geo.Cov { return l.cov.Add(geo.Outer(l.off)) }

// quadrant holds cos² at the midpoints of equal parts of a quarter turn.
var quadrant = func() (c [16]float64) {
	for i := range c {
		v := math.Cos((float64(i) + 0.5) * math.Pi / 2 / float64(len(c)))
		c[i] = v * v
	}
	return c
}()

// inCircle returns the probability that a centred Gaussian with principal
// variances a and b lies within r of its centre.
func inCircle(a, b, r float64) float64 {
	var out float64
	for _, c2 := range quadrant {
		if v := a*c2 + b*(1-c2); v > 0 {
			out += math.Exp(-r * r / (2 * v))
		}
	}
	return 1 - out/float64(len(quadrant))
}

// solveFor returns the r at which inside(r) = p, inside growing from 0 to 1, by
// bisection from a bracket about guess.
func solveFor(p, guess float64, inside func(r float64) float64) float64 {
	lo, hi := 0.0, guess
	for range 60 {
		if inside(hi) >= p {
			break
		}
		lo, hi = hi, 1.5*hi
	}
	for range 40 {
		mid := (lo + hi) / 2
		if hi-lo < 1e-6*hi {
			break
		}
		if inside(mid) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// shape is a mixture in axes in which its covariance is a unit circle.
type shape struct {
	a, b         float64 // principal variances, m²; a is 0 where there is no spread
	major, minor geo.Vec // their directions
	bearing      geo.Angle
	lobes        []roundLobe
}

// roundLobe is a lobe's weight and principal variances in those axes.
type roundLobe struct{ weight, a, b float64 }

// shapeOf works the shape of a mixture out.
func shapeOf(all lobes) shape {
	t := total(all)
	var s shape
	s.a, s.b, s.bearing = t.Eigen()
	if s.a <= 0 {
		return shape{}
	}
	s.b = math.Max(s.b, 1e-12*s.a)
	sin, cos := math.Sincos(s.bearing.Radians())
	s.major, s.minor = geo.Vec{X: sin, Y: cos}, geo.Vec{X: cos, Y: -sin}
	for _, l := range all {
		c := l.about()
		v := c.Along(s.major)
		u := c.Along(s.minor)
		x := c.XX*s.major.X*s.minor.X + c.XY*(s.major.X*s.minor.Y+s.major.Y*s.minor.X) + c.YY*s.major.Y*s.minor.Y
		w := geo.Cov{XX: v * v / s.a, XY: x / math.Sqrt(s.a*s.b), YY: u * u / s.b}
		p, q, _ := w.Eigen()
		s.lobes = append(s.lobes, roundLobe{l.weight, p, q})
	}
	return s
}

// within returns the probability within r of the middle, in those axes.
func (s shape) within(r float64) (p float64) {
	for _, l := range s.lobes {
		p += l.weight * inCircle(l.a, l.b, r)
	}
	return p
}

// content implements cloud.
func (all lobes) content(off geo.Vec) float64 {
	s := shapeOf(all)
	if s.a <= 0 {
		return 1
	}
	return s.within(math.Hypot(off.Dot(s.major)/math.Sqrt(s.a), off.Dot(s.minor)/math.Sqrt(s.b)))
}

// ellipse95 returns the ellipse, of the shape of the mixture's covariance,
// that holds it with 95 %: a mixture of wide and narrow Gaussians needs another
// factor than one Gaussian's 2.4477.
func ellipse95(all lobes) geo.Ellipse {
	s := shapeOf(all)
	if s.a <= 0 {
		return geo.Ellipse{}
	}
	k := solveFor(0.95, geo.Within95, s.within)
	return geo.Ellipse{SemiMajor: k * math.Sqrt(s.a), SemiMinor: k * math.Sqrt(s.b), Bearing: s.bearing}
}

// radius95 returns the radius in metres about the mixture's mean that holds it
// with 95 %.
func radius95(all lobes) float64 {
	type pair struct{ w, a, b float64 }
	shape := make([]pair, len(all))
	top := 0.0
	for i, l := range all {
		a, b, _ := l.about().Eigen()
		shape[i] = pair{l.weight, a, b}
		top += l.weight * a
	}
	if top <= 0 {
		return 0
	}
	return solveFor(0.95, 2*math.Sqrt(top), func(r float64) (p float64) {
		for _, s := range shape {
			p += s.w * inCircle(s.a, s.b, r)
		}
		return p
	})
}

// halfWidth95 returns the half-width in metres of the strip that holds a whole
// straight line with 95 %, given its variance across at a point under each
// lobe: two parameters move a line, so the factor is that of two degrees of
// freedom (Working and Hotelling 1929).
func halfWidth95(weights, variances []float64) float64 {
	top := 0.0
	for i, v := range variances {
		top += weights[i] * v
	}
	if top <= 0 {
		return 0
	}
	return solveFor(0.95, geo.Within95*math.Sqrt(top), func(r float64) (p float64) {
		for i, v := range variances {
			if v <= 0 {
				p += weights[i]
				continue
			}
			p += weights[i] * (1 - math.Exp(-r*r/(2*v)))
		}
		return p
	})
}
