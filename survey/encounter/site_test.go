package encounter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/depth"
	"asfound/survey/drawing"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
)

// What an object is made of: the places that the draws have it at. A part of which
// there are none is no object.
func TestObjectsOfDraws(t *testing.T) {
	line, box := testsite.Trench("L1", 0.9, geo.Vec{}, geo.Vec{}), testsite.Box("box", 0.6, 0, 0)
	d := &posterior.Draws{N: 2, Lines: map[string][][]geo.Vec{"L1": {{{X: 1}, {X: 3}}, {{X: 2, Y: 1}, {X: 2, Y: 5}}}},
		Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: {{X: -1}, {X: -2}}, {Part: "L1", Spot: asbuilt.Start}: {{X: 1}, {X: 2, Y: 1}}}}
	o, ok := NewObject(&line, "", d)
	require.True(t, ok)
	assert.InDelta(t, 0.45, o.Reach, 1e-12)
	u, ok := o.Along(0)
	assert.True(t, ok)
	assert.Equal(t, geo.Vec{X: 1}, u)
	u, ok = o.Along(1)
	assert.True(t, ok)
	assert.Equal(t, geo.Vec{Y: 1}, u)
	v, ok := o.Place(1, 0.25)
	assert.True(t, ok)
	assert.Equal(t, geo.Vec{X: 2, Y: 2}, v)

	o, ok = NewObject(&box, "", d)
	require.True(t, ok)
	v, ok = o.Place(1, 0.7)
	assert.True(t, ok)
	assert.Equal(t, geo.Vec{X: -2}, v)
	_, ok = o.Along(0)
	assert.False(t, ok, "a disc runs nowhere")

	centre := asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}
	o, ok = NewJoin(drawing.Join{From: centre, To: asbuilt.SpotName{Part: "L1", Spot: asbuilt.Start}}, d)
	require.True(t, ok)
	v, _ = o.Place(0, 0.5)
	assert.Equal(t, geo.Vec{}, v, "half way from (−1, 0) to (1, 0)")

	for _, p := range []asbuilt.Part{testsite.Trench("L2", 0.9, geo.Vec{}, geo.Vec{}), testsite.Box("other", 0.6, 0, 0), testsite.Landmark("A", 0, 0)} {
		_, ok = NewObject(&p, "", d)
		assert.False(t, ok, p.ID)
	}
	_, ok = NewJoin(drawing.Join{From: centre, To: asbuilt.SpotName{Part: "L2", Spot: asbuilt.Start}}, d)
	assert.False(t, ok)
}

// A place a share along a line of several segments, by its length: of 3 and 4 m
// half is 3.5 m, half a metre into the second. A segment that a draw lacks is
// passed over.
func TestPlaceAlongALine(t *testing.T) {
	nan := geo.Vec{X: math.NaN()}
	o := Object{Body: Body{Line: true}, pieces: pieces([][]geo.Vec{{{}, {X: 3}, {X: 3, Y: 4}}, {nan, {X: 1}, {X: 1, Y: 2}}, {nan, nan, nan}}, 3)}
	for _, tt := range []struct {
		draw int
		u    float64
		want geo.Vec
	}{{0, 0, geo.Vec{}}, {0, 0.5, geo.Vec{X: 3, Y: 0.5}}, {0, 2.0 / 7, geo.Vec{X: 2}}, {0, 1, geo.Vec{X: 3, Y: 4}}, {1, 0.5, geo.Vec{X: 1, Y: 1}}} {
		v, ok := o.Place(tt.draw, tt.u)
		assert.True(t, ok)
		assert.Less(t, v.Dist(tt.want), 1e-12, "%v", v)
	}
	_, ok := o.Place(2, 0.5)
	assert.False(t, ok)
	_, ok = o.Along(1)
	assert.False(t, ok)
	_, in := o.Inside(2, &Hole{Radius: 1}, 1)
	assert.Empty(t, in)
}

// Near is whether a place lies in the rectangle round all draws, widened by what
// the object reaches and as much again as is asked.
func TestNear(t *testing.T) {
	o := Object{Body: Body{Reach: 0.5}, spots: []geo.Vec{{X: 1, Y: 2}, {X: 4, Y: 6}}}
	require.True(t, o.bound())
	for _, tt := range []struct {
		x, y float64
		near bool
	}{{2, 4, true}, {-0.4, 4, true}, {-0.6, 4, false}, {5.4, 4, true}, {5.6, 4, false}, {2, 0.6, true}, {2, 0.4, false}, {2, 7.4, true}, {2, 7.6, false}} {
		assert.Equal(t, tt.near, o.Near(geo.Vec{X: tt.x, Y: tt.y}, 1), "(%v, %v)", tt.x, tt.y)
	}
	o.spots = []geo.Vec{{X: math.NaN()}, {X: 2 * asbuilt.MaxCoordinate}}
	assert.False(t, o.bound(), "no ordinary place")
}

