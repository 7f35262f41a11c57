package probe

import (
	"math"

	"asfound/geo"
	"asfound/survey/encounter"
	"asfound/survey/playout"
)

// grid is one way to divide what is believed of the sought part into cells.
type grid struct {
	cell  []int32 // of each draw: the cell that holds what is sought
	cells int
}

// divide divides the belief about what is sought into cells of one hole's
// footprint: squares for a spot, strips for a line. Of several parts that are
// sought the one that takes fewest holes to find is searched for.
func (b *belief) divide(radius float64) {
	best := math.Inf(1)
	for n := range b.Sought() {
		var all [playout.Shifts]grid
		for k := range all {
			all[k] = b.grid(&b.Objects[n], radius, k)
		}
		if v := b.blindly(all[0]); v < best {
			best, b.grids = v, all
		}
	}
}

// blindly returns how many holes a search takes in a fixed order, learning
// nothing on the way.
func (b *belief) blindly(g grid) float64 {
	sum := make([]float64, g.cells)
	for i, w := range b.weight {
		sum[g.cell[i]] += w
	}
	return playout.HolesToSearch(sum)
}

// grid divides an object into cells, in one of the ways half a cell apart.
func (b *belief) grid(o *encounter.Object, radius float64, shift int) (g grid) {
	cells := playout.NewCells(o, radius, shift, b.likeliest(o))
	g.cell = make([]int32, b.N)
	for i := range g.cell {
		g.cell[i] = cells.Cell(i, geo.Vec{})
	}
	g.cells = cells.Len()
	return g
}

// likeliest returns the likeliest draw that has an object's line.
func (b *belief) likeliest(o *encounter.Object) (at int) {
	best := -1.0
	for i, w := range b.weight {
		if w > best {
			if _, ok := o.Along(i); ok {
				best, at = w, i
			}
		}
	}
	return at
}
