package encounter

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
)

func square(at geo.Vec, side float64) []geo.Vec {
	return []geo.Vec{at, at.Add(geo.Vec{X: side}), at.Add(geo.Vec{X: side, Y: side}), at.Add(geo.Vec{Y: side})}
}

// Clearances by hand: a hole of 0.15 m, set out to 0.1 m, keeps its radius, what
// is kept from the part, three standard deviations of both places and 2 cm.
func TestClearances(t *testing.T) {
	line := []geo.Outline{{Vertices: []geo.Vec{{Y: -50}, {Y: 50}}}}
	spot := []geo.Outline{{Vertices: []geo.Vec{{}}}}
	house := []geo.Outline{{Closed: true, Vertices: square(geo.Vec{X: -4, Y: -2}, 4)}}
	hard := 0.15 + 0.02
	for _, tt := range []struct {
		name string
		part Surrounding
		keep float64 // metres east of it
	}{
		{"utility with a clearance", Surrounding{Kind: asbuilt.Utility, Shapes: line, Clearance: 1.5}, hard + 1.5 + 0.3},
		{"utility without one: 24 in", Surrounding{Kind: asbuilt.Utility, Shapes: line}, hard + 0.6096 + 0.3},
		{"utility whose place is unsure", Surrounding{Kind: asbuilt.Utility, Shapes: line, Clearance: 1, Sigma: 0.24}, hard + 1 + 3*0.26},
		{"no-dig", Surrounding{Kind: asbuilt.NoDig, Shapes: line}, hard + 0.3},
		{"well", Surrounding{Kind: asbuilt.Well, Shapes: spot}, hard + 1 + 0.3},
		{"lot line", Surrounding{Kind: asbuilt.Boundary, Shapes: line}, hard + 0.3 + 0.3},
		{"house", Surrounding{Kind: asbuilt.Building, Shapes: house}, 0.15},
		{"tank that is not sought", Surrounding{Kind: asbuilt.Tank, Shapes: house}, 0.15},
		{"driveway", Surrounding{Kind: asbuilt.Driveway, Shapes: house}, -1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g := NewGround([]Surrounding{tt.part}, nil, false)
			if tt.keep < 0 {
				assert.True(t, g.Clear(geo.Vec{X: -1}, 0.15, 0.1))
				return
			}
			assert.False(t, g.Clear(geo.Vec{X: tt.keep - 0.001}, 0.15, 0.1))
			assert.True(t, g.Clear(geo.Vec{X: tt.keep + 0.001}, 0.15, 0.1))
			assert.False(t, g.Clear(geo.Vec{X: math.NaN()}, 0.15, 0.1))
		})
	}
	assert.True(t, NewGround([]Surrounding{{Kind: asbuilt.Tank, Shapes: house}}, nil, true).Clear(geo.Vec{X: -1}, 0.15, 0.1), "a tank that is sought")
}

// Within a lot that closes round the landmarks, and nowhere else; one that does
// not, a neighbour's, is only a line.
func TestLots(t *testing.T) {
	lot := []Surrounding{{Kind: asbuilt.Boundary, Shapes: []geo.Outline{{Closed: true, Vertices: square(geo.Vec{}, 20)}}}}
	own := NewGround(lot, []geo.Vec{{X: 5, Y: 5}, {X: 9, Y: 5}}, false)
	other := NewGround(lot, []geo.Vec{{X: -5, Y: 5}, {X: -9, Y: 5}}, false)
	in, out := geo.Vec{X: 10, Y: 10}, geo.Vec{X: -3, Y: 10}
	assert.True(t, own.Clear(in, 0.15, 0.1))
	assert.False(t, own.Clear(out, 0.15, 0.1))
	assert.True(t, other.Clear(in, 0.15, 0.1))
	assert.True(t, other.Clear(out, 0.15, 0.1))

	// A lot between three streets, as a closed shape or as a line that comes back;
	// a line there and back encloses nothing.
	corners := []geo.Vec{{}, {X: 40}, {Y: 40}}
	for _, tt := range []struct {
		shape geo.Outline
		keeps bool
	}{
		{geo.Outline{Closed: true, Vertices: corners}, true}, {geo.Outline{Vertices: append(corners[:3:3], corners[0])}, true},
		{geo.Outline{Vertices: corners}, false}, {geo.Outline{Vertices: []geo.Vec{{}, {X: 40}, {}}}, false}, {geo.Outline{Closed: true, Vertices: corners[:2]}, false},
	} {
		g := NewGround([]Surrounding{{Kind: asbuilt.Boundary, Shapes: []geo.Outline{tt.shape}}}, []geo.Vec{{X: 5, Y: 0.5}, {X: 9, Y: 0.5}}, false)
		assert.True(t, g.Clear(geo.Vec{X: 10, Y: 10}, 0.15, 0.1))
		assert.Equal(t, !tt.keeps, g.Clear(geo.Vec{X: 30, Y: 30}, 0.15, 0.1), "%+v", tt.shape)
	}
}

