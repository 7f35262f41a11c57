package probe

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/depth"
	"asfound/survey/encounter"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/setout"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

// riser is the depth of a box whose top stands out of the ground, so that no hole
// is too shallow for it.
var riser = depth.Depth{Mean: -2, Sigma: 0.2}

// among returns the belief of a box that lies at places 5 m apart along y = 0, from
// the origin on, in so many draws each, and that every hole over it notices.
// Landmarks are A (−10, 12) and B (10, 12). The draws of other parts may be added.
func among(t *testing.T, draws []int, add func(*survey.Job, *posterior.Draws)) *belief {
	t.Helper()
	var at []geo.Vec
	for k, n := range draws {
		for range n {
			at = append(at, geo.Vec{X: 5 * float64(k)})
		}
	}
	d := &posterior.Draws{N: len(at), Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: at}, Lines: map[string][][]geo.Vec{}, Holes: map[string][]geo.Vec{}}
	job := &survey.Job{Settings: survey.DefaultSettings(), Sketch: &asbuilt.Sketch{Unit: geo.Metre, Ratio: 1, Parts: []asbuilt.Part{testsite.Box("box", 0.6, 0, 0)}}}
	if add != nil {
		add(job, d)
	}
	s, _ := newSite(t.Context(), &locate.Location{Job: job, Spots: []locate.Spot{
		{Part: "A", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: -10, Y: 12}}, {Part: "B", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: 10, Y: 12}}}}, d)
	require.NotEmpty(t, s.Sought())
	s.Objects[0].Notices = 1
	s.Depth = func(string, geo.Vec) (depth.Depth, bool) { return riser, true }
	s.rest = func() bool { return true }
	b := s.believe()
	b.divide(s.Tools[0].Radius)
	b.usual(b.all)
	return b
}

// lieAt has everything lie at other depths, by part.
func lieAt(b *belief, deep func(part string) depth.Depth) {
	b.site.Site = &encounter.Site{N: b.N, Objects: b.Objects, Ground: b.Ground, Tools: b.Tools,
		Depth: func(part string, _ geo.Vec) (depth.Depth, bool) { return deep(part), true }}
}

// line adds a lateral or header, the same in every draw.
func line(id string, kind asbuilt.Kind, v ...geo.Vec) func(*survey.Job, *posterior.Draws) {
	return func(j *survey.Job, d *posterior.Draws) {
		j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: id, Kind: kind, Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: asbuilt.Positions(v...)}}})
		for range d.N {
			d.Lines[id] = append(d.Lines[id], v)
		}
	}
}

// A plan by hand, of a box at one of four places in 4, 3, 2 and 1 of 10 draws: the
// first hole meets it with 0.4, the second, where that came up empty, with 3 of 6;
// both together with 0.4 + 0.6 · 0.5 = 0.7. The search takes 0.4 + 2 · 0.3 + 3 · 0.2
// + 4 · 0.1 = 2 holes.
func TestPlanByHand(t *testing.T) {
	b := among(t, []int{160, 120, 80, 40}, nil)
	var plan Plan
	b.fill(&plan, Options{Holes: 2, Levels: 2, Plays: 400})
	require.Len(t, plan.Holes, 2)
	assert.InDelta(t, 0.4, plan.ChanceNext, 1e-9)
	assert.InDelta(t, 0.5, plan.Holes[1].Chance, 1e-9)
	assert.Equal(t, []int{1, 2}, []int{plan.Holes[0].Rank, plan.Holes[1].Rank})
	assert.InDelta(t, 5, plan.Holes[1].At.X, 0.41)
	assert.Greater(t, plan.ExpectedHoles, 2-0.15, "no order takes fewer than 2; three standard errors of 400 plays, each of 1 hole")
	assert.Less(t, plan.ExpectedHoles, 2.5, "the player blurs what it believes, and digs a hole in vain now and then")
	require.NotEmpty(t, plan.Remark)
	assert.Equal(t, finding.PlanEnds, plan.Remark[0].Code)
	assert.InDelta(t, 0.7, plan.Remark[0].Numbers["chance"], 1e-9)
	assert.InDelta(t, 2, plan.Remark[0].Numbers["holes"], 0)
	assert.Empty(t, b.Ground.Dug, "nothing has been dug")
	assert.InDelta(t, plan.Holes[0].Minutes, b.Tools[0].Minutes(plan.Holes[0].StopDepth), 1e-9)

	// The tree: nothing, then what is sought; after nothing the second hole.
	s := plan.Tree
	require.NotNil(t, s)
	require.Len(t, s.Branches, 2)
	for i, want := range []struct {
		met    Met
		chance float64
	}{{MetNone, 0.6}, {MetSought, 0.4}} {
		assert.Equal(t, want.met, s.Branches[i].Met)
		assert.InDelta(t, want.chance, s.Branches[i].Chance, 1e-9)
	}
	assert.Equal(t, []string{"box"}, s.Branches[1].Parts)
	assert.Nil(t, s.Branches[1].Next)
	next := s.Branches[0].Next
	require.NotNil(t, next)
	assert.Equal(t, "1 2A", s.Label+" "+next.Label)
	assert.Equal(t, 2, next.Hole.Rank)
	assert.InDelta(t, 0.5, next.Hole.Chance, 1e-9)
	for _, br := range next.Branches {
		assert.Nil(t, br.Next, "there are two levels")
	}
	chance, nothing := s.Replan()
	assert.Zero(t, chance)
	assert.False(t, nothing, "after an empty hole there is a step")
	chance, nothing = next.Replan()
	assert.InDelta(t, 0.5, chance, 1e-9)
	assert.True(t, nothing)
	assert.Nil(t, s.Branches[0].Then())
	assert.Equal(t, finding.Done.New(), *s.Branches[1].Then())
	for _, br := range next.Branches {
		if br.Met == MetNone {
			assert.Equal(t, finding.PlanAgain.New(), *br.Then())
		}
	}

	// All four places are worth a hole; then it has been met, and there is no
	// more to say.
	var whole Plan
	b.fill(&whole, Options{Levels: -1, Plays: -1})
	require.Len(t, whole.Holes, 4)
	assert.InDelta(t, 1, whole.Holes[3].Chance, 1e-9)
	assert.Empty(t, whole.Remark)
	assert.Zero(t, whole.ExpectedHoles)
	assert.Nil(t, whole.Tree)

	// Asked to stop after the first hole it does.
	b.site.rest = func() bool { return false }
	var stopped Plan
	b.fill(&stopped, Options{})
	assert.Len(t, stopped.Holes, 1)
	assert.Empty(t, stopped.Remark)
}

