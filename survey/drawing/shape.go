package drawing

import (
	"asfound/asbuilt"
	"asfound/asbuilt/practice"
)

// nearest returns the index of the node nearest to v within r that a header
// may end in, −1 if there is none.
func nearest(raw []asbuilt.Position, nodes []Node, v asbuilt.Position, r float64) int {
	best, at := r, -1
	for i, w := range raw {
		if nodes[i].Kind == asbuilt.Landmark || nodes[i].Kind == asbuilt.Tank {
			continue
		}
		if w := v.Dist(w); w <= best {
			best, at = w, i
		}
	}
	return at
}

func onBuilding(s *asbuilt.Sketch, v asbuilt.Position, r float64) bool {
	for i := range s.Parts {
		if s.Parts[i].Kind != asbuilt.Building {
			continue
		}
		for _, sh := range s.Parts[i].Shapes {
			for _, w := range sh.Vertices {
				if v.Dist(w) <= r {
					return true
				}
			}
		}
	}
	return false
}

// inTank reports whether v lies in or within r of a drawn tank; of one that is
// drawn as a point, within twice that.
func inTank(s *asbuilt.Sketch, v asbuilt.Position, r float64) bool {
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Kind != asbuilt.Tank {
			continue
		}
		for _, sh := range p.Shapes {
			n := len(sh.Vertices)
			if n == 1 && sh.Vertices[0].Dist(v) <= 2*r {
				return true
			}
			inside := false
			for i := range sh.Vertices {
				a, b := sh.Vertices[i], sh.Vertices[(i+1)%n]
				if n > 1 && v.FromSegment(a, b) <= r {
					return true
				}
				if (a.Y > v.Y) != (b.Y > v.Y) && v.X < a.X+(v.Y-a.Y)*(b.X-a.X)/(b.Y-a.Y) {
					inside = !inside
				}
			}
			if inside {
				return true
			}
		}
	}
	return false
}

// Across returns the width of a part across its line, or of a box, in metres.
func Across(p *asbuilt.Part) float64 {
	switch p.Kind {
	case asbuilt.Lateral:
		return practice.Width(p)
	case asbuilt.Box:
		return practice.BoxSide(p)
	}
	return practice.PipeOutside
}

// usualHalfTank is half the width in metres of a usual tank that is drawn as a
// point: common practice, no published source.
const usualHalfTank = 0.9

// Plan returns the sides in metres of a box or tank in plan, and the standard
// deviation of where each lies about the middle, because boxes and tanks come in
// several sizes; 0: the size is written. Common practice, no published source:
// boxes run from 12 to 24 in square, tanks from 8 by 4.5 to 10 by 6 ft.
func Plan(p *asbuilt.Part) (long, wide, out float64) {
	switch {
	case p.Kind == asbuilt.Tank:
		return practice.TankLength, practice.TankWidth, 0.1
	case p.Size != nil && p.Size.Metres > 0:
		return practice.BoxSide(p), practice.BoxSide(p), 0
	}
	return practice.BoxSize, practice.BoxSize, 0.05
}

// Outline returns the shape of a box or tank about its centre: as drawn, or for
// a drawn point a square of its size along the laterals.
func (d *Drawing) Outline(p *asbuilt.Part) []Drawn {
	if p.Shapes[0].Form == asbuilt.Polygon {
		c, _ := p.Point(asbuilt.Center)
		var ring []Drawn
		for _, v := range p.Shapes[0].Vertices {
			ring = append(ring, d.Lay(v, GroupOf(p.Kind)).Sub(d.Lay(c, GroupOf(p.Kind))))
		}
		return ring
	}
	e, _ := d.direction()
	h := d.Reach(Across(p) / 2)
	if p.Kind == asbuilt.Tank {
		h = d.Reach(usualHalfTank)
	}
	e = e.Scale(h)
	r := e.Right()
	return []Drawn{{e.Add(r)}, {e.Sub(r)}, {e.Add(r).Scale(-1)}, {r.Sub(e)}}
}
