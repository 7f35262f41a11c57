package fit_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
)

// A cable that stopped short of the box, one whose feet were typed as inches, and a
// receiver that pointed beside the box are named, and move nothing.
func TestPushedSlipsAreNamed(t *testing.T) {
	box := asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}
	where := func(j *survey.Job) (*fit.Fit, geo.Vec) {
		f, err := fit.Solve(t.Context(), j)
		require.NoError(t, err)
		v, ok := posterior.Of(f).Expected(box)
		require.True(t, ok)
		return f, v
	}
	// The box is met, so that it is known where the pipe ends.
	dug := braced(t)
	dug.Readings = append(dug.Readings, survey.Reading{ID: "s1", Kind: survey.Found, Point: "H9", Target: "box", Spot: asbuilt.Center})
	_, at := where(braced(t))
	for _, mark := range []struct {
		name string
		at   geo.Vec
	}{{"A", geo.Vec{}}, {"B", geo.Vec{X: 12}}, {"C", geo.Vec{X: 12, Y: 9}}} {
		f, _ := where(dug)
		v, ok := posterior.Of(f).Expected(asbuilt.SpotName{Part: mark.name, Spot: asbuilt.Center})
		require.True(t, ok)
		dug.Readings = append(dug.Readings, survey.Reading{ID: "t" + mark.name, Kind: survey.Tape, From: mark.name, To: "H9", Value: testsite.Metres(v.Dist(at))},
			survey.Reading{ID: "u" + mark.name, Kind: survey.Tape, From: mark.name, To: "S1", Value: testsite.Metres(v.Dist(at.Add(geo.Vec{X: 3, Y: -3})))})
	}
	clean, settled := where(dug)
	require.Empty(t, clean.Suspects)
	inches, err := geo.ParseLength("52", geo.Inch)
	require.NoError(t, err)
	for name, tt := range map[string]struct {
		r    survey.Reading
		says finding.Code
	}{
		"stopped at roots":     {survey.Reading{Kind: survey.Cable, From: "H3", To: "box", Value: testsite.Metres(5)}, finding.CableStopped},
		"feet typed as inches": {survey.Reading{Kind: survey.Cable, From: "H3", To: "box", Value: &inches}, finding.CableStopped},
		"a ghost":              {survey.Reading{Kind: survey.Sonde, Point: "S1", Target: "box", Depth: testsite.Metres(0.6)}, finding.SondeGhost},
	} {
		t.Run(name, func(t *testing.T) {
			j := *dug
			tt.r.ID = "w"
			j.Readings = append(append([]survey.Reading{}, dug.Readings...), tt.r)
			f, v := where(&j)
			require.NotEmpty(t, f.Suspects)
			assert.Equal(t, "w", f.Suspects[0].Reading)
			assert.Equal(t, tt.says, f.Suspects[0].Blunder.Code)
			assert.Greater(t, f.Suspects[0].Odds, 0.9)
			assert.InDelta(t, 0, v.Dist(settled), 0.05)
		})
	}
}
