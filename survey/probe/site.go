package probe

import (
	"context"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/encounter"
	"asfound/survey/locate"
	"asfound/survey/playout"
	"asfound/survey/posterior"
	"asfound/survey/setout"
)

// site is what does not change while a plan is made: the draws as objects,
// the cells of the search, where holes may be dug and how they are set out.
type site struct {
	*encounter.Site // what is sought first, then box, laterals, headers and the rest

	loc   *locate.Location
	draws *posterior.Draws
	seek  string
	all   []int32 // the draws
	grids [playout.Shifts]grid
	marks *setout.Marks

	rest  func() bool // called between the holes of a plan; false: stop
	leave bool
	ctx   context.Context // of the plan that is made: a site lives no longer
}

// stopped reports whether the plan is to end as it is. What is worked out from then on
// is not complete, and must not be taken into the plan.
func (s *site) stopped() bool {
	s.leave = s.leave || s.ctx.Err() != nil
	return s.leave
}

// NewSite returns a located job as a site to dig on, from draws of it: what is
// sought there is what the job seeks and has not yet met. hole names the hole
// that met it, if one has.
func NewSite(loc *locate.Location, d *posterior.Draws) (s *encounter.Site, hole string) {
	one, hole := newSite(context.Background(), loc, d) // to look at; no plan is made
	return one.Site, hole
}

// newSite is NewSite with what else a plan needs.
func newSite(ctx context.Context, loc *locate.Location, d *posterior.Draws) (s *site, hole string) {
	tools, rod := loc.Job.Settings.Crew()
	s = &site{ctx: ctx, Site: &encounter.Site{N: d.N, Tools: tools, Rod: rod, Rods: loc.Job.Settings.Rodding(), Limit: loc.Job.Settings.Hole.DepthLimit, Follow: loc.Job.Settings.Following(), Depth: loc.DepthAt},
		loc: loc, draws: d, seek: loc.Job.Settings.Seek, marks: setout.New(loc)}
	s.all = make([]int32, d.N)
	for i := range s.all {
		s.all[i] = int32(i)
	}
	hole = s.lookFor()
	for _, k := range []asbuilt.Kind{asbuilt.Box, asbuilt.Lateral, asbuilt.Header, asbuilt.Tank, asbuilt.Port} {
		for i := range loc.Job.Sketch.Parts {
			if p := &loc.Job.Sketch.Parts[i]; p.Kind == k && !s.soughtWhole(p.ID) {
				if o, ok := encounter.NewObject(p, "", d); ok {
					s.Objects = append(s.Objects, o)
				}
			}
		}
	}
	s.join()
	s.Ground = newGround(s)
	return s, hole
}

// seeks reads what is sought: a part, a kind, or an end of a line.
func seeks(seek string) (id string, spot asbuilt.Spot) {
	for _, s := range []asbuilt.Spot{asbuilt.Start, asbuilt.End} {
		if cut, ok := strings.CutSuffix(seek, "."+string(s)); ok {
			return cut, s
		}
	}
	return seek, ""
}

// lookFor adds what is sought. What has been met is no longer sought; hole names
// where it was.
func (s *site) lookFor() (hole string) {
	id, spot := seeks(s.seek)
	for i := range s.loc.Job.Sketch.Parts {
		p := &s.loc.Job.Sketch.Parts[i]
		if p.ID != id && string(p.Kind) != id {
			continue
		}
		o, ok := encounter.NewObject(p, spot, s.draws)
		if !ok {
			continue
		}
		if h, met := s.met(&o); met {
			hole = h
			continue
		}
		o.Sought = true
		s.Objects = append(s.Objects, o)
	}
	return hole
}

// join adds the pipes that there must be and nobody drew.
func (s *site) join() {
	for _, j := range drawing.New(s.loc.Job.Sketch, drawing.Hypothesis{}).Joins() {
		if o, ok := encounter.NewJoin(j, s.draws); ok {
			s.Objects = append(s.Objects, o)
		}
	}
}

// soughtWhole reports whether the whole of a part is sought.
func (s *site) soughtWhole(part string) bool {
	return slices.ContainsFunc(s.Sought(), func(o encounter.Object) bool { return o.Spot == "" && o.Part == part })
}

// newGround returns where holes may be dug on a site.
func newGround(s *site) *encounter.Ground {
	var around []encounter.Surrounding
	var landmarks []geo.Vec
	for i := range s.loc.Outlines {
		o := &s.loc.Outlines[i]
		around = append(around, encounter.Surrounding{Part: o.Part, Kind: o.Kind, Shapes: o.Now, Clearance: o.Clearance, Sigma: o.Sigma})
	}
	for i := range s.loc.Spots {
		if m := &s.loc.Spots[i]; m.Kind == asbuilt.Landmark {
			landmarks = append(landmarks, m.At)
		}
	}
	for _, h := range s.loc.Holes {
		if h.Stopped == survey.StopUtility {
			around = append(around, encounter.Surrounding{Part: h.Name, Kind: asbuilt.Utility, Shapes: []geo.Outline{{Vertices: []geo.Vec{h.At}}},
				Clearance: practice.ToleranceZone + h.Radius, Sigma: h.Ellipse.SemiMajor / geo.Within95})
		}
	}
	tank := slices.ContainsFunc(s.Sought(), func(o encounter.Object) bool { return o.Kind == asbuilt.Tank })
	g := encounter.NewGround(around, landmarks, tank)
	for _, h := range s.loc.Holes {
		if h.Met != "" || h.Depth == nil || h.Stopped != "" || s.reached(h) {
			g.Dug = append(g.Dug, h.At)
		}
	}
	g.SetOut = s.setOut
	return g
}

// reached reports whether an old hole went as deep as what is sought.
func (s *site) reached(h locate.Hole) bool {
	if len(s.Sought()) == 0 {
		return true
	}
	d, ok := s.loc.DepthAt(s.Objects[0].Part, h.At)
	return !ok || *h.Depth >= d.Mean
}

// setOut returns how a place is set out: by the first two of its ties, or by the
// third and one of them, as they are rounded; by satellite where there are none.
func (s *site) setOut(v geo.Vec) encounter.Stake {
	f, ok := s.marks.Fix(v)
	if !ok {
		f, _ = setout.BySatellite(s.loc, v)
	}
	return encounter.Stake{Sigma: f.Sigma(), Others: append(f.Others, f.At)}
}