// A hole must be clear wherever its tapes may put it, and is not dug again; a slot
// must be clear between its ends too.
func TestAllowed(t *testing.T) {
	gas := []Surrounding{{Kind: asbuilt.Utility, Clearance: 1, Shapes: []geo.Outline{{Vertices: []geo.Vec{{X: 5, Y: -50}, {X: 5, Y: 50}}}}}}
	g := NewGround(gas, nil, false)
	astray := geo.Vec{}
	g.SetOut = func(v geo.Vec) Stake { return Stake{Sigma: 0.12, Others: []geo.Vec{v.Add(astray)}} }
	sigma, ok := g.Allowed(geo.Vec{X: 2}, 0.15)
	assert.True(t, ok)
	assert.InDelta(t, 0.13, sigma, 1e-9, "0.12 and 0.05 by hand")
	assert.InDelta(t, sigma, g.Sigma(geo.Vec{}), 1e-12)

	g.Dug = []geo.Vec{{X: 2, Y: 0.24}}
	_, ok = g.Allowed(geo.Vec{X: 2}, 0.15)
	assert.False(t, ok, "dug already")
	_, ok = g.Allowed(geo.Vec{X: 2, Y: 0.24 - practice.SameHole}, 0.15)
	assert.True(t, ok)

	_, ok = g.AllowedSlot(geo.Vec{X: 2, Y: 3}, geo.Vec{Y: 4}, 0.2)
	assert.True(t, ok)
	_, ok = g.AllowedSlot(geo.Vec{X: 2, Y: 3}, geo.Vec{X: 6}, 0.2)
	assert.False(t, ok, "across the pipe, both ends clear of it")

	astray = geo.Vec{X: 1.6}
	_, ok = g.Allowed(geo.Vec{X: 2}, 0.15)
	assert.False(t, ok, "a tape as it is rounded would put it by the pipe")
}

// A line of 10 m past a gas line that wants 0.6 m: it may be followed beside it, and
// not across it or along it; nor to nowhere.
func TestPassable(t *testing.T) {
	gas := Surrounding{Part: "gas", Kind: asbuilt.Utility, Clearance: 0.6, Shapes: []geo.Outline{{Vertices: []geo.Vec{{X: 5, Y: -20}, {X: 5, Y: 20}}}}}
	g := NewGround([]Surrounding{gas}, nil, false)
	for _, tt := range []struct {
		places []geo.Vec
		want   bool
	}{
		{[]geo.Vec{{X: 0}, {X: 4.2}}, true},
		{[]geo.Vec{{X: 0}, {X: 4.5}}, false},
		{[]geo.Vec{{X: 0}, {X: 10}}, false},
		{[]geo.Vec{{X: 4, Y: -9}, {X: 4, Y: 9}}, true},
		{[]geo.Vec{{X: 4.5, Y: -9}, {X: 4.5, Y: 9}}, false},
		{[]geo.Vec{{X: 0}, {X: 3}, {X: 3, Y: 5}, {X: 8, Y: 5}}, false},
		{[]geo.Vec{{X: 0}, {X: math.NaN()}}, false},
		{[]geo.Vec{{X: 0}, {X: -1e9}}, false},
		{[]geo.Vec{{X: 1}, {X: 1}}, true},
	} {
		assert.Equal(t, tt.want, g.Passable(tt.places...), "%v", tt.places)
	}
}
