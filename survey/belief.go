package survey

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// gauss returns the belief about place number i of every member.
func (p *Posterior) gauss(i int) Gauss {
	if p.draws != nil {
		return p.sampled(i)
	}
	m := p.spreads()
	var at geo.Vec
	for k := range m {
		at = at.Add(m[k].at[i].Scale(m[k].weight))
	}
	abs, rel := make([]lobe, len(m)), make([]lobe, len(m))
	for k := range m {
		off := m[k].at[i].Sub(at)
		abs[k] = lobe{m[k].weight, pointCov(m[k].root, i), off}
		rel[k] = lobe{m[k].weight, pointCov(m[k].tied, i), off}
	}
	if p.fit.Frame.Kind == Geodetic {
		// Members lie apart on the earth for reasons that do not move a part
		// against the landmarks: judge their offset there, each laid on the first.
		p.offsets(i, rel)
	} else {
		abs = rel
	}
	g := Gauss{At: at.Add(p.shift), Cov: total(abs), Relative: total(rel), lobes: abs, tied: rel}
	g.Ellipse, g.Radius95 = ellipse95(abs), radius95(abs)
	g.FromLandmarks, g.Landmarks95 = g.Ellipse, g.Radius95
	if p.fit.Frame.Kind == Geodetic {
		g.FromLandmarks, g.Landmarks95 = ellipse95(rel), radius95(rel)
	}
	return g
}

// offsets replaces the offsets of lobes by those relative to the landmarks.
func (p *Posterior) offsets(i int, lobes []lobe) {
	if len(p.datum) == 0 {
		return
	}
	var at geo.Vec
	v := make([]geo.Vec, len(p.members))
	anchors := pick(p.members[0].at, p.datum)
	for k := range p.members {
		m := &p.members[k]
		move := geo.Congruence(pick(m.at, p.datum), anchors, flat).Move
		v[k] = move(m.at[i])
		at = at.Add(v[k].Scale(m.weight))
	}
	for k := range lobes {
		lobes[k].off = v[k].Sub(at)
	}
}

// expected returns the expected place number i, frame coordinates.
func (p *Posterior) expected(i int) (at geo.Vec) {
	if p.draws != nil {
		return geo.Mean(p.draws.at[i]).Add(p.lift)
	}
	for k := range p.members {
		at = at.Add(p.members[k].at[i].Scale(p.members[k].weight))
	}
	return at.Add(p.shift)
}

// Expected returns where a spot of a part is expected: Spot without its
// regions, which cost more.
func (p *Posterior) Expected(name SpotName) (v geo.Vec, ok bool) {
	k, ok := p.drawing().spots[name]
	if !ok {
		return geo.Vec{}, false
	}
	return p.expected(k), true
}

// ExpectedPoint returns where a hole or stake of the log is expected.
func (p *Posterior) ExpectedPoint(name string) (v geo.Vec, ok bool) {
	i, ok := p.fit.book.index[name]
	if !ok {
		return geo.Vec{}, false
	}
	return p.expected(len(p.drawing().nodes) + i), true
}

// ExpectedLine returns where the vertices of a lateral or header are expected,
// nil where the sketch has no such line.
func (p *Posterior) ExpectedLine(part string) (line []geo.Vec) {
	for _, k := range p.drawing().lines[part] {
		line = append(line, p.expected(k))
	}
	return line
}

// Sigma returns the standard deviation in metres of a part's place relative to
// the landmarks: along its worse axis, at its worse end; 0 for a part that is
// not located by nodes.
func (p *Posterior) Sigma(part string) float64 {
	if p.draws != nil {
		return p.worst(part)
	}
	if _, ok := p.sigma[part]; !ok {
		p.sigma[part] = p.worst(part)
	}
	return p.sigma[part]
}

// worst works out Sigma.
func (p *Posterior) worst(part string) (sigma float64) {
	for _, s := range []asbuilt.Spot{asbuilt.Center, asbuilt.Start, asbuilt.End} {
		k, ok := p.drawing().spots[SpotName{part, s}]
		if !ok {
			continue
		}
		var c geo.Cov
		if p.draws != nil {
			c = moment(p.draws.at[k], geo.Mean(p.draws.at[k]))
		} else {
			for _, m := range p.spreads() {
				c = c.Add(pointCov(m.tied, k).Scale(m.weight))
			}
		}
		a, _, _ := c.Eigen()
		sigma = math.Max(sigma, math.Sqrt(a))
	}
	return sigma
}

// Spot returns the belief about a spot of a part; ok is false where the sketch
// has no such spot.
func (p *Posterior) Spot(name SpotName) (g Gauss, ok bool) {
	k, ok := p.drawing().spots[name]
	if !ok {
		return Gauss{}, false
	}
	return p.gauss(k), true
}

// Point returns the belief about a hole or stake of the log.
func (p *Posterior) Point(name string) (g Gauss, ok bool) {
	i, ok := p.fit.book.index[name]
	if !ok {
		return Gauss{}, false
	}
	return p.gauss(len(p.drawing().nodes) + i), true
}

