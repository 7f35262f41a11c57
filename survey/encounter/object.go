package encounter

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/drawing"
	"asfound/survey/posterior"
)

// Object is a part, or an end of a line, that a hole may meet, where each of a
// number of draws has it: a disc about a spot, or a strip along a line.
type Object struct {
	Body
	Part   string // its id
	Report string // as a plan names it: L2, L2.end
	Kind   asbuilt.Kind
	Spot   asbuilt.Spot // an end of the line; empty: any of it
	Sought bool
	Joins  bool // a header missing from the sketch: from a box to the lateral of that name

	spots  []geo.Vec // of a disc, one for each draw
	pieces []piece   // of a line
	lo, hi geo.Vec   // all draws lie within, metres
}

// piece is one segment of a line in every draw.
type piece struct {
	a, u        []geo.Vec // where it begins, unit vector along it
	long        []float64 // metres; below 0 where the draw has no such segment
	first, last bool      // of the line
}

// NewObject returns a part, or an end of it, as an object; ok is false for a
// part that no hole meets, and where there are no draws of it.
func NewObject(part *asbuilt.Part, spot asbuilt.Spot, d *posterior.Draws) (o Object, ok bool) {
	o = Object{Part: part.ID, Report: part.ID, Kind: part.Kind, Spot: spot}
	if o.Body, ok = BodyOf(part); !ok && spot == "" {
		return o, false
	}
	at := asbuilt.Center
	if spot != "" {
		o.Body, o.Report, at = lineEnd, part.ID+"."+string(spot), spot
	}
	if o.Line {
		o.pieces = pieces(d.Lines[part.ID], d.N)
	} else {
		o.spots = d.Spots[asbuilt.SpotName{Part: part.ID, Spot: at}]
	}
	if len(o.spots) != d.N && len(o.pieces) == 0 {
		return o, false
	}
	return o, o.bound()
}

// NewJoin returns a pipe that a sketch does not show: the straight way between two
// spots. It lies as deep as the part that it leads to.
func NewJoin(j drawing.Join, d *posterior.Draws) (o Object, ok bool) {
	from, to := d.Spots[j.From], d.Spots[j.To]
	if len(from) != d.N || len(to) != d.N {
		return o, false
	}
	lines := make([][]geo.Vec, d.N)
	for i := range lines {
		lines[i] = []geo.Vec{from[i], to[i]}
	}
	o = Object{Body: pipe, Part: j.To.Part, Kind: asbuilt.Header, Joins: true, pieces: pieces(lines, d.N)}
	return o, o.bound()
}

// pieces turns the lines of n draws into segments.
func pieces(lines [][]geo.Vec, n int) (all []piece) {
	if len(lines) != n {
		return nil
	}
	most := 0
	for _, l := range lines {
		most = max(most, len(l))
	}
	for k := 1; k < most; k++ {
		p := piece{make([]geo.Vec, n), make([]geo.Vec, n), make([]float64, n), k == 1, k == most-1}
		for i, l := range lines {
			p.long[i] = -1
			if k < len(l) && l[k-1].Finite() && l[k].Finite() {
				p.a[i], p.long[i] = l[k-1], l[k-1].Dist(l[k])
				p.u[i] = l[k].Sub(l[k-1]).Unit()
			}
		}
		all = append(all, p)
	}
	return all
}

// bound finds the bounds within which the draws of the object lie; false where
// none of them is finite.
func (o *Object) bound() bool {
	o.lo, o.hi = geo.Vec{X: math.Inf(1), Y: math.Inf(1)}, geo.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	note := func(v geo.Vec) {
		if max(math.Abs(v.X), math.Abs(v.Y)) < asbuilt.MaxCoordinate {
			o.lo = geo.Vec{X: min(o.lo.X, v.X), Y: min(o.lo.Y, v.Y)}
			o.hi = geo.Vec{X: max(o.hi.X, v.X), Y: max(o.hi.Y, v.Y)}
		}
	}
	for i := range o.spots {
		note(o.spots[i])
	}
	for k := range o.pieces {
		p := &o.pieces[k]
		for i := range p.long {
			if p.long[i] >= 0 {
				note(p.a[i])
				note(p.a[i].Add(p.u[i].Scale(p.long[i])))
			}
		}
	}
	return o.lo.X <= o.hi.X
}

// Near reports whether any draw may have the object within d metres of v.
func (o *Object) Near(v geo.Vec, d float64) bool {
	d += o.Reach
	return v.X > o.lo.X-d && v.X < o.hi.X+d && v.Y > o.lo.Y-d && v.Y < o.hi.Y+d
}

// Place returns a place of the object in draw i: a spot, or the share u of the
// way along its line.
func (o *Object) Place(i int, u float64) (v geo.Vec, ok bool) {
	if o.pieces == nil {
		return o.spots[i], o.spots[i].Finite()
	}
	all := 0.0
	for k := range o.pieces {
		all += max(0, o.pieces[k].long[i])
	}
	s := u * all
	for k := range o.pieces {
		p := &o.pieces[k]
		if p.long[i] < 0 {
			continue
		}
		if s <= p.long[i] || k == len(o.pieces)-1 {
			return p.a[i].Add(p.u[i].Scale(min(s, p.long[i]))), true
		}
		s -= p.long[i]
	}
	return v, false
}

// Along returns the unit vector along the beginning of a line in draw i; ok is
// false for a disc, and where the draw has no such line.
func (o *Object) Along(i int) (u geo.Vec, ok bool) {
	if len(o.pieces) == 0 || !(o.pieces[0].long[i] > 0) {
		return u, false
	}
	return o.pieces[0].u[i], true
}
