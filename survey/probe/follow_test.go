package probe_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
)

// opened is a lot with a trench that hole H1 at (14, 0) has met. It runs from the
// box, which lies 14 m west of the hole, 3 m more or less, and 20° to either side;
// its near end is 1.5 m from the box, and it goes on for 30 m. Landmark C stands 5 m
// north of the hole.
func opened(more ...locate.Outline) (*locate.Location, *posterior.Draws) {
	r := rand.New(rand.NewPCG(3, 3))
	hole := geo.Vec{X: 14}
	var box []geo.Vec
	var line [][]geo.Vec
	for range 2000 {
		west := geo.Vec{X: -1}.Rotate(geo.Degrees(20 * r.NormFloat64()))
		v := hole.Add(west.Scale(14 + 3*r.NormFloat64()))
		box = append(box, v)
		line = append(line, []geo.Vec{v.Sub(west.Scale(1.5)), v.Sub(west.Scale(30))})
	}
	loc, d := lot(box, more...)
	loc.Job.Sketch.Parts = append(loc.Job.Sketch.Parts, asbuilt.Part{ID: "L1", Kind: asbuilt.Lateral})
	d.Lines = map[string][][]geo.Vec{"L1": line}
	loc.Spots = append(loc.Spots, locate.Spot{Part: "C", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: 14, Y: 5}})
	loc.Holes = []locate.Hole{{Name: "H1", At: hole, Radius: 0.15, Met: "L1"}}
	d.Holes = map[string][]geo.Vec{"H1": slices.Repeat([]geo.Vec{hole}, len(box))}
	return loc, d
}

var nextAlone = probe.Options{Holes: 1, Levels: -1, Plays: -1}

// The trench is followed west to the box, by hand: 12.5 m of it and 1.5 m of pipe
// from its near end, 3 m more or less, without losing either on 14 m, 0.85^(14/5). A crew at the
// hole that faces C, north of it, has west at 9:00. In minutes it is 3 · 12.5 +
// 5 · 1.5 = 45, and opening the box.
func TestFollowByHand(t *testing.T) {
	loc, d := opened()
	plan, err := nextAlone.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	f := plan.Follow
	require.NotNil(t, f)
	assert.Equal(t, []string{"box", "H1", string(probe.MetTrench), "C", "9:00"}, []string{f.Seek, f.Hole, string(f.Met), f.Facing, geo.Clock(f.Clock)})
	assert.InDelta(t, 14, f.Length, 0.3)
	assert.InDelta(t, 3, f.Sigma, 0.2)
	assert.InDelta(t, math.Pow(0.85, 14.0/5), f.Chance, 0.01)
	assert.Less(t, f.Toward.Dist(geo.Vec{X: -1}), 0.03)
	shovel, _ := survey.ToolNamed("shovel")
	assert.InDelta(t, 45+shovel.Minutes(1), f.Minutes, 1.5)
	says := f.Finding().Says(finding.English(geo.Metre))
	assert.Contains(t, says, "follow the trench from H1 toward 9:00 (C is at 12:00)")
	assert.NotEmpty(t, plan.Holes, "what to dig where it is lost")
}

// Where one way in three is the wrong one, following takes a third more: the way
// there, and back again.
func TestFollowEitherWay(t *testing.T) {
	loc, d := opened()
	hole, box := geo.Vec{X: 14}, d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
	over := func(v geo.Vec) geo.Vec { return hole.Add(hole.Sub(v)) }
	for i := range d.N { // the box of every third draw lies as far to the east
		if i%3 == 0 {
			box[i], d.Lines["L1"][i] = over(box[i]), []geo.Vec{over(d.Lines["L1"][i][0]), over(d.Lines["L1"][i][1])}
		}
	}
	l, o := opened()
	one, err := nextAlone.Plan(t.Context(), l, o)
	require.NoError(t, err)
	both, err := nextAlone.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.NotNil(t, both.Follow)
	assert.InDelta(t, 45.0/3, both.Follow.Minutes-one.Follow.Minutes, 4)
}

