package pipeline_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/probe"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

// stopped locates and plans the lot of testsite with one more hole, dug where the box is
// believed to lie without it.
func stopped(t *testing.T, at geo.Vec, hole *survey.Reading) (*locate.Location, *probe.Plan) {
	t.Helper()
	job, err := testsite.Braced()
	require.NoError(t, err)
	for i := range job.Readings {
		if r := &job.Readings[i]; r.Kind == survey.Found {
			r.Depth = testsite.Metres(1)
		}
	}
	if hole != nil {
		one := *hole
		one.ID, one.Kind, one.Point = "z3", survey.Empty, "N1"
		// Landmarks A (0, 0) and B (12, 0) span the frame of the lot.
		job.Readings = append(job.Readings, survey.Reading{ID: "z1", Kind: survey.Tape, From: "A", To: "N1", Value: testsite.Metres(at.Norm())},
			survey.Reading{ID: "z2", Kind: survey.Tape, From: "B", To: "N1", Value: testsite.Metres(at.Dist(geo.Vec{X: 12}))}, one)
	}
	p, err := fit.Prepare(job.Sketch)
	require.NoError(t, err)
	l, err := pipeline.Locate(t.Context(), job, p)
	require.NoError(t, err)
	plan, err := pipeline.Plan(t.Context(), l)
	require.NoError(t, err)
	return l, plan
}

// TestStoppedHoles digs where the box is believed to lie and is stopped by a rock a foot down. What
// lies a metre deep may still be there: the belief is that without the hole. An empty
// hole of 1.5 m at the same place says that it is not. Neither is proposed again, and
// beside somebody else's line the usual tolerance zone is kept (asbuilt/practice).
func TestStoppedHoles(t *testing.T) {
	l, _ := stopped(t, geo.Vec{}, nil)
	first := l.Spot("box", asbuilt.Center).At
	a, b := l.Spot("A", asbuilt.Center).At, l.Spot("B", asbuilt.Center).At
	east := b.Sub(a).Scale(1 / b.Dist(a))
	off := first.Sub(a)
	at := geo.Vec{X: off.Dot(east), Y: -math.Abs(east.X*off.Y - east.Y*off.X)} // the field is south of the house

	// there is how much of the belief has the middle of the box within the hole.
	there := func(l *locate.Location, where geo.Vec) (share float64) {
		draws := must.Have(pipeline.Draws(t.Context(), l))
		places := draws.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		for _, v := range places {
			if v.Dist(where) < 0.3 {
				share += 1 / float64(len(places))
			}
		}
		return share
	}
	before := there(l, first)
	require.Greater(t, before, 0.05)
	for _, tt := range []struct {
		name string
		hole survey.Reading
		gone bool
	}{
		{"deep enough", survey.Reading{Depth: testsite.Metres(1.5)}, true},
		{"on rock", survey.Reading{Depth: testsite.Metres(0.3), Stopped: survey.StopRock}, false},
		{"on rock, not measured", survey.Reading{Stopped: survey.StopRock}, false},
		{"on a line of somebody else", survey.Reading{Depth: testsite.Metres(0.4), Stopped: survey.StopUtility}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			l, plan := stopped(t, at, &tt.hole)
			hole := l.Holes[len(l.Holes)-1]
			require.Equal(t, "N1", hole.Name)
			now := there(l, hole.At)
			if tt.gone {
				assert.Less(t, now, before/3)
			} else {
				assert.InDelta(t, before, now, 0.25*before)
			}
			clear, warned := practice.SameHole, 0
			if tt.hole.Stopped == survey.StopUtility {
				clear = practice.ToleranceZone + hole.Radius
				for _, c := range plan.Cautions {
					if c.Code == finding.UtilityMet {
						warned++
					}
				}
				assert.Equal(t, 1, warned)
			}
			require.NotEmpty(t, plan.Holes)
			for _, h := range plan.Holes {
				assert.GreaterOrEqual(t, h.At.Dist(hole.At), clear)
			}
		})
	}
}