// What a crew comes upon, in the trade's words.
func TestOutcomes(t *testing.T) {
	for _, tt := range []struct {
		o    Object
		spot asbuilt.Spot
		want Outcome
		line bool
	}{
		{Object{Kind: asbuilt.Lateral, Sought: true}, asbuilt.End, Sought, false},
		{Object{Kind: asbuilt.Lateral}, "", Trench, true},
		{Object{Kind: asbuilt.Lateral}, asbuilt.Start, Start, true},
		{Object{Kind: asbuilt.Lateral}, asbuilt.End, End, true},
		{Object{Kind: asbuilt.Header}, "", Header, true},
		{Object{Kind: asbuilt.Header}, asbuilt.Start, Header, true},
		{Object{Kind: asbuilt.Header}, asbuilt.End, Header, true},
		{Object{Kind: asbuilt.Box}, "", Other, false},
		{Object{Kind: asbuilt.Tank}, "", Other, false},
	} {
		m := tt.o.Outcome(tt.spot)
		assert.Equal(t, tt.want, m)
		assert.Equal(t, tt.line, m.Line())
	}
	assert.False(t, None.Line())
}

// A slot's middle, by hand; a hole's is where it is dug.
func TestMiddle(t *testing.T) {
	assert.Equal(t, geo.Vec{X: 3, Y: 2}, (&Hole{At: geo.Vec{X: 1, Y: 2}, Slot: geo.Vec{X: 4}}).Middle())
	assert.Equal(t, geo.Vec{X: 1, Y: 2}, (&Hole{At: geo.Vec{X: 1, Y: 2}}).Middle())
	assert.InDelta(t, 2.5, (&Hole{Slot: geo.Vec{X: 3, Y: 4}}).Half(), 1e-12)
}

// The depth at a place is that of a place no farther than a metre each way, over
// which it is as good as the same; it is asked for once a patch.
func TestDepthNearby(t *testing.T) {
	asked := 0
	s := &Site{N: 1, Objects: []Object{{Part: "L1"}, {Part: "L2"}}, Depth: func(part string, at geo.Vec) (depth.Depth, bool) {
		asked++
		return depth.Depth{Mean: at.X + 1000*at.Y, Sigma: 0.1}, part == "L1"
	}}
	rapid.Check(t, func(t *rapid.T) {
		v := geo.Vec{X: rapid.Float64Range(-3, 3).Draw(t, "x"), Y: rapid.Float64Range(-3, 3).Draw(t, "y")}
		d, ok := s.DepthAt(0, v)
		assert.True(t, ok)
		y := math.Round(d.Mean / 1000)
		assert.InDelta(t, v.Y, y, 1+1e-9)
		assert.InDelta(t, v.X, d.Mean-1000*y, 1+1e-9)
	})
	assert.LessOrEqual(t, asked, 36)
	for x := range 60 {
		s.DepthAt(0, geo.Vec{X: -3 + 0.1*float64(x), Y: 0.5})
	}
	assert.LessOrEqual(t, asked, 36+4)
	s.Depth = func(string, geo.Vec) (depth.Depth, bool) { return depth.Depth{}, false }
	_, ok := s.DepthAt(1, geo.Vec{})
	assert.False(t, ok)
}

// How deep a hole goes: to what is sought where one hole in thirty would meet it,
// to another part where one in five would, not where one in ten would; to the
// likeliest whatever its chance; and never deeper than crew and tool go.
func TestHowDeep(t *testing.T) {
	s := site()
	tops := map[string]float64{"box": 1.2, "L1": 0.9, "H1": 0.5}
	s.Depth = func(part string, _ geo.Vec) (depth.Depth, bool) {
		return depth.Depth{Mean: tops[part], Sigma: 0.001}, true
	}
	tool := survey.Tool{}
	for _, tt := range []struct {
		box, trench, header, want float64
	}{{1. / 30, 0.1, 0.8, 1.2}, {0.01, 0.2, 0.7, 0.9}, {0.01, 0.1, 0.7, 0.5}, {0.01, 0.05, 0.02, 0.9}} {
		stop := s.Stop(&Hole{Tool: &tool}, []float64{tt.box, tt.trench, tt.header})
		assert.InDelta(t, tt.want, stop, 0.0101, "%+v", tt)
		assert.GreaterOrEqual(t, stop, tt.want)
	}
	some := []float64{0.5, 0.5, 0.5}
	s.Limit = 1.0
	assert.InDelta(t, 1.0, s.Stop(&Hole{Tool: &tool}, some), 1e-12)
	tool.Limit = 0.8
	assert.InDelta(t, 0.8, s.Stop(&Hole{Tool: &tool}, some), 1e-12)
	s.Limit = 0
	assert.InDelta(t, 0.8, s.Stop(&Hole{Tool: &tool}, some), 1e-12)
}

