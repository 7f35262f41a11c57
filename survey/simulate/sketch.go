package simulate

import (
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
)

// clumsiness is how badly a sketch of a trust is drawn: standard deviations.
type clumsiness struct {
	scale, stretch, shift, drift, turn, size, spacing, along, length, tilt, box, point, grid float64
}

func clumsinessOf(t asbuilt.Trust) clumsiness {
	deg := math.Pi / 180
	switch t {
	case asbuilt.ToScale:
		return clumsiness{0.02, 0.01, 0.3, 0.01, 1 * deg, 0.01, 0.03, 0.2, 0.02, 0.5 * deg, 0.2, 0.08, 0.15}
	case asbuilt.NotToScale:
		return clumsiness{0.35, 0.10, 1.5, 0.10, 6 * deg, 0.12, 0.15, 1.0, 0.10, 3 * deg, 1.0, 0.3, 0.6}
	}
	return clumsiness{0.10, 0.04, 0.8, 0.04, 3 * deg, 0.05, 0.08, 0.5, 0.05, 1.5 * deg, 0.5, 0.15, 0.3}
}

// draw makes the sketch of a system: its places in feet on paper, and the true
// bearing of the paper's +Y axis.
func draw(r *rand.Rand, p plan, trust asbuilt.Trust) (*asbuilt.Sketch, geo.Angle) {
	c := clumsinessOf(trust)
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Foot, Ratio: 1, Trust: trust}
	sheet := geo.Radians(between(r, -math.Pi, math.Pi)) // how the paper lay
	scale := math.Exp(c.scale*flat(r)) / 0.3048
	sx, sy := scale*math.Exp(c.stretch*flat(r)), scale*math.Exp(-c.stretch*flat(r))
	corner := p.start[0]
	house := p.corners[0].Lerp(p.corners[2], 0.5)
	shift := math.Hypot(c.shift, c.drift*house.Dist(p.start[len(p.start)/2].Lerp(p.end[len(p.end)/2], 0.5)))
	move := geo.Vec{X: shift * laplace(r), Y: shift * laplace(r)}
	turn, size := geo.Radians(c.turn*flat(r)), math.Exp(c.size*laplace(r))
	paper := func(v geo.Vec, wobble float64) asbuilt.Position {
		v = v.Add(geo.Vec{X: wobble * flat(r), Y: wobble * flat(r)}).Sub(house).Rotate(sheet)
		v = geo.Vec{X: v.X * sx, Y: v.Y * sy}
		g := c.grid / 0.3048
		return asbuilt.Position{X: math.Round(v.X/g) * g, Y: math.Round(v.Y/g) * g}
	}
	block := func(v geo.Vec) geo.Vec {
		return v.Sub(corner).Rotate(turn).Scale(size).Add(corner).Add(move)
	}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...asbuilt.Position) *asbuilt.Part {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: v}}, Feature: len(s.Parts) + 1})
		return &s.Parts[len(s.Parts)-1]
	}
	var ring []asbuilt.Position
	for _, v := range p.corners {
		ring = append(ring, paper(v, c.point))
	}
	add("house", asbuilt.Building, asbuilt.Polygon, ring...)
	for i, v := range ring {
		add(mark(i), asbuilt.Landmark, asbuilt.Point, v)
	}
	half := geo.Vec{X: shift / 2 * laplace(r), Y: shift / 2 * laplace(r)}
	add("tank", asbuilt.Tank, asbuilt.Point, paper(p.tank.Add(half), c.point))
	add("box", asbuilt.Box, asbuilt.Point, paper(block(p.box.Add(geo.Vec{X: c.box * laplace(r), Y: c.box * flat(r)})), 0.5*c.point))
	n := len(p.start)
	across, slide, longer := 0.0, 0.6*c.along*flat(r), math.Exp(0.7*c.length*flat(r))
	spacing := p.start[1].Dist(p.start[0])
	for k := range n {
		if k > 0 {
			across += c.spacing * spacing * flat(r)
		}
		even := across - c.spacing*spacing*0.2*float64(k-n/2) // the draughtsman evens his mistakes out
		off := p.right.Scale(even).Add(p.along.Scale(slide + 0.6*c.along*laplace(r)))
		a, b := p.start[k].Add(off), p.end[k].Add(off)
		mid, h := a.Lerp(b, 0.5), b.Sub(a).Scale(0.5)
		h = h.Scale(longer * math.Exp(0.7*c.length*flat(r))).Rotate(geo.Radians(0.6 * c.tilt * laplace(r)))
		l := add(lateral(k), asbuilt.Lateral, asbuilt.Line,
			paper(block(mid.Sub(h)), 0.3*c.point), paper(block(mid.Add(h)), 0.3*c.point))
		l.Bed, l.Width = asbuilt.Gravel, &geo.Length{Metres: p.width, Written: "3 ft", Unit: geo.Foot}
	}
	return s, sheet
}
