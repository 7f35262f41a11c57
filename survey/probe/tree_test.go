package probe_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// plan plans an invented job, with a tree of so many levels; 0: as many as a crew gets.
func plan(t require.TestingT, j *survey.Job, draws, levels int) (*locate.Location, *probe.Plan) {
	solved, err := fit.Solve(context.Background(), j)
	require.NoError(t, err)
	loc, err := locate.Locate(context.Background(), j, solved)
	require.NoError(t, err)
	p, err := probe.Options{Holes: 1, Levels: levels}.Plan(context.Background(), loc, must.Have(loc.Posterior.Draws(context.Background(), draws)))
	require.NoError(t, err)
	return loc, p
}

// A tree tells a crew without a phone what to dig next: its labels are all
// different and spell the way to them, the branches of a step cover every case,
// the likeliest first, and no hole is dug twice on one way.
func TestTree(t *testing.T) {
	trusts := []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}
	deepest, checks := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if checks++; checks > few(12) {
			return
		}
		s := simulate.Invent(simulate.Order{Seed: rapid.Uint64Range(1, 500).Draw(t, "seed"), Trust: rapid.SampledFrom(trusts).Draw(t, "trust"),
			Mix: simulate.Tapes, Holes: rapid.IntRange(0, 2).Draw(t, "holes")})
		_, p := plan(t, s.Job, 400, 0)
		if p.Tree == nil {
			return
		}
		if p.Tree.Label != "1" || p.Tree.Hole.At != p.Holes[0].At {
			t.Fatalf("the tree begins with %q at %v, the plan at %v", p.Tree.Label, p.Tree.Hole.At, p.Holes[0].At)
		}
		seen := map[string]bool{}
		var walk func(s *probe.Step, level int, path string, dug []geo.Vec)
		walk = func(s *probe.Step, level int, path string, dug []geo.Vec) {
			deepest = max(deepest, level)
			if want := string(rune('0'+level)) + path; s.Label != want || seen[s.Label] {
				t.Fatalf("step %q, not %q, or twice", s.Label, want)
			}
			seen[s.Label] = true
			for _, v := range dug {
				if v.Dist(s.Hole.At) < 0.25 {
					t.Fatalf("%s is dug %.2f m from a hole before it", s.Label, v.Dist(s.Hole.At))
				}
			}
			sum, before, letter := 0.0, 1.0, 'A'
			met := map[probe.Met]bool{}
			for _, b := range s.Branches {
				sum += b.Chance
				if b.Chance > before || met[b.Met] || b.Met.Finding("box").Says(finding.English(geo.Foot)) == "" {
					t.Fatalf("%s: branches out of order, or one twice: %+v", s.Label, s.Branches)
				}
				before, met[b.Met] = b.Chance, true
				if (b.Next == nil) == (b.Then() == nil) {
					t.Fatalf("%s: %s leads nowhere, or two ways", s.Label, b.Met)
				}
				if b.Met == probe.MetSought && b.Next != nil {
					t.Fatalf("%s: goes on after what was sought", s.Label)
				}
				if b.Next != nil {
					walk(b.Next, level+1, path+string(letter), append(append([]geo.Vec{}, dug...), s.Hole.At))
					letter++
				}
			}
			if sum < 0.99 || sum > 1.001 {
				t.Fatalf("%s: the chances of its branches sum to %v", s.Label, sum)
			}
		}
		walk(p.Tree, 1, "", nil)
	})
	assert.Equal(t, 3, deepest)
}

// headed returns an invented job with its headers drawn.
func headed(seed uint64) *survey.Job {
	j := simulate.Invent(simulate.Order{Seed: seed, Trust: asbuilt.Roughly, Mix: simulate.Tapes}).Job
	box, _ := j.Sketch.Part("box").Point(asbuilt.Center)
	for _, p := range j.Sketch.Parts {
		if p.Kind == asbuilt.Lateral {
			start, _ := p.Point(asbuilt.Start)
			j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: "H" + p.ID, Kind: asbuilt.Header, Feature: len(j.Sketch.Parts) + 1,
				Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: []asbuilt.Position{box, start}}}})
		}
	}
	return j
}

