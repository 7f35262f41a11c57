package survey

import (
	"testing"

	"asfound/asbuilt"
	"asfound/geo"
)

const centre = asbuilt.Center

// Distances. Ghilani & Wolf, Adjustment Computations, ch. 14: the computed
// distance is √(ΔE² + ΔN²), of a slope distance √(ΔE² + ΔN² + Δh²). The
// figures are Pythagorean triples. Places after the adjustment:
// testdata/reference/equations.py, SciPy 1.10.1.
func TestTapes(t *testing.T) {
	a := []asbuilt.Part{landmark("A", 0, 0)}
	try(t, []little{
		{
			// 3-4-5: the tape reads 5.10 where 5 is computed, so both ends move apart.
			name: "tape, level", parts: a, sigma: map[string]float64{"A": 0.1}, points: map[string]known{"P": {3, 4, 0.2}},
			readings: []Reading{{ID: "r", Kind: Tape, From: "A", To: "P", Value: metres(5.1), Sigma: metres(0.05)}},
			off:      map[string][]float64{"r": {0.1}},
		},
		{
			// 9-12-15 on the level and 8-15-17 along the slope: 17.2 where 17 is
			// computed. Taken for level it would be 2.2 too long.
			name: "tape, over a rise", parts: a, sigma: map[string]float64{"A": 0.1}, points: map[string]known{"P": {9, 12, 0.2}},
			readings: []Reading{{ID: "r", Kind: Tape, From: "A", To: "P", Value: metres(17.2), Rise: metres(8), Sigma: metres(0.05)}},
			off:      map[string][]float64{"r": {0.2}},
		},
		{
			// The same over a fall: what is below is as far as what is above.
			name: "tape, over a fall", parts: a, sigma: map[string]float64{"A": 0.1}, points: map[string]known{"P": {9, 12, 0.2}},
			readings: []Reading{{ID: "r", Kind: Tape, From: "P", To: "A", Value: metres(16.8), Rise: metres(-8), Sigma: metres(0.05)}},
			off:      map[string][]float64{"r": {-0.2}},
		},
	})
}

// What is written on the sheet is observed like any reading: the length of a
// bent line, 6-8-10 and 12, and ties to the middle and the nearest corner of a
// box, 3-4-5 and 5-12-13.
func TestWrittenLengths(t *testing.T) {
	bent := trench("L", 0.6, geo.Vec{}, geo.Vec{X: 6, Y: 8}, geo.Vec{X: 6, Y: 20})
	bent.Length = metres(22.5)
	tiedTo := func(b asbuilt.Part, at asbuilt.Spot, d float64) []asbuilt.Part {
		b.Ties = []asbuilt.Tie{{At: at, From: "A", Distance: *metres(d)}}
		return []asbuilt.Part{landmark("A", 0, 0), b}
	}
	try(t, []little{
		{
			name: "written length of a line", parts: []asbuilt.Part{bent}, sigma: map[string]float64{"L": 0.3},
			off: map[string][]float64{"sketch:L.length": {0.5}},
		},
		{
			name: "written tie to a middle", parts: tiedTo(box("box", 0.6, 3, 4), centre, 5.2), sigma: map[string]float64{"A": 0.1, "box": 0.3},
			off: map[string][]float64{"sketch:box.center.A": {0.2}},
		},
		{
			// The corner nearest to A is (5, 12); the farthest is 1.4 m farther.
			name: "written tie to a corner", parts: tiedTo(box("box", 1, 5.5, 12.5), asbuilt.Corner, 13.3), sigma: map[string]float64{"A": 0.1, "box": 0.3},
			off: map[string][]float64{"sketch:box.corner.A": {0.3}},
		},
	})
}
