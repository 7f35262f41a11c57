package playout_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/survey/playout"
)

// A search of n equal cells takes (n + 1)/2 holes (the mean of 1 … n, by hand);
// of unequal ones, as many as digs of them take on average.
func TestHolesToSearch(t *testing.T) {
	assert.InDelta(t, 5.5, playout.HolesToSearch(slices.Repeat([]float64{0.1}, 10)), 1e-12)
	assert.InDelta(t, 0.5*1+0.3*2+0.2*3, playout.HolesToSearch([]float64{0.3, 0.2, 0, 0.5}), 1e-12)
	assert.Zero(t, playout.HolesToSearch(nil))

	weight := []float64{4, 1, 2, 7, 3, 0.5}
	rank := map[float64]int{7: 1, 4: 2, 3: 3, 2: 4, 1: 5, 0.5: 6}
	rng := rand.New(rand.NewPCG(5, 5))
	const n = 40000
	sum := 0.0
	for range n {
		u := 17.5 * rng.Float64()
		for _, w := range weight {
			if u -= w; u < 0 {
				sum += float64(rank[w])
				break
			}
		}
	}
	assert.InDelta(t, sum/n, playout.HolesToSearch(slices.Clone(weight)), 0.03)
}

// The cost to go is the search itself while that is short, grows with it, never
// faster than it, and has no step or kink where the branches meet.
func TestCostToGo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0, 200).Draw(t, "v")
		w := v + rapid.Float64Range(0, 50).Draw(t, "more")
		a, b := playout.CostToGo(v), playout.CostToGo(w)
		assert.LessOrEqual(t, a, b)
		assert.LessOrEqual(t, b-a, w-v+1e-9)
		if v <= playout.Blind {
			assert.Equal(t, v, a)
		}
	})
	const e = 1e-6
	slope := (playout.CostToGo(playout.Blind+e) - playout.CostToGo(playout.Blind)) / e
	assert.InDelta(t, 1, slope, 1e-5)
}