// One draw is a belief, none is not.
func TestBestOfFewDrawsByHand(t *testing.T) {
	b := among(t, []int{1}, nil)
	c, ok := b.best(false, full)
	require.True(t, ok)
	assert.InDelta(t, 1, c.chance, 1e-9)
	b.weight[0] = 0
	_, ok = b.best(false, full)
	assert.False(t, ok)
}

// A branch that so few draws support is not planned: 60 of them must be left.
func TestBranchesNeedDraws(t *testing.T) {
	for _, tt := range []struct {
		rest int
		want bool
	}{{30, false}, {70, true}} {
		b := among(t, []int{200, tt.rest}, nil)
		c, ok := b.best(false, brief)
		require.True(t, ok)
		s := b.grow(c, Options{})
		for _, br := range s.Branches {
			assert.Equal(t, tt.want && br.Met == MetNone, br.Next != nil, "%d draws, %s", tt.rest, br.Met)
		}
	}
}

// What looking ahead finds here is what the search in fixed order takes, since no
// hole tells more than whether the box lies there: the rest after a hole at the
// likeliest place, 0.6 · 10/6 = 1 hole. So nothing changes; at the fourth place it
// is 0.9 · (4 + 2 · 3 + 3 · 2)/9 = 1.6 holes.
func TestLookAheadByHand(t *testing.T) {
	b := among(t, []int{160, 120, 80, 40}, nil)
	var all []choice
	var tl tally
	for _, x := range []float64{15, 0, 5, 10} {
		h, ok := b.open(geo.Vec{X: x}, &b.Tools[0], b.all)
		require.True(t, ok)
		all = append(all, b.judge(h, b.all, &tl, false, 4))
	}
	fourth := all[0]
	got := b.lookAhead(append([]choice{}, all...), all, b.all, &tl, full)
	assert.Zero(t, got.At.X)
	assert.InDelta(t, got.plain, got.score, 1e-6)
	assert.InDelta(t, b.mean, got.search, 1e-6)
	got = b.lookAhead([]choice{fourth}, []choice{fourth}, b.all, &tl, full)
	assert.InDelta(t, fourth.plain, got.score, 1e-6)
	assert.InDelta(t, 1.6*b.mean, got.search, 1e-6)
}

// A hole at the edge of the box climbs to where it meets the whole of it, and
// keeps what looking ahead has added.
func TestClimbByHand(t *testing.T) {
	b := among(t, []int{300}, nil)
	var tl tally
	for _, at := range []geo.Vec{{X: 0.48}, {X: -0.48}, {Y: 0.48}, {Y: -0.48}} {
		h, ok := b.open(at, &b.Tools[0], b.all)
		require.True(t, ok)
		c := b.judge(h, b.all, &tl, false, 4)
		require.Less(t, c.chance, 0.8)
		c.score += 7
		got := b.climb(c, b.all, &tl, false)
		assert.InDelta(t, 1, got.chance, 1e-9)
		assert.InDelta(t, 7, got.score-got.plain, 1e-9)
		assert.Less(t, got.score, c.score)
	}
}

