package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
)

// hand is how badly a sheet of some quality is drawn: standard deviations.
type hand struct {
	scale   float64 // of the logarithm of the sheet's scale
	stretch float64 // of half the logarithm of one axis over the other
	shift   float64 // metres: field against house
	drift   float64 // the same, per metre between them
	turn    float64 // degrees: field against house
	size    float64 // of the logarithm: field against house
	spacing float64 // per spacing: each gap between trenches
	along   float64 // metres: where a trench begins
	length  float64 // per length of a trench
	tilt    float64 // degrees: of a trench against the others
	box     float64 // metres: box against trenches
	point   float64 // metres: any corner
	grid    float64 // metres of ground between the lines of the paper
	square  float64 // degrees: a field nearer than this to square with the house is drawn square
	even    float64 // odds that spacings, and lengths, are all drawn equal
}

var hands = map[asbuilt.Trust]hand{
	asbuilt.ToScale:    {0.02, 0.01, 0.3, 0.01, 1, 0.01, 0.03, 0.2, 0.02, 0.5, 0.2, 0.08, 0.15, 0, 0},
	asbuilt.Roughly:    {0.10, 0.04, 0.8, 0.04, 3, 0.05, 0.08, 0.5, 0.05, 1.5, 0.5, 0.15, 0.30, 4, 0.4},
	asbuilt.NotToScale: {0.35, 0.10, 1.5, 0.10, 6, 0.12, 0.15, 1.0, 0.10, 3, 1.0, 0.30, 0.60, 8, 0.7},
}

// draw makes the sketch of a lot as a hand draws it, in feet on paper, the house square to the
// sheet.
func draw(r *rand.Rand, l *lot, trust asbuilt.Trust, h hand) *asbuilt.Sketch {
	d := &draughtsman{r: r, h: h, house: l.corners[0].Lerp(l.corners[2], 0.5)}
	d.sx = math.Exp(h.scale*r.NormFloat64()+h.stretch*r.NormFloat64()) / foot
	d.sy = d.sx * math.Exp(2*h.stretch*r.NormFloat64())
	wall := l.corners[1].Sub(l.corners[0])
	d.sheet = geo.Radians(-math.Atan2(wall.Y, wall.X) + 0.01*r.NormFloat64())
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Foot, Ratio: 1, Trust: trust}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...asbuilt.Position) *asbuilt.Part {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: v}}, Feature: len(s.Parts) + 1})
		return &s.Parts[len(s.Parts)-1]
	}
	var ring []asbuilt.Position
	for _, v := range l.corners {
		ring = append(ring, d.paper(v, h.point))
	}
	add("house", asbuilt.Building, asbuilt.Polygon, ring...)
	for i, v := range ring {
		add(mark(i), asbuilt.Landmark, asbuilt.Point, v)
	}
	tank := d.paper(l.tank.Add(d.miss(h.shift/2)), h.point)
	add("tank", asbuilt.Tank, asbuilt.Point, tank)

	block := d.block(l, wall)
	box := d.paper(block(l.box.Add(d.miss(h.box))), h.point/2)
	add("box", asbuilt.Box, asbuilt.Point, box)
	lines := d.trenches(l)
	for k, line := range lines {
		a, b := d.paper(block(line[0]), h.point/3), d.paper(block(line[1]), h.point/3)
		p := add(fmt.Sprintf("L%d", k+1), asbuilt.Lateral, asbuilt.Line, a, b)
		p.Bed, p.Width = asbuilt.Gravel, &geo.Length{Metres: l.width, Unit: geo.Metre}
		// The record says how long each trench is, in whole feet: the
		// inspector paced it or counted pipes.
		long := math.Round(length(l.laterals[k])*(1+0.015*heavy(r))/foot) * foot
		p.Length = &geo.Length{Metres: long, Unit: geo.Foot}
	}
	add("HT", asbuilt.Header, asbuilt.Line, tank, box)
	for k := range lines {
		start, _ := s.Part(fmt.Sprintf("L%d", k+1)).Point(asbuilt.Start)
		add(fmt.Sprintf("H%d", k+1), asbuilt.Header, asbuilt.Line, box, start)
	}
	return s
}

