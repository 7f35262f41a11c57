package probe

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
)

// A slot is a hole drawn out to a strip: an excavator cuts it across the
// trenches down to one depth, and what lies anywhere in it is met.

const (
	mend      = 20.0 // minutes to make good a line that a machine has cut. Judgement, no published source
	slotSites = 12   // draws that slots are tried on
)

// slotLengths are those that are tried, metres: to the next trench, over one,
// over two, where trenches lie 6 to 9 ft apart.
var slotLengths = [...]float64{1.5, 3, 5}

// middle returns the middle of a hole or slot.
func (h *hole) middle() geo.Vec { return h.at.Add(h.slot.Scale(0.5)) }

// half returns half the length of a slot in metres, 0 for a hole.
func (h *hole) half() float64 {
	if h.slot == (geo.Vec{}) {
		return 0
	}
	return h.slot.Norm() / 2
}

// minutes returns how long a hole or slot takes that is dug to a depth in
// metres: a slot a hole, and so much a metre more.
func (h *hole) minutes(depth float64) float64 {
	m := h.tool.Minutes(depth)
	if h.slot != (geo.Vec{}) {
		m += h.tool.Slot * h.slot.Norm() * depth
	}
	return m
}

// cut returns by how many metres a hole or slot reaches into the object in
// draw i, as inside does for a hole.
func (o *object) cut(i int, h *hole, far float64) (in float64, spot asbuilt.Spot) {
	if h.slot == (geo.Vec{}) {
		return o.inside(i, h.at, h.radius, far)
	}
	end := h.at.Add(h.slot)
	if o.pieces == nil {
		d, _ := geo.SegmentDistance(h.at, end, o.spots[i])
		return o.reach + h.radius - d, ""
	}
	in = -far - 1
	for k := range o.pieces {
		p := &o.pieces[k]
		long := p.long[i]
		if long < 0 {
			continue
		}
		// Where along the line the slot crosses it, or comes nearest.
		a, b := h.at.Sub(p.a[i]), end.Sub(p.a[i])
		ca, cb := p.u[i].Cross(a), p.u[i].Cross(b)
		v := a
		switch {
		case ca*cb < 0:
			v = a.Lerp(b, ca/(ca-cb))
		case math.Abs(cb) < math.Abs(ca):
			v = b
		}
		s := p.u[i].Dot(v)
		d := min(o.reach+h.radius-math.Abs(p.u[i].Cross(v)), s+h.radius, long-s+h.radius)
		if d <= in {
			continue
		}
		in, spot = d, ""
		switch {
		case p.last && long-s < h.radius:
			spot = asbuilt.End
		case p.first && s < h.radius:
			spot = asbuilt.Start
		}
	}
	return in, spot
}

// allowedSlot reports whether a slot may be proposed, and to what standard
// deviation in metres it is set out: every place along it as a hole would be,
// what lies between two places included, and both its ends set out.
func (s *site) allowedSlot(at, slot geo.Vec, radius float64) (sigma float64, ok bool) {
	const step = 0.2
	n := int(math.Ceil(slot.Norm() / step))
	for _, v := range []geo.Vec{at, at.Add(slot)} {
		one, ok := s.allowed(v, radius+step/2)
		if !ok {
			return 0, false
		}
		sigma = max(sigma, one)
	}
	for k := 1; k < n; k++ {
		if !s.ground.clear(at.Add(slot.Scale(float64(k)/float64(n))), radius+step/2, sigma) {
			return 0, false
		}
	}
	return sigma, true
}

// slots returns the slots worth a try: across the trenches, over what is sought
// and over each lateral's near end and middle, as some of the draws have them.
func (b *belief) slots(e effort) (all [][2]geo.Vec) {
	machine := false
	for i := range b.tools {
		machine = machine || b.tools[i].Slot > 0
	}
	if !machine {
		return nil
	}
	for k, i := range b.sample(min(slotSites, e.sites)) {
		var across geo.Vec
		var over []geo.Vec
		for n := range b.objects {
			o := &b.objects[n]
			if o.kind == asbuilt.Lateral && o.pieces != nil && o.pieces[0].long[i] > 0 {
				across = o.pieces[0].u[i].Right()
				if v, ok := o.place(i, 0.5*float64(k%2)); ok {
					over = append(over, v)
				}
			}
			if o.sought {
				if v, ok := o.place(i, 0.5); ok {
					over = append(over, v)
				}
			}
		}
		if across == (geo.Vec{}) {
			continue
		}
		long := slotLengths[k%len(slotLengths)]
		for _, v := range over {
			if v.Finite() && max(math.Abs(v.X), math.Abs(v.Y)) < asbuilt.MaxCoordinate {
				from, to := round(v.Sub(across.Scale(long/2))), round(v.Add(across.Scale(long/2)))
				all = append(all, [2]geo.Vec{from, to.Sub(from)})
			}
		}
	}
	return all
}
