package playout

import (
	"math"
	"slices"
)

// HolesToSearch returns how many holes it takes on average to find something
// that lies in cells by their weights, digging one hole in each, the likeliest
// first, and no fixed order does better: Σ k p(k) (Stone, Theory of Optimal
// Search, 1975, ch. 4). It is 0 where nothing has weight. The weights are
// sorted in place.
func HolesToSearch(weight []float64) float64 {
	p := slices.DeleteFunc(weight, func(w float64) bool { return w <= 0 })
	slices.Sort(p)
	sum, all := 0.0, 0.0
	for i, w := range p {
		all += w
		sum += w * float64(len(p)-i)
	}
	if all == 0 {
		return 0
	}
	return sum / all
}

// CostToGo returns how many holes there are to go where a search in fixed order,
// which learns nothing on the way, would take v: the same number while it is
// small; beyond, where each hole that meets a trench shrinks the search by a
// share, in proportion to the logarithm. Both branches have the same slope where
// they meet.
func CostToGo(v float64) float64 {
	if v <= Blind {
		return v
	}
	return Blind * (1 + math.Log(v/Blind))
}

// Blind is the number of cells up to which nothing is gained by digging
// elsewhere than where the part may lie: 1/ln(1/ρ) where a hole on a trench
// shrinks the search to the share ρ = 0.82 (checked against the digs of
// cmd/digbench; judgement).
const Blind = 5