// The speed of a tool is that of its footprint. About a box of a disc of 0.3385 m
// (the area of 0.6 m square) a rod of 2 cm searches (0.3585/0.4885)² = 0.5386 of
// what a hole of 15 cm does, and notices half: a minute of it counts 1/0.2693 =
// 3.713. What it has felt takes a shovel 10 minutes to open.
func TestUsualByHand(t *testing.T) {
	shovel := survey.Tool{Name: "shovel", Radius: 0.15, Start: 10, Notices: 1, Opens: true}
	rod := survey.Tool{Name: "rod", Radius: 0.02, Start: 1, Notices: 0.5}
	slow := rod
	slow.Start = 9
	machine := shovel
	machine.Start = 6
	for _, tt := range []struct {
		tools         []survey.Tool
		line          bool
		mean, opening float64
	}{
		{[]survey.Tool{shovel}, false, 10, 0},
		{[]survey.Tool{shovel, rod}, false, 3.7134, 10},
		{[]survey.Tool{shovel, rod, machine}, false, 3.7134, 6},
		{[]survey.Tool{shovel, slow}, false, 10, 0},
		{[]survey.Tool{rod}, false, 2, 0}, // nothing opens it; half of what there is is noticed
		{[]survey.Tool{shovel, rod}, true, 2.7252, 10},
	} {
		b := among(t, []int{100}, nil)
		b.Tools, b.Objects[0].Line = tt.tools, tt.line
		b.usual(b.all)
		assert.InDelta(t, tt.mean, b.mean, 1e-3)
		assert.InDelta(t, tt.opening, b.opening, 1e-9)
	}
	// The depth that counts is that to which a hole is dug for it: 0.6 m and
	// 1.645 standard deviations of 0.243 m are a metre.
	deep := shovel
	deep.PerMetre = 10
	b := among(t, []int{100}, nil)
	lieAt(b, func(string) depth.Depth { return depth.Depth{Mean: 0.6, Sigma: 0.4 / 1.6448536} })
	b.Tools = []survey.Tool{deep}
	b.usual(b.all)
	assert.InDelta(t, 10+10*1.0, b.mean, 0.11)
}

// What a rod has felt is opened in the end, whatever it meets first: once the
// opening on top of minutes and search.
func TestJudgeOfARod(t *testing.T) {
	b := among(t, []int{60, 40}, nil)
	shovel, rod := b.Tools[0], b.Tools[0]
	rod.Opens = false
	b.Tools = []survey.Tool{shovel, rod}
	b.mean, b.opening = 5, 30
	var tl tally
	for i, want := range []float64{0.4 * 30, 30} {
		h, ok := b.open(geo.Vec{}, &b.Tools[i], b.all)
		require.True(t, ok)
		c := b.judge(h, b.all, &tl, false, 4)
		minutes := 0.6*b.Tools[i].Minutes(0.8*h.Stop) + 0.4*b.Tools[i].Minutes(h.Stop)
		assert.InDelta(t, minutes+0.4*5+want, c.score, 1e-9)
		assert.InDelta(t, 0.4*5, c.search, 1e-9)
		assert.Zero(t, c.logRest, "one hole is left")
	}
}

// Systematic sampling deals draws by their weight: of ½, ¼, ¼ four are 0, 0, 1, 2.
// The effective number of draws is (Σw)²/Σw² (Kish 1965): of 3, 1 and 0 it is 16/10.
func TestWeightsByHand(t *testing.T) {
	s := &site{ctx: t.Context(), Site: &encounter.Site{N: 3}, all: []int32{0, 1, 2}}
	b := &belief{site: s, weight: []float64{0.5, 0.25, 0.25}}
	assert.Equal(t, []int{0, 0, 1, 2}, b.sample(4))
	assert.Equal(t, []int{0, 2}, b.sample(2))
	b.weight = []float64{3, 1, 0}
	assert.InDelta(t, 1.6, b.effective(), 1e-12)
	assert.Equal(t, []int32{0, 1}, b.support(1))
	b.normalise()
	assert.InDeltaSlice(t, []float64{0.75, 0.25, 0}, b.weight, 1e-12)
	b.weight = []float64{0, 0, 0}
	b.normalise()
	assert.InDeltaSlice(t, []float64{0, 0, 0}, b.weight, 0)
	assert.Zero(t, b.effective())

	s.all, b.weight = make([]int32, 4000), make([]float64, 4000)
	for i := range s.all {
		s.all[i], b.weight[i] = int32(i), 1
	}
	assert.Len(t, b.support(1), 4000)
	assert.Equal(t, []int32{0, 4, 8}, b.support(4)[:3])
	assert.Len(t, b.support(4), 1000)
	assert.Len(t, b.support(100), few, "no fewer than are enough")
	s.all = s.all[:700]
	assert.Len(t, b.support(2), 700, "they are few as they are")
}

