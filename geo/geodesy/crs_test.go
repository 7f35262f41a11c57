package geodesy

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// TestEverySystem holds every projected system to PROJ 9.1.1 within a micrometre,
// unit and name included, and checks that the file leaves none out.
func TestEverySystem(t *testing.T) {
	seen := map[int]bool{}
	for _, r := range reference(t, "crs_points.csv", 1000) {
		code, err := strconv.Atoi(r["code"])
		require.NoError(t, err)
		seen[code] = true
		c, err := ByEPSG(code)
		if !assert.NoError(t, err) {
			continue
		}
		p := r.position(t, "lon", "lat")
		v := c.Forward(p)
		per := 1.0
		if c.Unit != geo.Metre {
			per, _ = c.Unit.Metres()
		}
		assert.Equal(t, r["unit"], string(c.Unit), "EPSG:%d %s", code, c.Name)
		assert.InDelta(t, r.number(t, "x"), v.X, 1e-6/per, "EPSG:%d %s", code, c.Name)
		assert.InDelta(t, r.number(t, "y"), v.Y, 1e-6/per, "EPSG:%d %s", code, c.Name)
		assert.True(t, c.Covers(p), "EPSG:%d %s covers its own point %v %v", code, c.Name, r["lon"], r["lat"])
		q, err := c.Inverse(v)
		require.NoError(t, err)
		assert.InDelta(t, r.number(t, "lon"), q.Lon.Degrees(), 1e-10, "EPSG:%d there and back", code)
		assert.InDelta(t, r.number(t, "lat"), q.Lat.Degrees(), 1e-10, "EPSG:%d there and back", code)
	}
	for code := range 40000 {
		if c, err := ByEPSG(code); err == nil && c.Unit != Degree {
			assert.True(t, seen[code], "EPSG:%d %s has no reference point", code, c.Name)
		}
	}
}

func TestByEPSGNames(t *testing.T) {
	for code, name := range map[int]string{ // names of the EPSG dataset v10.076
		32617: "WGS 84 / UTM zone 17N",
		32756: "WGS 84 / UTM zone 56S",
		26910: "NAD83 / UTM zone 10N",
		6329:  "NAD83(2011) / UTM zone 60N",
		25832: "ETRS89 / UTM zone 32N",
		2264:  "NAD83 / North Carolina (ftUS)",
		6543:  "NAD83(2011) / North Carolina (ftUS)",
		2269:  "NAD83 / Oregon North (ft)",
		32119: "NAD83 / North Carolina",
		3857:  "WGS 84 / Pseudo-Mercator",
		4326:  "WGS 84",
	} {
		c, err := ByEPSG(code)
		require.NoError(t, err)
		assert.Equal(t, name, c.Name)
		assert.Equal(t, code, c.Code)
	}
}

func TestByEPSGRefuses(t *testing.T) {
	for _, code := range []int{0, -1, 32600, 32661, 26931 /* oblique Mercator */, 27700, 999999} {
		_, err := ByEPSG(code)
		assert.ErrorContains(t, err, "state plane zones")
	}
}

func TestParseCRS(t *testing.T) {
	for _, text := range []string{"EPSG:2264", " epsg:2264 ", "2264", "urn:ogc:def:crs:EPSG::2264"} {
		c, err := ParseCRS(text)
		require.NoError(t, err, text)
		assert.Equal(t, 2264, c.Code)
	}
	for _, text := range []string{"", "EPSG:", "NAD83", "EPSG:2264.5", "EPSG:99999999999999999999"} {
		_, err := ParseCRS(text)
		assert.ErrorContains(t, err, "want an EPSG code", text)
	}
	_, err := ParseCRS("EPSG:27700")
	assert.ErrorContains(t, err, "not known here")
}

func TestUTM(t *testing.T) {
	// echo "33.3 44.4" | GeoConvert -u -p 3 (GeographicLib 2.1.2): 38n 444140.545 3684706.356
	p, _ := New(44.4, 33.3)
	c, err := ByEPSG(32638)
	require.NoError(t, err)
	v := c.Forward(p)
	assert.InDelta(t, 444140.545, v.X, 0.0005+1e-9)
	assert.InDelta(t, 3684706.356, v.Y, 0.0005+1e-9)
	assert.True(t, c.Covers(p))
}

func TestCovers(t *testing.T) {
	nc, err := ByEPSG(2264)
	require.NoError(t, err)
	oregon, _ := New(-123, 45)
	raleigh, _ := New(-78.6, 35.8)
	assert.False(t, nc.Covers(oregon))
	assert.True(t, nc.Covers(raleigh))
	aleutian, err := ByEPSG(26940) // crosses the antimeridian
	require.NoError(t, err)
	east, _ := New(179, 52)
	west, _ := New(-179, 52)
	middle, _ := New(0, 52)
	assert.True(t, aleutian.Covers(east))
	assert.True(t, aleutian.Covers(west))
	assert.False(t, aleutian.Covers(middle))
}

// A state plane foot read as the other foot moves a point by metres: the
// trap that keeps the two apart as units.
func TestTheTwoFeetOfAStatePlane(t *testing.T) {
	c, err := ByEPSG(2264)
	require.NoError(t, err)
	p, _ := New(-78.6, 35.8)
	v := c.Forward(p)
	q, err := c.Inverse(v.Scale(0.3048 / (1200. / 3937)))
	require.NoError(t, err)
	away := NewSite(p, 0).Vec(q).Norm()
	assert.Greater(t, away, 1.0)
	assert.Less(t, away, 2.0)
}

func TestThereAndBackAnywhereInAZone(t *testing.T) {
	codes := []int{32617, 32756, 26915, 2264, 2269, 26961, 32161, 3857}
	rapid.Check(t, func(t *rapid.T) {
		c, err := ByEPSG(rapid.SampledFrom(codes).Draw(t, "code"))
		require.NoError(t, err)
		a := c.Area
		lon := rapid.Float64Range(a.West.Degrees(), a.East.Degrees()).Draw(t, "lon")
		lat := rapid.Float64Range(a.South.Degrees(), a.North.Degrees()).Draw(t, "lat")
		p, err := New(lon, lat)
		require.NoError(t, err)
		q, err := c.Inverse(c.Forward(p))
		require.NoError(t, err)
		assert.InDelta(t, lon, q.Lon.Degrees(), 1e-10)
		assert.InDelta(t, lat, q.Lat.Degrees(), 1e-10)
	})
}

func TestNew(t *testing.T) {
	_, err := New(-79.9, 37.2)
	assert.NoError(t, err)
	_, err = New(37.2, -122.3)
	assert.ErrorContains(t, err, "look swapped")
	for _, bad := range [][2]float64{{200, 100}, {0, 1e300}, {nan(), 0}, {0, nan()}} {
		_, err := New(bad[0], bad[1])
		assert.Error(t, err)
	}
}
