package geodesy

import (
	"math"

	"asfound/geo"
)

// lambertConic is the Lambert conformal conic projection of an ellipsoid (EPSG
// method 9802). Source: Snyder, Map Projections, USGS PP 1395, pages 107–109,
// whose symbols are used, with the isometric latitude taken from Karney's
// conformal latitude.
type lambertConic struct {
	ellipsoid Ellipsoid
	lon0      float64 // radians
	fe, fn    float64 // false origin, metres

	n, f, ρ0 float64 // constant of the cone; a·F and ρ₀ in metres
}

// newLambert2 returns the projection with standard parallels lat1 and lat2,
// which must not be equal nor opposite; angles in radians, false origin in
// metres.
func newLambert2(e Ellipsoid, lon0, lat0, lat1, lat2, fe, fn float64) *lambertConic {
	m1, m2 := e.parallel(lat1), e.parallel(lat2)
	ψ1, ψ2 := e.isometric(lat1), e.isometric(lat2)
	n := (math.Log(m1) - math.Log(m2)) / (ψ2 - ψ1) // (15-8), ln t = −ψ
	return newLambert(e, lon0, lat0, n, m1/n*math.Exp(n*ψ1), fe, fn)
}

// newLambert returns the projection of a cone; n is its constant and f Snyder's F.
func newLambert(e Ellipsoid, lon0, lat0, n, f, fe, fn float64) *lambertConic {
	l := &lambertConic{ellipsoid: e, lon0: lon0, fe: fe, fn: fn, n: n, f: e.SemiMajor * f}
	l.ρ0 = l.ρ(lat0)
	return l
}

// parallel returns m, the radius of the parallel φ over the semi-major axis
// (14-15).
func (e Ellipsoid) parallel(φ float64) float64 {
	s := math.Sin(φ)
	return math.Cos(φ) / math.Sqrt(1-e.eccentricity2()*s*s)
}

// isometric returns the isometric latitude ψ of φ; Snyder's t of (15-9) is
// exp(−ψ).
func (e Ellipsoid) isometric(φ float64) float64 { return math.Asinh(e.conformal(math.Tan(φ))) }

// ρ returns the radius of the parallel φ on the map, metres (15-7).
func (l *lambertConic) ρ(φ float64) float64 { return l.f * math.Exp(-l.n*l.ellipsoid.isometric(φ)) }

// forward returns the easting and northing of p in metres. They are very large
// towards the pole that the cone does not close on.
func (l *lambertConic) forward(p LonLat) geo.Vec {
	ρ := l.ρ(p.Lat.Radians())
	sθ, cθ := math.Sincos(l.n * turn(p.Lon.Radians()-l.lon0)) // (14-4)
	return geo.Vec{X: l.fe + ρ*sθ, Y: l.fn + l.ρ0 - ρ*cθ}
}

// inverse returns the position of v, metres.
func (l *lambertConic) inverse(v geo.Vec) LonLat {
	sign := math.Copysign(1, l.n)
	x, y := sign*(v.X-l.fe), sign*(l.ρ0-(v.Y-l.fn))
	ρ := math.Hypot(x, y) // (14-10)
	ψ := -math.Log(ρ/math.Abs(l.f)) / l.n
	τ := l.ellipsoid.geodetic(math.Sinh(ψ))
	return LonLat{geo.Radians(turn(l.lon0 + math.Atan2(x, y)/l.n)), geo.Radians(math.Atan(τ))}
}
