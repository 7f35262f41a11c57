package probe

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/locate"
)

// met returns the hole of the log that has met an object. For an end of a line
// only a hole that met that end counts. Where one part of several is sought, a
// hole that met one of them without saying which is taken for it only if that
// is as good as sure.
func (s *site) met(o *object) (hole string, ok bool) {
	kin := 0
	for i := range s.loc.Job.Sketch.Parts {
		if s.loc.Job.Sketch.Parts[i].Kind == o.kind {
			kin++
		}
	}
	sure := kin == 1 || s.seek == string(o.kind)
	for _, h := range s.loc.Holes {
		if h.Met == o.name && (o.spot == "" || o.spot == h.Spot) && (sure || s.named(h.Name, o.name) || s.lies(h, o) > 0.95) {
			return h.Name, true
		}
	}
	return "", false
}

// lies returns the share of the draws in which a hole lies on a line.
func (s *site) lies(h locate.Hole, o *object) float64 {
	at := s.draws.Holes[h.Name]
	whole, ok := newObject(s.loc.Job.Sketch.Part(o.name), "", s.draws)
	if !ok || len(at) != s.draws.N {
		return 0
	}
	n := 0
	for i, v := range at {
		if in, _ := whole.inside(i, v, h.Radius+0.1, 0); in > 0 {
			n++
		}
	}
	return float64(n) / float64(s.draws.N)
}

// named reports whether the log says by name that a part was met in a hole.
func (s *site) named(hole, part string) bool {
	return slices.ContainsFunc(s.loc.Job.Live(), func(r survey.Reading) bool {
		return r.Kind == survey.Found && r.Point == hole && r.Target == part
	})
}

// rim is by how many metres the edge of an old hole may be out either way;
// judgement.
const rim = 0.08

// log weighs the draws by the holes of the log that met nothing, and returns
// the share of the belief that they left.
func (b *belief) log() (left float64) {
	for _, h := range b.loc.Holes {
		if h.Met != "" {
			continue
		}
		at := b.draws.Holes[h.Name]
		for n := range b.objects {
			o := &b.objects[n]
			if o.kind != asbuilt.Box && o.kind != asbuilt.Lateral && o.kind != asbuilt.Tank {
				continue
			}
			deep := b.deepEnough(o, h)
			for i := range b.weight {
				v := h.At
				if len(at) == b.draws.N {
					v = at[i]
				}
				if in, _ := o.inside(i, v, h.Radius, rim); in > -rim {
					b.weight[i] *= 1 - o.meets*deep*max(0, min(1, 0.5+in/(2*rim)))
				}
			}
		}
	}
	for _, w := range b.weight {
		left += w / float64(len(b.weight))
	}
	return left
}

// deepEnough returns the chance that the top of an object lies above the
// bottom of a hole of the log.
func (b *belief) deepEnough(o *object, h locate.Hole) float64 {
	if h.Depth == nil {
		return 0.5
	}
	d, ok := b.loc.DepthAt(o.name, h.At)
	if !ok || !(d.Sigma > 0) {
		return 0.5
	}
	return 0.5 * math.Erfc((d.Mean-*h.Depth)/(d.Sigma*math.Sqrt2))
}