// Places worth a try lie about where the box is, the likelier first, and along
// trench and header so evenly that none is missed by more than two steps of 0.3 m;
// its ends are among them. What lies nowhere is left out.
func TestCandidatesByHand(t *testing.T) {
	trench, pipe, far := line("L", asbuilt.Lateral, geo.Vec{X: 2, Y: -3}, geo.Vec{X: 14, Y: -3}), line("H", asbuilt.Header, geo.Vec{X: -3}, geo.Vec{X: -3, Y: -6}),
		line("Z", asbuilt.Lateral, geo.Vec{X: 2e7}, geo.Vec{X: 4e7})
	b := among(t, []int{30, 70}, func(j *survey.Job, d *posterior.Draws) { trench(j, d); pipe(j, d); far(j, d) })
	near := b.candidates(full, true)
	require.NotEmpty(t, near)
	assert.Less(t, near[0].Dist(geo.Vec{X: 5}), 0.75, "the likelier place")
	for _, v := range near {
		assert.Less(t, min(v.Norm(), v.Dist(geo.Vec{X: 5})), 0.75)
	}
	all := b.candidates(full, false)
	cells := map[[2]int]bool{}
	along, down := []float64{2, 14}, []float64{0, -6}
	for _, v := range all {
		cells[[2]int{int(math.Floor(v.X / 0.3)), int(math.Floor(v.Y / 0.3))}] = true
		assert.Less(t, math.Abs(v.X), 1e7)
		if v.Y == -3 && v.X >= 2 {
			along = append(along, v.X)
		}
		if v.X == -3 {
			down = append(down, v.Y)
		}
	}
	assert.GreaterOrEqual(t, len(cells), len(all)-2, "one a square of 0.3 m, rounding aside")
	for _, some := range [][]float64{along, down} {
		assert.Less(t, widest(some), 0.61)
	}
	assert.Contains(t, all, geo.Vec{X: 2, Y: -3})
	assert.Contains(t, all, geo.Vec{X: 14, Y: -3})
	assert.Equal(t, geo.Vec{X: 1.23, Y: -4.57}, round(geo.Vec{X: 1.2345, Y: -4.5678}))
	// What has been dug is not dug again.
	b.Ground.Dug = []geo.Vec{{X: 5}}
	assert.NotContains(t, b.candidates(full, true), geo.Vec{X: 5})
	assert.False(t, b.openTo(geo.Vec{X: 5}))
	assert.True(t, b.openTo(geo.Vec{}))
}

// widest returns the widest gap between numbers.
func widest(v []float64) (gap float64) {
	for _, x := range v {
		next := math.Inf(1)
		for _, y := range v {
			if y > x {
				next = min(next, y-x)
			}
		}
		if !math.IsInf(next, 1) {
			gap = max(gap, next)
		}
	}
	return gap
}

// Slots lie square across the trenches, half to either side of the box, and of a
// trench's start and middle by turns; 1.5, 3 and 5 m long by turns.
func TestSlotsByHand(t *testing.T) {
	b := among(t, []int{100}, line("L", asbuilt.Lateral, geo.Vec{X: 2, Y: -6}, geo.Vec{X: 12, Y: -6}))
	assert.Empty(t, b.slots(full), "a shovel cuts none")
	b.Tools[0].Slot = 3
	got := b.slots(effort{sites: 3})
	require.Len(t, got, 6)
	for k, want := range []struct{ x, long float64 }{{2, 1.5}, {7, 3}, {2, 5}} {
		for j, middle := range []geo.Vec{{}, {X: want.x, Y: -6}} {
			slot := got[2*k+j]
			at := slot[0].Add(slot[1].Scale(0.5))
			assert.InDelta(t, middle.X, at.X, 1e-9)
			assert.InDelta(t, middle.Y, at.Y, 0.0051, "ends are rounded to a centimetre")
			assert.InDelta(t, 0, slot[1].X, 1e-9)
			assert.InDelta(t, want.long, math.Abs(slot[1].Y), 0.011)
		}
	}
	assert.Empty(t, among(t, []int{100}, nil).slots(full), "without a trench there is no across")
}

// Where a machine is at hand the best is a slot: the box lies anywhere along 4 m
// across the trenches, and one cut of 5 m finds it.
func TestBestSlotByHand(t *testing.T) {
	b := among(t, []int{41, 40}, func(j *survey.Job, d *posterior.Draws) {
		for i := range d.N {
			d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}][i] = geo.Vec{X: 0.05 * float64(i-40)}
		}
		line("L", asbuilt.Lateral, geo.Vec{X: 1, Y: -20}, geo.Vec{X: 1, Y: -8})(j, d)
	})
	c, ok := b.best(false, full)
	require.True(t, ok)
	assert.Less(t, c.chance, 0.3, "a hole is 1 m of 4 m wide")
	b.Tools[0].Slot = 0.01
	c, ok = b.best(false, full)
	require.True(t, ok)
	assert.InDelta(t, 1, c.chance, 0.02)
	assert.InDelta(t, 5, c.Slot.Norm(), 0.02)
	assert.InDelta(t, 0, c.Middle().X, 0.6)
}

