package drawing_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/drawing"
	"asfound/survey/testsite"
)

// A box feeds every lateral and a tank feeds the box, whatever of it is drawn: the
// pipes that are missing from a sheet, by hand.
func TestJoins(t *testing.T) {
	tank := testsite.Part("tank", asbuilt.Tank, asbuilt.Point, geo.Vec{X: 0, Y: 6})
	box := testsite.Box("box", 0.6, 0, 0)
	one := testsite.Trench("L1", 0.9, geo.Vec{X: 3, Y: -1}, geo.Vec{X: 20, Y: -1})
	two := testsite.Trench("L2", 0.9, geo.Vec{X: 3, Y: -4}, geo.Vec{X: 20, Y: -4})
	pipe := func(id string, v ...geo.Vec) asbuilt.Part {
		return testsite.Part(id, asbuilt.Header, asbuilt.Line, v...)
	}
	for _, tt := range []struct {
		name  string
		drawn []asbuilt.Part
		want  []string
	}{
		{"none drawn", nil, []string{"tank-box", "box-L1", "box-L2"}},
		{"the effluent pipe, from the tank's outlet", []asbuilt.Part{pipe("E", geo.Vec{Y: 4.8}, geo.Vec{Y: 0.3})}, []string{"box-L1", "box-L2"}},
		{"one header of two", []asbuilt.Part{pipe("H1", geo.Vec{}, geo.Vec{X: 2.8, Y: -1.1})}, []string{"tank-box", "box-L2"}},
		{"a manifold past both", []asbuilt.Part{pipe("M", geo.Vec{}, geo.Vec{X: 3, Y: 0}, geo.Vec{X: 3, Y: -4.5})}, []string{"tank-box"}},
		{"no box", nil, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			parts := append([]asbuilt.Part{tank, box, one, two}, tt.drawn...)
			if tt.want == nil {
				parts = []asbuilt.Part{tank, one, two}
			}
			d := drawing.New(&asbuilt.Sketch{Unit: geo.Metre, Ratio: 1, Trust: asbuilt.Roughly, Parts: parts}, drawing.Hypothesis{})
			var got []string
			for _, j := range d.Joins() {
				got = append(got, j.From.Part+"-"+j.To.Part)
				assert.Equal(t, []int{d.Spots[j.From], d.Spots[j.To]}, j.Nodes)
			}
			assert.ElementsMatch(t, tt.want, got)
		})
	}
}
