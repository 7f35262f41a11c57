package probe

import (
	"cmp"
	"math"
	"slices"

	"asfound/survey/encounter"
	"asfound/survey/playout"
)

// What one hole shows is often worth little by itself and a lot together with
// the next: which of five trenches was met is not known until another one, or
// an end, has been met. So where the search is long the best few holes are
// judged by what a crew would go on to do after each thing that they may meet:
// dig a few of the most informative holes, and then search for what is sought,
// the likeliest place first. The expected cost of a policy that can be followed
// is an upper bound on that of the best plan: a rollout (Bertsekas, Tsitsiklis
// & Wu, Rollout algorithms for combinatorial optimization, J. Heuristics 3,
// 1997).

const (
	aheadHoles  = 60 // that the policy chooses from
	aheadLevels = 4  // of holes dug for information
	aheadLeast  = 16 // draws from which on another one is chosen
	aheadEnough = 2  // holes of a search that needs no holes dug for information
)

// ahead plays the policy on a sample of a belief, each draw of the same weight.
type ahead struct {
	b     *belief
	draws []int     // the sample
	cell  []int32   // of each: the cell that holds what is sought
	holes []hole    // that may follow
	met   [][]uint8 // what each of them meets, by the place in the sample
	count []int32   // scratch: of each cell, kept zero
	many  []int32   // scratch: how many cells have so many draws, kept zero
	got   [len(mets)][]int32
	share []share // scratch
}

// newAhead takes so many draws, and the holes that may follow.
func newAhead(b *belief, draws int, holes []hole) *ahead {
	a := &ahead{b: b, holes: holes, draws: b.sample(min(draws, len(b.weight)))}
	a.count, a.many = make([]int32, b.grids[0].cells), make([]int32, len(a.draws)+1)
	for _, i := range a.draws {
		a.cell = append(a.cell, b.grids[0].cell[i])
	}
	for k := range holes {
		if b.stopped() {
			break
		}
		a.met = append(a.met, a.meets(&holes[k], k))
	}
	return a
}

// meets returns what a hole meets in every draw of the sample; chance is
// settled by golden sections.
func (a *ahead) meets(h *hole, salt int) []uint8 {
	out := make([]uint8, len(a.b.weight))
	sum := make([]float64, len(a.b.weight))
	subset := make([]int32, 0, len(a.draws))
	last := -1
	for _, i := range a.draws {
		if i != last {
			subset = append(subset, int32(i))
			out[i] = uint8(none)
			last = i
		}
	}
	a.b.Each(h, a.b.weight, subset, func(i int32, m encounter.Outcome, w float64) {
		_, u := math.Modf(0.6180339887*float64(i) + 0.7548776662*float64(salt))
		before := sum[i]
		sum[i] += w / a.b.weight[i]
		if before <= u && u < sum[i] {
			out[i] = uint8(m)
		}
	})
	met := make([]uint8, len(a.draws))
	for k, i := range a.draws {
		met[k] = out[i]
	}
	return met
}

// blindly returns how many holes a search of some draws takes in a fixed order,
// learning nothing on the way: playout.HolesToSearch of equal weights.
func (a *ahead) blindly(some []int32) float64 {
	most := int32(0)
	for _, k := range some {
		a.count[a.cell[k]]++
		most = max(most, a.count[a.cell[k]])
	}
	for _, k := range some {
		if n := a.count[a.cell[k]]; n > 0 {
			a.many[n]++
			a.count[a.cell[k]] = 0
		}
	}
	rank, sum := 0.0, 0.0
	for n := most; n > 0; n-- {
		c := float64(a.many[n])
		sum += float64(n) * (c*rank + c*(c+1)/2)
		rank += c
		a.many[n] = 0
	}
	return sum / float64(len(some))
}

// split divides draws by what a hole meets in them.
func (a *ahead) split(some []int32, met []uint8, to *[len(mets)][]int32) {
	for m := range to {
		to[m] = to[m][:0]
	}
	for _, k := range some {
		to[met[k]] = append(to[met[k]], k)
	}
}

// cost returns how many holes the policy takes on some draws.
func (a *ahead) cost(some []int32, levels int) float64 {
	v := a.blindly(some)
	if v <= aheadEnough || levels == 0 || len(some) < aheadLeast || a.b.stopped() {
		return v
	}
	best, which := math.Inf(1), -1
	for k, met := range a.met {
		a.split(some, met, &a.got)
		if len(a.got[none]) == len(some) {
			continue
		}
		left := 0.0
		for m := range mets {
			if n := len(a.got[m]); n > 0 && m != sought {
				left += float64(n) * math.Log(a.blindly(a.got[m]))
			}
		}
		if left < best {
			best, which = left, k
		}
	}
	if which < 0 {
		return v
	}
	return min(v, a.after(some, &a.holes[which], a.met[which], levels))
}

// after returns how many holes it takes that begin with a given one. A line that
// it meets may be followed instead of digging on.
func (a *ahead) after(some []int32, h *hole, met []uint8, levels int) float64 {
	var parts [len(mets)][]int32
	a.split(some, met, &parts)
	sum := float64(len(some))
	for m := range mets {
		if n := len(parts[m]); n > 0 && m != sought {
			cost := a.cost(parts[m], levels-1)
			if met := encounter.Outcome(m); playout.Leads(h, met) {
				cost = min(cost, a.b.followFrom(h, met, a.shares(parts[m]), cost*a.b.mean)/a.b.mean)
			}
			sum += float64(n) * cost
		}
	}
	return sum / float64(len(some))
}

// shares returns draws with the same weight for each.
func (a *ahead) shares(some []int32) []share {
	a.share = a.share[:0]
	for _, k := range some {
		a.share = append(a.share, share{int32(a.draws[k]), 1})
	}
	return a.share
}

// lookAhead judges by the policy the first of the finals and the most
// informative of all, and returns the best.
func (b *belief) lookAhead(all, finals []choice, fine []int32, t *tally, e effort) choice {
	slices.SortStableFunc(all, func(x, y choice) int { return cmp.Compare(x.logRest, y.logRest) })
	var follow []hole
	for i := range all[:min(aheadHoles, len(all))] {
		follow = append(follow, all[i].hole)
	}
	roots := slices.Clone(finals[:min(e.roots, len(finals))])
	for i := range all[:min(e.roots, len(all))] {
		if b.stopped() {
			return finals[0]
		}
		roots = append(roots, b.judge(all[i].hole, fine, t, false, playout.Shifts))
	}
	a := newAhead(b, e.played, follow)
	whole := make([]int32, len(a.draws))
	for k := range whole {
		whole[k] = int32(k)
	}
	for i := range roots {
		if b.stopped() {
			return finals[0]
		}
		c := &roots[i]
		holes := a.after(whole, &c.hole, a.meets(&c.hole, len(follow)+i), aheadLevels)
		c.score += b.mean*(holes-1) - c.search
	}
	return slices.MinFunc(roots, func(x, y choice) int { return cmp.Compare(x.score, y.score) })
}