// A long search is judged by what a crew would do, a short one as it is, and a
// greedy one not at all. Of fourteen places, each as likely, 13/14 of the holes are
// followed by a search of (13 + 1)/2 = 7 more: 6.5 in the mean.
func TestLongSearchByHand(t *testing.T) {
	b := among(t, []int{30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30, 30}, nil)
	c, ok := b.best(false, brief)
	require.True(t, ok)
	assert.InDelta(t, 1.0/14, c.chance, 1e-9)
	assert.InDelta(t, 6.5*b.mean, c.score-(c.plain-c.search), 1e-6)
	c, ok = b.best(true, brief)
	require.True(t, ok)
	assert.InDelta(t, c.plain, c.score, 0)
	assert.Negative(t, c.score)
	b = among(t, []int{30, 30, 30, 30}, nil)
	c, ok = b.best(false, brief)
	require.True(t, ok)
	assert.InDelta(t, c.plain, c.score, 1e-9)
	assert.InDelta(t, 0.75*2*b.mean, c.search, 1e-6, "three of four, then (3 + 1)/2 holes")
}

// What a plan is played from: the first hole of its tree, or of its list, with the
// tool of its name and the less sure of its ends.
func TestScriptByHand(t *testing.T) {
	b := among(t, []int{100}, nil)
	shovel, _ := survey.ToolNamed("shovel")
	rod, _ := survey.ToolNamed("rod")
	b.Tools = []survey.Tool{rod, shovel}
	b.Ground.SetOut = func(v geo.Vec) encounter.Stake { return encounter.Stake{Sigma: math.Abs(v.Y) / 10} }
	slot := Proposal{At: geo.Vec{X: 1, Y: 2}, To: geo.Vec{X: 1, Y: 5}, Radius: 0.2, StopDepth: 1.1, Tool: "rod"}
	plan := &Plan{Holes: []Proposal{slot}}
	h := plan.Script(b.Site).Hole
	assert.Equal(t, slot.At, h.At)
	assert.Equal(t, geo.Vec{Y: 3}, h.Slot)
	assert.Equal(t, "rod", h.Tool.Name)
	assert.InDelta(t, 1.1, h.Stop, 1e-12)
	assert.InDelta(t, 0.2, h.Radius, 1e-12)
	assert.InDelta(t, math.Hypot(0.5, 0.05), h.Sigma, 1e-9, "the far end; 5 cm is how far beside its stake a hole is opened")
	spot := Proposal{At: geo.Vec{Y: 2}, To: geo.Vec{Y: 2}, Tool: "spoon"}
	plan.Tree = &Step{Hole: spot, Branches: []Branch{{Met: MetNone, Next: &Step{Hole: slot}}, {Met: MetEnd}, {Met: MetSought}}}
	s := plan.Script(b.Site)
	assert.Equal(t, "shovel", s.Hole.Tool.Name, "what exposes")
	assert.InDelta(t, math.Hypot(0.2, 0.05), s.Hole.Sigma, 1e-9)
	for m, next := range s.Next {
		assert.Equal(t, m == none, next != nil, "%s", mets[m])
	}
	assert.Equal(t, slot.At, s.Next[none].Hole.At)
	assert.Nil(t, (&Plan{}).Script(b.Site))
}

// What is sought may be a part, a kind or an end of a line; the rest can be met.
// Where a sketch shows no header there must be one from the box to each lateral.
func TestSiteByHand(t *testing.T) {
	build := func(seek string, more ...func(*survey.Job, *posterior.Draws)) (names []string, sought int) {
		b := among(t, []int{10}, func(j *survey.Job, d *posterior.Draws) {
			j.Settings.Seek = seek
			for i, id := range []string{"L1", "L2"} {
				a, e := geo.Vec{X: 2, Y: -3 * float64(i+1)}, geo.Vec{X: 9, Y: -3 * float64(i+1)}
				line(id, asbuilt.Lateral, a, e)(j, d)
				for range d.N {
					for spot, v := range map[asbuilt.Spot]geo.Vec{asbuilt.Start: a, asbuilt.End: e} {
						n := asbuilt.SpotName{Part: id, Spot: spot}
						d.Spots[n] = append(d.Spots[n], v)
					}
				}
			}
			for _, m := range more {
				m(j, d)
			}
		})
		for i := range b.Objects {
			name := b.Objects[i].Report
			if b.Objects[i].Joins {
				name = "to " + b.Objects[i].Part
			}
			names = append(names, name)
		}
		return names, len(b.Sought())
	}
	header := line("H", asbuilt.Header, geo.Vec{}, geo.Vec{X: 2, Y: -3})
	for _, tt := range []struct {
		seek   string
		more   []func(*survey.Job, *posterior.Draws)
		want   []string
		sought int
	}{
		{"box", nil, []string{"box", "L1", "L2", "", ""}, 1},
		{"box", []func(*survey.Job, *posterior.Draws){header}, []string{"box", "L1", "L2", "H", "to L2"}, 1},
		{"L2", []func(*survey.Job, *posterior.Draws){header}, []string{"L2", "box", "L1", "H", "to L2"}, 1},
		{"lateral", []func(*survey.Job, *posterior.Draws){header}, []string{"L1", "L2", "box", "H", "to L2"}, 2},
		{"L1.end", []func(*survey.Job, *posterior.Draws){header}, []string{"L1.end", "box", "L1", "L2", "H", "to L2"}, 1},
	} {
		got, sought := build(tt.seek, tt.more...)
		if tt.want[len(tt.want)-1] == "" {
			tt.want = append(tt.want[:3], "to L1", "to L2")
		}
		assert.Equal(t, tt.want, got, "%+v", tt.seek)
		assert.Equal(t, tt.sought, sought)
	}
}