// A header and the end of a trench are outcomes of their own.
func TestOutcomesOfTheirOwn(t *testing.T) {
	met := map[probe.Met]int{}
	for seed := uint64(1); seed <= 6; seed++ {
		_, p := plan(t, headed(seed), 800, 1)
		require.NotNil(t, p.Tree)
		for _, b := range p.Tree.Branches {
			met[b.Met]++
			if b.Met == probe.MetHeader {
				if b.Chance > 0.05 {
					assert.NotEmpty(t, b.Parts)
				}
				for _, id := range b.Parts {
					assert.True(t, strings.HasPrefix(id, "HL"), id)
				}
			}
		}
	}
	assert.GreaterOrEqual(t, met[probe.MetHeader], 4, "%v", met)
	assert.GreaterOrEqual(t, met[probe.MetStart]+met[probe.MetTrench], 3, "%v", met)
	assert.GreaterOrEqual(t, met[probe.MetSought], 1, "%v", met) // most first holes are dug for a line to follow
}

// Where the sketch has no headers there are pipes all the same, from the box to
// each trench: a hole can meet one, though no part is named.
func TestPipesThatAreNotDrawn(t *testing.T) {
	met := 0
	for seed := uint64(1); seed <= 6; seed++ {
		job := headed(seed)
		job.Sketch.Parts = slices.DeleteFunc(job.Sketch.Parts, func(p asbuilt.Part) bool { return p.Kind == asbuilt.Header })
		_, p := plan(t, job, 800, 1)
		require.NotNil(t, p.Tree)
		assert.Subset(t, names(job), p.Tree.Hole.Seeks)
		for _, b := range p.Tree.Branches {
			if b.Met == probe.MetHeader {
				met++
				assert.Empty(t, b.Parts)
				assert.Greater(t, b.Chance, 0.001)
			}
		}
	}
	assert.GreaterOrEqual(t, met, 4)
}

// names returns the ids of a job's parts.
func names(j *survey.Job) (all []string) {
	for i := range j.Sketch.Parts {
		all = append(all, j.Sketch.Parts[i].ID)
	}
	return all
}

// The tool is chosen by its minutes: an excavator that is on the lot anyway is
// used before a shovel; one that takes an hour to move is not.
func TestToolsByTheirMinutes(t *testing.T) {
	shovel, _ := survey.ToolNamed("shovel")
	machine, _ := survey.ToolNamed("excavator")
	machine.Slot = 0
	for _, tt := range []struct {
		start float64
		want  string
	}{{4, "excavator"}, {600, "shovel"}} {
		machine.Start = tt.start
		j := headed(2)
		j.Settings.Tools = []survey.Tool{shovel, machine}
		_, p := plan(t, j, 400, 0)
		require.NotEmpty(t, p.Holes)
		assert.Equal(t, tt.want, p.Holes[0].Tool)
	}
}

// What a probe rod has felt must still be opened, so a rod pays only where a
// hole is expensive; it digs no hole itself.
func TestRod(t *testing.T) {
	rod, _ := survey.ToolNamed("rod")
	shovel, _ := survey.ToolNamed("shovel")
	j := simulate.Invent(simulate.Order{Seed: 1, Trust: asbuilt.ToScale, Mix: simulate.Tapes}).Job
	for _, tt := range []struct {
		start float64 // minutes of a hole by shovel, beside its depth
		want  bool
	}{{60, true}, {0, false}} {
		shovel.Start, shovel.PerMetre, shovel.PerSquare = tt.start, 0.5, 0
		j.Settings.Tools = []survey.Tool{rod, shovel}
		_, p := plan(t, j, 400, 0)
		require.NotEmpty(t, p.Holes)
		assert.Equal(t, tt.want, p.Rod != nil, "minutes %.1f", p.Holes[0].Minutes)
		assert.Equal(t, "shovel", p.Holes[0].Tool)
	}
}

// few returns how many of so many plans are made: a third of them in short tests,
// since under the race detector a plan takes half a minute.
func few(n int) int {
	if testing.Short() {
		return n / 3
	}
	return n
}
