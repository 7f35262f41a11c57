package geo

import (
	"fmt"
	"math"

	"github.com/peterstace/simplefeatures/geom"
)

// Region is a part of the plane: patches that do not overlap, each a ring and
// the holes in it, as corridors and unions of ellipses come out.
type Region []Patch

// Patch is one connected piece of a Region. Rings are not closed by a repeated
// vertex; Outer turns counter-clockwise, holes clockwise.
type Patch struct {
	Outer []Vec
	Holes [][]Vec
}

// arcSides is how many sides stand for a full circle. A polygon drawn round a
// circle with 48 sides is wider by 1/cos(π/48), 0.2 %.
const arcSides = 48

// Area returns the area of the region, in the square of its plane's unit.
func (r Region) Area() float64 {
	sum := 0.0
	for _, p := range r {
		sum += math.Abs(ringArea(p.Outer))
		for _, h := range p.Holes {
			sum -= math.Abs(ringArea(h))
		}
	}
	return sum
}

// Contains reports whether p lies in the region; on its edge the result may be
// either.
func (r Region) Contains(p Vec) bool {
	for _, patch := range r {
		if !(Outline{patch.Outer, true}).Contains(p) {
			continue
		}
		in := true
		for _, h := range patch.Holes {
			in = in && !(Outline{h, true}).Contains(p)
		}
		if in {
			return true
		}
	}
	return false
}

// ringArea returns the area of a ring, positive where it turns
// counter-clockwise.
func ringArea(ring []Vec) float64 {
	sum := 0.0
	for i := range ring { // about the first vertex, so that large coordinates do not cancel
		sum += ring[i].Sub(ring[0]).Cross(ring[(i+1)%len(ring)].Sub(ring[0]))
	}
	return sum / 2
}

// Ring returns a polygon drawn round the ellipse about centre: it holds the
// whole ellipse and reaches past it by 0.2 % at most, so that the region drawn
// is never smaller than the one computed.
func (e Ellipse) Ring(centre Vec) []Vec {
	major := Vec{0, 1}.Rotate(Angle{-e.Bearing.rad})
	minor := major.Right()
	k := 1 / math.Cos(math.Pi/arcSides)
	ring := make([]Vec, arcSides)
	for i := range ring {
		s, c := math.Sincos(-2 * math.Pi * float64(i) / arcSides)
		ring[i] = centre.Add(major.Scale(k * e.SemiMajor * c)).Add(minor.Scale(k * e.SemiMinor * s))
	}
	return ring
}

// Capsule returns a polygon drawn round all points within r of the segment
// a–b; it reaches past them by 0.2 % of r at most.
func Capsule(a, b Vec, r float64) []Vec {
	along := b.Sub(a).Unit()
	if along == (Vec{}) {
		along = Vec{0, 1}
	}
	k := r / math.Cos(math.Pi/arcSides)
	ring := make([]Vec, 0, arcSides+2)
	half := arcSides / 2
	for i := range half + 1 { // round b, from the right of the segment to its left
		turn := Angle{math.Pi * (float64(i) - float64(half)/2) / float64(half)}
		ring = append(ring, b.Add(along.Rotate(turn).Scale(k)))
	}
	for i := range half + 1 { // and round a, back
		turn := Angle{math.Pi * (float64(i) + float64(half)/2) / float64(half)}
		ring = append(ring, a.Add(along.Rotate(turn).Scale(k)))
	}
	return ring
}

// Buffer returns the region within r of any of the outlines, with what closed
// ones contain, drawn as Capsule draws. r must be positive and every outline
// must pass Check.
func Buffer(outlines []Outline, r float64) (Region, error) {
	if !(r > 0) || math.IsInf(r, 0) {
		return nil, fmt.Errorf("a buffer of %v; want a positive width", r)
	}
	var rings [][]Vec
	for _, o := range outlines {
		if err := o.Check(); err != nil {
			return nil, err
		}
		if o.Closed {
			rings = append(rings, o.Vertices)
		}
		o.segments(func(a, b Vec) bool {
			rings = append(rings, Capsule(a, b, r))
			return true
		})
	}
	return Union(rings)
}

// Union returns the region that any of the rings contains. Every ring must
// pass Outline.Check; one that does not makes an error with the place of its
// fault. No rings make an empty region.
func Union(rings [][]Vec) (Region, error) {
	polygons := make([]geom.Geometry, 0, len(rings))
	for i, ring := range rings {
		if err := (Outline{ring, true}).Check(); err != nil {
			return nil, fmt.Errorf("ring %d: %w", i+1, err)
		}
		polygons = append(polygons, polygon(ring))
	}
	if len(polygons) == 0 {
		return nil, nil
	}
	union, err := unionPairs(polygons)
	if err != nil {
		return nil, fmt.Errorf("joining %d rings: %w", len(rings), err)
	}
	var region Region
	for _, g := range union.Dump() {
		if p, ok := g.AsPolygon(); ok {
			region = append(region, patch(p.ForceCCW()))
		}
	}
	return region, nil
}

// unionPairs joins polygons two by two, then the results, in a fixed order.
// UnionMany of simplefeatures v0.50.0 would do it in one go, but leaves a hole
// where a polygon's middle is covered by itself alone and its edge by others.
func unionPairs(gs []geom.Geometry) (geom.Geometry, error) {
	for len(gs) > 1 {
		half := gs[:0:0]
		for i := 0; i < len(gs); i += 2 {
			if i+1 == len(gs) {
				half = append(half, gs[i])
				break
			}
			g, err := geom.Union(gs[i], gs[i+1])
			if err != nil {
				return geom.Geometry{}, err
			}
			half = append(half, g)
		}
		gs = half
	}
	return gs[0], nil
}

// polygon returns the ring as simplefeatures has it, closed.
func polygon(ring []Vec) geom.Geometry {
	xy := make([]float64, 0, 2*len(ring)+2)
	for i := range len(ring) + 1 {
		v := ring[i%len(ring)]
		xy = append(xy, v.X, v.Y)
	}
	line := geom.NewLineString(geom.NewSequence(xy, geom.DimXY))
	return geom.NewPolygon([]geom.LineString{line}).AsGeometry()
}

// patch returns a polygon of simplefeatures as a Patch.
func patch(p geom.Polygon) Patch {
	ring := func(l geom.LineString) []Vec {
		s := l.Coordinates()
		vs := make([]Vec, 0, s.Length())
		for i := range s.Length() - 1 { // without the closing vertex
			xy := s.GetXY(i)
			vs = append(vs, Vec{xy.X, xy.Y})
		}
		return vs
	}
	out := Patch{Outer: ring(p.ExteriorRing())}
	for i := range p.NumInteriorRings() {
		out.Holes = append(out.Holes, ring(p.InteriorRingN(i)))
	}
	return out
}
