package main

import (
	"math"
	"math/rand/v2"

	"asfound/geo"
)

// lot is a system as built: where everything truly lies, in metres, in a frame
// of its own.
type lot struct {
	corners  [4]geo.Vec // of the house: landmarks A to D
	tank     geo.Vec
	box      geo.Vec
	boxAxis  geo.Vec     // unit vector along one of its sides
	laterals [][]geo.Vec // centre lines from the box end, bowed
	headers  [][]geo.Vec // the pipe from the tank first, then one to each lateral
	width    float64     // of the trenches
	along    geo.Vec     // unit vector along the trenches
	cover    [3]float64  // depths to the top of box, trench, header pipe
}

const (
	boxSide   = 0.6   // metres, 24 in
	holeReach = 0.15  // metres: radius of a hole
	pipeReach = 0.054 // metres: half of a 4-inch pipe
)

// between returns a uniform number in [a, b).
func between(r *rand.Rand, a, b float64) float64 { return a + (b-a)*r.Float64() }

// heavy returns a number of standard deviation 1 with the tails of Student's t
// of five degrees of freedom.
func heavy(r *rand.Rand) float64 {
	chi := 0.0
	for range 5 {
		v := r.NormFloat64()
		chi += v * v
	}
	return r.NormFloat64() / math.Sqrt(chi/5) * math.Sqrt(3.0/5)
}

// build invents a system: 4 to 8 laterals of 12 to 30 m behind a house.
func build(r *rand.Rand) lot {
	var l lot
	w, d := between(r, 9, 17), between(r, 7, 12)
	l.corners = [4]geo.Vec{{}, {X: w}, {X: w, Y: d}, {Y: d}}
	l.width = 0.9
	l.tank = geo.Vec{X: between(r, 1, w-1), Y: -between(r, 2.5, 4)}

	n := 4 + r.IntN(5)
	long, spacing := between(r, 12, 30), between(r, 1.9, 3.1)
	skew := geo.Degrees(between(r, -20, 20))
	slant := 0.15 * r.NormFloat64() // of the start line, along per across
	bow := 0.3 * r.NormFloat64()    // metres at the middle, common to all: a contour
	taper := 1.0                    // of the lengths from the first to the last
	if r.Float64() < 0.3 {
		taper = between(r, 0.75, 1.3)
	}
	// In its own axes the field lies along +X, its trenches one after the
	// other towards −Y; then it is turned and put behind the house.
	var field lot
	for k := range n {
		y := -float64(k)*spacing + 0.08*r.NormFloat64()
		x := slant*float64(k)*spacing + 0.15*r.NormFloat64()
		length := long * math.Pow(taper, float64(k)/float64(n-1)) * (1 + 0.02*r.NormFloat64())
		tilt, own := 0.01*r.NormFloat64(), bow+0.06*r.NormFloat64()
		var line []geo.Vec
		for i := range 7 {
			u := float64(i) / 6
			line = append(line, geo.Vec{X: x + u*length, Y: y + tilt*u*length + own*4*u*(1-u)})
		}
		field.laterals = append(field.laterals, line)
	}
	mid := field.laterals[0][0].Lerp(field.laterals[n-1][0], between(r, 0.2, 0.8))
	field.box = mid.Sub(geo.Vec{X: between(r, 1.2, 2.6)})

	turn, corner := skew, geo.Vec{X: between(r, -8, 6), Y: -between(r, 5, 14)}
	if r.Float64() < 0.3 { // the trenches run away from the house
		turn = geo.Degrees(-90 + skew.Degrees())
		corner = geo.Vec{X: between(r, 4, 14), Y: -between(r, 7, 12)}
	}
	move := func(v geo.Vec) geo.Vec { return v.Rotate(turn).Add(corner) }
	l.box = move(field.box)
	l.along = geo.Vec{X: 1}.Rotate(turn)
	l.boxAxis = l.along.Rotate(geo.Degrees(8 * r.NormFloat64()))
	for _, line := range field.laterals {
		for i := range line {
			line[i] = move(line[i])
		}
		l.laterals = append(l.laterals, line)
	}
	l.headers = append(l.headers, []geo.Vec{l.tank, l.box})
	for _, line := range l.laterals {
		l.headers = append(l.headers, []geo.Vec{l.box, line[0]})
	}
	top := between(r, 0.3, 0.75)
	l.cover = [3]float64{top - between(r, 0, 0.15), top, top + between(r, 0, 0.1)}

	whole := geo.Radians(between(r, -math.Pi, math.Pi))
	l.turn(whole)
	return l
}

// turn turns the whole lot.
func (l *lot) turn(a geo.Angle) {
	for i := range l.corners {
		l.corners[i] = l.corners[i].Rotate(a)
	}
	l.tank, l.box = l.tank.Rotate(a), l.box.Rotate(a)
	l.along, l.boxAxis = l.along.Rotate(a), l.boxAxis.Rotate(a)
	for _, lines := range [][][]geo.Vec{l.laterals, l.headers} {
		for _, line := range lines {
			for i := range line {
				line[i] = line[i].Rotate(a)
			}
		}
	}
}
