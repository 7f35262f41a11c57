package encounter

import (
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/depth"
)

// Site is a site to be dug on: what holes may meet in each of N draws of it, how
// deep that lies, where one may dig and with what. It caches results, so a site
// must not be shared between goroutines.
type Site struct {
	N       int
	Objects []Object // what is sought first
	Ground  *Ground
	Tools   []survey.Tool // of the crew, to dig with
	Rod     *survey.Tool  // nil: the crew has none
	Rods    survey.Rodding
	Limit   float64 // metres: the crew digs no deeper; 0: no limit
	Follow  survey.Following

	// Depth returns the expected depth of the top of a part at a place; ok is
	// false where nothing is known of it.
	Depth func(part string, at geo.Vec) (d depth.Depth, ok bool)

	depths map[patch]depth.Depth
	rest   []float64 // scratch of Each
}

// Sought returns the objects that are sought.
func (s *Site) Sought() []Object {
	n := 0
	for n < len(s.Objects) && s.Objects[n].Sought {
		n++
	}
	return s.Objects[:n]
}

// patch is an object and a patch of ground over which its depth is as good as
// the same.
type patch struct{ object, x, y int }

// patchSide is the side in metres of such a patch.
const patchSide = 2.0

// DepthAt returns the expected depth of the top of object n at v; ok is false
// where nothing is known of it.
func (s *Site) DepthAt(n int, v geo.Vec) (d depth.Depth, ok bool) {
	k := patch{n, int(math.Floor(v.X / patchSide)), int(math.Floor(v.Y / patchSide))}
	if d, ok = s.depths[k]; !ok {
		if s.depths == nil {
			s.depths = map[patch]depth.Depth{}
		}
		d, _ = s.Depth(s.Objects[n].Part, geo.Vec{X: (float64(k.x) + 0.5) * patchSide, Y: (float64(k.y) + 0.5) * patchSide})
		s.depths[k] = d
	}
	return d, d.Sigma > 0
}

// Met returns the chance that a hole meets the object in draw i, that it lies so
// deep and is noticed aside, and which end of a line it shows or which way it runs.
func (o *Object) Met(i int, h *Hole) (chance float64, m Outcome) {
	return o.met(i, h, o.OutFor(h.Sigma))
}

// met is Met with a given softness of the edge, metres.
func (o *Object) met(i int, h *Hole, out float64) (chance float64, m Outcome) {
	in, spot, piece := o.inside(i, h, out)
	if in <= -out {
		return 0, None
	}
	if m = o.Outcome(spot); m == Header {
		m += sector(o.pieces[piece].u[i])
	}
	return Within(in, out), m
}

// Show fills in what a hole shows down to its stop depth: for each object that
// may be near, the chance that its top lies above that and that it is noticed.
// Draws may be moved by up to so many metres.
func (s *Site) Show(h *Hole, moved float64) {
	if cap(h.Shows) < len(s.Objects) {
		h.Shows = make([]float64, len(s.Objects))
	}
	h.Shows = h.Shows[:len(s.Objects)]
	for n := range s.Objects {
		h.Shows[n] = 0
		if o := &s.Objects[n]; s.near(o, h, moved) {
			d, _ := s.DepthAt(n, h.Middle())
			h.Shows[n] = o.Notices * h.Tool.Notices * Above(d, h.Stop)
		}
	}
}

// near reports whether any draw, moved by as many metres, may have an object
// where a hole meets it.
func (s *Site) near(o *Object, h *Hole, moved float64) bool {
	return o.Near(h.Middle(), h.Radius+h.Half()+o.OutFor(h.Sigma)+moved)
}

// Chances returns the chance of each outcome of a hole in draw i. The objects
// are met in their order: what is sought first.
func (s *Site) Chances(i int, h *Hole) (c [Outcomes]float64) {
	rest := 1.0
	for n := range s.Objects {
		o := &s.Objects[n]
		if h.Shows[n] == 0 {
			continue
		}
		if p, m := o.met(i, h, o.OutFor(h.Sigma)); p > 0 {
			p *= rest * h.Shows[n]
			c[m] += p
			rest -= p
		}
	}
	c[None] += rest
	return c
}

// Each calls f with the share of the weight of every draw, of those in subset,
// that goes to each outcome of a hole: Chances for many draws at once.
func (s *Site) Each(h *Hole, weight []float64, subset []int32, f func(i int32, m Outcome, w float64)) {
	if cap(s.rest) < len(subset) {
		s.rest = make([]float64, len(subset))
	}
	rest := s.rest[:len(subset)]
	for k, i := range subset {
		rest[k] = weight[i]
	}
	for n := range s.Objects {
		o := &s.Objects[n]
		if h.Shows[n] == 0 || !s.near(o, h, 0) {
			continue
		}
		out := o.OutFor(h.Sigma)
		for k, i := range subset {
			if rest[k] == 0 {
				continue
			}
			if p, m := o.met(int(i), h, out); p > 0 {
				w := rest[k] * h.Shows[n] * p
				rest[k] -= w
				f(i, m, w)
			}
		}
	}
	for k, i := range subset {
		f(i, None, rest[k])
	}
}

// Alone returns the chance of meeting each object in a hole as if it were alone
// there, of the draws in subset by their weight. A hole that Show has not
// filled in is taken to go deep enough.
func (s *Site) Alone(h *Hole, weight []float64, subset []int32) []float64 {
	all := make([]float64, len(s.Objects))
	sum := 0.0
	for _, i := range subset {
		sum += weight[i]
	}
	for n := range s.Objects {
		o := &s.Objects[n]
		q := o.Notices
		if h.Shows != nil {
			q = h.Shows[n]
		}
		if !s.near(o, h, 0) {
			continue
		}
		out := o.OutFor(h.Sigma)
		for _, i := range subset {
			if w := weight[i]; w > 0 {
				if p, _ := o.met(int(i), h, out); p > 0 {
					all[n] += w * q * p / sum
				}
			}
		}
	}
	return all
}

// Stop returns where a hole is called empty, metres, given the chance of meeting
// each object there: below what is sought if it may well be there, and below
// anything else that is likely there; within the limits of the crew and the
// tool.
func (s *Site) Stop(h *Hole, chance []float64) (stop float64) {
	const (
		other = 0.15 // chance from which on a hole goes down to a part. Judgement
		seek  = 0.02 // the same of what is sought. Judgement
	)
	likeliest := 0
	for n := range s.Objects {
		if chance[n] > chance[likeliest] {
			likeliest = n
		}
	}
	for n := range s.Objects {
		floor := other
		if s.Objects[n].Sought {
			floor = seek
		}
		if d, ok := s.DepthAt(n, h.Middle()); ok && (chance[n] >= floor || n == likeliest) {
			stop = max(stop, StopDepth(d))
		}
	}
	return s.Limited(stop, h.Tool)
}

// Limited returns a depth in metres within the crew's limit and the tool's.
func (s *Site) Limited(stop float64, t *survey.Tool) float64 {
	for _, limit := range []float64{t.Limit, s.Limit} {
		if limit > 0 {
			stop = min(stop, limit)
		}
	}
	return stop
}
