package simulate

import (
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
)

// down is the vertical truth of a system: heights in metres above a datum of
// its own.
type down struct {
	surface func(geo.Vec) float64 // of today's ground
	old     func(geo.Vec) float64 // of the ground at the time of the record
	invert  map[string][2]float64 // of each part, at both ends
	lid     float64               // of the box above its invert
	line    map[string][2]geo.Vec
	written map[string]float64 // covers as recorded; nil where none were
}

const (
	pipe      = 0.107 // outside diameter of a lateral, metres: ASTM D2729, from memory
	gravelTop = 0.05  // gravel above the crown, metres, 2 in: common practice, no published source
)

// bury invents the vertical half of a system: a curved and wavy ground, laterals
// at one level or each following its own ground, fill that may end at an edge,
// and a record of the cover as records are made. Where each lateral follows its
// own ground, the box is moved to the highest, which it has to feed.
func bury(r *rand.Rand, p *plan) down {
	n := len(p.start)
	long, spacing := p.start[0].Dist(p.end[0]), p.start[0].Dist(p.start[1])
	wide := spacing * float64(n-1)
	local := func(v geo.Vec) (x, y float64) {
		w := v.Sub(p.start[0])
		return w.Dot(p.along), w.Dot(p.right)
	}
	d := down{invert: map[string][2]float64{}, line: map[string][2]geo.Vec{}}
	for k := range n {
		d.line[lateral(k)] = [2]geo.Vec{p.start[k], p.end[k]}
	}

	along, across := 0.008*r.NormFloat64(), 0.04*r.NormFloat64()
	bend, phase, wave, high := between(r, -0.15, 0.15), between(r, 0, 6), between(r, 8, 25), between(r, 0, 0.08)
	turn := between(r, 0, math.Pi)
	d.old = func(v geo.Vec) float64 {
		x, y := local(v)
		a, b := 2*x/long-1, 2*y/wide-1
		t := (x*math.Cos(turn) + y*math.Sin(turn)) * 2 * math.Pi / wave
		return 30 + along*x + across*y + bend*(a*a+0.5*b*b) + high*math.Sin(t+phase)
	}
	amount, part := 0.0, false
	switch u := r.Float64(); {
	case u < 0.5:
		amount = between(r, 0, 0.08)
	case u < 0.8:
		amount = between(r, 0.15, 0.9)
	default:
		amount, part = between(r, 0.15, 0.7), true
	}
	angle, edge, taper := between(r, 0, 2*math.Pi), between(r, -0.3, 0.3)*long, between(r, -0.3, 0.3)
	d.surface = func(v geo.Vec) float64 {
		x, y := local(v)
		t := (x-long/2)*math.Cos(angle) + (y-wide/2)*math.Sin(angle)
		if part { // a bank 1.5 m wide
			return d.old(v) + amount*min(1, max(0, (t-edge)/1.5+0.5))
		}
		return d.old(v) + amount*(1+taper*t/long)
	}

	cover := between(r, 0.3, 0.75)
	own := math.Abs(across)*wide > 0.35 && r.Float64() < 0.8 || r.Float64() < 0.1
	middle := func(k int) float64 { return d.old(p.start[k].Lerp(p.end[k], 0.5)) }
	outlet := -cover - pipe + 0.03
	for k := range n {
		outlet += middle(k) / float64(n)
	}
	top, highest := math.Inf(-1), 0
	for k := range n {
		start := outlet - between(r, 0.01, 0.02)*p.box.Dist(p.start[k]) + 0.01*r.NormFloat64()
		if own {
			start = middle(k) - cover - pipe + 0.05*r.NormFloat64()
		}
		if start > top {
			top, highest = start, k
		}
		d.invert[lateral(k)] = [2]float64{start, start - between(r, 0, 0.004)*long}
	}
	if own { // the box feeds the highest lateral and all below
		outlet = top + between(r, 0.02, 0.06)
		p.box = p.start[highest].Sub(p.along.Scale(p.box.Sub(p.start[0]).Dot(p.along.Scale(-1))))
	}
	d.line["box"] = [2]geo.Vec{p.box, p.box}
	d.invert["box"] = [2]float64{outlet, outlet}
	d.lid = between(r, 0.15, 0.32)
	if r.Float64() < 0.7 { // one number for all, or each measured somewhere; in half feet, inches or two inches
		d.written = map[string]float64{}
		round := []float64{0.1524, 0.0254, 0.0508}[r.IntN(3)]
		copied := r.Float64() < 0.5
		for k := range n {
			c := cover
			if !copied {
				u, z := r.Float64(), d.invert[lateral(k)]
				c = d.old(p.start[k].Lerp(p.end[k], u)) - (z[0] + u*(z[1]-z[0])) - pipe
			}
			d.written[lateral(k)] = max(0.1, math.Round((c+0.03*r.NormFloat64())/round)*round)
		}
	}
	return d
}

// record writes the recorded covers on a sketch.
func (d down) record(s *asbuilt.Sketch) {
	for i := range s.Parts {
		if c, ok := d.written[s.Parts[i].ID]; ok {
			s.Parts[i].Cover = &geo.Length{Metres: c, Written: geo.FormatDepth(c, geo.Foot), Unit: geo.Foot}
		}
	}
}

// depth returns how deep below today's ground the crown of a lateral lies a
// fraction u along it, or the lid of the box.
func (d down) depth(part string, u float64) float64 {
	line, z := d.line[part], d.invert[part]
	up := pipe
	if part == "box" {
		up = d.lid
	}
	return d.surface(line[0].Lerp(line[1], u)) - (z[0] + u*(z[1]-z[0])) - up
}
