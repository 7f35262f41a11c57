package geodesy

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
)

// TestProjections holds the projections to the worked examples of IOGP
// Guidance Note 7-2, Snyder (USGS PP 1395), the Ordnance Survey's guide, the
// GIGS test series and PROJ's own tests, each within the tolerance of its
// print, and to PROJ 9.1.1 within a micrometre.
func TestProjections(t *testing.T) {
	for _, r := range reference(t, "projections.csv", 45) {
		t.Run(r["name"], func(t *testing.T) {
			plane, per := fromPROJ(t, r["proj_string"])
			p := r.position(t, "lon_deg", "lat_deg")
			v := plane.forward(p).Scale(1 / per)

			assert.InDelta(t, r.number(t, "expected_e"), v.X, r.number(t, "tol"), "published easting")
			assert.InDelta(t, r.number(t, "expected_n"), v.Y, r.number(t, "tol"), "published northing")
			assert.InDelta(t, r.number(t, "proj911_e"), v.X, 1e-6, "PROJ easting")
			assert.InDelta(t, r.number(t, "proj911_n"), v.Y, 1e-6, "PROJ northing")

			q := plane.inverse(v.Scale(per))
			assert.InDelta(t, 0, turn(q.Lon.Radians()-p.Lon.Radians())*math.Cos(p.Lat.Radians())*6.4e6, 1e-5, "there and back, metres east")
			assert.InDelta(t, 0, (q.Lat.Radians()-p.Lat.Radians())*6.4e6, 1e-5, "there and back, metres north")
		})
	}
}

// fromPROJ returns the projection that a PROJ string defines, and the metres
// of its unit.
func fromPROJ(t *testing.T, definition string) (projection, float64) {
	t.Helper()
	has, text := map[string]float64{"k": 1, "k_0": 1, "to_meter": 1}, map[string]string{}
	for word := range strings.FieldsSeq(definition) {
		key, value, _ := strings.Cut(strings.TrimPrefix(word, "+"), "=")
		if v, err := strconv.ParseFloat(value, 64); err == nil {
			has[key] = v
		}
		text[key] = value
	}
	e, ok := map[string]Ellipsoid{"airy": Airy1830, "clrk66": Clarke1866, "GRS80": GRS80, "WGS84": WGS84Ellipsoid}[text["ellps"]]
	if !ok {
		require.NotZero(t, has["a"], "no ellipsoid in %s", definition)
		e = Ellipsoid{"given", has["a"], has["rf"]}
	}
	lon0, lat0 := radians(has["lon_0"]), radians(has["lat_0"])
	switch text["proj"] {
	case "tmerc":
		return newTransverseMercator(e, lon0, lat0, has["k"], has["x_0"], has["y_0"]), has["to_meter"]
	case "utm":
		return newTransverseMercator(e, radians(6*has["zone"]-183), 0, 0.9996, 500000, 0), 1
	case "lcc":
		if _, two := text["lat_2"]; two {
			return newLambert2(e, lon0, lat0, radians(has["lat_1"]), radians(has["lat_2"]), has["x_0"], has["y_0"]), has["to_meter"]
		}
		return newLambert1(e, lon0, lat0, has["k_0"], has["x_0"], has["y_0"]), has["to_meter"]
	}
	require.Fail(t, "no such projection", definition)
	return nil, 0
}

// Snyder, USGS PP 1395, p. 269: k = 0.9997989 at the point of his transverse
// Mercator example.
func TestGridScaleSnyder(t *testing.T) {
	e := Clarke1866
	c := CRS{plane: newTransverseMercator(e, radians(-75), 0, 0.9996, 0, 0), per: 1}
	p, err := New(-73.5, 40.5)
	require.NoError(t, err)
	k, _ := c.Grid(p)
	// Grid measures metres on WGS 84, Snyder on Clarke 1866: the ratio of the
	// meridian radii of curvature stands between.
	m := func(e Ellipsoid) float64 {
		s, e2 := math.Sin(radians(40.5)), e.eccentricity2()
		return e.SemiMajor * (1 - e2) / math.Pow(1-e2*s*s, 1.5)
	}
	assert.InDelta(t, 0.9997989, k*m(WGS84Ellipsoid)/m(e), 6e-8)
}

