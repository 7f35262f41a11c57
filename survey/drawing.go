package survey

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// group says which things of a sheet were drawn in one go, and so are wrong
// together.
type group int

const (
	house group = iota // landmarks, buildings and surroundings
	tank               // the tank and what joins it
	field              // box, headers, laterals, ports
)

// node is a drawn point whose true place is unknown: a landmark, a tank or box
// centre, a vertex of a lateral or header, a port.
type node struct {
	at      geo.Vec // drawing units, about the drawing's centre, mirrored where the drawing is
	group   group
	kind    asbuilt.Kind
	lateral int     // index into drawing.laterals, −1: none
	u       float64 // fraction along that lateral
	loose   bool    // a landmark that is no corner of a drawn building
}

// lateral is a lateral as drawn.
type lateral struct {
	part  *asbuilt.Part
	nodes []int
}

// drawing is a sketch as the adjustment sees it: its nodes, and which part
// owns which.
type drawing struct {
	sketch   *asbuilt.Sketch
	fault    fault
	names    map[string]string // corner of the sheet by the crew's name of it, nil: the same
	hub      geo.Vec           // of the house, drawing units, about the centre and mirrored
	centre   geo.Vec           // of all nodes, drawing units, before mirroring
	scale    float64           // prior metres per drawing unit
	scaleSD  float64           // of its logarithm
	nodes    []node
	spots    map[SpotName]int
	lines    map[string][]int // nodes of each lateral and header, in flow order
	laterals []lateral
	marks    []int // nodes of the landmarks, in the order of the sketch
}

// newDrawing lays out the nodes of a sketch that has a fault.
func newDrawing(s *asbuilt.Sketch, f fault) *drawing {
	d := &drawing{sketch: s, fault: f, spots: map[SpotName]int{}, lines: map[string][]int{}}
	d.scale, d.scaleSD = priorScale(s)
	if f.scale > 0 {
		d.scaleSD = f.scale
	}
	if f.kind == Named {
		d.names = namesOf(cornersOf(s), f.quarter)
	}
	corner := d.reach(0.3)
	join := d.reach(0.6)

	raw := []geo.Vec{}
	add := func(v geo.Vec, n node) int {
		raw = append(raw, v)
		n.lateral = -1
		d.nodes = append(d.nodes, n)
		return len(raw) - 1
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		switch p.Kind {
		case asbuilt.Landmark, asbuilt.Tank, asbuilt.Box:
			if v, ok := d.point(p); ok {
				n := node{kind: p.Kind}
				switch p.Kind {
				case asbuilt.Landmark:
					n.group, n.loose = house, !onBuilding(s, v, corner)
				case asbuilt.Tank:
					n.group = tank
				default:
					n.group = field
				}
				k := add(v, n)
				d.spots[SpotName{p.ID, asbuilt.Center}] = k
				if p.Kind == asbuilt.Landmark {
					d.marks = append(d.marks, k)
				}
			}
		}
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Kind == asbuilt.Lateral && len(p.Shapes) > 0 {
			var line []int
			for _, v := range p.Shapes[0].Vertices {
				line = append(line, add(v, node{kind: p.Kind, group: field}))
			}
			d.setLine(p, line)
			d.laterals = append(d.laterals, lateral{p, line})
		}
	}
	// A header ends where something else begins: it shares that node, so that
	// what is learnt of the one is learnt of the other.
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Kind == asbuilt.Header && len(p.Shapes) > 0 {
			var line []int
			for _, v := range p.Shapes[0].Vertices {
				if k := nearest(raw, d.nodes, v, join); k >= 0 && !slices.Contains(line, k) {
					line = append(line, k)
					continue
				}
				g := field
				if t := inTank(s, v, d.reach(1)); t {
					g = tank
				}
				line = append(line, add(v, node{kind: p.Kind, group: g}))
			}
			d.setLine(p, line)
		}
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Kind == asbuilt.Port {
			if v, ok := p.Point(asbuilt.Center); ok {
				d.spots[SpotName{p.ID, asbuilt.Center}] = add(v, node{kind: p.Kind, group: field})
			}
		}
	}

	for _, v := range raw {
		d.centre = d.centre.Add(v.Scale(1 / float64(len(raw))))
	}
	d.hub = d.houseOf(raw)
	for i, v := range raw {
		d.nodes[i].at = d.lay(v, d.nodes[i].group)
	}
	for li, l := range d.laterals {
		length := 0.0
		for i := 1; i < len(l.nodes); i++ {
			length += d.nodes[l.nodes[i-1]].at.Dist(d.nodes[l.nodes[i]].at)
		}
		run := 0.0
		for i, k := range l.nodes {
			if i > 0 {
				run += d.nodes[l.nodes[i-1]].at.Dist(d.nodes[k].at)
			}
			d.nodes[k].lateral = li
			if length > 0 {
				d.nodes[k].u = run / length
			}
		}
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		k, ok := d.spots[SpotName{p.ID, asbuilt.Center}]
		if p.Kind != asbuilt.Port || !ok {
			continue
		}
		for li, l := range d.laterals {
			if l.part.ID == p.Of {
				a, b := d.ends(li)
				_, d.nodes[k].u = geo.SegmentDistance(a, b, d.nodes[k].at)
				d.nodes[k].lateral = li
			}
		}
	}
	return d
}

