package playout

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
	"asfound/survey/encounter"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

var usual = survey.DefaultSettings().Following()

// What following takes by the rates of the practice: 5 minutes a metre of pipe, 3 of
// trench, and a line lost in 15 of 100 on 5 m. An end within half a metre of what is
// sought has come to it.
func TestLegsByHand(t *testing.T) {
	for _, tt := range []struct {
		name            string
		got             Try
		minutes, chance float64
	}{
		{"10 m of pipe", Legs(usual, false, 10, 0), 50, 0.85 * 0.85},
		{"8 m of trench and 2 m of pipe", Legs(usual, true, 8, 2), 24 + 10, 0.85 * 0.85},
		{"5 m of trench, to the box", Legs(usual, true, 5, 0.4), 15, 0.85},
		{"a pipe, straight", Straight(usual, encounter.Header+2, 5), 25, 0.85},
		{"a trench, straight", Straight(usual, encounter.End, 8.5), 25.5 + 7.5, 0.85 * 0.85},
	} {
		assert.InDelta(t, tt.minutes, tt.got.Minutes, 1e-12, tt.name)
		assert.InDelta(t, tt.chance, tt.got.Chance, 1e-12, tt.name)
	}
}

// A plan that follows a line first finds what is sought with the chance that it
// states, as one hole in its minutes; where the line is lost, half way on average,
// that hole has been dug too, and the next one meets the box.
func TestPlaysFollowALineFirst(t *testing.T) {
	s := boxes(make([]geo.Vec, 3000)) // at the origin in every draw
	first := &Step{First: &Try{Minutes: 40, Chance: 0.7}, Hole: encounter.Hole{Tool: &spade, Radius: 0.15, Sigma: 0.02}}
	r := must.Have(Play(t.Context(), s, first, Options{Plays: 1000}))
	require.Len(t, r.Count, 2)
	assert.Equal(t, 1000, r.Found)
	assert.InDelta(t, 700, r.Count[0], 60, "four standard errors")
	assert.InDelta(t, 1.3, r.Mean(), 0.06)
	for i, n := range r.Holes {
		want := 40.0
		if n == 2 {
			want = 20 + spade.Minutes(0) // the hole goes to no depth
		}
		assert.InDelta(t, want, r.Minutes[i], 1e-9)
	}
}

// west is a box 14 m west of the origin, 3 m more or less and 20° to either side,
// with a trench from 1.5 m beside it past the origin. In the first draw, which is the
// first truth, it goes about by another place, if one is given.
func west(n int, about geo.Vec, parts ...asbuilt.Part) *encounter.Site {
	r := rand.New(rand.NewPCG(9, 9))
	var box []geo.Vec
	var line [][]geo.Vec
	for i := range n {
		u := geo.Vec{X: -1}.Rotate(geo.Degrees(20 * r.NormFloat64()))
		v := u.Scale(14 + 3*r.NormFloat64())
		box, line = append(box, v), append(line, []geo.Vec{v.Sub(u.Scale(1.5)), v.Sub(u.Scale(30))})
		if i == 0 && about != (geo.Vec{}) {
			line[0] = slices.Insert(line[0], 1, about, geo.Vec{X: -1})
		}
	}
	return field(n, 1, append([]asbuilt.Part{testsite.Box("box", 0.6, 0, 0)}, parts...), posterior.Draws{
		Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: box}, Lines: map[string][][]geo.Vec{"L1": line}})
}

// A trench that the first hole meets is followed to the box: in 0.85^(14/5) of the plays
// it is met by the second hole, in 3 minutes a metre of trench and 5 of pipe. Where
// there is no trench hardly any second hole meets it.
func TestPlaysFollowATrench(t *testing.T) {
	first := func() *Step { return &Step{Hole: encounter.Hole{Tool: &spade, Radius: 0.15, Sigma: 0.02}} }
	r := must.Have(Play(t.Context(), west(3000, geo.Vec{}, testsite.Trench("L1", 0.9, geo.Vec{}, geo.Vec{})), first(), Options{Plays: 600}))
	require.Greater(t, len(r.Count), 2)
	assert.Zero(t, r.Count[0])
	assert.InDelta(t, math.Pow(0.85, 14.0/5)*600, r.Count[1], 4*12)
	minutes := 0.0
	for i, n := range r.Holes {
		if n == 2 {
			minutes += r.Minutes[i] / float64(r.Count[1])
		}
	}
	assert.InDelta(t, 3*12.5+5*1.5+2*spade.Minutes(0), minutes, 1.5)

	// Past a gas line nothing is followed.
	s := west(3000, geo.Vec{}, testsite.Trench("L1", 0.9, geo.Vec{}, geo.Vec{}))
	out := s.Ground.SetOut
	s.Ground = encounter.NewGround([]encounter.Surrounding{{Part: "gas", Kind: asbuilt.Utility, Clearance: 0.6,
		Shapes: []geo.Outline{{Vertices: []geo.Vec{{X: -5, Y: -20}, {X: -5, Y: 20}}}}}}, nil, false)
	s.Ground.SetOut = out
	barred := must.Have(Play(t.Context(), s, first(), Options{Plays: 100}))
	assert.Less(t, barred.Count[1], 15)

	alone := must.Have(Play(t.Context(), west(3000, geo.Vec{}), first(), Options{Plays: 100}))
	assert.Less(t, alone.Count[1], 15)
}

// The place where a line is lost counts as a hole, also where every play loses it: in
// the one truth the trench goes 600 m about, while it is believed to be straight.
func TestPlaysCountWhereALineIsLost(t *testing.T) {
	dug := 0
	r, err := Play(t.Context(), west(3000, geo.Vec{Y: 300}, testsite.Trench("L1", 0.9, geo.Vec{}, geo.Vec{})), &Step{Hole: encounter.Hole{Tool: &spade, Radius: 0.15, Sigma: 0.02}},
		Options{Plays: 1, Watch: func(encounter.Hole) { dug++ }})
	require.NoError(t, err)
	require.Equal(t, 1, r.Found)
	assert.Greater(t, r.Holes[0], float64(dug+1), "it is lost from the first hole, and leads to the box from the last one")
}