// A boundary that is drawn as a line and does not close is no lot: there may be
// holes on either side of it.
func TestOpenBoundary(t *testing.T) {
	ring := square(geo.Vec{}, 20)
	marks := []geo.Vec{{X: 5, Y: 5}, {X: 9, Y: 5}}
	open := append(append([]geo.Vec{}, ring...), geo.Vec{Y: 6})
	shut := append(append([]geo.Vec{}, ring...), ring[0])
	for _, tt := range []struct {
		line []geo.Vec
		free bool
	}{{open, true}, {shut, false}, {ring[:3], true}} {
		g := NewGround([]Surrounding{{Kind: asbuilt.Boundary, Shapes: []geo.Outline{{Vertices: tt.line}}}}, marks, false)
		assert.Equal(t, tt.free, g.Clear(geo.Vec{X: 30, Y: 10}, 0.15, 0.1))
		assert.True(t, g.Clear(geo.Vec{X: 10, Y: 10}, 0.15, 0.1))
	}
}

// The chance of an object alone is the mean over the draws, by weight, of what a
// hole over it notices: of two draws the hole lies over one.
func TestAlone(t *testing.T) {
	s := &Site{N: 2, Objects: []Object{{Body: Body{Reach: 0.3, Notices: 0.9, Out: 0.05}, spots: []geo.Vec{{}, {X: 3}}}, {Body: Body{Reach: 0.3, Notices: 0.9, Out: 0.05}, spots: []geo.Vec{{X: 50}, {X: 50}}}}}
	for i := range s.Objects {
		require.True(t, s.Objects[i].bound())
	}
	h := Hole{Radius: 0.15, Sigma: 0.01}
	weight := []float64{0.6, 0.2}
	assert.InDeltaSlice(t, []float64{0.75 * 0.9, 0}, s.Alone(&h, weight, []int32{0, 1}), 1e-12, "0.6 of 0.8 in all")
	h.Shows = []float64{0.5, 0.5}
	assert.InDeltaSlice(t, []float64{0.75 * 0.5, 0}, s.Alone(&h, weight, []int32{0, 1}), 1e-12)
	assert.InDeltaSlice(t, []float64{0, 0}, s.Alone(&h, weight, []int32{1}), 1e-12)
}

// A pipe is seen in the sector in which it runs there, either way along it being
// the same: the compass in eighths of a turn, by hand.
func TestSectors(t *testing.T) {
	d := 1 / math.Sqrt2
	for _, tt := range []struct {
		name string
		to   geo.Vec
		want Outcome
	}{
		{"east", geo.Vec{X: 1, Y: 0.01}, 0}, {"east-north-east", geo.Vec{X: 1, Y: 0.9}, 0}, {"north-east and a little", geo.Vec{X: d, Y: d + 0.01}, 1},
		{"north", geo.Vec{X: 0.01, Y: 1}, 1}, {"north-west", geo.Vec{X: -d - 0.01, Y: d}, 3}, {"west", geo.Vec{X: -1, Y: -0.01}, 0},
		{"south", geo.Vec{X: -0.01, Y: -1}, 1}, {"south-east", geo.Vec{X: d + 0.01, Y: -d}, 3}, {"just south of west", geo.Vec{X: -1, Y: -0.01}, 0}, {"nowhere", geo.Vec{}, 0},
	} {
		assert.Equal(t, tt.want, sector(tt.to), tt.name)
	}
	// A header that turns a corner: east, then south. A lateral shows none.
	line := [][]geo.Vec{{{}, {X: 5, Y: 0.1}, {X: 4.9, Y: -6}}}
	o := Object{Body: pipe, Kind: asbuilt.Header, pieces: pieces(line, 1)}
	for _, tt := range []struct {
		at   geo.Vec
		want Outcome
	}{{geo.Vec{X: 2}, Header}, {geo.Vec{X: 5, Y: -3}, Header + 1}} {
		p, m := o.Met(0, &Hole{At: tt.at, Radius: 0.15})
		assert.Positive(t, p)
		assert.Equal(t, tt.want, m, "%v", tt.at)
		assert.Equal(t, Header, m.Kind())
		assert.True(t, m.Line())
	}
	o.Kind = asbuilt.Lateral
	_, m := o.Met(0, &Hole{At: geo.Vec{X: 5, Y: -3}, Radius: 0.15})
	assert.Equal(t, Trench, m)
}
