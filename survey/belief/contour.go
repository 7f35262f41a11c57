package belief

import (
	"asfound/geo"
)

// crossing is a side of the grid that a contour crosses: from node (x, y) to
// the next along X, or along Y.
type crossing struct {
	x, y   int
	upward bool
}

// above returns the region in which the density lies above a level, by marching
// squares (Lorensen & Cline 1987, in the plane).
func (g *grid) above(level float64) (r geo.Region) {
	next := map[crossing]crossing{}
	var order []crossing // so that the rings come out the same every time
	high := func(x, y int) bool { return g.cell[y*g.nx+x] > level }
	for y := range g.ny - 1 {
		for x := range g.nx - 1 {
			bottom, top := crossing{x, y, false}, crossing{x, y + 1, false}
			left, right := crossing{x, y, true}, crossing{x + 1, y, true}
			link := func(a, b crossing) { // with what is higher on the left
				next[a] = b
				order = append(order, a)
			}
			code := 0
			for k, h := range [4]bool{high(x, y), high(x+1, y), high(x+1, y+1), high(x, y+1)} {
				if h {
					code |= 1 << k
				}
			}
			switch code {
			case 1:
				link(bottom, left)
			case 2:
				link(right, bottom)
			case 3:
				link(right, left)
			case 4:
				link(top, right)
			case 5:
				link(bottom, left)
				link(top, right)
			case 6:
				link(top, bottom)
			case 7:
				link(top, left)
			case 8:
				link(left, top)
			case 9:
				link(bottom, top)
			case 10:
				link(right, bottom)
				link(left, top)
			case 11:
				link(right, top)
			case 12:
				link(left, right)
			case 13:
				link(bottom, right)
			case 14:
				link(left, bottom)
			}
		}
	}
	var holes [][]geo.Vec
	for _, start := range order {
		var ring []geo.Vec
		for at := start; ; {
			to, ok := next[at]
			if !ok {
				break
			}
			delete(next, at)
			ring = append(ring, g.cross(at, level))
			at = to
		}
		switch area := turned(ring); {
		case area > 0:
			r = append(r, geo.Patch{Outer: ring})
		case area < 0:
			holes = append(holes, ring)
		}
	}
	for _, h := range holes {
		for i := range r {
			if (geo.Region{{Outer: r[i].Outer}}).Contains(h[0]) {
				r[i].Holes = append(r[i].Holes, h)
				break
			}
		}
	}
	return r
}

// cross returns where a contour crosses a side, on the ground.
func (g *grid) cross(c crossing, level float64) geo.Vec {
	a := g.cell[c.y*g.nx+c.x]
	if c.upward {
		b := g.cell[(c.y+1)*g.nx+c.x]
		return g.ground(float64(c.x), float64(c.y)+(level-a)/(b-a))
	}
	b := g.cell[c.y*g.nx+c.x+1]
	return g.ground(float64(c.x)+(level-a)/(b-a), float64(c.y))
}

// turned returns twice the area of a ring, positive where it turns
// counter-clockwise.
func turned(ring []geo.Vec) (sum float64) {
	for i, v := range ring {
		sum += v.Sub(ring[0]).Cross(ring[(i+1)%len(ring)].Sub(ring[0]))
	}
	return sum
}
