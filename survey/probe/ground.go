package probe

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// What a hole keeps from, in metres from its edge.
const (
	sigmas    = 3.0    // standard deviations kept from a clearance
	slack     = 0.02   // what rounding does
	tolerance = 0.6096 // from a utility without a clearance: 24 in, a common tolerance zone of one-call laws, of which others have 18 in (Northwest Gas Association; City of East Grand Forks MN: 2 ft; both read at second hand)
	casing    = 1.0    // from a well. Common practice, no published source
	besideLot = 0.3    // from the boundary of the lot. Common practice, no published source
	apart     = 0.25   // nearer to an old hole is the same hole
)

// keepOut is something that no hole may come near.
type keepOut struct {
	part     string
	kind     asbuilt.Kind
	outlines []geo.Outline
	margin   float64 // metres from the outline, the hole not included
	sigma    float64 // metres: standard deviation of its place
	hard     bool    // what is uncertain and rounded is added to the margin
	assumed  bool    // the sketch gives no clearance
}

// ground knows where holes may be dug.
type ground struct {
	outs []keepOut
	lots []geo.Outline // the lot's own boundary, where it closes round the landmarks
	dug  []geo.Vec
}

// newGround returns where holes may be dug on a site: nowhere within a
// clearance, nor through buildings, wells, water or tanks that are not sought,
// nor over the boundary of the lot, nor where a hole has been dug.
func newGround(s *site) *ground {
	g := &ground{}
	tank := false
	for _, o := range s.sought() {
		tank = tank || o.kind == asbuilt.Tank
	}
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		k := keepOut{part: o.Part, kind: o.Kind, sigma: o.Sigma}
		switch o.Kind {
		case asbuilt.Utility:
			k.hard, k.margin = true, o.Clearance
			if !(o.Clearance > 0) {
				k.margin, k.assumed = tolerance, true
			}
		case asbuilt.NoDig:
			k.hard, k.margin = true, o.Clearance
		case asbuilt.Well:
			k.hard, k.margin = true, casing
		case asbuilt.Boundary:
			k.hard, k.margin = true, besideLot
		case asbuilt.Building, asbuilt.Water:
		case asbuilt.Tank:
			if tank {
				continue
			}
		default:
			continue
		}
		for _, sh := range o.Now {
			k.outlines = append(k.outlines, outline(sh, o.Kind))
		}
		g.lots = append(g.lots, lots(o, s.loc)...)
		g.outs = append(g.outs, k)
	}
	for _, h := range s.loc.Holes {
		if h.Met != "" || h.Depth == nil || s.reached(h) {
			g.dug = append(g.dug, h.At)
		}
	}
	return g
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
func lots(o *locate.Outline, loc *locate.Location) (all []geo.Outline) {
	if o.Kind != asbuilt.Boundary {
		return nil
	}
	for _, s := range o.Now {
		n := len(s.Vertices)
		if n < 4 || s.Form != asbuilt.Polygon && s.Vertices[0].Dist(s.Vertices[n-1]) > 0.01 {
			continue
		}
		lot := geo.Outline{Vertices: s.Vertices, Closed: true}
		in, all2 := 0, 0
		for i := range loc.Spots {
			if m := &loc.Spots[i]; m.Kind == asbuilt.Landmark {
				all2++
				if lot.Distance(m.At) < 1 {
					in++
				}
			}
		}
		if in == all2 && in > 0 {
			all = append(all, lot)
		}
	}
	return all
}

// distance returns how far v lies from what is to be kept out of, metres; 0
// inside it.
func (k *keepOut) distance(v geo.Vec) float64 {
	best := math.Inf(1)
	for _, o := range k.outlines {
		best = min(best, o.Distance(v))
	}
	return best
}

// clear reports whether a hole of a radius in metres may be dug at v that is
// set out to a standard deviation of sigma metres. Comparisons are such that a
// place which is no ordinary number is refused.
func (g *ground) clear(v geo.Vec, radius, sigma float64) bool {
	if !v.Finite() {
		return false
	}
	for i := range g.outs {
		k := &g.outs[i]
		margin := k.margin + radius
		if k.hard {
			margin += sigmas*math.Hypot(sigma, k.sigma) + slack
		}
		if d := k.distance(v); d == 0 || !(d >= margin) {
			return false
		}
	}
	for _, l := range g.lots {
		if !l.Contains(v) {
			return false
		}
	}
	return true
}

// free reports whether v is far enough from every hole that has been dug.
func (g *ground) free(v geo.Vec) bool {
	for _, w := range g.dug {
		if w.Dist(v) < apart {
			return false
		}
	}
	return true
}

// reached reports whether an old hole went as deep as what is sought.
func (s *site) reached(h locate.Hole) bool {
	if len(s.sought()) == 0 {
		return true
	}
	d, ok := s.loc.DepthAt(s.objects[0].name, h.At)
	return !ok || *h.Depth >= d.Mean
}

// allowed reports whether a hole may be proposed at v, and to what standard
// deviation in metres it is set out: clear of everything at v, and where its
// ties, as they are rounded, would put it by the first two or by the third.
func (s *site) allowed(v geo.Vec, radius float64) (sigma float64, ok bool) {
	if !s.ground.free(v) || !s.ground.clear(v, radius, 0) {
		return 0, false
	}
	f, ok := s.marks.Fix(v)
	if !ok {
		f, _ = setout.BySatellite(s.loc, v)
	}
	sigma = math.Hypot(f.Sigma(), digOff)
	for _, w := range append(f.Others, v, f.At) {
		if !s.ground.clear(w, radius, sigma) {
			return 0, false
		}
	}
	return sigma, true
}