// Whether what is sought has been met. A hole that met the line is no end of it;
// one of several laterals is met where the log names it.
func TestMetByHand(t *testing.T) {
	trenches := func(j *survey.Job, d *posterior.Draws) {
		line("L1", asbuilt.Lateral, geo.Vec{X: 2}, geo.Vec{X: 9})(j, d)
		line("L2", asbuilt.Lateral, geo.Vec{X: 2, Y: -3}, geo.Vec{X: 9, Y: -3})(j, d)
		d.Holes["H1"] = make([]geo.Vec, d.N)
		for i := range d.N { // on L1 in nine draws of ten
			d.Holes["H1"][i] = geo.Vec{X: 5, Y: -1.5 * float64((i+1)%10/9)}
		}
	}
	b := among(t, []int{100}, trenches)
	l1 := &encounter.Object{Part: "L1", Kind: asbuilt.Lateral}
	end := &encounter.Object{Part: "L1", Kind: asbuilt.Lateral, Spot: asbuilt.End}
	hole := locate.Hole{Name: "H1", Met: "L1", Radius: 0.15}
	assert.InDelta(t, 0.9, b.lies(hole, l1), 1e-9)
	met := func(o *encounter.Object, h locate.Hole) bool {
		b.loc.Holes = []locate.Hole{{Name: "H0", Met: "L2"}, h}
		name, ok := b.met(o)
		assert.Equal(t, ok, name == "H1")
		return ok
	}
	assert.False(t, met(l1, hole), "nine of ten are not sure enough")
	b.loc.Job.Readings = []survey.Reading{{ID: "x", Kind: survey.Found, Point: "H1", Target: "L1"}}
	assert.True(t, met(l1, hole), "the log says so")
	assert.True(t, b.named("H1", "L1"))
	assert.False(t, b.named("H1", "L2"))
	assert.False(t, b.named("H2", "L1"))
	assert.False(t, met(end, hole))
	hole.Spot = asbuilt.End
	assert.True(t, met(end, hole))
	hole.Met = "L2"
	assert.False(t, met(l1, hole))
	// Any lateral will do where any is sought.
	b.loc.Job.Readings, b.seek, hole.Met = nil, "lateral", "L1"
	assert.True(t, met(l1, hole))
	assert.Zero(t, b.lies(locate.Hole{Name: "H9"}, l1), "there is no such hole")
}

// Where nothing fixes a place by tapes a phone does, to 2 m; with two landmarks the
// place that their rounded tapes give is within an inch or two.
func TestSetOutByHand(t *testing.T) {
	b := among(t, []int{100}, nil)
	v := geo.Vec{X: 1, Y: 2}
	s := b.setOut(v)
	require.Len(t, s.Others, 1)
	assert.Less(t, s.Others[0].Dist(v), 0.06)
	assert.Less(t, s.Sigma, 0.1)
	b.marks = setout.New(&locate.Location{Job: b.loc.Job})
	s = b.setOut(v)
	assert.InDelta(t, 2, s.Sigma, 1e-9)
	assert.Equal(t, []geo.Vec{v}, s.Others)
	assert.True(t, b.reached(locate.Hole{}), "nothing is known of depths")
}

// A hole that met nothing need not be dug again where it went as deep as the box
// may lie; one that stopped above does. Of what met something, and of a hole whose
// depth nobody noted, it is taken for granted; where something stopped it, digging there
// again is of no use. Around a line of somebody else nothing is dug: 24 in from what the
// hole opened, a common tolerance zone of one-call laws.
func TestDugByHand(t *testing.T) {
	f, err := fit.Solve(t.Context(), testsite.Taped())
	require.NoError(t, err)
	loc, err := locate.Locate(t.Context(), f.Log().Job, f)
	require.NoError(t, err)
	d, ok := loc.DepthAt("box", geo.Vec{X: 2, Y: -10})
	require.True(t, ok)
	shallow, deep := d.Mean-0.1, d.Mean+0.1
	at := func(x float64) geo.Vec { return geo.Vec{X: 2 + x, Y: -10} }
	loc.Holes = []locate.Hole{{Name: "a", At: at(0), Depth: &shallow}, {Name: "b", At: at(1), Depth: &deep}, {Name: "c", At: at(2)}, {Name: "d", At: at(3), Depth: &shallow, Met: "L1"},
		{Name: "e", At: at(4), Depth: &shallow, Stopped: survey.StopRock}, {Name: "f", At: at(-4), Radius: 0.15, Depth: &shallow, Stopped: survey.StopUtility}}
	s, _ := newSite(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 20)))
	assert.Equal(t, []geo.Vec{at(1), at(2), at(3), at(4), at(-4)}, s.Ground.Dug)
	assert.False(t, s.Ground.Clear(at(-4-0.75), 0, 0))
	assert.True(t, s.Ground.Clear(at(-4-0.81), 0, 0))
}

