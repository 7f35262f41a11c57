package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

// A hole that is left to the belief costs nothing of what was supposed of it:
// ln ¼ for one of four laterals is given back.
func TestWithoutGivesItsOddsBack(t *testing.T) {
	j := testsite.Taped()
	j.Readings = append(j.Readings, survey.Reading{ID: "x", Kind: survey.Found, Point: "H9", Target: "lateral"}, survey.Reading{ID: "y", Kind: survey.Found, Point: "H8", Target: "lateral"})
	b := observe.NewLog(j)
	e := Explanation{}.with("x", "L1", 4).with("y", "L2", 4)
	assert.InDelta(t, -2*math.Log(4), e.prior, 1e-12)
	e = e.without(b, map[string]bool{"x": true})
	assert.InDelta(t, -math.Log(4), e.prior, 1e-12)
	assert.Equal(t, map[string]string{"y": "L2"}, e.Met)
	assert.True(t, e.Without["x"])
}

// The nearest of several lines, by hand: of lines 2.4 m apart the one that
// passes the place, and past their ends the one that ends nearest.
func TestNearestLine(t *testing.T) {
	d := drawing.New(testsite.Sketch(asbuilt.Roughly), drawing.Hypothesis{})
	var at []geo.Vec
	for _, n := range d.Nodes {
		at = append(at, n.At.Metres(1).Add(geo.Vec(d.Centre)))
	}
	log := observe.NewLog(testsite.Taped()) // L1 to L4: y = −7, −9.4, −11.8, −14.2 from x = 4 to 24
	hole := survey.Reading{Kind: survey.Found, Point: "H1", Target: "lateral"}
	for _, tt := range []struct {
		x, y float64
		want string
	}{{10, -8, "L1"}, {10, -8.5, "L2"}, {30, -12, "L3"}, {0, -20, "L4"}} {
		assert.Equal(t, tt.want, NearestLine(d, log, &hole, at, geo.Vec{X: tt.x, Y: tt.y}))
	}
	f, err := Solve(t.Context(), testsite.Taped())
	require.NoError(t, err)
	odds := f.LineOdds(&survey.Reading{Kind: survey.Found, Point: "H1", Target: "lateral"})
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
			l := little.Site{Parts: []asbuilt.Part{testsite.Trench("L", 0.6, geo.Vec{}, geo.Vec{Y: 10})}, Sigma: map[string]float64{"L": 0.1},
				Points: map[string]little.Known{"P": {tt.x, tt.y, 0.1}}, Readings: []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: "L"}}}
			c := solved(t, l)
			assert.Equal(t, tt.held, c.reached("r"))
			assert.False(t, c.reached("another"))
			b := observe.NewLog(&survey.Job{Settings: survey.DefaultSettings(), Sketch: &asbuilt.Sketch{Parts: l.Parts},
				Readings: []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: tt.target}}})
			assert.Equal(t, tt.open, unsettled(b, []Component{c}, &b.Readings[0]))
		})
	}
}