// Nothing is followed where that is of no use or not allowed.
func TestNothingToFollow(t *testing.T) {
	followed := survey.Reading{ID: "f", Kind: survey.Followed, From: "H1", To: "H2", Target: "L1"}
	for _, tt := range []struct {
		name string
		make func() (*locate.Location, *posterior.Draws)
	}{
		{"no hole", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			loc.Holes = nil
			return loc, d
		}},
		{"an empty hole", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			loc.Holes[0].Met = ""
			return loc, d
		}},
		{"a hole beside the line in every draw", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			for i := range d.Holes["H1"] {
				d.Holes["H1"][i].Y = 3
			}
			return loc, d
		}},
		{"followed before, from it", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			loc.Job.Readings = append(loc.Job.Readings, followed)
			return loc, d
		}},
		{"followed before, to it", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			back := followed
			back.From, back.To = "H2", "H1"
			loc.Job.Readings = append(loc.Job.Readings, back)
			return loc, d
		}},
		{"a gas pipe across the way", func() (*locate.Location, *posterior.Draws) {
			o := outline("gas", asbuilt.Utility, geo.Vec{X: 8}, 0.2)
			o.Clearance = 0.5
			return opened(o)
		}},
		{"a crew that follows nothing", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			loc.Job.Settings.Follow = &survey.Following{Pipe: 5, Trench: 3, Loses: 1}
			return loc, d
		}},
		{"a crew that takes long", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			loc.Job.Settings.Follow = &survey.Following{Pipe: 50, Trench: 40, Loses: 0}
			return loc, d
		}},
		{"a lateral is sought", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			loc.Job.Settings.Seek = "L1"
			return loc, d
		}},
		{"the box is as good as found", func() (*locate.Location, *posterior.Draws) {
			loc, d := opened()
			for i := range d.N {
				d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}][i] = geo.Vec{}
			}
			return loc, d
		}},
	} {
		loc, d := tt.make()
		plan, err := nextAlone.Plan(t.Context(), loc, d)
		require.NoError(t, err, tt.name)
		assert.Nil(t, plan.Follow, tt.name)
	}
	// Withdrawn, it is followed after all.
	loc, d := opened()
	loc.Job.Readings = append(loc.Job.Readings, followed, survey.Reading{ID: "v", Kind: survey.Void, Target: "f"})
	plan, err := nextAlone.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	assert.NotNil(t, plan.Follow)
}

// What is opened at the end has the caution of its depth, as every hole has; here
// that it is not known. The plan by chance alone follows nothing.
func TestFollowIsCautioned(t *testing.T) {
	loc, d := opened()
	plan, err := nextAlone.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	assert.NotEmpty(t, finding.With(plan.Follow.Cautions, finding.DepthUnknown))
	greedy, err := probe.Options{Greedy: true, Holes: 1, Levels: -1, Plays: -1}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	assert.Nil(t, greedy.Follow)
}

// A hole that meets a trench shows what leads on: the branch says so in place of
// another hole, and its share is not among what needs a new plan.
func TestFollowInTheTree(t *testing.T) {
	loc, d := opened()
	loc.Holes, d.Holes = nil, nil
	plan, err := probe.Options{Plays: -1}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.NotNil(t, plan.Tree)
	found := false
	for i := range plan.Tree.Branches {
		b := &plan.Tree.Branches[i]
		if b.Follow == nil {
			continue
		}
		found = true
		assert.Nil(t, b.Next)
		assert.False(t, b.Again())
		assert.Empty(t, b.Follow.Hole)
		assert.Equal(t, finding.FollowOn, b.Then().Code)
		assert.Greater(t, b.Follow.Length, 0.0)
		assert.True(t, b.Met == probe.MetTrench || b.Met == probe.MetStart || b.Met == probe.MetEnd)
	}
	assert.True(t, found)
}