// Convergence and scale of UTM, from GeographicLib 2.1.2:
//
//	echo "40 2.9" | TransverseMercatorProj -l 0 -k 1 -p 6
//	247660.757485 4433559.662441 1.865029669755 1.000754848595
func TestGridGeographicLib(t *testing.T) {
	c := CRS{plane: newTransverseMercator(WGS84Ellipsoid, 0, 0, 1, 0, 0), per: 1}
	p, err := New(2.9, 40)
	require.NoError(t, err)
	v := c.Forward(p)
	assert.InDelta(t, 247660.757485, v.X, 1e-6)
	assert.InDelta(t, 4433559.662441, v.Y, 1e-6)
	k, convergence := c.Grid(p)
	assert.InDelta(t, 1.000754848595, k, 1e-9)
	assert.InDelta(t, 1.865029669755, convergence.Degrees(), 1e-7)
}

// Nothing given to a projection may make it panic, and what comes back from
// far away is at least recognisable as no position.
func TestProjectionsOfNonsense(t *testing.T) {
	odd := []float64{0, math.Pi / 2, -math.Pi / 2, math.Pi, 1e9, -1e300, math.Inf(1), math.NaN()}
	for _, code := range []int{4326, 3857, 32617, 2264, 26961} {
		c, err := ByEPSG(code)
		require.NoError(t, err)
		for _, a := range odd {
			for _, b := range odd {
				assert.NotPanics(t, func() {
					c.Forward(LonLat{geo.Radians(a), geo.Radians(b)})
					if p, err := c.Inverse(geo.Vec{X: a, Y: b}); err == nil {
						_, err = New(p.Lon.Degrees(), p.Lat.Degrees())
						assert.NoError(t, err, "EPSG:%d gave back no position for %v, %v", code, a, b)
					}
				})
			}
		}
	}
}

// newLambert1 returns the projection with scale k0 on the single standard
// parallel lat0 (EPSG method 9801), in which more worked examples are published.
// No zone of ours has it.
func newLambert1(e Ellipsoid, lon0, lat0, k0, fe, fn float64) *lambertConic {
	n := math.Sin(lat0)
	return newLambert(e, lon0, lat0, n, k0*e.parallel(lat0)/n*math.Exp(n*e.isometric(lat0)), fe, fn)
}

// Northings on the central meridian are the length of the meridian, which is here
// integrated by Simpson's rule from the radius of curvature a(1 − e²)/(1 − e² sin²
// φ)^1.5 (Snyder, USGS PP 1395, eq. 4-18), on the earth and on an ellipsoid of
// 1/f = 80, on which each term of the series counts. There and back by the other
// series, east of the meridian too.
func TestMercatorOfAFlatterEarth(t *testing.T) {
	for _, tt := range []struct{ inverse, tolerance float64 }{{298.257223563, 1e-8}, {80, 3e-8}} {
		e := Ellipsoid{"flat", 6378137, tt.inverse}
		m := newTransverseMercator(e, 0, 0, 1, 0, 0)
		e2 := e.eccentricity2()
		radius := func(φ float64) float64 {
			return e.SemiMajor * (1 - e2) / math.Pow(1-e2*math.Pow(math.Sin(φ), 2), 1.5)
		}
		const n = 2000
		long, step := 0.0, math.Pi/2/n
		for k := range n {
			φ := float64(k) * step
			if k%100 == 0 {
				v := m.forward(LonLat{Lat: geo.Radians(φ)})
				assert.InDelta(t, long, v.Y, tt.tolerance, "1/f = %v, φ = %v", tt.inverse, φ)
				assert.InDelta(t, 0, v.X, 1e-9)
				for _, east := range []float64{0, 0.02, 0.1} {
					p := LonLat{geo.Radians(east), geo.Radians(φ)}
					q := m.inverse(m.forward(p))
					assert.InDelta(t, 0, (q.Lat.Radians()-φ)*6.4e6, tt.tolerance)
					assert.InDelta(t, 0, turn(q.Lon.Radians()-east)*math.Cos(φ)*6.4e6, tt.tolerance)
				}
			}
			long += step / 6 * (radius(φ) + 4*radius(φ+step/2) + radius(φ+step))
		}
	}
}