// paper returns v, in the sketch's coordinates, about the drawing's centre and
// mirrored where the drawing is.
func (d *drawing) paper(v geo.Vec) geo.Vec {
	v = v.Sub(d.centre)
	if d.fault.kind == Mirrored {
		v.X = -v.X
	}
	return v
}

// lay is paper for a thing of a group: where tank and field were drawn off
// another wall, they are turned about the house.
func (d *drawing) lay(v geo.Vec, g group) geo.Vec {
	v = d.paper(v)
	if d.fault.kind == Walled && g != house {
		v = v.Sub(d.hub).Rotate(geo.Degrees(90 * float64(d.fault.quarter))).Add(d.hub)
	}
	return v
}

// point returns where a part with a single place is drawn; of a corner, the one
// that the crew means by its name.
func (d *drawing) point(p *asbuilt.Part) (geo.Vec, bool) {
	if other := d.sketch.Part(d.names[p.ID]); other != nil {
		p = other
	}
	return p.Point(asbuilt.Center)
}

// crewName returns the crew's name of a corner of the sheet: a tie that is
// written on the sheet runs from the corner of the sheet.
func (d *drawing) crewName(corner string) string {
	for crew, sheet := range d.names {
		if sheet == corner {
			return crew
		}
	}
	return corner
}

// houseOf returns the middle of the house's nodes, raw being where each is drawn.
func (d *drawing) houseOf(raw []geo.Vec) (v geo.Vec) {
	n := 0.0
	for i, w := range raw {
		if d.nodes[i].group == house {
			v, n = v.Add(d.paper(w)), n+1
		}
	}
	if n == 0 {
		return v
	}
	return v.Scale(1 / n)
}

// groupOf returns the group that a kind of part is drawn with.
func groupOf(k asbuilt.Kind) group {
	switch k {
	case asbuilt.Tank:
		return tank
	case asbuilt.Box, asbuilt.Header, asbuilt.Lateral, asbuilt.Port:
		return field
	}
	return house
}

// reach returns the drawing units of m metres.
func (d *drawing) reach(m float64) float64 { return m / d.scale }

// ends returns the drawn ends of lateral li, about the centre.
func (d *drawing) ends(li int) (start, end geo.Vec) {
	n := d.laterals[li].nodes
	return d.nodes[n[0]].at, d.nodes[n[len(n)-1]].at
}

func (d *drawing) setLine(p *asbuilt.Part, line []int) {
	d.lines[p.ID] = line
	d.spots[SpotName{p.ID, asbuilt.Start}] = line[0]
	d.spots[SpotName{p.ID, asbuilt.End}] = line[len(line)-1]
}

