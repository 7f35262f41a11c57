package locate_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
)

// turnedPaper is a job whose sheet shows two corners of a house and a box, and
// may have been drawn from either side of the paper: only the two corners are
// taped, so that the box lies in front of the wall or behind it.
func turnedPaper(empty int) *survey.Job {
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: asbuilt.ToScale, MirrorUnknown: true}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: asbuilt.Positions(v...)}}})
	}
	add("A", asbuilt.Landmark, asbuilt.Point, geo.Vec{})
	add("B", asbuilt.Landmark, asbuilt.Point, geo.Vec{X: 12})
	add("box", asbuilt.Box, asbuilt.Point, geo.Vec{X: 2, Y: -8})
	add("L1", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: 4, Y: -7}, geo.Vec{X: 20, Y: -7})
	add("L2", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: 4, Y: -9.4}, geo.Vec{X: 20, Y: -9.4})
	metres := func(v float64) *geo.Length { return &geo.Length{Metres: v, Unit: geo.Metre} }
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: s}
	j.Readings = append(j.Readings, survey.Reading{ID: "t", Kind: survey.Tape, From: "A", To: "B", Value: metres(12)})
	for i := range empty {
		name := fmt.Sprintf("E%d", i+1)
		j.Readings = append(j.Readings,
			survey.Reading{ID: name + "a", Kind: survey.Baseline, From: "A", To: "B", Point: name, Value: metres(1.4 + 0.6*float64(i%3)), Offset: metres(7.4 + 0.6*float64(i/3))},
			survey.Reading{ID: name + "b", Kind: survey.Empty, Point: name, Depth: metres(2.5)})
	}
	return j
}

// A sheet that may be mirrored leaves the box in one of two places, with the
// odds of either; empty holes in the one move the odds to the other.
func TestTwoLobesOfAMirroredSheet(t *testing.T) {
	loc := where(t, turnedPaper(0))
	box := loc.Spot("box", asbuilt.Center)
	require.Len(t, box.Lobes, 2)
	assert.InDelta(t, 0.7, box.Lobes[0].Share/(box.Lobes[0].Share+box.Lobes[1].Share), 0.03)
	assert.InDelta(t, 0.3, loc.Posterior.MirroredOdds(), 0.01)
	south, north := box.Lobes[0], box.Lobes[1]
	assert.Less(t, south.At.Dist(geo.Vec{X: 2, Y: -8}), 0.3)
	assert.Less(t, north.At.Dist(geo.Vec{X: 2, Y: 8}), 0.3)
	assert.False(t, box.Most.Contains(box.At), "the mean lies in neither")
	assert.Less(t, box.Most.Area(), math.Pi/3*box.FromLandmarks.SemiMajor*box.FromLandmarks.SemiMinor)

	var out bytes.Buffer
	require.NoError(t, export.LocateJSON(&out, loc, language.English))
	var answer struct {
		Spots []struct {
			Part  string
			Lobes []struct {
				Share, East, North, Radius95 float64
				Outline                      [][2]float64
			}
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &answer))
	lobes := 0
	for _, s := range answer.Spots {
		if s.Part == "box" {
			lobes = len(s.Lobes)
			assert.InDelta(t, -8, s.Lobes[0].North, 0.3)
			assert.Greater(t, len(s.Lobes[0].Outline), 8)
		}
	}
	assert.Equal(t, 2, lobes)

	after := where(t, turnedPaper(9))
	assert.Greater(t, after.Posterior.MirroredOdds(), 0.6)
	assert.Less(t, after.Spot("box", asbuilt.Center).Depth.Mean, 2.5)
	first := after.Spot("box", asbuilt.Center)
	t.Logf("mirrored 30 %% became %.0f %%; excluded %.0f %%; box %v ± %.2f m; %d lobes", 100*after.Posterior.MirroredOdds(), 100*after.Excluded, first.At, first.Landmarks95, len(first.Lobes))
	require.NotEmpty(t, first.Most)
	assert.Empty(t, loc.Learnt)
	assert.Equal(t, finding.MirrorCounts.New(finding.Number("odds", after.Posterior.MirroredOdds())), after.Learnt[1])
	for _, l := range first.Lobes {
		t.Logf("%.2f at %v", l.Share, l.At)
	}
}

func where(t *testing.T, j *survey.Job) *locate.Location {
	t.Helper()
	solved, err := fit.Solve(t.Context(), j)
	require.NoError(t, err)
	loc, err := locate.Locate(t.Context(), j, solved)
	require.NoError(t, err)
	return loc
}
