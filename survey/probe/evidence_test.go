package probe_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

func TestNothingToPlan(t *testing.T) {
	_, err := probe.New(t.Context(), nil, nil)
	require.Error(t, err)

	loc, draws := lot(nil)
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Empty(t, plan.Holes)
	assert.Equal(t, finding.NoDraws, plan.Remark[0].Code)

	loc, draws = lot(cloud(100, geo.Vec{}, 0.3))
	loc.Job.Settings.Seek = "tank"
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Empty(t, plan.Holes)
	assert.Equal(t, finding.NoneToSeek.New(finding.Parts("tank")), plan.Remark[0])
}

// What has been met is not dug for again, but a hole on something else does
// not end the search.
func TestMetAlready(t *testing.T) {
	loc, draws := lot(cloud(100, geo.Vec{}, 0.3))
	loc.Holes = []locate.Hole{{Name: "H1", Met: "L1"}}
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.NotEmpty(t, plan.Holes)

	loc.Holes = append(loc.Holes, locate.Hole{Name: "H2", Met: "box"})
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Empty(t, plan.Holes)
	assert.Equal(t, "H2", plan.Remark[0].Words["hole"])
}

// A part wholly within a clearance can still be met at its edge from outside
// it, where its disc reaches out; one farther in cannot.
func TestBesideAClearance(t *testing.T) {
	none := locate.Outline{Part: "tree", Kind: asbuilt.NoDig, Now: []geo.Outline{{Closed: true,
		Vertices: []geo.Vec{{X: -5, Y: -5}, {X: 0, Y: -5}, {X: 0, Y: 5}, {X: -5, Y: 5}}}}}
	loc, draws := lot(cloud(500, geo.Vec{X: -0.05}, 0.02), none)
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes)
	assert.Greater(t, plan.Holes[0].At.X, 0.15, "clear of it by the hole's radius")
	assert.Greater(t, plan.ChanceNext, 0.5)
	assert.Equal(t, []string{"tree"}, finding.With(plan.Holes[0].Cautions, finding.ClearanceNear)[0].Parts)

	loc, draws = lot(cloud(500, geo.Vec{X: -2}, 0.02), none)
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Empty(t, plan.Holes)
	assert.NotEmpty(t, plan.Remark)
}

// Landmarks in the same place set nothing out, and must not make a hole count
// as clear.
func TestUselessLandmarks(t *testing.T) {
	gas := locate.Outline{Part: "gas", Kind: asbuilt.Utility, Clearance: 3,
		Now: []geo.Outline{{Vertices: []geo.Vec{{X: -9}, {X: 9}}}}}
	loc, draws := lot(cloud(200, geo.Vec{Y: 0.2}, 0.3), gas)
	loc.Spots[1].At = loc.Spots[0].At
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Empty(t, plan.Holes)

	loc, draws = lot(cloud(200, geo.Vec{}, 0.3))
	loc.Spots[1].At = loc.Spots[0].At
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes)
	assert.Empty(t, plan.Holes[0].Ties)
	assert.NotEmpty(t, finding.With(plan.Holes[0].Cautions, finding.FewLandmarks))
}

// A straight line known to within a normal error across it: the chance is that
// of a normal deviate within half a trench and a hole, 2Φ(r/σ) − 1 (any table
// of the normal distribution).
func TestLateral(t *testing.T) {
	loc, draws := lot(cloud(10000, geo.Vec{}, 0.5))
	loc.Job.Settings.Seek = "lateral"
	loc.Job.Sketch.Parts = append(loc.Job.Sketch.Parts, asbuilt.Part{ID: "L1", Kind: asbuilt.Lateral})
	draws.Lines = map[string][][]geo.Vec{}
	ends := asbuilt.SpotName{Part: "L1", Spot: asbuilt.End}
	for _, v := range draws.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}] {
		far := geo.Vec{X: 15, Y: v.Y}
		draws.Lines["L1"] = append(draws.Lines["L1"], []geo.Vec{{Y: v.Y}, {X: 6, Y: v.Y}, far})
		draws.Spots[ends] = append(draws.Spots[ends], far)
	}
	plan, err := probe.Options{Greedy: true}.Plan(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes)
	r := 0.9144/2 + 0.15
	assert.InDelta(t, 0.97*math.Erf(r/(0.5*math.Sqrt2)), plan.ChanceNext, 0.02)
	assert.InDelta(t, 0, plan.Holes[0].At.Y, 0.15)

	loc.Job.Settings.Seek = "L1.end"
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes)
	assert.InDelta(t, 15, plan.Holes[0].At.X, 0.65)
	assert.Equal(t, "L1.end", plan.Holes[0].Seeks[0])

	// Lines without places, and places that are not finite, give an empty plan.
	for i := range draws.Lines["L1"] {
		draws.Lines["L1"][i] = nil
		draws.Spots[ends][i] = geo.Vec{X: math.NaN()}
	}
	for _, seek := range []string{"lateral", "L1.end"} {
		loc.Job.Settings.Seek = seek
		plan, err = probe.New(t.Context(), loc, draws)
		require.NoError(t, err)
		assert.Empty(t, plan.Holes)
		assert.NotEmpty(t, plan.Remark)
	}
}

