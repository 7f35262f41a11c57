package rehearse_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/playout"
	"asfound/survey/posterior"
	"asfound/survey/probe"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// invented returns an invented job, located, and draws of it.
func invented(t require.TestingT, o simulate.Order, ways int) (*locate.Location, *posterior.Draws) {
	job := simulate.Invent(o).Job
	solved, err := fit.Solve(context.Background(), job)
	require.NoError(t, err)
	loc, err := locate.Locate(context.Background(), job, solved)
	require.NoError(t, err)
	return loc, must.Have(loc.Posterior.Draws(context.Background(), ways))
}

// The plan and the rehearsal of a job agree on the expected number of holes, within
// three standard errors of the plays of both, and all jobs together within what
// chance explains with 99 %: the sum of the squares is chi-square distributed
// (NIST/SEMATECH e-Handbook, 1.3.6.7.4). And the first hole meets what is sought as
// often as the plan says, within three standard errors of the rehearsal's. Two
// models of what a hole meets, or a formula in place of plays, fail this test:
// tried.
func TestPlanAndRehearsalAgree(t *testing.T) {
	const planned, plays = 600, 1200
	squares, jobs := 0.0, 0
	check := func(name string, loc *locate.Location, draws *posterior.Draws) {
		plan, err := probe.Options{Holes: 1, Plays: planned}.Plan(t.Context(), loc, draws)
		require.NoError(t, err)
		s, _ := probe.NewSite(loc, draws)
		r := must.Have(playout.Play(t.Context(), s, plan.Script(s), playout.Options{Plays: plays}))
		mean, square := r.Mean(), 0.0
		for _, n := range r.Holes {
			square += (n - mean) * (n - mean) / plays
		}
		off := (plan.ExpectedHoles - mean) / math.Sqrt(square/planned+square/plays)
		first, p := float64(r.Count[0])/plays, plan.ChanceNext
		if plan.Follow != nil { // before any hole
			p = plan.Follow.Chance
		}
		t.Logf("%-20s plan %5.2f, rehearsal %5.2f, %4.1f standard errors; first hole %.3f, %.3f", name, plan.ExpectedHoles, mean, off, p, first)
		assert.InDelta(t, 0, off, 3, name)
		assert.InDelta(t, p, first, 3*math.Sqrt(p*(1-p)/plays)+0.01, name)
		squares, jobs = squares+off*off, jobs+1
	}
	for _, name := range []string{"demo", "two-tapes", "day-before", "metric-gnss"} {
		loc, draws, _ := site(t, name)
		check(name, loc, draws)
	}
	if testing.Short() {
		return
	}
	for i, o := range []simulate.Order{
		{Trust: asbuilt.ToScale, Mix: simulate.Tapes},
		{Trust: asbuilt.ToScale, Mix: simulate.Fixes, Holes: 1},
		{Trust: asbuilt.Roughly, Mix: simulate.Tapes},
		{Trust: asbuilt.Roughly, Mix: simulate.Tapes, Holes: 3},
	} {
		o.Seed = uint64(40 + i)
		loc, draws := invented(t, o, 1500)
		check(fmt.Sprintf("%s, %d holes", o.Trust, o.Holes), loc, draws)
	}
	require.Equal(t, 8, jobs)
	assert.Less(t, squares, 20.09, "χ²(0.99; 8)")
}

// A rehearsal digs nowhere that a plan may not: with a gas line and a well laid
// through the field, and holes dug before, every hole that is played keeps the
// clearances, worked out here by plane geometry, and lies beside every old one.
func TestNeverDigsWhereThePlanForbids(t *testing.T) {
	digs := 0
	rapid.Check(t, func(t *rapid.T) {
		loc, draws := invented(t, simulate.Order{Seed: rapid.Uint64Range(1, 1000).Draw(t, "seed"), Trust: asbuilt.Roughly, Mix: simulate.Tapes,
			Holes: rapid.IntRange(0, 2).Draw(t, "holes")}, 120)
		box := loc.Spot("box", asbuilt.Center).At
		near := func(name string) geo.Vec {
			return box.Add(geo.Vec{X: rapid.Float64Range(-4, 4).Draw(t, name+"x"), Y: rapid.Float64Range(-4, 4).Draw(t, name+"y")})
		}
		at, way := near("line"), near("a").Sub(near("b")).Unit()
		gas := locate.Outline{Part: "gas", Kind: asbuilt.Utility, Clearance: rapid.Float64Range(0.1, 1).Draw(t, "clearance"), Sigma: rapid.Float64Range(0, 0.3).Draw(t, "sigma"),
			Now: []geo.Outline{{Vertices: []geo.Vec{at.Sub(way.Scale(40)), at.Add(way.Scale(40))}}}}
		well := locate.Outline{Part: "W", Kind: asbuilt.Well, Now: []geo.Outline{{Vertices: []geo.Vec{near("well")}}}}
		loc.Outlines = append(loc.Outlines, gas, well)
		loc.Job.Settings.Follow = &survey.Following{Loses: 1} // so that there is more to dig
		plan, err := probe.Options{Holes: 1, Levels: -1, Plays: -1}.Plan(t.Context(), loc, draws)
		if err != nil {
			t.Fatal(err)
		}
		s, _ := probe.NewSite(loc, draws)
		if len(plan.Holes) == 0 {
			t.Skip("no hole may be dug")
		}
		gasLine, wellSpot := geo.Outline{Vertices: gas.Now[0].Vertices}, well.Now[0].Vertices[0]
		old := len(s.Ground.Dug)
		playout.Play(t.Context(), s, plan.Script(s), playout.Options{Plays: 12, Watch: func(h encounter.Hole) {
			digs++
			if d := gasLine.Distance(h.At) - h.Radius; d <= gas.Clearance+3*gas.Sigma {
				t.Fatalf("a hole %.3f m from a gas line that wants %.3f", d, gas.Clearance+3*gas.Sigma)
			}
			if d := wellSpot.Dist(h.At) - h.Radius; d <= 1 {
				t.Fatalf("a hole %.3f m from a well", d)
			}
			for _, v := range s.Ground.Dug {
				if d := v.Dist(h.At); d < 0.25 {
					t.Fatalf("a hole %.3f m from one that has been dug", d)
				}
			}
		}})
		if len(s.Ground.Dug) != old {
			t.Fatal("holes of a play are left on the ground")
		}
	})
	assert.Greater(t, digs, 1000)
}