// What helps beside digging: a camera from the tank, or from the house; ports; a
// third landmark.
func TestHelpsByHand(t *testing.T) {
	codes := func(parts ...asbuilt.Part) (all []finding.Code) {
		b := &belief{site: &site{ctx: t.Context(), loc: &locate.Location{Job: &survey.Job{Sketch: &asbuilt.Sketch{Parts: parts}}}}}
		for _, f := range b.helps() {
			all = append(all, f.Code)
		}
		return all
	}
	mark := asbuilt.Part{ID: "A", Kind: asbuilt.Landmark}
	tank, port := asbuilt.Part{ID: "t", Kind: asbuilt.Tank}, asbuilt.Part{ID: "p", Kind: asbuilt.Port}
	assert.Equal(t, []finding.Code{finding.OutletHelps, finding.LandmarkHelps, finding.TapesHelp}, codes(mark, mark))
	assert.Equal(t, []finding.Code{finding.CameraHelps, finding.TapesHelp}, codes(mark, tank, mark, mark))
	assert.Equal(t, []finding.Code{finding.CameraHelps, finding.PortHelps, finding.TapesHelp}, codes(mark, tank, port, mark, mark, mark))

	b := among(t, []int{10}, nil)
	remark := func(holes int, reached, excluded float64) (all []finding.Code) {
		b.loc.Promised = excluded
		for _, f := range b.remark(&Plan{Seek: "box", Holes: make([]Proposal, holes)}, reached) {
			all = append(all, f.Code)
		}
		return all[:min(len(all), 2)]
	}
	assert.Equal(t, []finding.Code{finding.NowhereToDig, finding.OutletHelps}, remark(0, 0, 0))
	assert.Equal(t, []finding.Code{finding.PlanEnds, finding.MostlySearched}, remark(3, 0.5, 0.9))
	assert.Equal(t, []finding.Code{finding.PlanEnds, finding.OutletHelps}, remark(3, 0.5, 0.5))
	assert.Empty(t, remark(3, 0.99, 0.9))
	assert.Empty(t, remark(1, 0.5, 0.9), "one hole was asked for")
}

