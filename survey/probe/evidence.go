package probe

import (
	"slices"

	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/locate"
)

// met returns the hole of the log that has met an object. For an end of a line
// only a hole that met that end counts. Where one part of several is sought, a
// hole that met one of them without saying which is taken for it only if that
// is practically certain.
func (s *site) met(o *encounter.Object) (hole string, ok bool) {
	kin := 0
	for i := range s.loc.Job.Sketch.Parts {
		if s.loc.Job.Sketch.Parts[i].Kind == o.Kind {
			kin++
		}
	}
	sure := kin == 1 || s.seek == string(o.Kind)
	for _, h := range s.loc.Holes {
		if h.Met == o.Part && (o.Spot == "" || o.Spot == h.Spot) && (sure || s.named(h.Name, o.Part) || s.lies(h, o) > 0.95) {
			return h.Name, true
		}
	}
	return "", false
}

// lies returns the share of the draws in which a hole lies on a line.
func (s *site) lies(h locate.Hole, o *encounter.Object) float64 {
	at := s.draws.Holes[h.Name]
	whole, ok := encounter.NewObject(s.loc.Job.Sketch.Part(o.Part), "", s.draws)
	if !ok || len(at) != s.draws.N {
		return 0
	}
	n := 0
	for i, v := range at {
		if in, _ := whole.Inside(i, &hole{At: v, Radius: h.Radius + 0.1}, 0); in > 0 {
			n++
		}
	}
	return float64(n) / float64(s.draws.N)
}

// named reports whether the log says that a hole met the part of this name.
func (s *site) named(hole, part string) bool {
	return slices.ContainsFunc(s.loc.Job.Live(), func(r survey.Reading) bool {
		return r.Kind == survey.Found && r.Point == hole && r.Target == part
	})
}
