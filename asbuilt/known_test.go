package asbuilt

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
)

// What is known of a sketch is refused where it does not belong to it, all of it in one
// pass: places that are not there or twice, numbers that are no covariance.
func TestKnownCheck(t *testing.T) {
	sketch := func(k *Known) *Sketch {
		return &Sketch{Unit: geo.Metre, Ratio: 1, Known: k, Parts: []Part{
			{ID: "box", Kind: Box, Shapes: []Shape{{Form: Point, Vertices: []Position{{X: 1, Y: 1}}}}},
			{ID: "L1", Kind: Lateral, Shapes: []Shape{{Form: Line, Vertices: []Position{{X: 2, Y: 1}, {X: 9, Y: 1}}}}}}}
	}
	box, end := Vertex{Part: "box"}, Vertex{Part: "L1", Index: 1}
	says := func(k *Known) string { return sketch(k).Check("asbuilt.geojson").Error() }
	good := &Known{Places: []Vertex{box, end}, Covariance: []float64{1, 0, 1, 0.9, 0, 1, 0, 0.9, 0, 1}, Covers: []Cover{{box, 0.6}, {end, 0.5}}, CoverCovariance: []float64{0.04, 0.03, 0.04}}
	require.Empty(t, sketch(good).Check("asbuilt.geojson"))
	c, err := good.Matrix()
	require.NoError(t, err)
	assert.InDelta(t, 0.9, c.At(0, 2), 1e-12)
	assert.InDelta(t, 0.9, c.At(2, 0), 1e-12)
	assert.InDelta(t, 0, c.At(0, 3), 1e-12)

	for name, tt := range map[string]struct {
		k    *Known
		want []string
	}{
		"no part":    {&Known{Places: []Vertex{{Part: "L9"}}, Covariance: []float64{1, 0, 1}}, []string{`sketch.known.places[0]: found "L9"; want the id of a part of the sketch`}},
		"no vertex":  {&Known{Places: []Vertex{{Part: "L1", Index: 2}}, Covariance: []float64{1, 0, 1}}, []string{`vertex 2 of L1; want a vertex that it has`}},
		"of a point": {&Known{Places: []Vertex{{Part: "box", Index: 1}}, Covariance: []float64{1, 0, 1}}, []string{`vertex 1 of box`}},
		"twice":      {&Known{Places: []Vertex{box, box}, Covariance: good.Covariance}, []string{"each place once"}},
		"too few":    {&Known{Places: []Vertex{box}, Covariance: []float64{1, 0}}, []string{"sketch.known.covariance: found 2 numbers; want 3 numbers, the lower triangle of 2 by 2"}},
		"negative":   {&Known{Places: []Vertex{box}, Covariance: []float64{1, 2, 1}}, []string{"positive definite"}},
		"covers":     {&Known{Covers: []Cover{{box, 1e9}}, CoverCovariance: []float64{-1}}, []string{"sketch.known.covers[0]: found 1e+09; want metres", "sketch.known.cover_covariance"}},
		"many":       {&Known{Places: make([]Vertex, MaxKnown+1)}, []string{"at most 200"}},
	} {
		for _, want := range tt.want {
			assert.Contains(t, says(tt.k), want, name)
		}
	}
	s := sketch(good)
	s.Unit = geo.Pixel
	assert.True(t, strings.Contains(s.Check("asbuilt.geojson").Error(), "unknown scale"))
}
