package encounter

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
)

const (
	sigmas = 3.0  // standard deviations kept from a clearance
	slack  = 0.02 // metres: what rounding does
)

// Surrounding is a part of the sketch as it now lies.
type Surrounding struct {
	Part      string
	Kind      asbuilt.Kind
	Shapes    []asbuilt.Shape
	Clearance float64 // metres, of a utility or no-dig; 0: none is given
	Sigma     float64 // metres: standard deviation of its place, the larger axis
}

// KeepOut is something that no hole may come near.
type KeepOut struct {
	Part    string
	Kind    asbuilt.Kind
	Margin  float64 // metres from the outline, the hole not included
	Assumed bool    // the sketch gives no clearance, and a usual one is kept

	outlines []geo.Outline
	sigma    float64 // metres: standard deviation of its place
	hard     bool    // what is uncertain and rounded is added to the margin
}

// newKeepOut returns the area to stay out of around a part; ok is false for a
// part that may be dug at. A tank may where one is sought.
func newKeepOut(s *Surrounding, tank bool) (k KeepOut, ok bool) {
	k = KeepOut{Part: s.Part, Kind: s.Kind, sigma: s.Sigma}
	switch s.Kind {
	case asbuilt.Utility:
		k.hard, k.Margin = true, s.Clearance
		if !(s.Clearance > 0) {
			k.Margin, k.Assumed = practice.ToleranceZone, true
		}
	case asbuilt.NoDig:
		k.hard, k.Margin = true, s.Clearance
	case asbuilt.Well:
		k.hard, k.Margin = true, practice.WellClearance
	case asbuilt.Boundary:
		k.hard, k.Margin = true, practice.BoundaryClearance
	case asbuilt.Building, asbuilt.Water:
	case asbuilt.Tank:
		if tank {
			return k, false
		}
	default:
		return k, false
	}
	for _, sh := range s.Shapes {
		k.outlines = append(k.outlines, outline(sh, s.Kind))
	}
	return k, true
}

// outline returns a shape as an outline. A boundary is a line even where it
// closes: the lot within it may be dug.
func outline(s asbuilt.Shape, kind asbuilt.Kind) geo.Outline {
	o := geo.Outline{Vertices: s.Vertices, Closed: s.Form == asbuilt.Polygon}
	if o.Closed && kind == asbuilt.Boundary && len(s.Vertices) > 0 {
		ring := append([]geo.Vec{}, s.Vertices...)
		o = geo.Outline{Vertices: append(ring, s.Vertices[0])}
	}
	return o
}

// lots returns the shapes of a boundary that close round all landmarks: the
// crew's own lot.
func lots(s *Surrounding, landmarks []geo.Vec) (all []geo.Outline) {
	if s.Kind != asbuilt.Boundary {
		return nil
	}
	for _, sh := range s.Shapes {
		n := len(sh.Vertices)
		if n < 4 || sh.Form != asbuilt.Polygon && sh.Vertices[0].Dist(sh.Vertices[n-1]) > 0.01 {
			continue
		}
		lot := geo.Outline{Vertices: sh.Vertices, Closed: true}
		in := 0
		for _, v := range landmarks {
			if lot.Distance(v) < 1 {
				in++
			}
		}
		if in == len(landmarks) && in > 0 {
			all = append(all, lot)
		}
	}
	return all
}

// Distance returns how far v lies from the area to stay out of, metres; 0
// inside it.
func (k *KeepOut) Distance(v geo.Vec) float64 {
	best := math.Inf(1)
	for _, o := range k.outlines {
		best = min(best, o.Distance(v))
	}
	return best
}
