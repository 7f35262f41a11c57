package probe

import (
	"math"
	"slices"

	"asfound/geo"
)

// phases is how many ways the ground is divided into cells: half a cell apart,
// so that it does not matter much where the edges of cells come to lie.
const phases = 4

// grid is one way to divide what is believed of the sought part into cells.
type grid struct {
	cell  []int32 // of each draw: the cell that holds what is sought
	cells int
}

// divide divides the belief in what is sought into cells of one hole's
// footprint: squares for a spot, strips for a line. Of several parts that are
// sought the one that takes fewest holes to find is searched for.
func (b *belief) divide(radius float64) {
	best := math.Inf(1)
	for n := range b.site.sought() {
		var all [phases]grid
		for k := range all {
			all[k] = b.grid(&b.objects[n], radius, geo.Vec{X: 0.5 * float64(k&1), Y: 0.5 * float64(k>>1)})
		}
		if v := b.blindly(all[0]); v < best {
			best, b.grids = v, all
		}
	}
}

// blindly returns how many holes a search takes that learns nothing on the way.
func (b *belief) blindly(g grid) float64 {
	sum := make([]float64, g.cells)
	for i, w := range b.weight {
		sum[g.cell[i]] += w
	}
	return holesToSearch(sum)
}

// grid divides an object into cells, shifted by a share of their size.
func (b *belief) grid(o *object, radius float64, shift geo.Vec) (g grid) {
	key := func(i int) [2]float64 {
		v, _ := o.place(i, 0)
		side := math.Sqrt(math.Pi) * (o.reach + radius) // of the square of the disc's area
		return [2]float64{math.Floor(v.X/side + shift.X), math.Floor(v.Y/side + shift.Y)}
	}
	if o.pieces != nil {
		across := b.across(o)
		side := 2 * (o.reach + radius)
		key = func(i int) [2]float64 {
			v, _ := o.place(i, 0.5)
			return [2]float64{math.Floor(v.Dot(across)/side + shift.X/2 + shift.Y)}
		}
	}
	index := map[[2]float64]int32{}
	g.cell = make([]int32, b.draws.N)
	for i := range g.cell {
		k := key(i)
		if math.IsNaN(k[0] + k[1]) {
			k = [2]float64{math.MaxFloat64, 0}
		}
		c, ok := index[k]
		if !ok {
			c = int32(len(index))
			index[k] = c
		}
		g.cell[i] = c
	}
	g.cells = len(index)
	return g
}

// across returns the direction across a line in its likeliest draw.
func (b *belief) across(o *object) geo.Vec {
	best, at := -1.0, 0
	for i, w := range b.weight {
		if w > best && o.pieces[0].long[i] > 0 {
			best, at = w, i
		}
	}
	return o.pieces[0].u[at].Right()
}

// holesToSearch returns how many holes it takes on average to find something
// that lies in cells by their weights, digging one hole in each, the likeliest
// first, which no fixed order betters: Σ k p(k) (Stone, Theory of Optimal
// Search, 1975, ch. 4). It is 0 where nothing has weight. The weights are
// put in order.
func holesToSearch(weight []float64) float64 {
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

// toGo returns how many holes there are to go where a blind search would take
// v: as many, while few; and beyond, where each hole that meets a trench
// shrinks the search by a share, in proportion to the logarithm. Both branches
// have the same slope where they meet.
func toGo(v float64) float64 {
	if v <= blind {
		return v
	}
	return blind * (1 + math.Log(v/blind))
}

// blind is up to how many cells nothing is gained by digging elsewhere than
// where the part may lie: 1/ln(1/ρ) where a hole on a trench shrinks the
// search to the share ρ = 0.78 (found by simulation; judgement).
const blind = 5