const foot = 0.3048

func mark(i int) string { return string(rune('A' + i)) }

func length(line []geo.Vec) (l float64) {
	for i := 1; i < len(line); i++ {
		l += line[i].Dist(line[i-1])
	}
	return l
}

// draughtsman is the person who drew a sheet.
type draughtsman struct {
	r      *rand.Rand
	h      hand
	house  geo.Vec // its middle
	sheet  geo.Angle
	sx, sy float64 // feet on paper for metres
}

// miss returns an error of the given standard deviation each way.
func (d *draughtsman) miss(sigma float64) geo.Vec {
	return geo.Vec{X: sigma * heavy(d.r), Y: sigma * heavy(d.r)}
}

// paper puts a place on the paper, on its squares.
func (d *draughtsman) paper(v geo.Vec, wobble float64) asbuilt.Position {
	v = v.Add(d.miss(wobble)).Sub(d.house).Rotate(d.sheet)
	g := d.h.grid / foot
	return asbuilt.Position{X: math.Round(v.X*d.sx/g) * g, Y: math.Round(v.Y*d.sy/g) * g}
}

// block returns how the field as a whole is drawn: turned about its box,
// grown, shifted, and laid square to the house where it nearly is.
func (d *draughtsman) block(l *lot, wall geo.Vec) func(geo.Vec) geo.Vec {
	h := d.h
	middle := l.laterals[len(l.laterals)/2]
	away := d.house.Dist(middle[len(middle)/2])
	move := d.miss(math.Hypot(h.shift, h.drift*away))
	turn := geo.Degrees(h.turn * heavy(d.r))
	off := math.Remainder(math.Atan2(l.along.Y, l.along.X)-math.Atan2(wall.Y, wall.X), math.Pi/2)
	if math.Abs(off) < h.square*math.Pi/180 {
		turn = geo.Radians(-off + 0.25*turn.Radians())
	}
	size := math.Exp(h.size * heavy(d.r))
	return func(v geo.Vec) geo.Vec { return v.Sub(l.box).Rotate(turn).Scale(size).Add(l.box).Add(move) }
}

// trenches returns each lateral as a straight line, misplaced among the others.
func (d *draughtsman) trenches(l *lot) [][2]geo.Vec {
	r, h := d.r, d.h
	right := l.along.Right()
	n := len(l.laterals)
	spacing := length([]geo.Vec{l.laterals[0][0], l.laterals[n-1][0]}) / float64(n-1)
	alike, level := r.Float64() < h.even, r.Float64() < h.even
	mean := 0.0
	for _, line := range l.laterals {
		mean += length(line) / float64(n)
	}
	slide, longer := 0.6*h.along*heavy(r), math.Exp(0.7*h.length*heavy(r))
	first, last := l.laterals[0], l.laterals[n-1]
	var lines [][2]geo.Vec
	across := 0.0
	for k, line := range l.laterals {
		a, b := line[0], line[len(line)-1]
		if alike { // as far apart as the first and the last allow
			u := float64(k) / float64(n-1)
			shift := first[0].Lerp(last[0], u).Sub(a).Dot(right)
			a, b = a.Add(right.Scale(shift)), b.Add(right.Scale(shift))
		}
		if k > 0 {
			across += h.spacing * spacing * heavy(r)
		}
		off := right.Scale(across).Add(l.along.Scale(slide + 0.6*h.along*heavy(r)))
		e := b.Sub(a).Unit().Rotate(geo.Degrees(0.6 * h.tilt * heavy(r)))
		long := b.Dist(a)
		if level {
			long = mean
		}
		long *= longer * math.Exp(0.7*h.length*heavy(r))
		a = a.Add(off)
		lines = append(lines, [2]geo.Vec{a, a.Add(e.Scale(long))})
	}
	return lines
}