// The cautions of a slot from (0, 0) to (0, 6), by hand: a line 1 m past its far end
// that is kept 0.4 m from leaves 0.6 m; a tree beside its middle, 1.5 m off; a house
// that near is no matter.
func TestCautionsByHand(t *testing.T) {
	b := among(t, []int{100}, nil)
	square := func(id string, k asbuilt.Kind, at geo.Vec, clearance float64) encounter.Surrounding {
		o := geo.Outline{Vertices: []geo.Vec{at.Add(geo.Vec{X: -0.5}), at.Add(geo.Vec{X: 0.5})}}
		return encounter.Surrounding{Part: id, Kind: k, Clearance: clearance, Shapes: []geo.Outline{o}}
	}
	b.Ground = encounter.NewGround([]encounter.Surrounding{
		square("gas", asbuilt.Utility, geo.Vec{Y: 7}, 0.4), square("tree", asbuilt.NoDig, geo.Vec{X: 2, Y: 3}, 0), square("house", asbuilt.Building, geo.Vec{X: -1, Y: 3}, 0),
		square("water", asbuilt.Utility, geo.Vec{X: 9}, 0), square("rock", asbuilt.NoDig, geo.Vec{Y: -2.1}, 0),
	}, nil, false)
	h := Proposal{At: geo.Vec{}, To: geo.Vec{Y: 6}, StopDepth: 0.8, Ties: make([]SetOut, 2), Side: setout.Side{From: "A", To: "B", Right: true},
		ToTies: []SetOut{{From: "A", Distance: 3}, {From: "B", Distance: 4}}, ToSide: setout.Side{From: "A", To: "B"}}
	b.cautions(&h, setout.Fix{Crossing: geo.Degrees(45), Blocked: []string{"B"}})
	near := finding.With(h.Cautions, finding.ClearanceNear)
	require.Len(t, near, 2)
	assert.Equal(t, []string{"gas"}, near[0].Parts)
	assert.InDelta(t, 0.6, near[0].Numbers["distance"], 1e-9)
	assert.Equal(t, []string{"tree"}, near[1].Parts)
	assert.InDelta(t, 1.5, near[1].Numbers["distance"], 1e-9)
	assert.Empty(t, finding.With(h.Cautions, finding.ClearanceAssumed))
	assert.Equal(t, []finding.Finding{finding.TapeBlocked.New(finding.Parts("B"))}, finding.With(h.Cautions, finding.TapeBlocked))
	assert.Len(t, finding.With(h.Cautions, finding.OnSide), 1)
	assert.Empty(t, finding.With(h.Cautions, finding.FlatCrossing, finding.FewLandmarks))
	end := finding.With(h.Cautions, finding.SlotEnd)
	require.Len(t, end, 1)
	assert.Equal(t, map[string]float64{"long": 6, "first": 3, "second": 4}, end[0].Numbers)
	assert.Equal(t, []string{"A", "B"}, end[0].Parts)
	assert.InDelta(t, 0.6096, finding.With(h.Cautions, finding.SlotCut)[0].Numbers["step"], 1e-12)

	// A hole beside a line of which no clearance is given; flat tapes, or none.
	one := Proposal{At: geo.Vec{X: 8}, To: geo.Vec{X: 8}, Ties: make([]SetOut, 2)}
	b.cautions(&one, setout.Fix{Crossing: geo.Degrees(20)})
	assert.Len(t, finding.With(one.Cautions, finding.ClearanceAssumed), 1)
	flat := finding.With(one.Cautions, finding.FlatCrossing)
	require.Len(t, flat, 1)
	assert.InDelta(t, 20, flat[0].Numbers["crossing"], 1e-9)
	assert.Empty(t, finding.With(one.Cautions, finding.SlotEnd, finding.SlotCut, finding.OnSide, finding.TapeBlocked))
	none := Proposal{At: geo.Vec{X: 8}, To: geo.Vec{X: 8}, Ties: make([]SetOut, 1)}
	b.cautions(&none, setout.Fix{})
	assert.Len(t, finding.With(none.Cautions, finding.FewLandmarks), 1)
	assert.Empty(t, finding.With(none.Cautions, finding.FlatCrossing))
	h.ToTies = nil
	assert.Equal(t, finding.SlotEndUnfixed.New(finding.Number("long", 6)), slotEnd(&h))
}

// A hole is as deep as the deeper of where it stops and what it expects.
func TestDeepHolesAreCautioned(t *testing.T) {
	b := among(t, []int{100}, nil)
	b.loc.Job.Settings.EntryDepth = 1.2
	for _, tt := range []struct {
		stop, mean float64
		want       finding.Code
	}{{0.9, 0.5, ""}, {1.3, 0.5, finding.WayOut}, {0.9, 1.3, finding.WayOut}, {1.6, 0, finding.CaveIn}, {0, 0, finding.DepthUnknown}} {
		h := Proposal{StopDepth: tt.stop, Depth: locate.Depth{Mean: tt.mean}}
		b.cautions(&h, setout.Fix{})
		deep := finding.With(h.Cautions, finding.WayOut, finding.CaveIn, finding.DepthUnknown)
		if tt.want == "" {
			assert.Empty(t, deep)
		} else if assert.Len(t, deep, 1) {
			assert.Equal(t, tt.want, deep[0].Code)
		}
	}
}

// The parts that a hole expects: the one whose depth is told is what is sought
// where that may well be there, one time in ten, else the likeliest.
func TestDepthIsOfWhatIsSought(t *testing.T) {
	for _, tt := range []struct {
		box, rest int
		want      string
	}{{30, 70, "box"}, {5, 95, "L"}} {
		b := among(t, []int{tt.box, tt.rest}, line("L", asbuilt.Lateral, geo.Vec{X: -4}, geo.Vec{X: 3}))
		lieAt(b, func(part string) depth.Depth {
			return depth.Depth{Mean: map[string]float64{"box": 0.3, "L": 0.9}[part], Sigma: 0.1}
		})
		h, ok := b.open(geo.Vec{}, &b.Tools[0], b.all)
		require.True(t, ok)
		p := b.propose(choice{hole: h})
		assert.Equal(t, []string{"box", "L"}, p.Seeks)
		assert.Equal(t, tt.want, p.Part)
		assert.InDelta(t, map[string]float64{"box": 0.3, "L": 0.9}[tt.want], p.Depth.Mean, 1e-9)
		assert.Len(t, p.Ties, 2)
		assert.False(t, p.Slot())
		// A crew that digs no deeper than half a metre is told.
		b.loc.Job.Settings.Hole.DepthLimit, h.Stop = 0.5, 0.5
		p = b.propose(choice{hole: h})
		limited := finding.With(p.Cautions, finding.DepthLimited)
		assert.Equal(t, tt.want == "L", len(limited) == 1, "%s at 0.3 m is within it, 0.9 m is not", tt.want)
	}
}
