package locate_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/testsite"
)

// dug returns a job of the little lot, drawn to scale and taped, with so many empty
// holes on a grid about where the box is drawn, deep enough for any box.
func dug(t *testing.T, holes int, depth *geo.Length) *survey.Job {
	t.Helper()
	j := testsite.Taped()
	j.Sketch.Trust = asbuilt.ToScale
	add := func(r survey.Reading) {
		r.ID = fmt.Sprintf("e%02d", len(j.Readings))
		j.Readings = append(j.Readings, r)
	}
	for k := range holes {
		// From the middle outwards, half a metre apart.
		ring := []geo.Vec{{}, {X: .5}, {X: -.5}, {Y: .5}, {Y: -.5}, {X: .5, Y: .5}, {X: -.5, Y: .5}, {X: .5, Y: -.5}, {X: -.5, Y: -.5}}
		v := geo.Vec{X: 2, Y: -10}.Add(ring[k%9].Scale(1 + float64(k/9)))
		name := fmt.Sprintf("E%d", k)
		for mark, at := range map[string]geo.Vec{"A": {}, "B": {X: 12}} {
			add(survey.Reading{Kind: survey.Tape, From: mark, To: name, Value: testsite.Metres(v.Dist(at))})
		}
		add(survey.Reading{Kind: survey.Empty, Point: name, Depth: depth})
	}
	return j
}

func located(t *testing.T, j *survey.Job) *locate.Location {
	t.Helper()
	loc, err := pipeline.Locate(t.Context(), j, nil)
	require.NoError(t, err)
	return loc
}

// TestPromisesBroken digs all about the box without meeting it: what the holes were
// told they had a chance of grows with each, and where it was practically sure, the
// answer is doubtful and says what to look at. Once the box is met nothing is.
func TestPromisesBroken(t *testing.T) {
	before := 0.0
	for _, holes := range []int{0, 1, 4} {
		l := located(t, dug(t, holes, testsite.Metres(2.5)))
		assert.GreaterOrEqual(t, l.Promised, before)
		assert.Nil(t, l.Fit.Doubtful, holes)
		before = l.Promised
	}
	assert.Greater(t, before, 0.5)
	l := located(t, dug(t, 27, testsite.Metres(2.5)))
	assert.Greater(t, l.Promised, 0.99)
	require.NotNil(t, l.Fit.Doubtful)
	assert.Equal(t, finding.PromisesBroken, l.Fit.Doubtful.Code)
	assert.Equal(t, finding.LookSheet, l.Fit.Doubtful.Of.Code)
	assert.Regexp(t, `would all miss the box was 0\.00\d*; if they all went down`, l.Fit.Doubtful.Says(finding.English(geo.Metre)))

	j := dug(t, 27, testsite.Metres(2.5))
	j.Readings = append(j.Readings, survey.Reading{ID: "x", Kind: survey.Found, Point: "E9", Target: "box"})
	l = located(t, j)
	assert.Zero(t, l.Promised)

	// Holes that do not say how deep they went prove less, and are looked at first.
	assert.Less(t, located(t, dug(t, 27, nil)).Promised, 0.99)
	j = dug(t, 27, testsite.Metres(2.5))
	j.Readings[len(j.Readings)-1].Depth = nil
	l = located(t, j)
	require.NotNil(t, l.Fit.Doubtful)
	assert.Equal(t, finding.LookDepth.New(finding.Word("hole", "E26")), *l.Fit.Doubtful.Of)
}
