package geodesy

import (
	"fmt"
	"math"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/testdata/long"
)

func nan() float64 { return math.NaN() }

// millimetre is what the frame is held to within 2 km of its origin.
const millimetre = 1e-3

// TestSiteDistances: lengths and bearings in a frame at height 0 are those of
// geodesics on the ellipsoid, GeographicLib 2.1.2 GeodSolve.
func TestSiteDistances(t *testing.T) {
	for _, r := range reference(t, "site_geodesics.csv", 90) {
		s := NewSite(r.position(t, "lon0", "lat0"), 0)
		v, w := s.Vec(r.position(t, "lon1", "lat1")), s.Vec(r.position(t, "lon2", "lat2"))
		assert.InDelta(t, r.number(t, "s12"), v.Dist(w), millimetre, "between points")
		assert.InDelta(t, r.number(t, "s01"), v.Norm(), millimetre, "from the origin")
		turned := geo.Degrees(r.number(t, "azi01") - geo.Bearing(geo.Vec{}, v).Degrees()).Signed()
		assert.InDelta(t, 0, turned.Radians()*v.Norm(), millimetre, "bearing at the origin, as metres across")

		back := s.LonLat(v)
		assert.InDelta(t, r.number(t, "lat1"), back.Lat.Degrees(), 1e-12)
		assert.InDelta(t, 0, geo.Degrees(r.number(t, "lon1")-back.Lon.Degrees()).Signed().Degrees(), 1e-12)
	}
}

// TestSiteAtShortRange: 24 lines of 30 to 100 m, GeodSolve direct.
func TestSiteAtShortRange(t *testing.T) {
	for _, r := range reference(t, "geodesic_direct_short.csv", 24) {
		s := NewSite(r.position(t, "lon1", "lat1"), 0)
		b, d := geo.Degrees(r.number(t, "azi1")).Radians(), r.number(t, "s12_m")
		end := geo.Vec{X: d * math.Sin(b), Y: d * math.Cos(b)}
		v := s.Vec(r.position(t, "lon2", "lat2"))
		assert.InDelta(t, end.X, v.X, 1e-6)
		assert.InDelta(t, end.Y, v.Y, 1e-6)
	}
}

// TestENU: GeographicLib 2.1.2 CartConvert, to its printed nanometre.
func TestENU(t *testing.T) {
	for _, r := range reference(t, "local_enu.csv", 6) {
		e, n, u := WGS84Ellipsoid.ENU(r.position(t, "lon0", "lat0"), r.number(t, "h0"), r.position(t, "lon", "lat"), r.number(t, "h"))
		assert.InDelta(t, r.number(t, "east_m"), e, 2e-9)
		assert.InDelta(t, r.number(t, "north_m"), n, 2e-9)
		assert.InDelta(t, r.number(t, "up_m"), u, 2e-9)

		s := NewSite(r.position(t, "lon0", "lat0"), 0)
		v := s.Vec(r.position(t, "lon", "lat"))
		assert.InDelta(t, r.number(t, "geodesic_distance_m"), v.Norm(), 1e-6)
	}
}

// TestGroundDistances: at a height the frame measures the ground. The straight
// distance between two points at the height of the origin, from their
// geocentric coordinates, is the ground distance: over 400 m the chord is
// shorter than the level line by 0.1 µm. What remains is that one radius stands
// for all directions: up to e²/2 · h/R, 1 in 10⁶ at 1900 m.
func TestGroundDistances(t *testing.T) {
	e := WGS84Ellipsoid
	for _, tt := range []struct{ height, within float64 }{{0, 2e-5}, {600, 2e-4}, {1900, 4.1e-4}, {-80, 2e-5}} {
		for lat := -60.0; lat <= 70; lat += 10 {
			origin, _ := New(-105, lat)
			s := NewSite(origin, tt.height)
			for b := 0.0; b < 360; b += 30 {
				x, y := math.Sincos(b * math.Pi / 180)
				v, w := geo.Vec{X: 200 * x, Y: 200 * y}, geo.Vec{X: -200 * x, Y: -200 * y}
				x1, y1, z1 := e.Geocentric(s.LonLat(v), tt.height)
				x2, y2, z2 := e.Geocentric(s.LonLat(w), tt.height)
				ground := math.Hypot(math.Hypot(x1-x2, y1-y2), z1-z2)
				assert.InDelta(t, ground, v.Dist(w), tt.within, "height %v, latitude %v, bearing %v", tt.height, lat, b)
			}
		}
	}
	// Left at height 0, a lot at 1900 m would lose 30 mm in 100 m.
	origin, _ := New(-105, 39)
	assert.InDelta(t, 0.030, 100*(NewSite(origin, 1900).Scale()-1), 0.001)
}

func TestSiteThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		origin, err := New(rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-85, 85).Draw(t, "lat"))
		require.NoError(t, err)
		s := NewSite(origin, rapid.Float64Range(-100, 4000).Draw(t, "height"))
		v := geo.Vec{X: rapid.Float64Range(-2000, 2000).Draw(t, "x"), Y: rapid.Float64Range(-2000, 2000).Draw(t, "y")}
		w := s.Vec(s.LonLat(v))
		assert.InDelta(t, v.X, w.X, 1e-7)
		assert.InDelta(t, v.Y, w.Y, 1e-7)
		o := s.Vec(origin)
		assert.InDelta(t, 0, o.Norm(), 1e-8)
	})
}

func TestSiteOfAHeightThatIsNone(t *testing.T) {
	origin, _ := New(-79.9, 37.2)
	for _, h := range []float64{nan(), math.Inf(1), math.Inf(-1), 1e9} {
		assert.Equal(t, 1.0, NewSite(origin, h).Scale())
	}
}

// TestSiteInOtherSoftware gives the frame's definitions to cs2cs, in all three
// spellings, and expects the same coordinates.
func TestSiteInOtherSoftware(t *testing.T) {
	long.Program(t, "cs2cs") // of PROJ
	origin, _ := New(-79.9, 37.2)
	p, _ := New(-79.895, 37.203)
	s := NewSite(origin, 600)
	v := s.Vec(p)
	for spelling, definition := range map[string]string{"PROJ": s.PROJ(), "WKT": s.WKT(), "WKT2": s.WKT2()} {
		args := []string{"-f", "%.7f", "EPSG:4326", "+to", definition}
		if spelling == "PROJ" { // cs2cs takes a PROJ string word by word
			args = append(args[:4], strings.Fields(definition)...)
		}
		got := run(t, "cs2cs", "37.203 -79.895\n", args...)
		var x, y float64
		_, err := fmt.Sscan(got, &x, &y)
		require.NoError(t, err, "%s: %s", spelling, got)
		assert.InDelta(t, v.X, x, 1e-6, spelling)
		assert.InDelta(t, v.Y, y, 1e-6, spelling)
	}
}

// TestFrozenValuesAreStillSo asks the tools again for what was frozen, where
// they are installed.
func TestFrozenValuesAreStillSo(t *testing.T) {
	long.Program(t, "GeodSolve") // of GeographicLib
	rows := reference(t, "site_geodesics.csv", 90)
	var in strings.Builder
	for _, r := range rows {
		fmt.Fprintln(&in, r["lat1"], r["lon1"], r["lat2"], r["lon2"])
	}
	lines := strings.Split(strings.TrimSpace(run(t, "GeodSolve", in.String(), "-i", "-p", "6")), "\n")
	require.Len(t, lines, len(rows))
	for i, r := range rows {
		var a, b, s float64
		_, err := fmt.Sscan(lines[i], &a, &b, &s)
		require.NoError(t, err)
		assert.InDelta(t, r.number(t, "s12"), s, 2e-6)
	}
}

// run returns what a tool writes, given in on its standard input.
func run(t *testing.T, tool, in string, args ...string) string {
	t.Helper()
	c := exec.Command(tool, args...)
	c.Stdin = strings.NewReader(in)
	out, err := c.CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}
