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
	"asfound/survey/locate"
	"asfound/survey/playout"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
)

// A hole judged by hand. The box lies at one of four places 5 m apart, in 4, 3, 2
// and 1 of 10 draws, no hole overlooks it and none is too shallow. A hole at the
// likeliest meets it with 0.4 or leaves a search of (3 + 2·2 + 3)/6 = 10/6 holes: it
// takes its minutes, and 0.6 of 10/6 usual holes more.
func TestJudgeByHand(t *testing.T) {
	var at []geo.Vec
	for k, n := range []int{4, 3, 2, 1} {
		for range 40 * n {
			at = append(at, geo.Vec{X: 5 * float64(k)})
		}
	}
	d := &posterior.Draws{N: len(at), Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: at}}
	job := &survey.Job{Settings: survey.DefaultSettings(), Sketch: &asbuilt.Sketch{Parts: []asbuilt.Part{testsite.Box("box", 0.6, 0, 0)}}}
	s, _ := newSite(t.Context(), &locate.Location{Job: job, Spots: []locate.Spot{
		{Part: "A", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: -10, Y: 12}}, {Part: "B", Kind: asbuilt.Landmark, Spot: asbuilt.Center, At: geo.Vec{X: 10, Y: 12}}}}, d)
	require.Len(t, s.Sought(), 1)
	s.Objects[0].Notices = 1
	riser := depth.Depth{Mean: -2, Sigma: 0.2} // its top stands out of the ground
	s.Depth = func(string, geo.Vec) (depth.Depth, bool) { return riser, true }
	b := s.believe()
	b.divide(s.Tools[0].Radius)
	b.usual(b.all)
	stop := encounter.StopDepth(riser)
	whole := s.Tools[0].Minutes(stop)
	assert.InDelta(t, whole, b.mean, 1e-9, "one tool alone is the usual one")
	assert.Zero(t, b.opening, "and a spade opens what it meets")

	var all tally
	for _, tt := range []struct {
		x, chance, search float64
	}{{0, 0.4, 10. / 6}, {15, 0.1, (4 + 2*3 + 3*2) / 9.}, {-20, 0, 2}} {
		h, ok := b.open(geo.Vec{X: tt.x}, &s.Tools[0], b.all)
		require.True(t, ok)
		assert.InDelta(t, stop, h.Stop, 1e-9)
		c := b.judge(h, b.all, &all, false, playout.Shifts)
		assert.InDelta(t, tt.chance, c.chance, 1e-9)
		assert.InDelta(t, (1-tt.chance)*tt.search*whole, c.search, 1e-6)
		minutes := tt.chance*s.Tools[0].Minutes(0.8*stop) + (1-tt.chance)*whole
		assert.InDelta(t, minutes+c.search, c.score, 1e-6)
		assert.InDelta(t, (1-tt.chance)*math.Log(tt.search), c.logRest, 1e-6)
		if greedy := b.judge(h, b.all, &all, true, 1); tt.chance > 0 {
			assert.InDelta(t, -tt.chance/minutes, greedy.score, 1e-9)
		}
	}
	// Over some of the draws alone, of the first place and the second: 160 and 120.
	h, ok := b.open(geo.Vec{}, &s.Tools[0], b.all)
	require.True(t, ok)
	some := b.judge(h, b.all[:280], &all, false, playout.Shifts)
	assert.InDelta(t, 160.0/280, some.chance, 1e-9)
	assert.InDelta(t, 120.0/280*whole, some.search, 1e-6)
	c, ok := b.best(true, full)
	require.True(t, ok)
	assert.InDelta(t, 0.4, c.chance, 1e-9, "the likeliest place")
	assert.Less(t, c.At.Norm(), 0.41, "so near that the whole of it is met: 0.34 + 0.15 m, less the soft edge of 0.08")

	// After an empty hole there the other three are left, by their weights.
	after := b.after(&c.hole, none)
	sum := 0.0
	for i, w := range after.weight {
		sum += w
		if at[i].X == 0 {
			assert.Zero(t, w)
		}
	}
	assert.InDelta(t, 1, sum, 1e-12)
	assert.InDelta(t, 240, after.effective(), 1e-6, "of 400 draws six tenths")
}
