package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
)

// bare is a lot whose numbers can be checked by hand: one trench along X from
// 0 to 10, 0.9 m wide, a box of 0.6 m at (−2, 0), a pipe between.
func bare() *lot {
	return &lot{
		corners:  [4]geo.Vec{{Y: 20}, {X: 10, Y: 20}, {X: 10, Y: 28}, {Y: 28}},
		box:      geo.Vec{X: -2},
		boxAxis:  geo.Vec{X: 1},
		laterals: [][]geo.Vec{{{}, {X: 5}, {X: 10}}},
		headers:  [][]geo.Vec{{{X: -2, Y: 15}, {X: -2}}, {{X: -2}, {}}},
		width:    0.9,
		cover:    [3]float64{0.4, 0.5, 0.55},
	}
}

// Plane geometry: a hole of 0.15 m radius cuts a trench of 0.9 m up to 0.6 m
// from its middle, a box of 0.6 m up to 0.45 m square to its side, a pipe up
// to 0.2 m.
func TestWhatAHoleMeets(t *testing.T) {
	for _, tt := range []struct {
		name string
		at   geo.Vec
		deep float64
		met  asbuilt.Kind
		spot asbuilt.Spot
	}{
		{"in the trench", geo.Vec{X: 4, Y: 0.59}, 1, asbuilt.Lateral, asbuilt.On},
		{"at a bend of its line", geo.Vec{X: 5, Y: 0.3}, 1, asbuilt.Lateral, asbuilt.On},
		{"beside the trench", geo.Vec{X: 4, Y: 0.61}, 1, "", ""},
		{"its distal end", geo.Vec{X: 10.1, Y: 0.2}, 1, asbuilt.Lateral, asbuilt.End},
		{"just past its end", geo.Vec{X: 10.16}, 1, "", ""},
		{"its start", geo.Vec{X: 0.1, Y: -0.3}, 1, asbuilt.Lateral, asbuilt.Start},
		{"not deep enough", geo.Vec{X: 4}, 0.49, "", ""},
		{"the box", geo.Vec{X: -2.44}, 1, asbuilt.Box, asbuilt.On},
		{"the box by its corner", geo.Vec{X: -2.39, Y: 0.39}, 1, asbuilt.Box, asbuilt.On},
		{"past its corner", geo.Vec{X: -2.41, Y: 0.41}, 1, "", ""},
		{"the lid above the trench's depth", geo.Vec{X: -2}, 0.45, asbuilt.Box, asbuilt.On},
		{"the pipe between", geo.Vec{X: -1, Y: 0.2}, 1, asbuilt.Header, asbuilt.On},
		{"beside the pipe", geo.Vec{X: -1, Y: 0.21}, 1, "", ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			g := &game{lot: bare(), rng: rand.New(rand.NewPCG(1, 1))}
			met := 0
			for range 1000 {
				a := g.meet(tt.at, tt.deep)
				if a.met != "" {
					assert.Equal(t, tt.met, a.met)
					assert.Equal(t, tt.spot, a.spot)
					met++
				}
			}
			odds := map[asbuilt.Kind]float64{asbuilt.Box: seesBox, asbuilt.Lateral: seesTrench, asbuilt.Header: seesPipe}[tt.met]
			assert.InDelta(t, 1000*odds, met, 4*math.Sqrt(1000*odds*(1-odds))+0.5)
		})
	}
}

// The triangle of sides 3, 4 and 5.
func TestSwing(t *testing.T) {
	a, b := geo.Vec{}, geo.Vec{X: 5}
	for _, tt := range []struct {
		right bool
		y     float64
	}{{false, 2.4}, {true, -2.4}} {
		v := swing(a, b, 3, 4, tt.right)
		assert.InDelta(t, 1.8, v.X, 1e-12)
		assert.InDelta(t, tt.y, v.Y, 1e-12)
	}
}

// A place set out by a crew's own tapes is hit to within about 0.1 m, as long
// as the tapes cross well.
func TestSetOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := &game{lot: bare(), rng: rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))}
		v := geo.Vec{X: rapid.Float64Range(0, 10).Draw(t, "x"), Y: rapid.Float64Range(0, 14).Draw(t, "y")}
		p := &plain{marks: g.lot.corners}
		if d := g.setOut(p.hole(v)).Dist(v); d > 1 {
			t.Fatalf("%v was dug %.2f m off", v, d)
		}
	})
}

// Counted by hand: of 13 equal cells one can be met by the first hole, 3 by
// the second, 9 by the third.
func TestAtLeast(t *testing.T) {
	equal := func(n int) (p []float64) {
		for range n {
			p = append(p, 1/float64(n))
		}
		return p
	}
	assert.InDelta(t, 1, atLeast(equal(1)), 1e-12)
	assert.InDelta(t, (1+2*3)/4.0, atLeast(equal(4)), 1e-12)
	assert.InDelta(t, (1+2*3+3*9)/13.0, atLeast(equal(13)), 1e-12)
	assert.InDelta(t, (1+2*3+3*9+4)/14.0, atLeast(equal(14)), 1e-12)
}

func TestCells(t *testing.T) {
	places := []geo.Vec{{X: 0.1, Y: 0.1}, {X: 0.2, Y: 0.1}, {X: 0.3, Y: 0.8}, {X: 5, Y: 5}}
	shares, rank := cells(places, geo.Vec{X: 5.1, Y: 5.1})
	assert.Equal(t, []float64{0.75, 0.25}, shares)
	assert.Equal(t, 2, rank)
	_, rank = cells(places, geo.Vec{X: -9})
	assert.Equal(t, 3, rank)
}

func TestTally(t *testing.T) {
	var c tally
	for i := range 10 {
		c.add(i+1, i < 9, 0)
	}
	assert.Equal(t, "6 / 19.5 / 150 (90 %)", c.String())
}
