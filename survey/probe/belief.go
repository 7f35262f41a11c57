package probe

import (
	"math"
	"slices"

	"asfound/survey/encounter"
	"asfound/survey/playout"
)

// belief is where everything may lie: draws by weights, which sum to 1.
type belief struct {
	*site
	weight  []float64
	mean    float64 // minutes that a usual hole takes
	opening float64 // minutes of opening what was only felt, 0 where the usual tool opens
	expose  float64 // minutes of opening what is sought, once its place is known
}

// hole is a hole, or a slot, that may be dug.
type hole = encounter.Hole

// tally is what a hole may meet, and where what is sought would lie then.
type tally struct {
	chance [len(mets)]float64
	search [len(mets)]float64   // holes that a fixed-order search for what is sought takes then
	cells  [len(mets)][]float64 // scratch: weight in each cell of the search
	part   [len(mets)][]share   // scratch: the weight that each draw gives to an outcome
}

// share is the weight that a draw gives to an outcome.
type share struct {
	draw int32
	w    float64
}

// mets lists what a hole may meet, in the order of encounter's outcomes; the
// tallies are in this order. Whichever way a pipe runs, the plan names it the same.
var mets = func() (all [encounter.Outcomes]Met) {
	words := map[encounter.Outcome]Met{
		encounter.Sought: MetSought, encounter.Trench: MetTrench, encounter.Start: MetStart, encounter.End: MetEnd,
		encounter.Header: MetHeader, encounter.Other: MetOther, encounter.None: MetNone,
	}
	for m := range all {
		all[m] = words[encounter.Outcome(m).Kind()]
	}
	return all
}()

const (
	sought = int(encounter.Sought)
	trench = int(encounter.Trench)
	start  = int(encounter.Start)
	end    = int(encounter.End)
	header = int(encounter.Header)
	none   = int(encounter.None)
)

// try tallies a hole over a subset of the draws, with the cells of so many
// grids.
func (b *belief) try(h *hole, subset []int32, t *tally, grids int) {
	t.chance = [len(mets)]float64{}
	for m := range t.part {
		t.part[m] = t.part[m][:0]
	}
	sum := 0.0
	b.Each(h, b.weight, subset, func(i int32, met encounter.Outcome, w float64) {
		t.chance[met] += w
		sum += w
		if met != encounter.Sought && w > 0 {
			t.part[met] = append(t.part[met], share{i, w})
		}
	})
	for m := range t.part {
		t.search[m] = 0
		for _, g := range b.grids[:grids] {
			if len(t.part[m]) > 0 {
				t.search[m] += t.holes(m, g) / float64(grids)
			}
		}
		if sum > 0 {
			t.chance[m] /= sum
		}
	}
}

// holes returns how many holes a fixed-order search takes after an outcome, by
// the cells of one grid.
func (t *tally) holes(m int, g grid) float64 {
	if cap(t.cells[m]) < g.cells {
		t.cells[m] = make([]float64, g.cells)
	}
	cells := t.cells[m][:g.cells]
	clear(cells)
	for _, s := range t.part[m] {
		cells[g.cell[s.draw]] += s.w
	}
	return playout.HolesToSearch(cells)
}

// after returns the belief after a hole has met something, a pipe running any way.
func (b *belief) after(h *hole, met int) *belief {
	c := &belief{site: b.site, weight: make([]float64, len(b.weight))}
	b.Each(h, b.weight, b.all, func(i int32, m encounter.Outcome, w float64) {
		if int(m.Kind()) == met {
			c.weight[i] += w
		}
	})
	c.normalise()
	return c
}

// normalise makes the weights sum to 1, where they do not vanish.
func (b *belief) normalise() {
	sum := 0.0
	for _, w := range b.weight {
		sum += w
	}
	if sum > 0 && !math.IsInf(sum, 0) {
		for i := range b.weight {
			b.weight[i] /= sum
		}
	}
}

// effective returns the effective number of draws: Kish's (Σw)²/Σw² (Survey
// Sampling, 1965).
func (b *belief) effective() float64 {
	sum, squares := 0.0, 0.0
	for _, w := range b.weight {
		sum, squares = sum+w, squares+w*w
	}
	if squares == 0 {
		return 0
	}
	return sum * sum / squares
}

// chances returns the chance of meeting each object in a hole as if it were
// alone there.
func (b *belief) chances(h *hole, subset []int32) []float64 { return b.Alone(h, b.weight, subset) }

// support returns the draws that have weight, every stride-th of them.
func (b *belief) support(stride int) []int32 {
	some := make([]int32, 0, len(b.all))
	for _, i := range b.all {
		if b.weight[i] > 1e-12 {
			some = append(some, i)
		}
	}
	if stride = min(stride, len(some)/few); stride <= 1 {
		return some
	}
	thin := some[:0]
	for k := 0; k < len(some); k += stride {
		thin = append(thin, some[k])
	}
	return slices.Clip(thin)
}

// few is how many draws are enough to choose candidates.
const few = 400
