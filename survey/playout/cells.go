package playout

import (
	"math"

	"asfound/geo"
	"asfound/survey/encounter"
)

// Cells divides the ground into cells of one hole's footprint on a part that is
// sought: squares for a spot, strips for a line.
type Cells struct {
	object *encounter.Object
	side   float64 // metres
	shift  geo.Vec // by which the cells are moved, as shares of their side
	across geo.Vec // across a line
	index  map[[2]float64]int32
}

// Shifts is how many ways to divide the ground are half a cell apart, so that it
// does not matter much where the edges of cells lie.
const Shifts = 4

// NewCells returns one of the Shifts divisions of the ground for holes of a
// radius in metres. like is a draw that shows how a line runs.
func NewCells(o *encounter.Object, radius float64, shift, like int) *Cells {
	c := &Cells{object: o, index: map[[2]float64]int32{}, shift: geo.Vec{X: 0.5 * float64(shift&1), Y: 0.5 * float64(shift>>1)}}
	if o.Line {
		u, _ := o.Along(like)
		c.across, c.side = u.Right(), 2*(o.Reach+radius)
	} else {
		c.side = math.Sqrt(math.Pi) * (o.Reach + radius) // of the square of the disc's area
	}
	return c
}

// Cell returns the number of the cell in which what is sought lies in draw i
// moved by v; a place that is not finite has a cell of its own.
func (c *Cells) Cell(i int, v geo.Vec) int32 {
	k := c.key(i, v)
	if math.IsNaN(k[0] + k[1]) {
		k = [2]float64{math.MaxFloat64, 0}
	}
	n, ok := c.index[k]
	if !ok {
		n = int32(len(c.index))
		c.index[k] = n
	}
	return n
}

func (c *Cells) key(i int, v geo.Vec) [2]float64 {
	if c.object.Line {
		at, _ := c.object.Place(i, 0.5)
		return [2]float64{math.Floor(at.Add(v).Dot(c.across)/c.side + c.shift.X/2 + c.shift.Y)}
	}
	at, _ := c.object.Place(i, 0)
	at = at.Add(v)
	return [2]float64{math.Floor(at.X/c.side + c.shift.X), math.Floor(at.Y/c.side + c.shift.Y)}
}

// Len returns how many cells have been named.
func (c *Cells) Len() int { return len(c.index) }
