package locate_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/testdata/must"
)

// anyJob draws a job that is valid but makes little sense.
func anyJob(t *rapid.T) *survey.Job {
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Ratio: 1,
		Unit:  rapid.SampledFrom([]geo.Unit{geo.Foot, geo.Metre, geo.Pixel, geo.Millimetre}).Draw(t, "unit"),
		Trust: rapid.SampledFrom([]asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}).Draw(t, "trust")}
	s.MirrorUnknown = rapid.Bool().Draw(t, "mirror")
	if rapid.Bool().Draw(t, "up") {
		s.Up = &asbuilt.Up{Bearing: geo.Degrees(rapid.Float64Range(0, 360).Draw(t, "bearing")), Sigma: geo.Degrees(10)}
	}
	at := func() geo.Vec {
		return geo.Vec{X: float64(rapid.IntRange(-60, 60).Draw(t, "x")), Y: float64(rapid.IntRange(-60, 60).Draw(t, "y"))}
	}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: asbuilt.Positions(v...)}}})
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "landmarks") {
		add(string(rune('A'+i)), asbuilt.Landmark, asbuilt.Point, at())
	}
	add("box", asbuilt.Box, asbuilt.Point, at())
	for i := range rapid.IntRange(0, 3).Draw(t, "laterals") {
		a := at()
		add(fmt.Sprintf("L%d", i+1), asbuilt.Lateral, asbuilt.Line, a, a.Add(geo.Vec{X: 1}).Add(at()))
	}
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: s}
	name := func() string {
		return rapid.SampledFrom([]string{"A", "B", "C", "box", "H1", "H2", "H3"}).Draw(t, "name")
	}
	length := func(least float64) *geo.Length {
		return &geo.Length{Metres: rapid.Float64Range(least, 90).Draw(t, "length"), Unit: geo.Metre}
	}
	for i := range rapid.IntRange(0, 10).Draw(t, "readings") {
		r := survey.Reading{ID: fmt.Sprintf("r%d", i+2), Kind: rapid.SampledFrom([]survey.Kind{survey.GNSS, survey.Tape, survey.Baseline, survey.Bearing,
			survey.Cable, survey.Found, survey.Empty, survey.Followed, survey.Rod, survey.Level, survey.Sonde, survey.Sign}).Draw(t, "kind")}
		hole := rapid.SampledFrom([]string{"H1", "H2", "H3"}).Draw(t, "hole")
		switch r.Kind {
		case survey.GNSS:
			r.Point, r.Accuracy = name(), rapid.Float64Range(0.01, 20).Draw(t, "accuracy")
			r.Position, _ = geodesy.New(-123.4+rapid.Float64Range(-1e-3, 1e-3).Draw(t, "lon"), -48.9+rapid.Float64Range(-1e-3, 1e-3).Draw(t, "lat"))
		case survey.Found:
			r.Point, r.Target, r.Depth = hole, rapid.SampledFrom([]string{"box", "L1", "L2", "lateral"}).Draw(t, "target"), length(0)
		case survey.Empty:
			r.Point, r.Depth = hole, length(0)
		case survey.Followed:
			r.From, r.To, r.Target = hole, rapid.SampledFrom([]string{"H1", "H2", "H3"}).Draw(t, "to"), rapid.SampledFrom([]string{"L1", "L2", "lateral", "header"}).Draw(t, "target")
		case survey.Sonde:
			r.Point, r.Target, r.Depth = hole, rapid.SampledFrom([]string{"box", "L1", "L2.end", "lateral", "pipe"}).Draw(t, "target"), length(0)
		case survey.Sign:
			r.From, r.To, r.Target = hole, rapid.SampledFrom([]string{"H1", "H2", "H3"}).Draw(t, "to"), rapid.SampledFrom([]string{"L1", "lateral", "header"}).Draw(t, "target")
		case survey.Cable:
			ends := []string{"A", "box", "H1", "H2", "L1.end", "L2.start"}
			r.From, r.To, r.Value = rapid.SampledFrom(ends).Draw(t, "from"), rapid.SampledFrom(ends).Draw(t, "to"), length(0.01)
		case survey.Rod:
			r.Depth, r.Target = length(0), rapid.SampledFrom([]string{"none", "contact", "L1", "lateral", "header", "box"}).Draw(t, "target")
			if r.Stabs = rapid.SampledFrom([]int{0, 2, 20}).Draw(t, "stabs"); r.Stabs == 0 {
				r.Point = name()
			} else {
				r.From, r.To = name(), name()
			}
		case survey.Level:
			r.Point, r.Value = hole, length(-90)
		case survey.Baseline:
			r.From, r.To, r.Point, r.Value, r.Offset = name(), name(), hole, length(-90), length(-90)
		default:
			r.From, r.To, r.Value = name(), name(), length(0.01)
			r.Azimuth, r.North = geo.Degrees(rapid.Float64Range(0, 360).Draw(t, "azimuth")), survey.TrueNorth
		}
		j.Readings = append(j.Readings, r)
	}
	return j
}