// The ties as they are printed, read again and swung from their landmarks, put
// no hole within a clearance either. The circles are intersected here by
// Newton's method, which is independent of the plan's own formula.
func TestPrintedTiesStayClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-4, 4).Draw(t, "x")
		gas := locate.Outline{Part: "gas", Kind: asbuilt.Utility, Clearance: rapid.Float64Range(0, 1.5).Draw(t, "clearance"),
			Now: []geo.Outline{{Vertices: []geo.Vec{{X: x, Y: -6}, {X: -x, Y: 6}}}}}
		loc, draws := lot(cloud(200, geo.Vec{X: x / 2}, 0.8), gas)
		unit := rapid.SampledFrom([]geo.Unit{geo.Foot, geo.Metre}).Draw(t, "unit")
		loc.Job.Settings.Unit = unit
		plan, err := probe.New(t.Context(), loc, draws)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range plan.Holes {
			if h.At != (geo.Vec{X: math.Round(h.At.X*100) / 100, Y: math.Round(h.At.Y*100) / 100}) {
				t.Fatalf("%v is not in whole centimetres", h.At)
			}
			var marks []geo.Vec
			var tapes []float64
			for _, tie := range h.Ties[:2] {
				marks = append(marks, loc.Spot(tie.From, asbuilt.Center).At)
				l, err := geo.ParseLength(geo.FormatLength(tie.Distance, unit), unit)
				if err != nil {
					t.Fatal(err)
				}
				tapes = append(tapes, l.Metres)
			}
			v := h.At
			for range 20 {
				a, b := v.Sub(marks[0]), v.Sub(marks[1])
				fa, fb := a.Norm()-tapes[0], b.Norm()-tapes[1]
				ua, ub := a.Unit(), b.Unit()
				det := ua.Cross(ub)
				v = v.Sub(geo.Vec{X: (fa*ub.Y - fb*ua.Y) / det, Y: (fb*ua.X - fa*ub.X) / det})
			}
			s := gas.Now[0]
			if d := (geo.Outline{Vertices: s.Vertices}).Distance(v); d <= gas.Clearance+loc.Job.Settings.Hole.Radius {
				t.Fatalf("the ties of hole %d put it at %v, %.3f m from gas with clearance %.3f", h.Rank, v, d, gas.Clearance)
			}
		}
	})
}

// A crew that may dig no deeper than a hand's breadth cannot count on meeting
// the box.
func TestDepthLimit(t *testing.T) {
	loc, draws := site(t, "demo")
	loc.Job.Settings.Hole.DepthLimit = 0
	likeliest := probe.Options{Greedy: true, Holes: 1, Levels: -1, Plays: -1}
	free, err := likeliest.Plan(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, free.Holes)
	loc.Job.Settings.Hole.DepthLimit = free.Holes[0].Depth.Mean // the box is as likely above it as below
	half, err := likeliest.Plan(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, half.Holes)
	assert.InDelta(t, free.ChanceNext/2, half.ChanceNext, 0.1*free.ChanceNext)
	assert.LessOrEqual(t, half.Holes[0].StopDepth, loc.Job.Settings.Hole.DepthLimit)
	assert.NotEmpty(t, finding.With(half.Holes[0].Cautions, finding.DepthLimited))
}

// A crew that has dug where nearly all of the belief lay gets a remark that
// says how much it was and what would help more; one that has just begun gets
// none.
func TestWhenToStop(t *testing.T) {
	wide := cloud(500, geo.Vec{X: 0, Y: -4}, 4)
	loc, draws := lot(wide)
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Empty(t, finding.With(plan.Remark, finding.MostlySearched))
	assert.NotEmpty(t, finding.With(plan.Remark, finding.OutletHelps), "eight holes do not do here")

	loc.Promised = 0.87
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Contains(t, plan.Remark, finding.MostlySearched.New(finding.Number("share", 0.87), finding.Parts("box")))
	for _, way := range []finding.Code{finding.OutletHelps, finding.LandmarkHelps, finding.TapesHelp} {
		assert.NotEmpty(t, finding.With(plan.Remark, way), way)
	}
	assert.Empty(t, finding.With(plan.Cautions, finding.BeliefUsedUp))

	loc.Promised = 0.97
	loc.Job.Sketch.Parts = append(loc.Job.Sketch.Parts,
		asbuilt.Part{ID: "T", Kind: asbuilt.Tank, Shapes: []asbuilt.Shape{{Vertices: []asbuilt.Position{{X: 3}}}}},
		asbuilt.Part{ID: "P7", Kind: asbuilt.Port, Shapes: []asbuilt.Shape{{Vertices: []asbuilt.Position{{X: 5}}}}})
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Contains(t, plan.Cautions, finding.BeliefUsedUp.New(finding.Number("share", 0.97)))
	assert.Contains(t, plan.Remark, finding.CameraHelps.New(finding.Parts("T")))
	assert.Contains(t, plan.Remark, finding.PortHelps.New(finding.Parts("P7")))
}