// Points returns the names of the holes and stakes of the log, in the order in
// which they are first named by reading kind and id.
func (p *Posterior) Points() []string {
	var names []string
	for _, pt := range p.fit.book.points {
		names = append(names, pt.name)
	}
	return names
}

func (p *Posterior) drawing() *drawing { return p.members[0].c.network.drawing }

// Strip is a line of the drawing as believed, and the strip about it that
// holds the whole line with 95 % relative to the landmarks.
type Strip struct {
	At   []geo.Vec // of each vertex, frame coordinates
	Half []float64 // metres to either side at each vertex, the part's own width not included
}

// Line returns the belief about a lateral or header; ok is false where the
// sketch has no such line. Between vertices the strip is a straight blend,
// which is never narrower than it should be: the variance across a line is a
// convex function along it.
func (p *Posterior) Line(part string) (s Strip, ok bool) {
	nodes, ok := p.drawing().lines[part]
	if !ok {
		return Strip{}, false
	}
	if p.draws != nil {
		return p.sampledLine(nodes), true
	}
	for _, k := range nodes {
		var at geo.Vec
		for i := range p.members {
			at = at.Add(p.members[i].at[k].Scale(p.members[i].weight))
		}
		s.At = append(s.At, at)
	}
	weights := make([]float64, len(p.members))
	for i := range p.members {
		weights[i] = p.members[i].weight
	}
	for v, k := range nodes {
		dir := geo.Vec{}
		if v > 0 {
			dir = dir.Add(s.At[v].Sub(s.At[v-1]).Unit())
		}
		if v+1 < len(nodes) {
			dir = dir.Add(s.At[v+1].Sub(s.At[v]).Unit())
		}
		across := dir.Unit().Right()
		p.spreads()
		lobes := make([]lobe, len(p.members))
		for i := range p.members {
			lobes[i].off = p.members[i].at[k].Sub(s.At[v])
		}
		if p.fit.Frame.Kind == Geodetic {
			p.offsets(k, lobes)
		}
		variance := make([]float64, len(p.members))
		for i := range p.members {
			sd := pointCov(p.members[i].tied, k).Along(across)
			off := lobes[i].off.Dot(across)
			variance[i] = sd*sd + off*off
		}
		s.Half = append(s.Half, halfWidth95(weights, variance))
	}
	for v := range s.At {
		s.At[v] = s.At[v].Add(p.shift)
	}
	return s, true
}

// Laid returns where a drawn place (the sketch's coordinates) of a part comes
// to lie: turned and scaled as the drawing is, and moved as its neighbours of
// the same group were. near names the spot it moves with rigidly, if there is
// one.
func (p *Posterior) Laid(v geo.Vec, kind asbuilt.Kind, near *SpotName) geo.Vec {
	c := p.members[0].c
	n, d, y := c.network, c.network.drawing, c.solution.Y
	n.place(y)
	at := n.fieldOf(y, d.lay(v, groupOf(kind)))
	var move geo.Vec
	if near != nil {
		if k, ok := d.spots[*near]; ok {
			if kind == asbuilt.Landmark { // a point: it lies where it lies
				return n.at[k].Add(p.shift)
			}
			move = n.at[k].Sub(n.fieldOf(y, d.nodes[k].at))
			return at.Add(move).Add(p.shift)
		}
	}
	sum := 0.0
	for k, nd := range d.nodes {
		if nd.group != house {
			continue
		}
		w := 1 / (1e-4 + math.Pow(n.at[k].Dist(at), 2))
		move = move.Add(n.at[k].Sub(n.fieldOf(y, nd.at)).Scale(w))
		sum += w
	}
	if sum > 0 {
		move = move.Scale(1 / sum)
	}
	return at.Add(move).Add(p.shift)
}

// AsDrawn returns where the old sketch, laid on the landmarks as well as a
// turn, a shift and one scale can, has a drawn place. It is what comparing old
// with new means.
func (p *Posterior) AsDrawn(v geo.Vec) geo.Vec {
	c := p.members[0].c
	n, d := c.network, c.network.drawing
	if p.onMarks == nil {
		n.place(c.solution.Y)
		return n.fieldOf(c.solution.Y, d.paper(v)).Add(p.shift)
	}
	return p.onMarks(d.paper(v)).Add(p.shift)
}

// SurroundingSigma returns the standard deviation per axis, in metres, of a
// thing that is drawn about the house and that no reading tells of, such as a
// utility, at a drawn place.
func (p *Posterior) SurroundingSigma(v geo.Vec) float64 {
	d := p.drawing()
	f := draftingOf(d.sketch.Trust)
	away := math.Inf(1)
	for _, k := range p.datum {
		away = math.Min(away, d.paper(v).Dist(d.nodes[k].at)*d.scale)
	}
	if math.IsInf(away, 1) {
		away = 0
	}
	return surroundingSigma(f, away)
}

// Refers reports whether the relative regions refer to a landmark.
func (p *Posterior) Refers(landmark string) bool {
	k, ok := p.drawing().spots[SpotName{landmark, asbuilt.Center}]
	return ok && slices.Contains(p.datum, k)
}
