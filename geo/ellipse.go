package geo

import "math"

// Cov is the covariance of a plane point, in square metres.
type Cov struct{ XX, XY, YY float64 }

// Ellipse is an error ellipse: semi-axes in metres, and the bearing of the
// major one in [0°, 180°).
type Ellipse struct {
	SemiMajor, SemiMinor float64
	Bearing              Angle
}

// Add returns the covariance of the sum of two independent points.
func (c Cov) Add(d Cov) Cov { return Cov{c.XX + d.XX, c.XY + d.XY, c.YY + d.YY} }

// Scale returns the covariance times k.
func (c Cov) Scale(k float64) Cov { return Cov{c.XX * k, c.XY * k, c.YY * k} }

// Outer returns v vᵀ.
func Outer(v Vec) Cov { return Cov{v.X * v.X, v.X * v.Y, v.Y * v.Y} }

// Eigen returns the larger and the smaller eigenvalue of c, in square metres,
// never below zero, and the bearing of the larger one's axis in [0°, 180°).
// Source: Ghilani & Wolf, Adjustment Computations, error ellipses: the angle
// of the major axis is half the arc tangent of 2 σ_EN over σ_N² − σ_E².
func (c Cov) Eigen() (major, minor float64, bearing Angle) {
	mean, half := (c.XX+c.YY)/2, math.Hypot((c.YY-c.XX)/2, c.XY)
	t := math.Atan2(2*c.XY, c.YY-c.XX) / 2
	if t < 0 {
		t += math.Pi
	}
	if t >= math.Pi {
		t = 0
	}
	return math.Max(0, mean+half), math.Max(0, mean-half), Angle{t}
}

// Ellipse returns the ellipse of c with semi-axes k times the standard ones.
// For a Gaussian point k = √(−2 ln(1−p)) holds it with probability p: Within95
// for 95 %.
func (c Cov) Ellipse(k float64) Ellipse {
	a, b, t := c.Eigen()
	return Ellipse{k * math.Sqrt(a), k * math.Sqrt(b), t}
}

// Along returns the standard deviation of the point in direction e, a unit
// vector, in metres.
func (c Cov) Along(e Vec) float64 {
	return math.Sqrt(math.Max(0, c.XX*e.X*e.X+2*c.XY*e.X*e.Y+c.YY*e.Y*e.Y))
}
