package probe_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// rodded is lot, dug by a crew with a rod and a shovel that takes so many minutes a
// hole.
func rodded(box []geo.Vec, minutes float64, more ...locate.Outline) (*locate.Location, *probe.Plan, error) {
	loc, draws := lot(box, more...)
	rod, _ := survey.ToolNamed("rod")
	shovel, _ := survey.ToolNamed("shovel")
	shovel.Start, shovel.PerMetre, shovel.PerSquare = minutes, 0, 0
	loc.Job.Settings.Tools = []survey.Tool{rod, shovel}
	plan, err := probe.Options{Holes: 1, Levels: -1, Plays: -1}.Plan(context.Background(), loc, draws)
	return loc, plan, err
}

// The stabs of a grid by hand: a base line from (1, 2) along a 3-4-5 triangle, and a
// second line to its right.
func TestStabsByHand(t *testing.T) {
	r := probe.Rod{From: geo.Vec{X: 1, Y: 2}, To: geo.Vec{X: 1 + 2*0.6*0.5, Y: 2 + 2*0.8*0.5}, Lines: 2, Each: 3, Step: 0.5}
	var want []geo.Vec
	for _, v := range [][2]float64{{1, 2}, {1.3, 2.4}, {1.6, 2.8}, {1.4, 1.7}, {1.7, 2.1}, {2, 2.5}} {
		want = append(want, geo.Vec{X: v[0], Y: v[1]})
	}
	for i, v := range r.Stabs() {
		assert.InDelta(t, 0, v.Dist(want[i]), 1e-12, "stab %d", i)
	}
	assert.Equal(t, finding.RodGrid, r.Finding().Code)
	r.Lines = 1
	assert.Equal(t, finding.RodRow, r.Finding().Code)
}

// Where the box lies within a metre or two and a hole takes long, a grid of stabs
// comes first; a crew without a rod, and one whose holes are quick, gets none. The grid
// is set out by both ends of its base line, and warns of what a rod can pierce.
func TestRodBeforeAHole(t *testing.T) {
	box := cloud(2000, geo.Vec{X: 1, Y: -2}, 0.8)
	_, plan, err := rodded(box, 200)
	require.NoError(t, err)
	r := plan.Rod
	require.NotNil(t, r)
	assert.Equal(t, "box", r.Seek)
	require.GreaterOrEqual(t, len(r.Ties), 2)
	require.GreaterOrEqual(t, len(r.ToTies), 2)
	for _, end := range []struct {
		at   geo.Vec
		ties []probe.SetOut
	}{{r.From, r.Ties}, {r.To, r.ToTies}} {
		assert.InDelta(t, end.at.Dist(geo.Vec{X: -10, Y: 12}), distance(end.ties, "A"), 1e-6)
		assert.InDelta(t, end.at.Dist(geo.Vec{X: 10, Y: 12}), distance(end.ties, "B"), 1e-6)
	}
	assert.NotEmpty(t, finding.With(r.Cautions, finding.RodPierces))
	assert.NotEmpty(t, finding.With(r.Cautions, finding.RodTo))
	assert.InDelta(t, 5+float64(len(r.Stabs()))*(0.7+r.Depth+0.5*r.Depth*r.Depth), r.Minutes, 1e-9, "by the table of tools")
	// No depth is known here: the chance is that the grid lies over the box and is felt.
	over := 0.0
	for _, b := range box {
		misses := 1.0
		for _, v := range r.Stabs() {
			if v.Dist(b) < 0.6/math.Sqrt(math.Pi)+0.02 {
				misses *= 0.15
			}
		}
		over += (1 - misses) / float64(len(box))
	}
	assert.InDelta(t, over, r.Chance, 0.03)

	_, plan, err = rodded(box, 5)
	require.NoError(t, err)
	assert.Nil(t, plan.Rod, "a hole is quicker")
	loc, draws := lot(box)
	loc.Job.Settings.Tools = []survey.Tool{{Name: "shovel", Radius: 0.15, Start: 200, Notices: 1, Opens: true}}
	plan, err = probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	assert.Nil(t, plan.Rod, "the crew has no rod")
}

func distance(ties []probe.SetOut, from string) float64 {
	for _, t := range ties {
		if t.From == from {
			return t.Distance
		}
	}
	return math.NaN()
}

// No stab is made within a clearance, with three standard deviations of where a
// service lies kept besides.
func TestStabsKeepClearances(t *testing.T) {
	grids, checks := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if checks++; checks > few(36) {
			return
		}
		at := func(name string) geo.Vec {
			return geo.Vec{X: rapid.Float64Range(-4, 4).Draw(t, name+"x"), Y: rapid.Float64Range(-4, 4).Draw(t, name+"y")}
		}
		gas := locate.Outline{Part: "gas", Kind: asbuilt.Utility, Clearance: rapid.Float64Range(0.01, 1).Draw(t, "clearance"), Sigma: rapid.Float64Range(0, 0.3).Draw(t, "sigma"),
			Now: []geo.Outline{{Vertices: []geo.Vec{at("a"), at("b")}}}}
		_, plan, err := rodded(cloud(300, at("box"), rapid.Float64Range(0.3, 1.5).Draw(t, "spread")), 300, gas)
		if err != nil {
			t.Fatal(err)
		}
		if plan.Rod == nil {
			return
		}
		grids++
		for _, v := range plan.Rod.Stabs() {
			if d := gas.Now[0].Distance(v); d < gas.Clearance+3*gas.Sigma+0.02 {
				t.Fatalf("a stab %.3f m from the gas, whose clearance is %.3f m", d, gas.Clearance)
			}
		}
	})
	assert.Greater(t, grids, 10)
}
