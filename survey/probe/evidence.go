package probe

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
)

// met returns the hole of the log that has met a target. For an end of a line
// only a hole that met that end counts. Where one part of several is sought, a
// hole that met one of them without saying which is not taken for it.
func (p *planner) met(t target) (hole string, ok bool) {
	kin := 0
	for i := range p.loc.Job.Sketch.Parts {
		if p.loc.Job.Sketch.Parts[i].Kind == t.kind {
			kin++
		}
	}
	sure := kin == 1 || p.loc.Job.Settings.Seek == string(t.kind)
	for _, h := range p.loc.Holes {
		if h.Met == t.name && (t.spot == "" || t.spot == h.Spot) && (sure || p.named(h.Name, t.name)) {
			return h.Name, true
		}
	}
	return "", false
}

// named reports whether the log says by name that a part was met in a hole.
func (p *planner) named(hole, part string) bool {
	return slices.ContainsFunc(p.loc.Job.Live(), func(r survey.Reading) bool {
		return r.Kind == survey.Found && r.Point == hole && r.Target == part
	})
}

// log weighs the draws by the holes of the log that met nothing, and returns
// the share of the belief that they left.
func (p *planner) log() (left float64) {
	for _, h := range p.loc.Holes {
		if h.Met != "" {
			continue
		}
		at := p.draws.Holes[h.Name]
		for _, part := range []asbuilt.Kind{asbuilt.Box, asbuilt.Lateral, asbuilt.Tank} {
			for _, t := range p.targets(string(part)) {
				deep := p.deepEnough(t, h)
				for i := range p.weights {
					v := h.At
					if len(at) == p.draws.N {
						v = at[i]
					}
					p.weights[i] *= 1 - t.meets*deep*ramp(t.reach+h.Radius-t.distance(i, v))
				}
			}
		}
	}
	for _, w := range p.weights {
		left += w / float64(len(p.weights))
	}
	return left
}

// ramp returns how surely a hole of the log would have met a part whose edge
// lies inside of it by the given metres. The rim of a hole and the side of a
// box turned any way are not so sharp that a centimetre decides.
func ramp(inside float64) float64 {
	return max(0, min(1, 0.5+inside/(2*rim)))
}

// deepEnough returns the chance that the top of a target lies above the bottom
// of a hole.
func (p *planner) deepEnough(t target, h locate.Hole) float64 {
	if h.Depth == nil {
		return 0.5
	}
	d, ok := p.loc.DepthAt(t.name, h.At)
	if !ok || !(d.Sigma > 0) {
		return 0.5
	}
	return 0.5 * math.Erfc((d.Mean-*h.Depth)/(d.Sigma*math.Sqrt2))
}

// shallow returns the share of its chance that a hole at v keeps under the
// crew's depth limit: 1 where it may go as deep as it should.
func (p *planner) shallow(t target, v geo.Vec) float64 {
	limit := p.loc.Job.Settings.Hole.DepthLimit
	if limit <= 0 {
		return 1
	}
	d, ok := p.loc.DepthAt(t.name, v)
	if !ok || !(d.Sigma > 0) || stopDepth(d) <= limit {
		return 1
	}
	return 0.5 * math.Erfc((d.Mean-limit)/(d.Sigma*math.Sqrt2))
}
