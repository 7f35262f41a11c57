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

// simplefeatures v0.50.0, a port of the OGC simple features model checked by
// its authors against GEOS and PostGIS, is the oracle of these tests.

// oracle returns an outline as simplefeatures has it.
func oracle(o geo.Outline) geom.Geometry {
	var xy []float64
	for _, v := range o.Vertices {
		xy = append(xy, v.X, v.Y)
	}
	switch {
	case len(o.Vertices) == 1:
		return geom.XY{X: xy[0], Y: xy[1]}.AsPoint().AsGeometry()
	case o.Closed:
		xy = append(xy, xy[0], xy[1])
		line := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
		return geom.NewPolygon([]geom.LineString{line}).AsGeometry()
	}
	return geom.NewLineString(geom.NewSequence(xy, geom.DimXY)).AsGeometry()
}

// gridPoint draws a point of a small grid, where touching and overlapping are
// common and every cross product is exact.
func gridPoint(t *rapid.T, name string) geo.Vec {
	return geo.Vec{X: float64(rapid.IntRange(0, 8).Draw(t, name+".x")), Y: float64(rapid.IntRange(0, 8).Draw(t, name+".y"))}
}

func gridOutline(t *rapid.T, name string) geo.Outline {
	n := rapid.IntRange(1, 6).Draw(t, name+" vertices")
	o := geo.Outline{Closed: n >= 3 && rapid.Bool().Draw(t, name+" closed")}
	for range n {
		o.Vertices = append(o.Vertices, gridPoint(t, name))
	}
	return o
}

// validOutline draws outlines until simplefeatures accepts one.
func validOutline(t *rapid.T, name string) geo.Outline {
	return rapid.Custom(func(t *rapid.T) geo.Outline { return gridOutline(t, name) }).
		Filter(func(o geo.Outline) bool { return oracle(o).Validate() == nil }).Draw(t, name)
}

func TestDistancesAreThoseOfSimplefeatures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, q := validOutline(t, "o"), validOutline(t, "q")
		p := gridPoint(t, "p").Add(geo.Vec{X: 0.25, Y: 0.125})

		want, ok := geom.Distance(oracle(o), geom.XY{X: p.X, Y: p.Y}.AsPoint().AsGeometry())
		require.True(t, ok)
		assert.InDelta(t, want, o.Distance(p), 1e-12, "point to outline")

		want, ok = geom.Distance(oracle(o), oracle(q))
		require.True(t, ok)
		assert.InDelta(t, want, o.Gap(q), 1e-12, "outline to outline")
		assert.Equal(t, o.Gap(q) == 0, q.Gap(o) == 0)
	})
}

func TestCheckAgreesWithSimplefeatures(t *testing.T) {
	agree := func(t require.TestingT, o geo.Outline) error {
		err, want := o.Check(), oracle(o).Validate()
		require.Equal(t, want == nil, err == nil, "simplefeatures: %v, here: %v", want, err)
		return err
	}
	// One of each verdict, whatever is drawn below.
	require.NoError(t, agree(t, geo.Outline{Closed: true, Vertices: []geo.Vec{{}, {X: 4}, {X: 4, Y: 4}, {X: 1, Y: 3}}}))
	require.Error(t, agree(t, geo.Outline{Closed: true, Vertices: []geo.Vec{{}, {X: 4, Y: 4}, {X: 4}, {X: 1, Y: 3}}}))

	rapid.Check(t, func(t *rapid.T) {
		if o := gridOutline(t, "o"); o.Closed {
			_ = agree(t, o)
		}
	})
}

func TestCheckSaysWhere(t *testing.T) {
	for _, tt := range []struct {
		name string
		ring []geo.Vec
		at   geo.Vec
		says string
	}{
		{"bow tie", []geo.Vec{{}, {X: 4, Y: 4}, {X: 4}, {Y: 4}}, geo.Vec{X: 2, Y: 2}, "crosses"},
		{"touching corner", []geo.Vec{{}, {X: 4}, {X: 4, Y: 4}, {X: 2}, {Y: 4}}, geo.Vec{X: 2}, "touches"},
		{"spike", []geo.Vec{{}, {X: 4}, {X: 4, Y: 4}, {X: 4, Y: 2}, {Y: 4}}, geo.Vec{X: 4, Y: 4}, "folds back"},
		{"two places", []geo.Vec{{X: 1}, {X: 2}, {X: 1}}, geo.Vec{X: 1}, "fewer than three"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			err := geo.Outline{Vertices: tt.ring, Closed: true}.Check()
			var f *geo.Fault
			require.ErrorAs(t, err, &f)
			assert.InDelta(t, 0, tt.at.Dist(f.At), 1e-12)
			assert.Contains(t, err.Error(), tt.says)
		})
	}
	assert.ErrorContains(t, geo.Outline{Vertices: []geo.Vec{{X: math.NaN()}}}.Check(), "vertex 1")
	assert.Error(t, geo.Outline{}.Check())
	assert.NoError(t, geo.Outline{Vertices: []geo.Vec{{}, {}, {X: 1}, {Y: 1}, {}}, Closed: true}.Check(), "written twice is written once")
}

func TestDistanceOfSimpleThings(t *testing.T) {
	square := geo.Outline{Vertices: []geo.Vec{{}, {X: 4}, {X: 4, Y: 4}, {Y: 4}}, Closed: true}
	assert.Zero(t, square.Distance(geo.Vec{X: 2, Y: 2}))
	assert.Equal(t, 5.0, square.Distance(geo.Vec{X: 7, Y: 8})) // 3-4-5
	square.Closed = false
	assert.Equal(t, 2.0, square.Distance(geo.Vec{X: 2, Y: 2}), "a line contains nothing")
	assert.Equal(t, math.Inf(1), geo.Outline{}.Distance(geo.Vec{}))
	assert.Equal(t, math.Inf(1), geo.Outline{}.Gap(square))
}

func BenchmarkDistance(b *testing.B) {
	o := geo.Outline{Vertices: geo.Ellipse{SemiMajor: 5, SemiMinor: 2}.Ring(geo.Vec{}), Closed: true}
	for b.Loop() {
		o.Distance(geo.Vec{X: 7, Y: 8})
	}
}
