package probe

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// belief is where everything may lie: draws by weights, which sum to 1.
type belief struct {
	*site
	weight  []float64
	mean    float64 // minutes that a usual hole takes
	opening float64 // minutes of opening what was only felt, 0 where the usual tool opens
}

// hole is a hole, or a slot, that may be dug.
type hole struct {
	at     geo.Vec
	slot   geo.Vec // from at to the far end of a slot, metres; zero for a hole
	radius float64
	blur   float64   // metres: standard deviation of where its rim comes to lie against a part
	stop   float64   // metres: called empty here; 0: nothing is known of depths
	deep   []float64 // per object: chance that its top lies above stop
	tool   *tool
	sigma  float64 // metres: of its setting out
}

// ramp returns the chance that a rim which is expected to reach x metres into
// a part does reach it: a straight line for the normal distribution function
// of standard deviation blur, which has the same slope at its middle within
// a third.
func ramp(x, blur float64) float64 {
	return max(0, min(1, 0.5+x/(3.4*blur)))
}

// tally is what a hole may meet, and where what is sought would lie then.
type tally struct {
	chance [len(mets)]float64
	search [len(mets)]float64   // holes that a blind search for what is sought takes then
	cells  [len(mets)][]float64 // scratch: weight in each cell of the search
	part   [len(mets)][]share   // scratch: what each draw gives to an outcome
}

// share is the weight that a draw gives to an outcome.
type share struct {
	draw int32
	w    float64
}

// mets lists what a hole may meet; the tallies are in this order.
var mets = [...]Met{MetSought, MetTrench, MetStart, MetEnd, MetHeader, MetOther, MetNone}

const (
	sought = iota
	trench
	start
	end
	header
	other
	none
)

// metOf returns which outcome it is to meet an object.
func metOf(o *object, spot asbuilt.Spot) int {
	switch {
	case o.sought:
		return sought
	case o.kind == asbuilt.Lateral && spot == asbuilt.Start:
		return start
	case o.kind == asbuilt.Lateral && spot == asbuilt.End:
		return end
	case o.kind == asbuilt.Lateral:
		return trench
	case o.kind == asbuilt.Header:
		return header
	}
	return other
}

// each calls f with the share of the weight of every draw, of those in
// subset, that goes to each outcome of a hole.
func (b *belief) each(h *hole, subset []int32, f func(i int32, met int, w float64)) {
	if cap(b.remains) < len(subset) {
		b.remains = make([]float64, len(subset))
	}
	rest := b.remains[:len(subset)]
	for k, i := range subset {
		rest[k] = b.weight[i]
	}
	far := 1.7 * h.blur
	for n := range b.objects {
		o := &b.objects[n]
		q := o.meets * h.deep[n]
		if q == 0 || !o.near(h.middle(), h.radius+h.half()+far) {
			continue
		}
		for k, i := range subset {
			if rest[k] == 0 {
				continue
			}
			in, spot := o.cut(int(i), h, far)
			if in <= -far {
				continue
			}
			w := rest[k] * q * ramp(in, h.blur)
			rest[k] -= w
			f(i, metOf(o, spot), w)
		}
	}
	for k, i := range subset {
		f(i, none, rest[k])
	}
}

// try tallies a hole over a subset of the draws, with the cells of so many
// grids.
func (b *belief) try(h *hole, subset []int32, t *tally, grids int) {
	t.chance = [len(mets)]float64{}
	for m := range t.part {
		t.part[m] = t.part[m][:0]
	}
	sum := 0.0
	b.each(h, subset, func(i int32, met int, w float64) {
		t.chance[met] += w
		sum += w
		if met != sought && w > 0 {
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

// holes returns how many holes a blind search takes after an outcome, by the
// cells of one grid.
func (t *tally) holes(m int, g grid) float64 {
	if cap(t.cells[m]) < g.cells {
		t.cells[m] = make([]float64, g.cells)
	}
	cells := t.cells[m][:g.cells]
	clear(cells)
	for _, s := range t.part[m] {
		cells[g.cell[s.draw]] += s.w
	}
	return holesToSearch(cells)
}

// after returns the belief after a hole has met something.
func (b *belief) after(h *hole, met int) *belief {
	c := &belief{site: b.site, weight: make([]float64, len(b.weight))}
	b.each(h, b.all, func(i int32, m int, w float64) {
		if m == met {
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
func (b *belief) chances(h *hole, subset []int32) []float64 {
	all := make([]float64, len(b.objects))
	sum := 0.0
	for _, i := range subset {
		sum += b.weight[i]
	}
	far := 1.7 * h.blur
	for n := range b.objects {
		o := &b.objects[n]
		q := o.meets
		if h.deep != nil {
			q *= h.deep[n]
		}
		if !o.near(h.middle(), h.radius+h.half()+far) {
			continue
		}
		for _, i := range subset {
			if w := b.weight[i]; w > 0 {
				if in, _ := o.cut(int(i), h, far); in > -far {
					all[n] += w * q * ramp(in, h.blur) / sum
				}
			}
		}
	}
	return all
}

// support returns the draws that have weight, every stride-th of them.
func (b *belief) support(stride int) []int32 {
	some := make([]int32, 0, len(b.all))
	for _, i := range b.all {
		if b.weight[i] > 1e-12 {
			some = append(some, i)
		}
	}
	if stride <= 1 || len(some) < 2*few {
		return some
	}
	stride = min(stride, len(some)/few)
	thin := some[:0]
	for k := 0; k < len(some); k += stride {
		thin = append(thin, some[k])
	}
	return slices.Clip(thin)
}

// few is how many draws are enough to choose candidates by.
const few = 400
