package probe

import (
	"math"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey/posterior"
)

// object is a part, or an end of a line, that a hole may meet, as the draws
// have it: discs about spots, or strips with square ends along lines.
type object struct {
	name   string // of the part
	report string // as a plan names it: L2, L2.end
	kind   asbuilt.Kind
	spot   asbuilt.Spot // an end of the line, empty: any of it
	sought bool
	joins  bool    // a header that the sketch does not have: from a box to the lateral of that name
	reach  float64 // metres from spot or line, the hole's radius not included
	meets  float64 // chance of noticing it in a hole over it

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

// newObject returns a part, or an end of it, as an object; ok is false for a
// part that no hole meets, and where there are no draws of it.
func newObject(part *asbuilt.Part, spot asbuilt.Spot, d *posterior.Draws) (o object, ok bool) {
	o = object{name: part.ID, report: part.ID, kind: part.Kind, spot: spot, meets: lineMeets}
	spots := func(s asbuilt.Spot) []geo.Vec { return d.Spots[asbuilt.SpotName{Part: part.ID, Spot: s}] }
	switch {
	case spot != "":
		o.spots, o.reach, o.report = spots(spot), endReach, part.ID+"."+string(spot)
	case part.Kind == asbuilt.Lateral:
		o.pieces, o.reach = pieces(d.Lines[part.ID], d.N), practice.Width(part)/2
	case part.Kind == asbuilt.Header:
		o.pieces, o.reach, o.meets = pieces(d.Lines[part.ID], d.N), practice.PipeOutside/2, pipeMeets
	case part.Kind == asbuilt.Box:
		o.spots, o.meets = spots(asbuilt.Center), boxMeets
		o.reach = practice.BoxSide(part) / math.Sqrt(math.Pi) // the disc of the box's area
	case part.Kind == asbuilt.Tank:
		o.spots, o.meets = spots(asbuilt.Center), boxMeets
		o.reach = math.Sqrt(practice.TankLength * practice.TankWidth / math.Pi)
	case part.Kind == asbuilt.Port:
		o.spots, o.reach = spots(asbuilt.Center), portReach
	default:
		return o, false
	}
	if len(o.spots) != d.N && len(o.pieces) == 0 {
		return o, false
	}
	return o, o.bound()
}

// newJoin returns the header that there must be between a box and a lateral where
// a sketch has none drawn: the straight way. It lies as deep as the lateral.
func newJoin(box, lateral *asbuilt.Part, d *posterior.Draws) (o object, ok bool) {
	from, to := d.Spots[asbuilt.SpotName{Part: box.ID, Spot: asbuilt.Center}], d.Spots[asbuilt.SpotName{Part: lateral.ID, Spot: asbuilt.Start}]
	if len(from) != d.N || len(to) != d.N {
		return o, false
	}
	lines := make([][]geo.Vec, d.N)
	for i := range lines {
		lines[i] = []geo.Vec{from[i], to[i]}
	}
	o = object{name: lateral.ID, kind: asbuilt.Header, joins: true, meets: pipeMeets, reach: practice.PipeOutside / 2, pieces: pieces(lines, d.N)}
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

// bound notes within what the draws of the object lie; false where none of
// them is an ordinary place.
func (o *object) bound() bool {
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

// near reports whether any draw may have the object within d metres of v.
func (o *object) near(v geo.Vec, d float64) bool {
	d += o.reach
	return v.X > o.lo.X-d && v.X < o.hi.X+d && v.Y > o.lo.Y-d && v.Y < o.hi.Y+d
}

// inside returns by how many metres a hole of radius r at v reaches into the
// object in draw i, below 0 where it misses, and which end of a line it shows.
// A trench stops square where it stops. What lies past more than far metres
// may come out as any number below −far.
func (o *object) inside(i int, v geo.Vec, r, far float64) (in float64, spot asbuilt.Spot) {
	reach := o.reach + r
	if o.pieces == nil {
		w := o.spots[i].Sub(v)
		x := max(math.Abs(w.X), math.Abs(w.Y))
		if !(x < reach+far) {
			return -far - 1, ""
		}
		return reach - math.Sqrt(w.X*w.X+w.Y*w.Y), ""
	}
	in = -far - 1
	for k := range o.pieces {
		p := &o.pieces[k]
		long := p.long[i]
		w := v.Sub(p.a[i])
		off := reach - math.Abs(p.u[i].Cross(w))
		if off < -far || long < 0 {
			continue
		}
		s := p.u[i].Dot(w)
		d := min(off, s+r, long-s+r)
		if d <= in {
			continue
		}
		in, spot = d, ""
		switch {
		case p.last && long-s < r:
			spot = asbuilt.End
		case p.first && s < r:
			spot = asbuilt.Start
		}
	}
	return in, spot
}

// place returns a place of the object in draw i: a spot, or the share u of the
// way along its line.
func (o *object) place(i int, u float64) (v geo.Vec, ok bool) {
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
