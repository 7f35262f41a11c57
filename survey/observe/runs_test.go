package observe_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/observe"
)

// Directions read on the face of a clock whose 12 is the point faced: 3:00 is 90°
// to the right of it, as on any clock. Where water was not seen to flow, a line
// has two ends. Angles by hand.
func TestDirectionOfALine(t *testing.T) {
	north, east, west := geo.Vec{Y: 10}, geo.Vec{X: 3}, geo.Vec{X: -2}
	for _, tt := range []struct {
		name        string
		runs, sigma float64
		flow        survey.Flow
		facing      string
		line        geo.Vec
		toward      geo.Vec
		off         float64
	}{
		{"facing north, to the right: east", 90, 6, survey.FlowAlong, "A", east, north, 0},
		{"the other way", 90, 6, survey.FlowAlong, "A", west, north, 180},
		{"water comes from there", 90, 6, survey.FlowAgainst, "A", west, north, 0},
		{"either end", 90, 6, "", "A", west, north, 0},
		{"facing east, to the right: south", 90, 6, survey.FlowAlong, "A", geo.Vec{Y: -1}, east, 0},
		{"10° further clockwise than read", 80, 6, "", "A", east, north, 10},
		{"either end, across the cut", 175, 6, "", "A", geo.Vec{X: math.Sin(math.Pi / 36), Y: math.Cos(math.Pi / 36)}, north, 10},
		{"by true north", 90, 6, "", "true", east, geo.Vec{}, 0},
		// East declination: the needle points 10° east of north, so what it reads as 80° is 90° (the rule of every compass manual).
		{"by the needle", 80, math.Hypot(6, 2), "", "magnetic", east, geo.Vec{}, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a := geo.Degrees(tt.runs)
			l := &observe.Log{Job: &survey.Job{Settings: survey.Settings{Declination: geo.Degrees(10)}}, North: true}
			d, ok := l.Runs(&survey.Reading{Kind: survey.Found, Runs: &a, Facing: tt.facing, Flow: tt.flow})
			assert.True(t, ok)
			assert.InDelta(t, tt.sigma, geo.Radians(d.Sigma).Degrees(), 1e-9)
			off := geo.Radians(d.Off(tt.line, tt.toward)).Degrees()
			assert.InDelta(t, tt.off, math.Abs(off), 1e-9)
			if tt.off > 0 && tt.off < 180 {
				assert.Positive(t, off, "clockwise")
			}
		})
	}
	a := geo.Degrees(90)
	l := &observe.Log{Job: &survey.Job{}}
	_, ok := l.Runs(&survey.Reading{Kind: survey.Found, Runs: &a, Facing: "true"})
	assert.False(t, ok, "nothing tells where north is")
	_, ok = l.Runs(&survey.Reading{Kind: survey.Found})
	assert.False(t, ok, "no direction was seen")
}

// What a tired person writes wrong about a direction.
func TestDirectionsThatCannotBe(t *testing.T) {
	for _, tt := range []struct{ target, facing, want string }{
		{"L1", "A", ""},
		{"lateral", "H0", ""},
		{"box", "A", "the target is no line"},
		{"L1", "H1", "another point than the hole itself"},
		{"L1", "a", "did you mean A?"},
		{"L1", "L2", "which is no single point"},
		{"L1", "true", "nothing in this job tells where north is"},
		{"L1", "magnetic", "nothing in this job tells where north is"},
	} {
		t.Run(tt.target+" facing "+tt.facing, func(t *testing.T) {
			a := geo.Degrees(90)
			j := directed()
			j.Readings = append(j.Readings, survey.Reading{ID: "y", Kind: survey.Found, Point: "H1", Target: tt.target, Runs: &a, Facing: tt.facing})
			says := observe.Check(j).Error()
			if tt.want == "" {
				assert.Empty(t, observe.Check(j))
				return
			}
			assert.Contains(t, says, tt.want)
		})
	}
	north := directed()
	a := geo.Degrees(90)
	north.Readings = append(north.Readings, survey.Reading{ID: "b", Kind: survey.Bearing, From: "A", To: "H1", North: survey.TrueNorth},
		survey.Reading{ID: "y", Kind: survey.Found, Point: "H1", Target: "L1", Runs: &a, Facing: "true"})
	assert.Empty(t, observe.Check(north))
}

// directed returns a lot of two trenches, a box and two holes, without north.
func directed() *survey.Job {
	part := func(id string, kind asbuilt.Kind, form asbuilt.Form, at ...geo.Vec) asbuilt.Part {
		return asbuilt.Part{ID: id, Kind: kind, Shapes: []asbuilt.Shape{{Form: form, Vertices: asbuilt.Positions(at...)}}}
	}
	return &survey.Job{Settings: survey.Settings{Seek: "box"}, Sketch: &asbuilt.Sketch{Parts: []asbuilt.Part{
		part("A", asbuilt.Landmark, asbuilt.Point, geo.Vec{}), part("B", asbuilt.Landmark, asbuilt.Point, geo.Vec{X: 10}),
		part("box", asbuilt.Box, asbuilt.Point, geo.Vec{X: 5, Y: -5}),
		part("L1", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: 6, Y: -6}, geo.Vec{X: 20, Y: -6}),
		part("L2", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: 6, Y: -8}, geo.Vec{X: 20, Y: -8}),
	}}, Readings: []survey.Reading{
		{ID: "t1", Kind: survey.Tape, From: "A", To: "H1", Value: &geo.Length{Metres: 9}},
		{ID: "t2", Kind: survey.Tape, From: "B", To: "H1", Value: &geo.Length{Metres: 9}},
		{ID: "t3", Kind: survey.Tape, From: "A", To: "H0", Value: &geo.Length{Metres: 7}},
	}}
}
