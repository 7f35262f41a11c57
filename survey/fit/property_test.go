package fit_test

import (
	"context"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/fit"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
)

// spots returns every spot's place and radius.
func spots(t require.TestingT, j *survey.Job) map[asbuilt.SpotName]posterior.Region {
	f, err := fit.Solve(context.Background(), j)
	require.NoError(t, err)
	p := posterior.Of(f)
	all := map[asbuilt.SpotName]posterior.Region{}
	for name := range drawing.New(j.Sketch, drawing.Hypothesis{}).Spots {
		g, _ := p.Spot(name)
		all[name] = g
	}
	return all
}

// The order of the log changes nothing, to the last digit.
func TestOrderDoesNotMatter(t *testing.T) {
	want := spots(t, testsite.Taped())
	rapid.Check(t, func(t *rapid.T) {
		j := testsite.Taped()
		j.Readings = rapid.Permutation(j.Readings).Draw(t, "order")
		if got := spots(t, j); !reflect.DeepEqual(want, got) {
			t.Fatalf("%v became %v", want, got)
		}
	})
}

// Adding a reading and voiding it changes nothing.
func TestVoidRestores(t *testing.T) {
	want := spots(t, testsite.Taped())
	j := testsite.Taped()
	j.Readings = append(j.Readings, survey.Reading{ID: "x", Kind: survey.Tape, From: "A", To: "H1", Value: testsite.Metres(3)}, survey.Reading{ID: "y", Kind: survey.Void, Target: "x"})
	assert.Equal(t, want, spots(t, j))
}

// Holes narrow the belief about the box, and most of all about the line.
func TestHolesTighten(t *testing.T) {
	j := testsite.Taped()
	before := &survey.Job{Settings: j.Settings, Sketch: j.Sketch, Readings: j.Readings[:3]}
	a, b := spots(t, before), spots(t, j)
	box, end := asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}, asbuilt.SpotName{Part: "L3", Spot: asbuilt.End}
	assert.Less(t, b[box].Landmarks95, a[box].Landmarks95)
	assert.Less(t, b[end].Landmarks95, a[end].Landmarks95/2)
}

// Fits with 0, 1, 2, 3 and many readings all give an answer.
func TestAnyNumberOfReadings(t *testing.T) {
	j := testsite.Taped()
	for n := range len(j.Readings) + 1 {
		f, err := fit.Solve(t.Context(), &survey.Job{Settings: j.Settings, Sketch: j.Sketch, Readings: j.Readings[:n]})
		require.NoError(t, err)
		assert.Empty(t, f.Doubtful, "%d readings", n)
		for _, r := range f.Residuals {
			assert.False(t, math.IsNaN(r.Standardized) || r.Redundancy < 0 || r.Redundancy > 1)
		}
	}
}

// A job without a satellite fix claims no place on the earth, one with a fix
// gives longitude and latitude back within a millimetre.
func TestFrames(t *testing.T) {
	f, err := fit.Solve(t.Context(), testsite.Taped())
	require.NoError(t, err)
	_, ok := f.Frame.LonLat(geo.Vec{X: 1})
	assert.False(t, ok)
	assert.Equal(t, survey.Local, f.Frame.Kind)
	g, _ := posterior.Of(f).Spot(asbuilt.SpotName{Part: "A", Spot: asbuilt.Center})
	assert.Less(t, g.At.Norm(), 1e-9, "the first landmark is the origin")
}

func TestSketchWithoutAnything(t *testing.T) {
	_, err := fit.Solve(t.Context(), &survey.Job{Settings: survey.DefaultSettings(), Sketch: &asbuilt.Sketch{Unit: geo.Foot, Ratio: 1}})
	assert.ErrorIs(t, err, fit.ErrNothing)
}
