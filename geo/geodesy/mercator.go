package geodesy

import (
	"math"

	"asfound/geo"
)

// transverseMercator is the transverse Mercator projection, EPSG method 9807,
// of an ellipsoid: Krüger's series in the third flattening n, carried to n⁶.
// Its error is below a micrometre within 3000 km of the central meridian.
//
// Sources: Krüger 1912, Konforme Abbildung des Erdellipsoids in der Ebene;
// Karney 2011, Transverse Mercator with an accuracy of a few nanometers,
// J. Geodesy 85, whose symbols and equation numbers are used.
type transverseMercator struct {
	ellipsoid      Ellipsoid
	lon0, lat0, k0 float64 // radians, and the scale on the central meridian
	fe, fn         float64 // false origin, metres

	radius float64 // rectifying radius A, metres
	α, β   [6]float64
	ξ0     float64 // rectifying latitude of lat0, radians
}

// newTransverseMercator returns the projection; angles in radians, false
// origin in metres.
func newTransverseMercator(e Ellipsoid, lon0, lat0, k0, fe, fn float64) *transverseMercator {
	n := e.thirdFlattening()
	n2 := n * n
	t := &transverseMercator{
		ellipsoid: e, lon0: lon0, lat0: lat0, k0: k0, fe: fe, fn: fn,
		radius: e.SemiMajor / (1 + n) * (1 + n2/4*(1+n2/16*(1+n2/4))), // (14)
		α: [6]float64{ // (35)
			series(n, 1, 1./2, -2./3, 5./16, 41./180, -127./288, 7891./37800),
			series(n, 2, 13./48, -3./5, 557./1440, 281./630, -1983433./1935360),
			series(n, 3, 61./240, -103./140, 15061./26880, 167603./181440),
			series(n, 4, 49561./161280, -179./168, 6601661./7257600),
			series(n, 5, 34729./80640, -3418889./1995840),
			series(n, 6, 212378941./319334400),
		},
		β: [6]float64{ // (36)
			series(n, 1, 1./2, -2./3, 37./96, -1./360, -81./512, 96199./604800),
			series(n, 2, 1./48, 1./15, -437./1440, 46./105, -1118711./3870720),
			series(n, 3, 17./480, -37./840, -209./4480, 5569./90720),
			series(n, 4, 4397./161280, -11./504, -830251./7257600),
			series(n, 5, 4583./161280, -108847./3991680),
			series(n, 6, 20648693./638668800),
		},
	}
	t.ξ0, _ = t.rectify(0, lat0)
	return t
}

// series returns Σ c[i] n^(from+i).
func series(n float64, from int, c ...float64) float64 {
	s := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		s = s*n + c[i]
	}
	return s * math.Pow(n, float64(from))
}

// rectify returns ξ and η of the point λ radians east of the central meridian
// at latitude φ.
func (t *transverseMercator) rectify(λ, φ float64) (ξ, η float64) {
	τʹ := t.ellipsoid.conformal(math.Tan(φ))
	sλ, cλ := math.Sincos(λ)
	ξʹ, ηʹ := math.Atan2(τʹ, cλ), math.Asinh(sλ/math.Hypot(τʹ, cλ)) // (10)
	ξ, η = ξʹ, ηʹ
	for i, α := range t.α { // (11)
		j := 2 * float64(i+1)
		ξ += α * math.Sin(j*ξʹ) * math.Cosh(j*ηʹ)
		η += α * math.Cos(j*ξʹ) * math.Sinh(j*ηʹ)
	}
	return ξ, η
}

// forward returns the easting and northing of p in metres.
func (t *transverseMercator) forward(p LonLat) geo.Vec {
	ξ, η := t.rectify(turn(p.Lon.Radians()-t.lon0), p.Lat.Radians())
	a := t.k0 * t.radius
	return geo.Vec{X: t.fe + a*η, Y: t.fn + a*(ξ-t.ξ0)}
}

// inverse returns the position of v, metres. It is NaN where v lies thousands
// of kilometres beyond what the projection can show.
func (t *transverseMercator) inverse(v geo.Vec) LonLat {
	a := t.k0 * t.radius
	ξ, η := (v.Y-t.fn)/a+t.ξ0, (v.X-t.fe)/a
	ξʹ, ηʹ := ξ, η
	for i, β := range t.β { // (15)
		j := 2 * float64(i+1)
		ξʹ -= β * math.Sin(j*ξ) * math.Cosh(j*η)
		ηʹ -= β * math.Cos(j*ξ) * math.Sinh(j*η)
	}
	s, c := math.Sinh(ηʹ), math.Cos(ξʹ)
	τ := t.ellipsoid.geodetic(math.Sin(ξʹ) / math.Hypot(s, c)) // (18)
	λ := math.Atan2(s, c)
	return LonLat{geo.Radians(turn(t.lon0 + λ)), geo.Radians(math.Atan(τ))}
}

// turn brings an angle in radians into [−π, π].
func turn(a float64) float64 { return math.Remainder(a, 2*math.Pi) }
