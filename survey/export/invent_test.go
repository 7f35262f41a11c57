package export_test

import (
	"bytes"
	"encoding/json"
	"io"
	"io/fs"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/testdata/sites"
)

// quillback returns an invented location with a landmark, a box and a lateral,
// and a plan of one hole. Its numbers are made up, and chosen to need rounding.
func quillback(t *testing.T, geodetic bool) (*locate.Location, *probe.Plan) {
	t.Helper()
	set := survey.DefaultSettings()
	set.Title = "Quillback Lane, lot 7"
	point := func(x, y float64) []asbuilt.Shape {
		return []asbuilt.Shape{{Form: asbuilt.Point, Vertices: []asbuilt.Position{{X: x, Y: y}}}}
	}
	line := []geo.Vec{{X: 10, Y: -5}, {X: 28, Y: -6}}
	lateral := []asbuilt.Shape{{Form: asbuilt.Line, Vertices: asbuilt.Positions(line...)}}
	lies := func(vs ...geo.Vec) []geo.Outline { return []geo.Outline{{Vertices: vs}} }
	length, err := geo.ParseLength("60 ft", geo.Foot)
	require.NoError(t, err)
	sketch := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Foot, Ratio: 1, Trust: asbuilt.Roughly, Parts: []asbuilt.Part{
		{ID: "A", Kind: asbuilt.Landmark, Name: "south corner <of the barn>", Shapes: point(0, 0)},
		{ID: "B", Kind: asbuilt.Landmark, Shapes: point(40, 0)},
		{ID: "box", Kind: asbuilt.Box, Shapes: point(30, -15)},
		{ID: "L1", Kind: asbuilt.Lateral, Shapes: lateral, Length: &length},
	}}
	tape, err := geo.ParseLength(`31'2"`, geo.Foot)
	require.NoError(t, err)
	l := &locate.Location{
		Job: &survey.Job{Settings: set, Sketch: sketch, Readings: []survey.Reading{{ID: "r1", Kind: survey.Tape, From: "A", To: "B", Value: &tape}}},
		Fit: &fit.Fit{Readings: 4, Unknowns: 12, Redundancy: 1.23456789, VarianceFactor: 0.9, GlobalP: 0.4, Scale: 0.3048, ScaleSigma: 0.01,
			Rotation: geo.Degrees(-5), RotationSigma: geo.Degrees(3), Suspects: []fit.Suspect{{Reading: "r1", Statistic: 4.2, Blunder: finding.FootLong.New(), Odds: 0.96, Cause: 0.99, Instead: `31' 2"`, Better: 24, Sought: "box", Moves: 0.07, Toward: geo.Degrees(140)}},
			Residuals: []fit.Residual{{Reading: "r1", What: "tape A → B", Observed: 9.5, Fitted: 9.25, Sigma: 0.03, Detectable: math.Inf(1)}}},
		Frame: survey.Frame{Kind: survey.Local, Notes: []finding.Finding{finding.FrameError.New(finding.Word("why", "laid on the landmarks"))}},
	}
	if geodetic {
		p, err := geodesy.New(-123.4, -48.9)
		require.NoError(t, err)
		l.Frame = survey.Frame{Kind: survey.Geodetic, Site: geodesy.NewSite(p, 0), Notes: []finding.Finding{finding.FrameError.New(finding.Word("why", "north up"))}}
	}
	l.Fit.Frame = l.Frame
	add := func(id string, kind asbuilt.Kind, spot asbuilt.Spot, state locate.State, at geo.Vec, sigma float64) {
		s := locate.Spot{Part: id, Kind: kind, Spot: spot, State: state, At: at, Old: at.Add(geo.Vec{X: -0.5, Y: 0.5})}
		s.FromLandmarks = geo.Ellipse{SemiMajor: 2.4477 * sigma, SemiMinor: 1.2 * sigma, Bearing: geo.Degrees(70)}
		s.Ellipse, s.Landmarks95, s.Radius95 = geo.Ellipse{SemiMajor: 3, SemiMinor: 2}, 2.1*sigma, 2.7
		if kind != asbuilt.Landmark {
			s.Depth = &locate.Depth{Mean: 0.61234, Sigma: 0.08, Feature: survey.Top}
		}
		l.Spots = append(l.Spots, s)
	}
	add("A", asbuilt.Landmark, asbuilt.Center, locate.Seen, geo.Vec{}, 0.02)
	add("B", asbuilt.Landmark, asbuilt.Center, locate.Seen, geo.Vec{X: 12.19212345, Y: 0.1}, 0.02)
	add("box", asbuilt.Box, asbuilt.Center, locate.Seen, geo.Vec{X: 9.5, Y: -5}, 0.1)
	add("L1", asbuilt.Lateral, asbuilt.Start, locate.Inferred, line[0], 0.4)
	add("L1", asbuilt.Lateral, asbuilt.End, locate.Seen, line[1], 0.1)
	for _, s := range l.Spots[:3] {
		l.Outlines = append(l.Outlines, locate.Outline{Part: s.Part, Kind: s.Kind, State: s.State, Now: lies(s.At), Old: lies(s.Old), Sigma: 0.1})
	}
	l.Outlines = append(l.Outlines, locate.Outline{Part: "L1", Kind: asbuilt.Lateral, State: locate.Seen, Now: lies(line...), Old: lies(line...), Sigma: 0.3})
	l.Corridors = []locate.Corridor{{Part: "L1", Kind: asbuilt.Lateral, State: locate.Seen, Line: line, Half: []float64{1.2, 0.6}, Width: 0.9,
		Depth: make([]locate.Depth, 2)}}
	depth := 0.7
	l.Holes = []locate.Hole{{Name: "H1", At: line[1], Radius: 0.15, Met: "L1", Spot: asbuilt.End, Depth: &depth}, {Name: "H2", At: geo.Vec{X: 3, Y: -4}, Radius: 0.15}}
	plan := &probe.Plan{Seek: "box", ExpectedHoles: 1.5, ChanceNext: 0.6, Holes: []probe.Proposal{{
		Rank: 1, At: geo.Vec{X: 9.4, Y: -5.1}, To: geo.Vec{X: 9.4, Y: -5.1}, Chance: 0.6, Seeks: []string{"box", "L1"}, Depth: locate.Depth{Mean: 0.6, Sigma: 0.08, Feature: survey.Top}, StopDepth: 0.9,
		Ties: []probe.SetOut{{From: "A", Distance: 10.69532, Sigma: 0.04}, {From: "B", Distance: 5.9, Sigma: 0.03}}, Cautions: []finding.Finding{finding.NearWell.New(finding.Parts("W"))},
	}}}
	return l, plan
}

// locatedSite reads, fits and locates one of the invented jobs.
func locatedSite(t *testing.T, name string) *locate.Location {
	t.Helper()
	fsys, err := fs.Sub(sites.Folders, name)
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	l, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	return l
}

var names = []string{"demo", "metric-gnss", "two-tapes", "day-before"}

// text returns what write writes, and holds it to writing the same twice.
func text(t *testing.T, write func(w io.Writer) error) string {
	t.Helper()
	var a, b bytes.Buffer
	require.NoError(t, write(&a))
	require.NoError(t, write(&b))
	require.Equal(t, a.String(), b.String(), "the same input makes the same bytes")
	return a.String()
}

// parsed returns JSON as a map.
func parsed(t *testing.T, s string) map[string]any {
	t.Helper()
	var m map[string]any
	require.NoError(t, json.Unmarshal([]byte(s), &m))
	return m
}
