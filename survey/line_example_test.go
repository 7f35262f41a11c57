package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
)

// Which lines a hole may have met between their ends, for the belief to weigh
// as evidence: a pipe is as wide as a hole, so its edge is as good as its
// middle, while the edge of a trench is a place of its own.
func TestLinesThatAHoleMayHaveMet(t *testing.T) {
	four := []string{"L1", "L2", "L3", "L4"}
	for _, tt := range []struct {
		name, target string
		spot         asbuilt.Spot
		want         []string
		fitted       bool // the fit itself observes it
	}{
		{"on a header", "H", "", []string{"H"}, false},
		{"on a header, as said", "H", asbuilt.On, []string{"H"}, false},
		{"at the edge of a header", "H", asbuilt.Edge, []string{"H"}, false},
		{"at the end of a header", "H", asbuilt.End, nil, true},
		{"on some header", "header", "", []string{"H"}, false},
		{"on a lateral", "L2", "", []string{"L2"}, true},
		{"on some lateral", "lateral", "", four, true},
		{"at the edge of a lateral", "L2", asbuilt.Edge, nil, true},
		{"at the start of a lateral", "L2", asbuilt.Start, nil, true},
		{"at a box", "box", "", nil, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j := &Job{Settings: DefaultSettings(), Sketch: smallSketch(asbuilt.Roughly),
				Readings: []Reading{{ID: "r", Kind: Found, Point: "P", Target: tt.target, Spot: tt.spot}}}
			b := newBook(j)
			assert.Equal(t, tt.want, b.lines(&b.readings[0]))
			assert.Equal(t, !tt.fitted, b.pipe(&b.readings[0]))
			e := explanation{}
			if tt.target == "lateral" {
				e = e.with("r", "L3", 4)
			}
			obs := b.observe(newDrawing(j.Sketch, fault{}), 0, e)
			assert.Equal(t, tt.fitted, len(obs) > 0)
		})
	}
	b := newBook(&Job{Sketch: smallSketch(asbuilt.Roughly), Readings: []Reading{{ID: "r", Kind: Empty, Point: "P"}}})
	assert.Nil(t, b.lines(&b.readings[0]), "an empty hole met nothing")
}

// A hole that is left to the belief costs nothing of what was supposed of it:
// ln ¼ for one of four laterals is given back.
func TestLoosenedGivesItsOddsBack(t *testing.T) {
	j := taped()
	j.Readings = append(j.Readings, Reading{ID: "x", Kind: Found, Point: "H9", Target: "lateral"}, Reading{ID: "y", Kind: Found, Point: "H8", Target: "lateral"})
	b := newBook(j)
	e := explanation{}.with("x", "L1", 4).with("y", "L2", 4)
	assert.InDelta(t, -2*math.Log(4), e.prior, 1e-12)
	e = b.loosened(e, map[string]bool{"x": true})
	assert.InDelta(t, -math.Log(4), e.prior, 1e-12)
	assert.Equal(t, map[string]string{"y": "L2"}, e.met)
	assert.True(t, e.loose["x"])
}

// The nearest of several lines, by hand: of lines 2.4 m apart the one that
// passes the place, and past their ends the one that ends nearest.
func TestNearestLine(t *testing.T) {
	d := newDrawing(smallSketch(asbuilt.Roughly), fault{})
	var at []geo.Vec
	for _, n := range d.nodes {
		at = append(at, n.at.Add(d.centre))
	}
	ids := []string{"L1", "L2", "L3", "L4"} // y = −7, −9.4, −11.8, −14.2 from x = 4 to 24
	for _, tt := range []struct {
		x, y float64
		want string
	}{{10, -8, "L1"}, {10, -8.5, "L2"}, {30, -12, "L3"}, {0, -20, "L4"}} {
		assert.Equal(t, tt.want, d.nearest(ids, at, geo.Vec{X: tt.x, Y: tt.y}))
	}
	f, err := Solve(taped())
	require.NoError(t, err)
	odds := f.lineOdds(&Reading{Point: "H1"}, ids)
	assert.Greater(t, odds["L2"], 0.9, "H1 was dug on it")
}

// A hole past the end of a trench holds that end; one beside it does not. Left
// open is which line was met, or an end that is held.
func TestHeldEnds(t *testing.T) {
	for _, tt := range []struct {
		name, target string
		x, y         float64
		held, open   bool
	}{
		{"beside it", "L", 0.5, 4, false, false}, {"past its end", "L", 0.2, 11, true, true}, {"before its start", "L", 0.2, -1, true, true},
		{"on some lateral", "lateral", 0.5, 4, false, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			l := little{parts: []asbuilt.Part{trench("L", 0.6, geo.Vec{}, geo.Vec{Y: 10})}, sigma: map[string]float64{"L": 0.1},
				points: map[string]known{"P": {tt.x, tt.y, 0.1}}, readings: []Reading{{ID: "r", Kind: Found, Point: "P", Target: "L"}}}
			c := l.solve(t)
			assert.Equal(t, tt.held, c.held("r"))
			assert.False(t, c.held("another"))
			b := newBook(&Job{Settings: DefaultSettings(), Sketch: &asbuilt.Sketch{Parts: l.parts},
				Readings: []Reading{{ID: "r", Kind: Found, Point: "P", Target: tt.target}}})
			assert.Equal(t, tt.open, b.unsettled([]component{c}, &b.readings[0]))
		})
	}
}
