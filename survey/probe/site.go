package probe

import (
	"math"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/setout"
)

// site is what does not change while a plan is made: the draws as objects,
// the cells of the search, where holes may be dug and how they are set out.
type site struct {
	loc     *locate.Location
	draws   *posterior.Draws
	seek    string
	objects []object // what is sought first, then box, laterals, headers and the rest
	all     []int32  // the draws
	grids   [phases]grid
	ground  *ground
	marks   *setout.Marks
	tools   []tool
	depths  map[depthKey]locate.Depth
	remains []float64 // scratch of each

	rest  func() bool // called between the holes of a plan; false: leave off
	leave bool
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

// newSite takes the draws of a location. What has been met is no longer
// sought; hole names where it was.
func newSite(loc *locate.Location, d *posterior.Draws) (s *site, hole string) {
	s = &site{loc: loc, draws: d, seek: loc.Job.Settings.Seek, depths: map[depthKey]locate.Depth{}}
	s.all = make([]int32, d.N)
	for i := range s.all {
		s.all[i] = int32(i)
	}
	id, spot := seeks(s.seek)
	parts := loc.Job.Sketch.Parts
	for i := range parts {
		if p := &parts[i]; p.ID == id || string(p.Kind) == id {
			if o, ok := newObject(p, spot, d); ok {
				o.sought = true
				if h, met := s.met(&o); met {
					hole, o.sought = h, false
				}
				if o.sought {
					s.objects = append(s.objects, o)
				}
			}
		}
	}
	for _, k := range []asbuilt.Kind{asbuilt.Box, asbuilt.Lateral, asbuilt.Header, asbuilt.Tank, asbuilt.Port} {
		for i := range parts {
			if p := &parts[i]; p.Kind == k && !s.soughtWhole(p.ID) {
				if o, ok := newObject(p, "", d); ok {
					s.objects = append(s.objects, o)
				}
			}
		}
	}
	s.join()
	return s, hole
}

// join adds the headers that a sketch must have where it has none.
func (s *site) join() {
	parts := s.loc.Job.Sketch.Parts
	if slices.ContainsFunc(parts, func(p asbuilt.Part) bool { return p.Kind == asbuilt.Header }) {
		return
	}
	for i := range parts {
		for k := range parts {
			if parts[i].Kind == asbuilt.Box && parts[k].Kind == asbuilt.Lateral {
				if o, ok := newJoin(&parts[i], &parts[k], s.draws); ok {
					s.objects = append(s.objects, o)
				}
			}
		}
	}
}

// soughtWhole reports whether the whole of a part is sought.
func (s *site) soughtWhole(part string) bool {
	for i := range s.objects {
		if o := &s.objects[i]; o.sought && o.spot == "" && o.name == part {
			return true
		}
	}
	return false
}

// sought returns the objects that are sought.
func (s *site) sought() []object {
	n := 0
	for n < len(s.objects) && s.objects[n].sought {
		n++
	}
	return s.objects[:n]
}

// depthKey is a part and a patch of ground over which its depth is as good as
// the same.
type depthKey struct{ object, x, y int }

// patch is the side in metres of such a patch.
const patch = 2.0

// depthAt returns the expected depth of the top of an object at v.
func (s *site) depthAt(n int, v geo.Vec) (d locate.Depth, ok bool) {
	k := depthKey{n, int(math.Floor(v.X / patch)), int(math.Floor(v.Y / patch))}
	if d, ok = s.depths[k]; !ok {
		d, _ = s.loc.DepthAt(s.objects[n].name, geo.Vec{X: (float64(k.x) + 0.5) * patch, Y: (float64(k.y) + 0.5) * patch})
		s.depths[k] = d
	}
	return d, d.Sigma > 0
}

// within returns the chance that the top of an object lies above a depth in
// metres at v: 1 where nothing is known of depths.
func (s *site) within(n int, v geo.Vec, depth float64) float64 {
	d, ok := s.depthAt(n, v)
	if !ok || depth <= 0 {
		return 1
	}
	return 0.5 * math.Erfc((d.Mean-depth)/(d.Sigma*math.Sqrt2))
}

// stopDepth returns where a hole for something of depth d is called empty,
// whole centimetres in metres, the crew's limit aside.
func stopDepth(d locate.Depth) float64 {
	return math.Ceil(100*(max(0, d.Mean)+stopSigmas*d.Sigma)) / 100
}
