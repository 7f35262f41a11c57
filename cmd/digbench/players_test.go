package main

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/observe"
)

// What the issue says about the lots: 4 to 8 laterals of 12 to 30 m (a tenth
// more or less once uneven lengths are on top).
func TestLots(t *testing.T) {
	for seed := range uint64(200) {
		s := invent(seed, asbuilt.Roughly, tapes)
		n := len(s.lot.laterals)
		assert.True(t, n >= 4 && n <= 8, "%d laterals", n)
		for _, l := range s.lot.laterals {
			assert.InDelta(t, 21, length(l), 9+0.4*30, "lot %d", seed)
		}
		assert.Empty(t, observe.Check(s.job), "lot %d", seed)
		assert.Empty(t, s.job.Sketch.Check("sketch"), "lot %d", seed)
	}
}

// The qualities differ as they should: the better the drawing, the nearer a
// plain fit has the box.
func TestQualities(t *testing.T) {
	last := 0.0
	for _, trust := range trusts {
		sum := 0.0
		for seed := range uint64(200) {
			s := invent(seed, trust, tapes)
			p := newPlain(s)
			to, ok := geo.FitHelmert(p.marks[:], s.lot.corners[:], nil).Similarity()
			require.True(t, ok)
			sum += math.Min(20, to(p.box()).Dist(s.lot.box))
		}
		t.Logf("%s: a plain fit has the box %.2f m off on average", trust, sum/200)
		assert.Greater(t, sum/200, 1.5*last)
		last = sum / 200
	}
}

// A faultless sheet leaves nothing to search for.
func TestPerfectSheet(t *testing.T) {
	old := hands[asbuilt.ToScale]
	hands[asbuilt.ToScale] = hand{grid: 0.01}
	defer func() { hands[asbuilt.ToScale] = old }()
	found, walked := 0, 0
	for seed := range uint64(50) {
		s := invent(seed, asbuilt.ToScale, tapes)
		g := newGame(s)
		spiral(s, g)
		assert.True(t, g.found)
		if len(g.holes) == 1 {
			found++
		}
		g = newGame(s)
		practice(s, g)
		if g.found && len(g.holes) < 40 {
			walked++
		}
		assert.Greater(t, len(g.holes), 5, "a row of holes, a walk and a search")
	}
	assert.GreaterOrEqual(t, found, 45, "of 50 met at once; a tape may be out by a hand")
	assert.GreaterOrEqual(t, walked, 45, "of 50 found by walking a trench; a bowed one may be lost")
}

// The fitted player meets the box of a lot drawn to scale, and twice in the
// same way.
func TestFitted(t *testing.T) {
	play := func() *game {
		s := invent(3, asbuilt.ToScale, ties)
		g := newGame(s)
		f, err := newFitted(s, g)
		require.NoError(t, err)
		require.NoError(t, f.play())
		return g
	}
	a, b := play(), play()
	assert.True(t, a.found)
	assert.Less(t, len(a.holes), 20)
	assert.Equal(t, a.holes, b.holes)
}
