package geo

import (
	"fmt"
	"math"
)

// Outline is what is drawn of a thing on the plane: a point (one vertex), a
// line (two or more), or, where Closed, the ring round a polygon, whose last
// vertex joins the first and is not repeated. Its methods are exact but for
// rounding and take time in proportion to the vertices.
type Outline struct {
	Vertices []Vec
	Closed   bool
}

// segments calls visit with each side of the outline until visit returns
// false. A point has one side, from itself to itself.
func (o Outline) segments(visit func(a, b Vec) bool) {
	n := len(o.Vertices)
	if n == 1 {
		visit(o.Vertices[0], o.Vertices[0])
		return
	}
	for i := range n {
		if i == n-1 && !o.Closed {
			return
		}
		if !visit(o.Vertices[i], o.Vertices[(i+1)%n]) {
			return
		}
	}
}

// Length returns the length of the outline along its vertices, in the unit of
// its plane; of a closed one, its perimeter.
func (o Outline) Length() (l float64) {
	o.segments(func(a, b Vec) bool {
		l += a.Dist(b)
		return true
	})
	return l
}

// Contains reports whether p lies inside a closed outline: whether a ray from
// p crosses it an odd number of times. On the line itself the result may be
// either; use Distance where that matters. An open outline contains nothing.
func (o Outline) Contains(p Vec) bool {
	if !o.Closed || len(o.Vertices) == 0 {
		return false
	}
	inside := false
	a := o.Vertices[len(o.Vertices)-1]
	for _, b := range o.Vertices {
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			inside = !inside
		}
		a = b
	}
	return inside
}

// Distance returns the distance from p to the outline, in the unit of their
// plane: 0 inside a closed one, +Inf from one without vertices. It is made for
// the inner loop of a search: squares are compared and one root taken.
func (o Outline) Distance(p Vec) float64 {
	if o.Contains(p) {
		return 0
	}
	least := math.Inf(1)
	for i, b := range o.Vertices {
		a := b
		switch {
		case i > 0:
			a = o.Vertices[i-1]
		case o.Closed:
			a = o.Vertices[len(o.Vertices)-1]
		}
		ab, ap := b.Sub(a), p.Sub(a)
		if l2 := ab.Dot(ab); l2 > 0 {
			u := min(1, max(0, ap.Dot(ab)/l2))
			ap = ap.Sub(ab.Scale(u))
		}
		least = min(least, ap.Dot(ap))
	}
	return math.Sqrt(least)
}

// Gap returns the shortest distance between two outlines, in the unit of their
// plane: 0 where they touch, cross or lie in one another, +Inf where one has
// no vertices.
func (o Outline) Gap(q Outline) float64 {
	if len(o.Vertices) == 0 || len(q.Vertices) == 0 {
		return math.Inf(1)
	}
	if o.Contains(q.Vertices[0]) || q.Contains(o.Vertices[0]) {
		return 0
	}
	least := math.Inf(1)
	o.segments(func(a, b Vec) bool {
		q.segments(func(c, d Vec) bool {
			least = min(least, segmentGap(a, b, c, d))
			return least > 0
		})
		return least > 0
	})
	return least
}

// segmentGap returns the shortest distance between two segments.
func segmentGap(a, b, c, d Vec) float64 {
	if _, meet := meeting(a, b, c, d); meet {
		return 0
	}
	d1, _ := SegmentDistance(a, b, c)
	d2, _ := SegmentDistance(a, b, d)
	d3, _ := SegmentDistance(c, d, a)
	d4, _ := SegmentDistance(c, d, b)
	return min(d1, d2, d3, d4)
}

// meeting returns a place where the segments a–b and c–d cross or touch.
// Source: the four orientation tests of Cormen et al., Introduction to
// Algorithms, "Determining whether any pair of segments intersects".
func meeting(a, b, c, d Vec) (at Vec, meet bool) {
	ab, cd := b.Sub(a), d.Sub(c)
	sideC, sideD := ab.Cross(c.Sub(a)), ab.Cross(d.Sub(a))
	sideA, sideB := cd.Cross(a.Sub(c)), cd.Cross(b.Sub(c))
	switch {
	case opposite(sideC, sideD) && opposite(sideA, sideB):
		return a.Lerp(b, sideA/(sideA-sideB)), true
	case sideC == 0 && between(a, b, c):
		return c, true
	case sideD == 0 && between(a, b, d):
		return d, true
	case sideA == 0 && between(c, d, a):
		return a, true
	case sideB == 0 && between(c, d, b):
		return b, true
	}
	return Vec{}, false
}

// opposite reports whether one of two numbers is above and the other below 0.
func opposite(u, v float64) bool { return u > 0 && v < 0 || u < 0 && v > 0 }

// between reports whether p, known to lie on the line a–b, lies between them.
func between(a, b, p Vec) bool {
	return min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y)
}

// Fault is what is wrong with an outline, and where.
type Fault struct {
	At    Vec
	Wrong string
}

// Error returns the fault with its place to the millimetre of a metre plane.
func (f *Fault) Error() string { return fmt.Sprintf("%s at (%.3f, %.3f)", f.Wrong, f.At.X, f.At.Y) }

// Check returns a *Fault, or nil, for an outline that is closed but not a
// polygon (fewer than three places, a side that crosses or touches another, a
// spike that folds back), or that has a vertex which is not finite. A vertex
// written twice in a row is not a fault. It takes time in proportion to the
// square of the vertices.
func (o Outline) Check() error {
	var ring []Vec
	for i, v := range o.Vertices {
		if !v.Finite() {
			return &Fault{v, fmt.Sprintf("vertex %d is not finite", i+1)}
		}
		if len(ring) == 0 || v != ring[len(ring)-1] {
			ring = append(ring, v)
		}
	}
	if len(ring) == 0 {
		return &Fault{Wrong: "an outline without vertices"}
	}
	if !o.Closed {
		return nil
	}
	if len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	n := len(ring)
	if n < 3 {
		return &Fault{ring[0], "a polygon of fewer than three different vertices"}
	}
	for i := range n {
		a, b, c := ring[i], ring[(i+1)%n], ring[(i+2)%n]
		if back := b.Sub(a); back.Cross(c.Sub(b)) == 0 && back.Dot(c.Sub(b)) < 0 {
			return &Fault{b, "a polygon that folds back on itself"}
		}
		for j := i + 2; j < n && (j+1)%n != i; j++ {
			if at, meet := meeting(a, b, ring[j], ring[(j+1)%n]); meet {
				return &Fault{at, "a polygon that crosses or touches itself"}
			}
		}
	}
	return nil
}
