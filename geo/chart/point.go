package chart

import (
	"math"

	"asfound/geo"
)

// Point is a place or a displacement on a page, in millimetres from the top
// left corner, X to the right and Y down. It is no place on the ground: only a
// Frame, which knows scale and turn, takes one to the other.
type Point struct{ X, Y float64 }

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point(geo.Vec(p).Add(geo.Vec(q))) }

// Sub returns p − q.
func (p Point) Sub(q Point) Point { return Point(geo.Vec(p).Sub(geo.Vec(q))) }

// Scale returns p times a number k.
func (p Point) Scale(k float64) Point { return Point(geo.Vec(p).Scale(k)) }

// Dist returns the distance between p and q in millimetres.
func (p Point) Dist(q Point) float64 { return geo.Vec(p).Dist(geo.Vec(q)) }

// Unit returns p scaled to length 1, or the zero Point where p is zero.
func (p Point) Unit() Point { return Point(geo.Vec(p).Unit()) }

// Rotate returns p turned clockwise by a: Y runs down, so what is
// counter-clockwise in mathematics is clockwise here.
func (p Point) Rotate(a geo.Angle) Point { return Point(geo.Vec(p).Rotate(a)) }

// Lerp returns the place at fraction u of the way from p to q.
func (p Point) Lerp(q Point, u float64) Point { return Point(geo.Vec(p).Lerp(geo.Vec(q), u)) }

// right returns p turned a quarter counter-clockwise on the page: up, where p
// points to the right.
func (p Point) right() Point { return Point(geo.Vec(p).Right()) }

func (p Point) dot(q Point) float64   { return geo.Vec(p).Dot(geo.Vec(q)) }
func (p Point) cross(q Point) float64 { return geo.Vec(p).Cross(geo.Vec(q)) }

// finite reports whether points can be drawn: their coordinates are ordinary
// numbers, and no larger than a file holds.
func finite(ps ...Point) bool {
	for _, p := range ps {
		if !geo.Vec(p).Finite() || math.Abs(p.X) > 1e7 || math.Abs(p.Y) > 1e7 {
			return false
		}
	}
	return true
}
