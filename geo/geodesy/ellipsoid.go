package geodesy

import "math"

// Ellipsoid is an ellipsoid of revolution, the figure a datum is based on.
type Ellipsoid struct {
	Name              string
	SemiMajor         float64 // equatorial radius a, metres
	InverseFlattening float64 // 1/f, no unit
}

// The ellipsoids of the systems that ByEPSG knows and of the published worked
// examples. Sources: EPSG dataset, codes 7030, 7019, 7001 and 7008; WGS 84
// also NGA.STND.0036, GRS 80 Moritz 2000. Clarke 1866 is defined by its two
// semi-axes, 6378206.4 m and 6356583.8 m.
var (
	WGS84Ellipsoid = Ellipsoid{"WGS 84", 6378137, 298.257223563}
	GRS80          = Ellipsoid{"GRS 1980", 6378137, 298.257222101}
	Airy1830       = Ellipsoid{"Airy 1830", 6377563.396, 299.3249646}
	Clarke1866     = Ellipsoid{"Clarke 1866", 6378206.4, 6378206.4 / (6378206.4 - 6356583.8)}
)

// flattening returns f = (a−b)/a.
func (e Ellipsoid) flattening() float64 { return 1 / e.InverseFlattening }

// eccentricity2 returns e² = f(2−f).
func (e Ellipsoid) eccentricity2() float64 {
	f := e.flattening()
	return f * (2 - f)
}

// thirdFlattening returns n = f/(2−f) = (a−b)/(a+b).
func (e Ellipsoid) thirdFlattening() float64 {
	f := e.flattening()
	return f / (2 - f)
}

// GaussRadius returns the Gaussian mean radius of curvature √(MN) in metres at
// latitude φ: the radius of the sphere that fits the ellipsoid best there.
// Source: Snyder, Map Projections, USGS PP 1395, eq. (4-18) for M, (4-20) for
// N.
func (e Ellipsoid) GaussRadius(φ float64) float64 {
	e2, s := e.eccentricity2(), math.Sin(φ)
	return e.SemiMajor * math.Sqrt(1-e2) / (1 - e2*s*s)
}

// conformal returns τ', the tangent of the conformal latitude, from τ = tan φ.
// Source: Karney 2011, Transverse Mercator with an accuracy of a few
// nanometers, J. Geodesy 85, eqs. (7)–(9).
func (e Ellipsoid) conformal(τ float64) float64 {
	ε := math.Sqrt(e.eccentricity2())
	σ := math.Sinh(ε * math.Atanh(ε*τ/math.Hypot(1, τ)))
	return τ*math.Hypot(1, σ) - σ*math.Hypot(1, τ)
}

// geodetic returns τ = tan φ from τ', the inverse of conformal, by Newton's
// method. Source: Karney 2011, eqs. (19)–(21); three steps reach full
// precision there, five are taken.
func (e Ellipsoid) geodetic(τʹ float64) float64 {
	b2 := 1 - e.eccentricity2()
	τ := τʹ
	for range 5 {
		τi := e.conformal(τ)
		τ += (τʹ - τi) / math.Hypot(1, τi) * (1 + b2*τ*τ) / (b2 * math.Hypot(1, τ))
	}
	return τ
}
