package export

import (
	"math"

	"asfound/geo"
	"asfound/survey/answer"
)

// strip returns the region within half metres of a line, half given at each
// vertex and blended between them: the hulls of the circles about the ends of
// each segment, joined. Where they cannot be joined they are left beside one
// another.
func strip(line []geo.Vec, half []float64) geo.Region {
	var rings [][]geo.Vec
	for i := 1; i < min(len(line), len(half)); i++ {
		if ring := hull(line[i-1], line[i], half[i-1], half[i]); ring != nil {
			rings = append(rings, ring)
		}
	}
	region, err := geo.Union(rings)
	if err != nil {
		region = nil
		for _, ring := range rings {
			region = append(region, geo.Patch{Outer: ring})
		}
	}
	return region
}

// hull returns the hull of two circles, nil where there is none. A common
// tangent touches both at the angle from the line of centres whose cosine is
// the difference of the radii over the distance.
func hull(a, b geo.Vec, ra, rb float64) []geo.Vec {
	d := a.Dist(b)
	if !a.Finite() || !b.Finite() || !(ra > 0) || !(rb > 0) || !answer.Finite(ra+rb) {
		return nil
	}
	if d <= math.Abs(ra-rb) {
		if rb > ra {
			a, ra = b, rb
		}
		return geo.Capsule(a, a, ra)
	}
	const sides = 12 // of each arc
	touch, along := math.Acos((ra-rb)/d), b.Sub(a).Unit()
	var ring []geo.Vec
	arc := func(at geo.Vec, r, from, to float64) {
		// Drawn round the arc: the corners lie outside it.
		k := r / math.Cos((to-from)/sides/2)
		ring = append(ring, at.Add(along.Rotate(geo.Radians(from)).Scale(r)))
		for i := range sides {
			turn := from + (to-from)*(float64(i)+0.5)/sides
			ring = append(ring, at.Add(along.Rotate(geo.Radians(turn)).Scale(k)))
		}
		ring = append(ring, at.Add(along.Rotate(geo.Radians(to)).Scale(r)))
	}
	arc(b, rb, -touch, touch)
	arc(a, ra, touch, 2*math.Pi-touch)
	return ring
}
