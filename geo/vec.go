package geo

import "math"

// Vec is a point or a displacement on the ground: X is east and Y north, in
// metres. Sheets and pages are planes with types of their own
// (asbuilt.Position, drawing.Drawn, chart.Point), which borrow the geometry of
// this one. Where a Vec is of another plane, such as a grid, it is said there.
type Vec struct{ X, Y float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y} }

// Sub returns v − w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y} }

// Scale returns v stretched by k.
func (v Vec) Scale(k float64) Vec { return Vec{v.X * k, v.Y * k} }

// Dot returns the scalar product of v and w.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y }

// Cross returns the z component of v × w: positive where w is counter-clockwise of v.
func (v Vec) Cross(w Vec) float64 { return v.X*w.Y - v.Y*w.X }

// Norm returns the length of v, in the unit of its plane.
func (v Vec) Norm() float64 { return math.Hypot(v.X, v.Y) }

// Dist returns the distance between v and w, in the unit of their plane.
func (v Vec) Dist(w Vec) float64 { return v.Sub(w).Norm() }

// Unit returns v scaled to length 1, or the zero Vec where v is zero.
func (v Vec) Unit() Vec {
	if n := v.Norm(); n > 0 {
		return v.Scale(1 / n)
	}
	return Vec{}
}

// Right returns v turned a quarter clockwise: the right-hand normal.
func (v Vec) Right() Vec { return Vec{v.Y, -v.X} }

// Rotate returns v turned counter-clockwise by a.
func (v Vec) Rotate(a Angle) Vec {
	s, c := math.Sincos(a.rad)
	return Vec{c*v.X - s*v.Y, s*v.X + c*v.Y}
}

// Lerp returns the point at fraction u of the way from v to w.
func (v Vec) Lerp(w Vec, u float64) Vec { return Vec{v.X + u*(w.X-v.X), v.Y + u*(w.Y-v.Y)} }

// Finite reports whether both coordinates are ordinary numbers.
func (v Vec) Finite() bool {
	return !math.IsNaN(v.X) && !math.IsInf(v.X, 0) && !math.IsNaN(v.Y) && !math.IsInf(v.Y, 0)
}

// Bearing returns the direction from one point to another, clockwise from the
// +Y axis, in [0°, 360°). It is 0 where the points coincide.
func Bearing(from, to Vec) Angle {
	d := to.Sub(from)
	return Angle{math.Atan2(d.X, d.Y)}.Bearing()
}

// AlongAcross returns station and offset of p on the line a → b: the distance
// along it from a, and the distance square to it, + to the right. Both are 0
// where a and b coincide.
func AlongAcross(a, b, p Vec) (station, offset float64) {
	e := b.Sub(a).Unit()
	d := p.Sub(a)
	return d.Dot(e), d.Dot(e.Right())
}

// SegmentDistance returns the distance from p to the segment a–b, and the
// fraction u in [0, 1] of the nearest point on it.
func SegmentDistance(a, b, p Vec) (dist, u float64) {
	d := b.Sub(a)
	if l2 := d.Dot(d); l2 > 0 {
		u = math.Min(1, math.Max(0, p.Sub(a).Dot(d)/l2))
	}
	return p.Dist(a.Lerp(b, u)), u
}
