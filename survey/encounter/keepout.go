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
	Shapes    []geo.Outline
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
	for _, o := range s.Shapes {
		k.outlines = append(k.outlines, outline(o, s.Kind))
	}
	return k, true
}

// outline returns an outline as holes keep clear of it. A boundary is a line
// even where it closes: the lot within it may be dug.
func outline(o geo.Outline, kind asbuilt.Kind) geo.Outline {
	if o.Closed && kind == asbuilt.Boundary && len(o.Vertices) > 0 {
		ring := append([]geo.Vec{}, o.Vertices...)
		return geo.Outline{Vertices: append(ring, o.Vertices[0])}
	}
	return o
}

// lots returns the shapes of a boundary that close round all landmarks: the
// crew's own lot.
func lots(s *Surrounding, landmarks []geo.Vec) (all []geo.Outline) {
	if s.Kind != asbuilt.Boundary {
		return nil
	}
	for _, lot := range s.Shapes {
		n, least := len(lot.Vertices), 3
		if !lot.Closed {
			least = 4 // the last is the first again
		}
		if n < least || !lot.Closed && lot.Vertices[0].Dist(lot.Vertices[n-1]) > 0.01 {
			continue
		}
		lot.Closed = true
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
