package observe_test

import (
	"testing"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

const centre = asbuilt.Center

// Distances. Ghilani & Wolf, Adjustment Computations, ch. 14: the computed
// distance is √(ΔE² + ΔN²), of a slope distance √(ΔE² + ΔN² + Δh²). The
// figures are Pythagorean triples. Places after the adjustment:
// testdata/reference/equations.py, SciPy 1.10.1.
func TestTapes(t *testing.T) {
	a := []asbuilt.Part{testsite.Landmark("A", 0, 0)}
	try(t, []little.Site{
		{
			// 3-4-5: the tape reads 5.10 where 5 is computed, so both ends move apart.
			Name: "tape, level", Parts: a, Sigma: map[string]float64{"A": 0.1}, Points: map[string]little.Known{"P": {3, 4, 0.2}},
			Readings: []survey.Reading{{ID: "r", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(5.1), Sigma: testsite.Metres(0.05)}},
			Off:      map[string][]float64{"r": {0.1}},
		},
		{
			// 9-12-15 on the level and 8-15-17 along the slope: 17.2 where 17 is
			// computed. Taken for level it would be 2.2 too long.
			Name: "tape, over a rise", Parts: a, Sigma: map[string]float64{"A": 0.1}, Points: map[string]little.Known{"P": {9, 12, 0.2}},
			Readings: []survey.Reading{{ID: "r", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(17.2), Rise: testsite.Metres(8), Sigma: testsite.Metres(0.05)}},
			Off:      map[string][]float64{"r": {0.2}},
		},
		{
			// The same over a fall: what is below is as far as what is above.
			Name: "tape, over a fall", Parts: a, Sigma: map[string]float64{"A": 0.1}, Points: map[string]little.Known{"P": {9, 12, 0.2}},
			Readings: []survey.Reading{{ID: "r", Kind: survey.Tape, From: "P", To: "A", Value: testsite.Metres(16.8), Rise: testsite.Metres(-8), Sigma: testsite.Metres(0.05)}},
			Off:      map[string][]float64{"r": {-0.2}},
		},
	})
}

// What is written on the sheet is observed like any reading: the length of a
// bent line, 6-8-10 and 12, and ties to the middle and the nearest corner of a
// box, 3-4-5 and 5-12-13.
func TestWrittenLengths(t *testing.T) {
	bent := testsite.Trench("L", 0.6, geo.Vec{}, geo.Vec{X: 6, Y: 8}, geo.Vec{X: 6, Y: 20})
	bent.Length = testsite.Metres(22.5)
	tiedTo := func(b asbuilt.Part, at asbuilt.Spot, d float64) []asbuilt.Part {
		b.Ties = []asbuilt.Tie{{At: at, From: "A", Distance: *testsite.Metres(d)}}
		return []asbuilt.Part{testsite.Landmark("A", 0, 0), b}
	}
	try(t, []little.Site{
		{
			Name: "written length of a line", Parts: []asbuilt.Part{bent}, Sigma: map[string]float64{"L": 0.3},
			Off: map[string][]float64{"sketch:L.length": {0.5}},
		},
		{
			Name: "written tie to a middle", Parts: tiedTo(testsite.Box("box", 0.6, 3, 4), centre, 5.2), Sigma: map[string]float64{"A": 0.1, "box": 0.3},
			Off: map[string][]float64{"sketch:box.center.A": {0.2}},
		},
		{
			// The corner nearest to A is (5, 12); the farthest is 1.4 m farther.
			Name: "written tie to a corner", Parts: tiedTo(testsite.Box("box", 1, 5.5, 12.5), asbuilt.Corner, 13.3), Sigma: map[string]float64{"A": 0.1, "box": 0.3},
			Off: map[string][]float64{"sketch:box.corner.A": {0.3}},
		},
	})
}
