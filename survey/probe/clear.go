package probe

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
)

// keepOut is something that no hole may come near.
type keepOut struct {
	outlines []geo.Outline
	margin   float64 // metres from the outline, the hole not included
	sigma    float64 // metres: standard deviation of its place
	hard     bool    // a clearance: what is uncertain and rounded is added to it
	part     string
}

// keepOuts returns the clearances, and buildings and tanks, which nobody digs
// through.
func keepOuts(loc *locate.Location) (all []keepOut) {
	for i := range loc.Outlines {
		o := &loc.Outlines[i]
		k := keepOut{part: o.Part}
		switch o.Kind {
		case asbuilt.Utility, asbuilt.NoDig:
			k.hard, k.margin, k.sigma = true, o.Clearance, o.Sigma
		case asbuilt.Building:
		case asbuilt.Tank:
			if loc.Job.Settings.Seek == o.Part || loc.Job.Settings.Seek == string(o.Kind) {
				continue
			}
		default:
			continue
		}
		for _, s := range o.Now {
			k.outlines = append(k.outlines, geo.Outline{Vertices: s.Vertices, Closed: s.Form == asbuilt.Polygon})
		}
		all = append(all, k)
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

// allowed reports whether a hole may be proposed at v: clear of every
// clearance by three standard deviations of setting out and of where the
// utility lies, as given out and as its rounded ties would put it, and not
// where a hole has been dug. Comparisons are such that a place which is no
// ordinary number is refused.
func (p *planner) allowed(v geo.Vec, dug []geo.Vec) bool {
	set, sigma := p.setOut(v)
	if !v.Finite() || !set.Finite() {
		return false
	}
	for _, w := range []geo.Vec{v, set} {
		for i := range p.keepOut {
			k := &p.keepOut[i]
			margin := k.margin + p.radius
			if k.hard {
				margin += 3*math.Hypot(sigma, k.sigma) + 0.02 // and what rounding does
			}
			if d := k.distance(w); d == 0 || !(d >= margin) {
				return false
			}
		}
	}
	for _, w := range dug {
		if w.Dist(v) < apart {
			return false
		}
	}
	for _, h := range p.loc.Holes {
		if h.At.Dist(v) < apart && (h.Met != "" || h.Depth == nil || p.reached(h)) {
			return false
		}
	}
	return true
}

// reached reports whether an old hole went as deep as what is sought.
func (p *planner) reached(h locate.Hole) bool {
	d, ok := p.loc.DepthAt(p.sought[0].name, h.At)
	return !ok || *h.Depth >= d.Mean
}

// marks returns the landmarks of a location.
func marks(loc *locate.Location) (all []locate.Spot) {
	for _, s := range loc.Spots {
		if s.Kind == asbuilt.Landmark {
			all = append(all, s)
		}
	}
	return all
}
