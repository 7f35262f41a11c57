package probe

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/survey/playout"
)

// slot shows no line to be followed.
var slot = hole{Slot: geo.Vec{X: 1}}

// played returns a policy on draws in the given cells; met has what each hole
// meets in each draw.
func played(cell []int32, met ...[]uint8) (a *ahead, every []int32) {
	most := int32(0)
	for k, c := range cell {
		most = max(most, c)
		every = append(every, int32(k))
	}
	return &ahead{b: &belief{site: &site{ctx: context.Background()}}, holes: slices.Repeat([]hole{slot}, len(met)), cell: cell, met: met, count: make([]int32, most+1), many: make([]int32, len(cell)+1)}, every
}

// A search of draws of equal weight is the search of their cells by weight, and
// leaves no trace in the scratch.
func TestBlindlyIsTheSearchOfTheCells(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.SliceOfN(rapid.Int32Range(0, 9), 1, 60).Draw(t, "cell")
		a, every := played(cell)
		weight := make([]float64, 10)
		for _, c := range cell {
			weight[c]++
		}
		want := playout.HolesToSearch(weight)
		assert.InDelta(t, want, a.blindly(every), 1e-9)
		assert.InDelta(t, want, a.blindly(every), 1e-9, "again")
	})
}

// Sixty-four equally likely places: a search takes (64+1)/2 holes. Holes
// that halve them take one each; on fewer than aheadLeast draws no more are
// chosen, so that three are dug and eight places searched: 3 + (8+1)/2.
func TestTellingHolesTogether(t *testing.T) {
	cell := make([]int32, 64)
	bits := make([][]uint8, 6)
	for k := range cell {
		cell[k] = int32(k)
		for b := range bits {
			bits[b] = append(bits[b], [2]uint8{uint8(none), uint8(trench)}[k>>b&1])
		}
	}
	a, every := played(cell, bits...)
	assert.InDelta(t, 32.5, a.blindly(every), 1e-9)
	assert.InDelta(t, 7.5, a.cost(every, aheadLevels), 1e-9)
	assert.InDelta(t, 2+8.5, a.cost(every, 2), 1e-9)
	assert.InDelta(t, 32.5, a.cost(every, 0), 1e-9)

	// A hole on one of the places, tried first, adds itself to what is left of
	// the halving: 1 + 63/64 of the rest, where that is halved as before.
	try := make([]uint8, 64)
	for k := range try {
		try[k] = uint8(none)
	}
	try[0] = uint8(sought)
	left := 1 + 63.0/64*a.cost(every[1:], aheadLevels-1)
	assert.InDelta(t, left, a.after(every, &slot, try, aheadLevels), 1e-9)
}

// Whatever holes there are, the policy takes no more than the fixed-order
// search that it may always choose, and at least one hole.
func TestPolicyIsNoWorseThanTheSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.SliceOfN(rapid.Int32Range(0, 30), 20, 120).Draw(t, "cell")
		var met [][]uint8
		for range rapid.IntRange(0, 4).Draw(t, "holes") {
			met = append(met, rapid.SliceOfN(rapid.SampledFrom([]uint8{uint8(sought), uint8(trench), uint8(start), uint8(header), uint8(none)}), len(cell), len(cell)).Draw(t, "met"))
		}
		a, every := played(cell, met...)
		blind := a.blindly(every)
		for levels := range aheadLevels + 1 {
			cost := a.cost(every, levels)
			assert.LessOrEqual(t, cost, blind+1e-9)
			assert.GreaterOrEqual(t, cost, 1.0)
		}
	})
}

// A belief of ten draws in four cells, of 4, 3, 2 and 1: in fixed order 0.4 +
// 0.6 + 0.6 + 0.4 = 2 holes. A hole that separates the first two cells from the
// others leaves 4 and 3 in two cells, (4 + 6)/7 holes, or 2 and 1, (2 + 2)/3:
// with the hole itself 1 + 0.7 · 10/7 + 0.3 · 4/3 = 2.4.
func TestSearchOfDrawsByHand(t *testing.T) {
	cell := []int32{0, 0, 0, 0, 1, 1, 1, 2, 2, 3}
	tells := []uint8{uint8(trench), uint8(trench), uint8(trench), uint8(trench), uint8(trench), uint8(trench), uint8(trench), uint8(none), uint8(none), uint8(none)}
	a, every := played(cell, tells)
	assert.InDelta(t, 2, a.blindly(every), 1e-12)
	assert.InDelta(t, 1+0.7*10/7+0.3*4/3, a.after(every, &slot, tells, 1), 1e-12)
	// One that meets what is sought in the first cell, and nothing in the rest:
	// 1 + 0.6 · (3 + 4 + 3)/6.
	finds := []uint8{uint8(sought), uint8(sought), uint8(sought), uint8(sought), uint8(none), uint8(none), uint8(none), uint8(none), uint8(none), uint8(none)}
	assert.InDelta(t, 1+0.6*10./6, a.after(every, &slot, finds, 1), 1e-12)
}
