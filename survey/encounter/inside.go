package encounter

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
)

// Inside returns by how many metres a hole or slot reaches into the object in
// draw i, below 0 where it misses, and which end of a line it shows. A trench
// stops square where it stops. A miss by more than far metres may come out as
// any number below −far.
func (o *Object) Inside(i int, h *Hole, far float64) (in float64, spot asbuilt.Spot) {
	in, spot, _ = o.inside(i, h, far)
	return in, spot
}

// inside is Inside, and which piece of the line it is.
func (o *Object) inside(i int, h *Hole, far float64) (in float64, spot asbuilt.Spot, piece int) {
	switch {
	case h.Slot != (geo.Vec{}):
		return o.slotInside(i, h, far)
	case o.pieces != nil:
		return o.inStrip(i, h.At, h.Radius, far)
	}
	return o.inDisc(i, h.At, h.Radius, far), "", 0
}

// inDisc returns by how far a hole of radius r at v reaches into a disc.
func (o *Object) inDisc(i int, v geo.Vec, r, far float64) float64 {
	reach := o.Reach + r
	w := o.spots[i].Sub(v)
	x := max(math.Abs(w.X), math.Abs(w.Y))
	if !(x < reach+far) {
		return -far - 1
	}
	return reach - math.Sqrt(w.X*w.X+w.Y*w.Y)
}

// inStrip returns by how far a hole of radius r at v reaches into a line.
func (o *Object) inStrip(i int, v geo.Vec, r, far float64) (in float64, spot asbuilt.Spot, piece int) {
	in = -far - 1
	for k := range o.pieces {
		p := &o.pieces[k]
		w := v.Sub(p.a[i])
		off := o.Reach + r - math.Abs(p.u[i].Cross(w))
		if off < -far || p.long[i] < 0 {
			continue
		}
		if d, end := p.at(i, p.u[i].Dot(w), r, off); d > in {
			in, spot, piece = d, end, k
		}
	}
	return in, spot, piece
}

// at returns by how far a hole of radius r reaches into a piece whose sides it
// reaches into by off metres, s metres along it; and which end it shows.
func (p *piece) at(i int, s, r, off float64) (in float64, spot asbuilt.Spot) {
	long := p.long[i]
	switch {
	case p.last && long-s < r:
		spot = asbuilt.End
	case p.first && s < r:
		spot = asbuilt.Start
	}
	return min(off, s+r, long-s+r), spot
}

// slotInside returns by how far a slot reaches into the object.
func (o *Object) slotInside(i int, h *Hole, far float64) (in float64, spot asbuilt.Spot, piece int) {
	end := h.At.Add(h.Slot)
	if o.pieces == nil {
		d, _ := geo.SegmentDistance(h.At, end, o.spots[i])
		return o.Reach + h.Radius - d, "", 0
	}
	in = -far - 1
	for k := range o.pieces {
		p := &o.pieces[k]
		if p.long[i] < 0 {
			continue
		}
		v := nearest(h.At.Sub(p.a[i]), end.Sub(p.a[i]), p.u[i])
		off := o.Reach + h.Radius - math.Abs(p.u[i].Cross(v))
		if d, end := p.at(i, p.u[i].Dot(v), h.Radius, off); d > in {
			in, spot, piece = d, end, k
		}
	}
	return in, spot, piece
}

// nearest returns where the way from a to b crosses the line through the origin
// along u, or comes nearest to it.
func nearest(a, b, u geo.Vec) geo.Vec {
	ca, cb := u.Cross(a), u.Cross(b)
	switch {
	case ca*cb < 0:
		return a.Lerp(b, ca/(ca-cb))
	case math.Abs(cb) < math.Abs(ca):
		return b
	}
	return a
}
