package depth

import (
	"fmt"
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// plan is Places of an invented field, known without error.
type plan struct {
	spots  map[string]geo.Vec
	lines  map[string][]geo.Vec
	points map[string]geo.Vec
	met    map[string]string
	sigma  float64
}

func (p *plan) Spot(part string, _ asbuilt.Spot) (geo.Vec, bool) {
	v, ok := p.spots[part]
	return v, ok
}
func (p *plan) Line(part string) []geo.Vec        { return p.lines[part] }
func (p *plan) Point(name string) (geo.Vec, bool) { v, ok := p.points[name]; return v, ok }
func (p *plan) Met(reading string) string         { return p.met[reading] }
func (p *plan) Sigma(string) float64              { return p.sigma }

// field is an invented job in the making.
type field struct {
	*plan
	job *survey.Job
}

func metres(v float64) *geo.Length {
	return &geo.Length{Metres: v, Written: fmt.Sprintf("%.3f m", v), Unit: geo.Metre}
}

// newField invents a box and n laterals of the given length and spacing in
// metres, running east, each with the recorded cover where it is not NaN.
func newField(n int, length, spacing, cover float64) *field {
	f := &field{&plan{map[string]geo.Vec{}, map[string][]geo.Vec{}, map[string]geo.Vec{}, map[string]string{}, 0},
		&survey.Job{Sketch: &asbuilt.Sketch{}}}
	shape := func(form asbuilt.Form, v ...geo.Vec) []asbuilt.Shape {
		return []asbuilt.Shape{{Form: form, Vertices: asbuilt.Positions(v...)}}
	}
	at := geo.Vec{X: -1.5, Y: -spacing * float64(n-1) / 2}
	f.spots["box"] = at
	parts := []asbuilt.Part{{ID: "box", Kind: asbuilt.Box, Shapes: shape(asbuilt.Point, at)}}
	for i := range n {
		id := fmt.Sprintf("L%d", i+1)
		a := geo.Vec{Y: -spacing * float64(i)}
		b := geo.Vec{X: length, Y: a.Y}
		f.lines[id] = []geo.Vec{a, b}
		p := asbuilt.Part{ID: id, Kind: asbuilt.Lateral, From: "box", Bed: asbuilt.Gravel, Shapes: shape(asbuilt.Line, a, b)}
		if !math.IsNaN(cover) {
			p.Cover = metres(cover)
		}
		parts = append(parts, p)
	}
	f.job.Sketch.Parts = parts
	return f
}

// spot returns the place a fraction u along a lateral, or the middle of the box.
func (f *field) spot(part string, u float64) geo.Vec {
	if line := f.lines[part]; line != nil {
		return line[0].Lerp(line[1], u)
	}
	return f.spots[part]
}

func (f *field) log(r survey.Reading) string {
	r.ID = fmt.Sprintf("r%d", len(f.job.Readings)+1)
	f.job.Readings = append(f.job.Readings, r)
	return r.ID
}

// found logs the depth of a feature of a part a fraction u along it.
func (f *field) found(part string, u, depth float64, feature survey.Feature) string {
	name := fmt.Sprintf("H%d", len(f.points)+1)
	f.points[name] = f.spot(part, u)
	return f.log(survey.Reading{Kind: survey.Found, Point: name, Target: part, Depth: metres(depth), Feature: feature})
}

// level logs a ground height at a place.
func (f *field) level(v geo.Vec, height float64) string {
	name := fmt.Sprintf("S%d", len(f.points)+1)
	f.points[name] = v
	return f.log(survey.Reading{Kind: survey.Level, Point: name, Value: metres(height)})
}

// site is an invented site by another account than the model's: a curved and
// wavy ground, a system built to the rules of practice, a record as records
// are made, and fill that may end at an edge.
type site struct {
	*field
	old, fill func(geo.Vec) float64 // heights in metres
	invert    map[string][2]float64 // at both ends
	lid       float64
}

func (s *site) depth(part string, u float64) float64 { // of the crown, or the lid
	v := s.spot(part, u)
	z := s.invert[part]
	up := 0.107
	if part == "box" {
		up = s.lid
	}
	return s.old(v) + s.fill(v) - (z[0] + u*(z[1]-z[0])) - up
}

// scene is what the ground of an invented site is made to be.
type scene string

const (
	usual    scene = "as lots are" // half next to nothing, three in ten level, two in ten ending at a bank
	bare     scene = "no fill"
	even     scene = "level fill"
	oneSided scene = "fill on one side" // it ends at a bank
	wedge    scene = "fill that slopes" // from nothing at one side of the field
	terraces scene = "fill in two steps"
	hillside scene = "ground that slopes" // 5 to 10 % across, no fill
)

func newSite(rng *rand.Rand) *site { return siteOf(rng, usual) }

func siteOf(rng *rand.Rand, kind scene) *site {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	n := 3 + rng.IntN(5)
	length, spacing := between(12, 30), between(1.8, 3)
	recorded := rng.Float64() < 0.7
	s := &site{field: newField(n, length, spacing, math.NaN()), invert: map[string][2]float64{}}

	// Trenches are laid along the contour, so they slope little along.
	wide := spacing * float64(n-1)
	along, across := 0.008*rng.NormFloat64(), 0.04*rng.NormFloat64()
	if kind == hillside {
		across = math.Copysign(between(0.05, 0.1), across)
	}
	bend, phase, wave, high := between(-0.15, 0.15), between(0, 6), between(8, 25), between(0, 0.08)
	turn := between(0, math.Pi)
	s.old = func(v geo.Vec) float64 {
		x, y := 2*v.X/length-1, 2*v.Y/wide+1
		t := (v.X*math.Cos(turn) + v.Y*math.Sin(turn)) * 2 * math.Pi / wave
		return 30 + along*v.X + across*v.Y + bend*(x*x+0.5*y*y) + high*math.Sin(t+phase)
	}
	s.fill = newFill(rng, kind, length, wide)

	// Built to a cover at the middle: all level off one box, or each to its
	// own ground where it slopes.
	cover := between(0.3, 0.75)
	own := math.Abs(across)*wide > 0.35 && rng.Float64() < 0.8 || rng.Float64() < 0.1
	mean := 0.0
	for i := range n {
		mean += s.old(s.spot(fmt.Sprintf("L%d", i+1), 0.5)) / float64(n)
	}
	outlet := mean - cover - 0.107 + 0.03
	top, highest := math.Inf(-1), ""
	for i := range n {
		id := fmt.Sprintf("L%d", i+1)
		start := outlet - between(0.01, 0.02)*s.spots["box"].Dist(s.lines[id][0]) + 0.01*rng.NormFloat64()
		if own {
			start = s.old(s.spot(id, 0.5)) - cover - 0.107 + 0.05*rng.NormFloat64()
		}
		if start > top {
			top, highest = start, id
		}
		s.invert[id] = [2]float64{start, start - between(0, 0.004)*length}
	}
	if own { // the box feeds the highest lateral and all below
		outlet = top + between(0.02, 0.06)
		s.spots["box"] = geo.Vec{X: -1.5, Y: s.lines[highest][0].Y}
	}
	s.lid = between(0.15, 0.32)
	s.invert["box"] = [2]float64{outlet, outlet}

	if recorded { // what is written: one number for all, or each measured somewhere; in whole or half feet or inches
		round := []float64{0.1524, 0.0254, 0.0508}[rng.IntN(3)]
		copied := rng.Float64() < 0.5
		for i := range s.job.Sketch.Parts {
			p := &s.job.Sketch.Parts[i]
			if p.Kind != asbuilt.Lateral {
				continue
			}
			c := cover
			if !copied {
				u := rng.Float64()
				v, z := s.spot(p.ID, u), s.invert[p.ID]
				c = s.old(v) - (z[0] + u*(z[1]-z[0])) - 0.107
			}
			c += 0.03 * rng.NormFloat64()
			p.Cover = metres(max(0.1, math.Round(c/round)*round))
		}
	}
	return s
}

// dig logs a hole on a random lateral, with the height of the ground if shot.
func (s *site) dig(rng *rand.Rand, shot bool) {
	id := fmt.Sprintf("L%d", 1+rng.IntN(len(s.lines)))
	u := rng.Float64()
	s.found(id, u, s.depth(id, u)+0.02*rng.NormFloat64(), survey.Crown)
	if shot {
		v := s.spot(id, u)
		s.level(v, s.old(v)+s.fill(v)+0.02*rng.NormFloat64())
	}
}

// newFill invents the fill of a field so long and wide, metres.
func newFill(rng *rand.Rand, kind scene, length, wide float64) func(geo.Vec) float64 {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	amount, part := 0.0, false
	switch r := rng.Float64(); {
	case kind == usual && r < 0.5, kind == bare, kind == hillside:
		if amount = between(0, 0.08); kind == bare {
			amount = 0
		}
	case kind == usual && r < 0.8, kind == even:
		amount = between(0.15, 0.9)
	default:
		amount, part = between(0.15, 0.7), true
	}
	angle := between(0, 2*math.Pi)
	edge := between(-0.3, 0.3) * length
	taper := between(-0.3, 0.3)
	middle := geo.Vec{X: length / 2, Y: -wide / 2}
	half := math.Abs(length/2*math.Cos(angle)) + math.Abs(wide/2*math.Sin(angle))
	bank := func(t, at float64) float64 { return min(1, max(0, (t-at)/1.5+0.5)) } // 1.5 m wide
	return func(v geo.Vec) float64 {
		d := v.Sub(middle)
		t := d.X*math.Cos(angle) + d.Y*math.Sin(angle)
		switch {
		case kind == wedge:
			return amount * (1 + t/half) / 2
		case kind == terraces:
			return amount * (0.5*bank(t, -half/3) + 0.5*bank(t, half/3))
		case part:
			return amount * bank(t, edge)
		}
		return amount * (1 + taper*t/length)
	}
}
