package probe_test

import (
	"io/fs"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
	"asfound/testdata/must"
	"asfound/testdata/sites"
)

// lot is an invented lot with two landmarks and a box believed at the given
// places.
func lot(box []geo.Vec, more ...locate.Outline) (*locate.Location, *posterior.Draws) {
	s := &asbuilt.Sketch{Parts: []asbuilt.Part{{ID: "box", Kind: asbuilt.Box, Shapes: []asbuilt.Shape{{Vertices: []asbuilt.Position{{}}}}}}}
	job := &survey.Job{Settings: survey.DefaultSettings(), Sketch: s}
	loc := &locate.Location{Job: job, Outlines: more, Spots: []locate.Spot{
		{Part: "A", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: -10, Y: 12}},
		{Part: "B", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: 10, Y: 12}},
	}}
	return loc, &posterior.Draws{N: len(box), Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: box}}
}

func cloud(n int, at geo.Vec, sigma float64) (v []geo.Vec) {
	r := rand.New(rand.NewPCG(7, 7))
	for range n {
		v = append(v, at.Add(geo.Vec{X: sigma * r.NormFloat64(), Y: sigma * r.NormFloat64()}))
	}
	return v
}

// A disc of radius R about the mean of a circular normal holds it with
// 1 − exp(−R²/2σ²): the Rayleigh distribution, any handbook of statistics.
func TestChanceOfTheFirstHole(t *testing.T) {
	loc, draws := lot(cloud(20000, geo.Vec{X: 1, Y: -2}, 0.8))
	plan, err := probe.Options{Greedy: true}.Plan(t.Context(), loc, draws)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes)
	r := 0.6/math.Sqrt(math.Pi) + 0.15
	want := 0.98 * (1 - math.Exp(-r*r/(2*0.8*0.8)))
	assert.InDelta(t, want, plan.ChanceNext, 0.02)
	assert.Less(t, plan.Holes[0].At.Dist(geo.Vec{X: 1, Y: -2}), 0.3)
	assert.Equal(t, []string{"box"}, plan.Holes[0].Seeks)
	assert.Len(t, plan.Holes[0].Ties, 2)
	assert.Greater(t, plan.ExpectedHoles, 1.0)
}

func TestHeavierLobeFirst(t *testing.T) {
	two := append(cloud(750, geo.Vec{X: -3}, 0.2), cloud(250, geo.Vec{X: 3}, 0.2)...)
	loc, draws := lot(two)
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(plan.Holes), 2)
	assert.Less(t, plan.Holes[0].At.X, -2.0)
	assert.Greater(t, plan.Holes[1].At.X, 2.0, "once the heavier lobe is empty the other is likelier")
}

// No hole is proposed within a clearance, wherever utilities lie, however the
// coordinates and ties are rounded.
func TestNeverWithinAClearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) geo.Vec {
			return geo.Vec{X: rapid.Float64Range(-6, 6).Draw(t, name+"x"), Y: rapid.Float64Range(-6, 6).Draw(t, name+"y")}
		}
		gas := locate.Outline{Part: "gas", Kind: asbuilt.Utility, Clearance: rapid.Float64Range(0, 2).Draw(t, "clearance"), Sigma: rapid.Float64Range(0, 0.3).Draw(t, "sigma"),
			Now: []geo.Outline{{Vertices: []geo.Vec{at("a"), at("b")}}}}
		none := locate.Outline{Part: "tree", Kind: asbuilt.NoDig, Clearance: 0.5,
			Now: []geo.Outline{{Closed: true, Vertices: []geo.Vec{at("c"), at("d"), at("e")}}}}
		loc, draws := lot(cloud(300, at("box"), rapid.Float64Range(0.05, 2).Draw(t, "spread")), gas, none)
		if rapid.Bool().Draw(t, "metres") {
			loc.Job.Settings.Unit = geo.Metre
		}
		plan, err := probe.New(t.Context(), loc, draws)
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range plan.Holes {
			rounded := geo.Vec{X: math.Round(h.At.X*1000) / 1000, Y: math.Round(h.At.Y*1000) / 1000}
			for _, o := range []locate.Outline{gas, none} {
				d := o.Now[0].Distance(rounded)
				if d <= o.Clearance+loc.Job.Settings.Hole.Radius {
					t.Fatalf("hole %d at %v is %.3f m from %s, whose clearance is %.3f m", h.Rank, rounded, d, o.Part, o.Clearance)
				}
			}
		}
		if len(plan.Holes) == 0 && len(plan.Remark) == 0 {
			t.Fatal("an empty plan must say why")
		}
	})
}

func TestSites(t *testing.T) {
	for _, name := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		t.Run(name, func(t *testing.T) {
			loc, draws := site(t, name)
			plan, err := probe.New(t.Context(), loc, draws)
			require.NoError(t, err)
			require.NotEmpty(t, plan.Holes)
			again, err := probe.New(t.Context(), loc, draws)
			require.NoError(t, err)
			assert.Equal(t, plan, again)
			for _, h := range plan.Holes {
				assert.Greater(t, h.StopDepth, h.Depth.Mean)
				assert.GreaterOrEqual(t, len(h.Ties), 2)
				assert.NotEmpty(t, h.Side)
			}
			t.Logf("%.2f holes, next %.0f %%, %d planned, %v", plan.ExpectedHoles, 100*plan.ChanceNext, len(plan.Holes), plan.Remark)
		})
	}
}

func site(t testing.TB, name string) (*locate.Location, *posterior.Draws) {
	fsys, err := fs.Sub(sites.Folders, name)
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	loc, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	return loc, must.Have(loc.Posterior.Draws(t.Context(), 2000))
}

// Work is the plan in steps: the next hole at once, then more of the same plan; a
// caller that has seen enough may stop.
func TestWorkBitByBit(t *testing.T) {
	loc, draws := site(t, "demo")
	whole, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	work, err := probe.Options{}.Work(t.Context(), loc, draws)
	require.NoError(t, err)
	bits, holes, known := 0, []int{}, false
	for plan := range work {
		bits++
		holes = append(holes, len(plan.Holes))
		assert.Equal(t, whole.Holes[:len(plan.Holes)], plan.Holes)
		if plan.ExpectedHoles != 0 || known {
			assert.Equal(t, whole.ExpectedHoles, plan.ExpectedHoles)
			known = true
		}
		assert.Equal(t, whole.ChanceNext, plan.ChanceNext)
		if len(plan.Holes) < len(whole.Holes) {
			assert.Empty(t, plan.Remark)
		}
	}
	assert.True(t, known)
	assert.Equal(t, 1, holes[0])
	assert.IsNonDecreasing(t, holes)
	assert.Greater(t, bits, len(whole.Holes)+4, "it rests in the tree too")

	step := 1
	if testing.Short() { // under the race detector each plan takes long
		step = 5
	}
	for enough := 1; enough < bits; enough += step {
		n := 0
		for range work {
			if n++; n == enough {
				break
			}
		}
		assert.Equal(t, enough, n)
	}
}

// BenchmarkNew times a whole plan: eight holes and a tree of three levels; the
// next hole alone; and the yardstick.
func BenchmarkNew(b *testing.B) {
	loc, draws := site(b, "demo")
	for _, bb := range []struct {
		name string
		o    probe.Options
	}{{"whole", probe.Options{}}, {"next", probe.Options{Holes: 1, Levels: -1}}, {"greedy", probe.Options{Greedy: true, Holes: 1, Levels: -1}}} {
		b.Run(bb.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := bb.o.Plan(b.Context(), loc, draws); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