// Any valid job gets an answer of finite numbers or an error, never a panic,
// and so does its plan.
func TestAnyJob(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		solved, err := fit.Solve(t.Context(), j)
		if err != nil {
			return
		}
		loc, err := locate.Locate(t.Context(), j, solved)
		if err != nil {
			return
		}
		for _, s := range loc.Spots {
			for _, v := range []float64{s.At.X, s.At.Y, s.Radius95, s.Landmarks95, s.Ellipse.SemiMajor, s.Old.X, s.Old.Y} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s %s: %+v", s.Part, s.Spot, s)
				}
			}
			if s.Depth != nil && !(s.Depth.Sigma >= 0) {
				t.Fatalf("%s %s: depth %+v", s.Part, s.Spot, *s.Depth)
			}
		}
		if _, err := probe.New(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 50))); err != nil {
			t.Fatal(err)
		}
	})
}

// A bearing and a baseline run from A to B, C and A lie in one spot by tape, and
// a tape of 87 m leads to a hole beside A: nothing fits, by a factor of odds that
// no floating-point number holds. The answer still has finite numbers, and says
// that it must not be trusted.
func TestNothingFitsByFar(t *testing.T) {
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Ratio: 1, Unit: geo.Metre, Trust: asbuilt.ToScale, Up: &asbuilt.Up{Bearing: geo.Degrees(0), Sigma: geo.Degrees(10)}}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: asbuilt.Positions(v...)}}})
	}
	add("A", asbuilt.Landmark, asbuilt.Point, geo.Vec{Y: 35})
	add("B", asbuilt.Landmark, asbuilt.Point, geo.Vec{X: 2, Y: -22})
	add("C", asbuilt.Landmark, asbuilt.Point, geo.Vec{X: -6, Y: -25})
	add("box", asbuilt.Box, asbuilt.Point, geo.Vec{X: 17, Y: -1})
	add("L1", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: -3, Y: 1}, geo.Vec{X: 52, Y: 3})
	add("L2", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: -21, Y: -9}, geo.Vec{X: -22, Y: -68})
	add("L3", asbuilt.Lateral, asbuilt.Line, geo.Vec{X: 12, Y: -49}, geo.Vec{X: 12, Y: -42})
	metres := func(m float64) *geo.Length { return &geo.Length{Metres: m, Unit: geo.Metre} }
	position, ok := geodesy.New(-123.4, -48.9)
	require.NoError(t, ok)
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: s, Readings: []survey.Reading{
		{ID: "r2", Kind: survey.Tape, From: "H1", To: "A", Value: metres(86.85)},
		{ID: "r3", Kind: survey.Bearing, From: "A", To: "B", Azimuth: geo.Degrees(0.0146), North: survey.TrueNorth},
		{ID: "r4", Kind: survey.Baseline, From: "A", To: "B", Point: "H1", Value: metres(0.065), Offset: metres(0)},
		{ID: "r6", Kind: survey.Bearing, From: "H1", To: "C", Azimuth: geo.Degrees(360), North: survey.TrueNorth},
		{ID: "r7", Kind: survey.Bearing, From: "B", To: "C", Azimuth: geo.Degrees(12.62), North: survey.TrueNorth},
		{ID: "r8", Kind: survey.GNSS, Point: "C", Accuracy: 0.129, Position: position},
		{ID: "r9", Kind: survey.Tape, From: "C", To: "A", Value: metres(0.0107)},
	}}
	solved, err := fit.Solve(t.Context(), j)
	require.NoError(t, err)
	assert.NotNil(t, solved.Doubtful)
	loc, err := locate.Locate(t.Context(), j, solved)
	require.NoError(t, err)
	for _, s := range loc.Spots {
		assert.True(t, s.At.Finite(), "%s %s: %v", s.Part, s.Spot, s.At)
		assert.False(t, math.IsNaN(s.Radius95+s.Landmarks95), "%s %s", s.Part, s.Spot)
	}
}
