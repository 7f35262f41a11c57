package simulate

import (
	"math"
	"math/rand/v2"

	"asfound/geo"
)

// plan is a system as built, in the field.
type plan struct {
	corners      [4]geo.Vec // of the house
	tank, box    geo.Vec
	start, end   []geo.Vec
	width        float64
	turn         geo.Angle // of the whole lot
	along, right geo.Vec   // of the laterals
}

// laplace returns a two-sided exponential number of standard deviation 1.
func laplace(r *rand.Rand) float64 {
	v := r.ExpFloat64() / math.Sqrt2
	if r.IntN(2) == 0 {
		return -v
	}
	return v
}

// flat returns a uniform number of standard deviation 1.
func flat(r *rand.Rand) float64 { return (2*r.Float64() - 1) * math.Sqrt(3) }

// between returns a uniform number in [a, b).
func between(r *rand.Rand, a, b float64) float64 { return a + (b-a)*r.Float64() }

// build invents a system as built.
func build(r *rand.Rand) plan {
	var p plan
	p.turn = geo.Radians(between(r, -math.Pi, math.Pi))
	w, d := between(r, 9, 17), between(r, 7, 12)
	p.corners = [4]geo.Vec{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: d}, {X: 0, Y: d}}
	n := 4 + r.IntN(5)
	long, spacing := between(r, 12, 30), between(r, 1.9, 3.1)
	away := between(r, 4, 14) // house wall to the nearest lateral
	skew := geo.Degrees(between(r, -25, 25))
	p.along = geo.Vec{X: 1}.Rotate(skew)
	p.right = p.along.Right()
	first := geo.Vec{X: between(r, -8, 8), Y: -away}
	p.tank = geo.Vec{X: between(r, 1, w-1), Y: -between(r, 2.5, 3.5)}
	p.width = 0.9
	for k := range n {
		s := first.Add(p.right.Scale(float64(k) * spacing)).Add(p.along.Scale(0.15 * flat(r)))
		p.start = append(p.start, s)
		p.end = append(p.end, s.Add(p.along.Scale(long+0.1*flat(r))).Add(p.right.Scale(0.06*flat(r))))
	}
	mid := p.start[0].Lerp(p.start[n-1], between(r, 0.3, 0.7))
	p.box = mid.Sub(p.along.Scale(between(r, 1.2, 2.5)))
	move := func(v *geo.Vec) { *v = v.Rotate(p.turn) }
	for i := range p.corners {
		move(&p.corners[i])
	}
	move(&p.tank)
	move(&p.box)
	for k := range n {
		move(&p.start[k])
		move(&p.end[k])
	}
	p.along, p.right = p.along.Rotate(p.turn), p.right.Rotate(p.turn)
	return p
}
