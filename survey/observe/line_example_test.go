package observe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
	"asfound/survey/testsite"
)

// Which lines a hole may have met between their ends, for the belief to weigh
// as evidence: a pipe is as wide as a hole, so its edge counts as its middle,
// while the edge of a trench is a separate place.
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
			j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: testsite.Sketch(asbuilt.Roughly),
				Readings: []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: tt.target, Spot: tt.spot}}}
			b := observe.NewLog(j)
			assert.Equal(t, tt.want, b.Lines(&b.Readings[0]))
			assert.Equal(t, !tt.fitted, b.OnHeader(&b.Readings[0]))
			e := observe.Explanation{}
			if tt.target == "lateral" {
				e.Met = map[string]string{"r": "L3"}
			}
			o := b.Observe(drawing.New(j.Sketch, drawing.Hypothesis{}), 0, e)
			assert.Equal(t, tt.fitted, o != nil)
		})
	}
	b := observe.NewLog(&survey.Job{Sketch: testsite.Sketch(asbuilt.Roughly), Readings: []survey.Reading{{ID: "r", Kind: survey.Empty, Point: "P"}}})
	assert.Nil(t, b.Lines(&b.Readings[0]), "an empty hole met nothing")
}
