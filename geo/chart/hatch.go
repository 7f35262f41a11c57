package chart

import (
	"math"
	"slices"

	"asfound/geo"
)

// Hatch returns parallel lines across a polygon of the page, gap millimetres
// apart, in a direction clockwise from up: a pattern that tells areas apart
// where colours are not seen. Rings are as in Page.Polygon. A polygon that
// would take more than a thousand lines gets a thousand.
func Hatch(gap float64, direction geo.Angle, rings ...[]Point) (lines [][]Point) {
	along := Point{Y: -1}.Rotate(direction)
	across := along.right()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, ring := range rings {
		for _, v := range ring {
			lo, hi = min(lo, v.dot(across)), max(hi, v.dot(across))
		}
	}
	if !(gap > 0) || !finite(Point{X: lo, Y: hi}) {
		return nil
	}
	gap = max(gap, (hi-lo)/1000)
	for k := math.Floor(lo/gap) + 0.5; k*gap < hi; k++ {
		var at []float64
		for _, ring := range rings {
			for i, a := range ring {
				b := ring[(i+1)%len(ring)]
				da, db := a.dot(across)-k*gap, b.dot(across)-k*gap
				if (da < 0) != (db < 0) {
					at = append(at, a.Lerp(b, da/(da-db)).dot(along))
				}
			}
		}
		slices.Sort(at)
		for i := 0; i+1 < len(at); i += 2 {
			foot := across.Scale(k * gap)
			lines = append(lines, []Point{foot.Add(along.Scale(at[i])), foot.Add(along.Scale(at[i+1]))})
		}
	}
	return lines
}