// priorScale returns the ground metres of one drawing unit before any reading,
// and the standard deviation of its logarithm.
func priorScale(s *asbuilt.Sketch) (scale, sd float64) {
	sd = draftingOf(s.Trust).scale
	if m, ok := s.MetresPerUnit(); ok && m > 0 {
		return m, sd
	}
	// The sheet has no scale: what is written on it gives one, else the usual
	// length of a lateral does.
	var ratios, drawn []float64
	for i := range s.Parts {
		p := &s.Parts[i]
		if len(p.Shapes) == 0 || p.Shapes[0].Form != asbuilt.Line {
			continue
		}
		v := p.Shapes[0].Vertices
		length := 0.0
		for i := 1; i < len(v); i++ {
			length += v[i-1].Dist(v[i])
		}
		if length <= 0 {
			continue
		}
		if p.Length != nil && p.Length.Metres > 0 {
			ratios = append(ratios, p.Length.Metres/length)
		}
		if p.Kind == asbuilt.Lateral {
			drawn = append(drawn, length)
		}
	}
	ratios = append(ratios, tieRatios(s)...)
	switch {
	case len(ratios) > 0:
		return median(ratios), max(sd, 0.35)
	case len(drawn) > 0:
		return usualLateral / median(drawn), 0.5
	}
	var lo, hi geo.Vec
	first := true
	for i := range s.Parts {
		for _, sh := range s.Parts[i].Shapes {
			for _, v := range sh.Vertices {
				if first {
					lo, hi, first = v, v, false
				}
				lo, hi = geo.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y)}, geo.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y)}
			}
		}
	}
	if w := hi.Dist(lo); w > 0 {
		return usualLot / w, 1
	}
	return 1, 1
}

// tieRatios returns written over drawn distance of every tie of the sheet.
func tieRatios(s *asbuilt.Sketch) (ratios []float64) {
	for i := range s.Parts {
		p := &s.Parts[i]
		for _, t := range p.Ties {
			l := s.Part(t.From)
			if l == nil {
				continue
			}
			a, ok := l.Point(asbuilt.Center)
			b, ok2 := p.Point(t.At)
			if w := a.Dist(b); ok && ok2 && w > 0 && t.Distance.Metres > 0 {
				ratios = append(ratios, t.Distance.Metres/w)
			}
		}
	}
	return ratios
}

// median returns the middle of v, which must not be empty.
func median(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

// nearest returns the index of the node nearest to v within r that a header
// may end in, −1 if there is none.
func nearest(raw []geo.Vec, nodes []node, v geo.Vec, r float64) int {
	best, at := r, -1
	for i, w := range raw {
		if nodes[i].kind == asbuilt.Landmark || nodes[i].kind == asbuilt.Tank {
			continue
		}
		if w := v.Dist(w); w <= best {
			best, at = w, i
		}
	}
	return at
}

func onBuilding(s *asbuilt.Sketch, v geo.Vec, r float64) bool {
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

// inTank reports whether v lies in or within r of a drawn tank.
func inTank(s *asbuilt.Sketch, v geo.Vec, r float64) bool {
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
				if dist, _ := geo.SegmentDistance(a, b, v); n > 1 && dist <= r {
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

// centroid returns the mean of the nodes of a group, about the centre, and
// whether it has any.
func (d *drawing) centroid(g group) (v geo.Vec, ok bool) {
	n := 0.0
	for _, k := range d.nodes {
		if k.group == g {
			v, n = v.Add(k.at), n+1
		}
	}
	if n == 0 {
		return geo.Vec{}, false
	}
	return v.Scale(1 / n), true
}

// direction returns the unit vector along the laterals, on average, and the
// median spacing between neighbours in metres.
func (d *drawing) direction() (e geo.Vec, spacing float64) {
	for li := range d.laterals {
		a, b := d.ends(li)
		v := b.Sub(a)
		if v.Dot(e) < 0 {
			v = v.Scale(-1)
		}
		e = e.Add(v)
	}
	if e = e.Unit(); e == (geo.Vec{}) {
		e = geo.Vec{X: 1}
	}
	var across []float64
	for li := range d.laterals {
		a, b := d.ends(li)
		across = append(across, a.Lerp(b, 0.5).Dot(e.Right())*d.scale)
	}
	slices.Sort(across)
	var gaps []float64
	for i := 1; i < len(across); i++ {
		if g := across[i] - across[i-1]; g > 0.5 {
			gaps = append(gaps, g)
		}
	}
	if len(gaps) == 0 {
		return e, usualSpacing
	}
	return e, math.Min(median(gaps), 2*usualSpacing)
}
