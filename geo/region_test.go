package geo_test

import (
	"math"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// wider is the greatest factor by which a polygon drawn round an arc of 48
// sides reaches past it, 1/cos(π/48).
const wider = 1.00215

func TestCapsuleHoldsWhatItIsDrawnRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0.1, 5).Draw(t, "r")
		a, b := gridPoint(t, "a"), gridPoint(t, "b")
		o := geo.Outline{Vertices: geo.Capsule(a, b, r), Closed: true}
		require.NoError(t, o.Check())

		// Area of a capsule: π r² + 2 r L.
		exact := math.Pi*r*r + 2*r*a.Dist(b)
		area := oracle(o).Area()
		assert.GreaterOrEqual(t, area, exact)
		assert.LessOrEqual(t, area, exact*wider)

		p := geo.Vec{X: rapid.Float64Range(-6, 14).Draw(t, "x"), Y: rapid.Float64Range(-6, 14).Draw(t, "y")}
		switch d, _ := geo.SegmentDistance(a, b, p); {
		case d < r*(1-1e-9):
			assert.True(t, o.Contains(p))
		case d > r*wider:
			assert.False(t, o.Contains(p))
		}
	})
}

func TestEllipseRing(t *testing.T) {
	e := geo.Ellipse{SemiMajor: 3, SemiMinor: 1, Bearing: geo.Degrees(30)}
	ring := e.Ring(geo.Vec{X: 10, Y: 20})
	area := oracle(geo.Outline{Vertices: ring, Closed: true}).Area()
	assert.Greater(t, area, math.Pi*3)
	assert.Less(t, area, math.Pi*3*wider)
	far := 0.0
	var tip geo.Vec
	for _, v := range ring {
		if d := v.Dist(geo.Vec{X: 10, Y: 20}); d > far+1e-9 {
			far, tip = d, v
		}
	}
	assert.InDelta(t, 30, math.Mod(geo.Bearing(geo.Vec{X: 10, Y: 20}, tip).Degrees(), 180), 1e-9)
}

func TestBufferIsWhatLiesWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outlines := []geo.Outline{validOutline(t, "a"), validOutline(t, "b")}
		r := rapid.Float64Range(0.2, 2).Draw(t, "r")
		region, err := geo.Buffer(outlines, r)
		require.NoError(t, err)
		for _, patch := range region {
			requireValid(t, patch)
		}
		for range 20 {
			p := geo.Vec{X: rapid.Float64Range(-3, 11).Draw(t, "x"), Y: rapid.Float64Range(-3, 11).Draw(t, "y")}
			switch d := min(outlines[0].Distance(p), outlines[1].Distance(p)); {
			case d < r*(1-1e-6):
				assert.True(t, region.Contains(p), "%v at %v of %v", p, d, r)
			case d > r*wider:
				assert.False(t, region.Contains(p), "%v at %v of %v", p, d, r)
			}
		}
	})
}

// The area of a union of two is the sum of both less what they share.
func TestUnionKeepsTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		far := geo.Vec{X: rapid.SampledFrom([]float64{0, 500000}).Draw(t, "E"), Y: rapid.SampledFrom([]float64{0, 4000000}).Draw(t, "N")}
		rings := make([][]geo.Vec, 2)
		var g [2]geom.Geometry
		for i := range rings {
			e := geo.Ellipse{
				SemiMajor: rapid.Float64Range(1, 5).Draw(t, "major"), SemiMinor: rapid.Float64Range(0.2, 1).Draw(t, "minor"),
				Bearing: geo.Degrees(rapid.Float64Range(0, 180).Draw(t, "bearing")),
			}
			rings[i] = e.Ring(gridPoint(t, "centre").Add(far))
			g[i] = oracle(geo.Outline{Vertices: rings[i], Closed: true})
		}
		region, err := geo.Union(rings)
		require.NoError(t, err)
		shared, err := geom.Intersection(g[0], g[1])
		require.NoError(t, err)
		assert.InDelta(t, g[0].Area()+g[1].Area()-shared.Area(), region.Area(), 1e-6)
	})
}

func TestUnionWithAHole(t *testing.T) {
	ring := []geo.Vec{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}
	region, err := geo.Buffer([]geo.Outline{{Vertices: append(ring, geo.Vec{})}}, 1)
	require.NoError(t, err)
	require.Len(t, region, 1)
	require.Len(t, region[0].Holes, 1)
	assert.False(t, region.Contains(geo.Vec{X: 5, Y: 5}))
	assert.True(t, region.Contains(geo.Vec{X: 5, Y: 0.5}))
	exact := 12*12 - (4 - math.Pi) - 8*8
	assert.Greater(t, region.Area(), exact)
	assert.Less(t, region.Area(), exact*wider)
}

// A polygon whose edge others cover keeps its middle: simplefeatures'
// UnionMany v0.50.0 loses it.
func TestBufferOfAPolygonHasNoHole(t *testing.T) {
	triangle := geo.Outline{Vertices: []geo.Vec{{}, {X: 6}, {X: 3, Y: 3}}, Closed: true}
	region, err := geo.Buffer([]geo.Outline{triangle}, 0.28)
	require.NoError(t, err)
	require.Len(t, region, 1)
	assert.Empty(t, region[0].Holes)
	// Area and perimeter of the triangle, and the corners' full circle: A + P r + π r².
	exact := 9 + (6+2*math.Hypot(3, 3))*0.28 + math.Pi*0.28*0.28
	assert.Greater(t, region.Area(), exact)
	assert.Less(t, region.Area(), exact*wider)
}

func TestRegionRefuses(t *testing.T) {
	_, err := geo.Union([][]geo.Vec{{{}, {X: 4}, {X: 4, Y: 4}}, {{}, {X: 4, Y: 4}, {X: 4}, {Y: 4}}})
	assert.ErrorContains(t, err, "ring 2")
	assert.ErrorContains(t, err, "(2.000, 2.000)")
	for _, r := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := geo.Buffer([]geo.Outline{{Vertices: []geo.Vec{{}}}}, r)
		assert.Error(t, err)
	}
	_, err = geo.Buffer([]geo.Outline{{}}, 1)
	assert.Error(t, err)
	region, err := geo.Union(nil)
	assert.NoError(t, err)
	assert.Zero(t, region.Area())
	assert.False(t, region.Contains(geo.Vec{}))
}

func requireValid(t require.TestingT, p geo.Patch) {
	ring := func(vs []geo.Vec) geom.LineString {
		var xy []float64
		for i := range len(vs) + 1 {
			xy = append(xy, vs[i%len(vs)].X, vs[i%len(vs)].Y)
		}
		return geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	}
	rings := []geom.LineString{ring(p.Outer)}
	for _, h := range p.Holes {
		rings = append(rings, ring(h))
	}
	require.NoError(t, geom.NewPolygon(rings).Validate())
}

// Twenty overlapping ellipses, as many as a dig plan draws.
func BenchmarkUnion(b *testing.B) {
	var rings [][]geo.Vec
	for i := range 20 {
		e := geo.Ellipse{SemiMajor: 2, SemiMinor: 0.5, Bearing: geo.Degrees(float64(17 * i))}
		rings = append(rings, e.Ring(geo.Vec{X: float64(i % 5), Y: float64(i / 5)}))
	}
	for b.Loop() {
		if _, err := geo.Union(rings); err != nil {
			b.Fatal(err)
		}
	}
}
