package record_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/record"
)

func mark(id string, x, y float64) locate.Spot {
	return locate.Spot{Part: id, Kind: asbuilt.Landmark, Spot: asbuilt.Center, State: locate.Seen, At: geo.Vec{X: x, Y: y}, Old: geo.Vec{X: x, Y: y}}
}

// invented returns a job with a box at the origin and the given landmarks.
func invented(old geo.Vec, marks ...locate.Spot) *locate.Location {
	s := math.Sqrt(-2 * math.Log(0.05)) // standard deviations 0.2 m north, 0.1 m east
	box := locate.Spot{Part: "box", Kind: asbuilt.Box, Spot: asbuilt.Center, State: locate.Inferred, Old: old,
		FromLandmarks: geo.Ellipse{SemiMajor: 0.2 * s, SemiMinor: 0.1 * s}, Landmarks95: 0.4}
	return &locate.Location{
		Job: &survey.Job{Settings: survey.DefaultSettings(), Sketch: &asbuilt.Sketch{Permit: "INV-7"}, Readings: []survey.Reading{
			{ID: "r1", Kind: survey.Tape}, {ID: "r2", Kind: survey.Tape}, {ID: "r3", Kind: survey.Found}, {ID: "r4", Kind: survey.Empty},
			{ID: "r5", Kind: survey.Condition, Target: "box", Note: "lid cracked"}, {ID: "r6", Kind: survey.Tape}, {ID: "r7", Kind: survey.Void, Target: "r6"}}},
		Fit: &fit.Fit{Readings: 3}, Frame: survey.Frame{Kind: survey.Local},
		Spots: append(marks, box), Outlines: []locate.Outline{{Part: "box", Kind: asbuilt.Box, State: locate.Inferred}},
	}
}

// TestTies holds that the pair that crosses squarely is chosen, and that sigma
// is the spot's own in the direction of the tape: the axes of the error ellipse
// (Ghilani & Wolf, Adjustment Computations, error ellipses).
func TestTies(t *testing.T) {
	r := record.New(invented(geo.Vec{}, mark("far", 14, 1), mark("east", 10, 0), mark("north", 0, 10), mark("west", -11, 0.5)))
	ties := r.Part("box").Spots[0].Ties
	require.Len(t, ties, 3)
	assert.ElementsMatch(t, []string{"east", "north"}, []string{ties[0].From, ties[1].From})
	for _, tie := range ties[:2] {
		assert.InDelta(t, 10, tie.Distance, 1e-9)
		assert.InDelta(t, map[string]float64{"east": 0.1, "north": 0.2}[tie.From], tie.Sigma, 1e-9)
	}
}

func TestTiesOfFewLandmarks(t *testing.T) {
	for _, marks := range [][]locate.Spot{nil, {mark("A", 3, 4)}} {
		assert.Empty(t, record.New(invented(geo.Vec{}, marks...)).Part("box").Spots[0].Ties, "one circle fixes nothing")
	}
	two := record.New(invented(geo.Vec{}, mark("A", 3, 4), mark("B", 4, -3))).Part("box").Spots[0]
	assert.Len(t, two.Ties, 2)
	assert.InDelta(t, 90, two.Crossing.Degrees(), 1e-9)
}

func TestMoved(t *testing.T) {
	for _, tt := range []struct {
		old          geo.Vec
		north, sheet string
	}{
		{geo.Vec{Y: -1}, "north", "up on the sheet"},
		{geo.Vec{X: -1, Y: -1.1}, "north-east", "up and right on the sheet"},
		{geo.Vec{X: 1}, "west", "left on the sheet"},
		{geo.Vec{X: 0.2, Y: -1}, "north", "up on the sheet"}, // 348.7°, wraps to north
		{geo.Vec{}, "", ""},
	} {
		loc := invented(tt.old)
		assert.Equal(t, tt.sheet, record.New(loc).Parts[0].Spots[0].Toward)
		loc.Fit.RotationKnown = true
		s := record.New(loc).Parts[0].Spots[0]
		assert.Equal(t, tt.north, s.Toward)
		assert.InDelta(t, tt.old.Norm(), s.Moved, 1e-12)
	}
}

// TestWords holds what the record must say. FGDC-STD-007.3-1998
// (NSSDA): accuracy is tested only against 20 or more check points.
func TestWords(t *testing.T) {
	r := record.New(invented(geo.Vec{X: 1}))
	accuracy := strings.Join(finding.Sentences(r.Accuracy, finding.English(geo.Foot)), "\n")
	assert.Contains(t, accuracy, "Estimated")
	assert.Contains(t, accuracy, "not tested")
	assert.Contains(t, accuracy, "FGDC-STD-007.3-1998")
	assert.Contains(t, accuracy, "20 or more check points")
	assert.Contains(t, r.Method, "2 tapes", "the withdrawn one does not count")
	assert.NotEmpty(t, finding.With(r.Limits, finding.NotASurvey))
	assert.Equal(t, "INV-7", r.Permit)
	assert.Equal(t, []record.Condition{{Part: "box", Note: "lid cracked"}}, r.Conditions)
}
