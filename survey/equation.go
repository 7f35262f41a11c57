package survey

import (
	"math"

	"asfound/geo"
	"asfound/survey/adjust"
)

// equationKind names an observation equation.
type equationKind int

const (
	distance   equationKind = iota // between two places, level or over a rise
	length                         // along a line of nodes
	position                       // a fix, with the bias of its session
	coincide                       // one place is another
	onLine                         // a place lies on a line of nodes, within its ends
	besideLine                     // a place lies on one side or the other of a line, at a distance
	onEdge                         // a place lies on the outline of a part
	onCorner                       // a place is the nearest corner of a part
	stationOf                      // along a baseline
	offsetOf                       // square to a baseline
	direction                      // bearing of one place from another
	within                         // a cable's length is never less than the straight distance
	tied                           // a distance to the nearest corner of a part
)

// observation is one observed number (two where the equation has two rows) and
// where its misclosure comes from.
type observation struct {
	kind    equationKind
	reading int    // index into the readings solved, −1: written on the sheet
	id      string // of the reading, or of what is written
	what    string // for people
	p, q, r place  // the places; which is which is said at the equation
	line    []int  // nodes of a line
	outline []geo.Vec
	value   float64    // metres or radians
	read    geo.Length // the value as it was written, zero where it is no length of a row
	value2  float64    // second number: a position's north, a rise
	sigma   float64
	sigma2  float64 // of the second row
	session int     // of a position; −1: none
	compass bool    // of a direction: counted from magnetic north
}

// equation is how an observation depends on the unknowns. Adding a reading
// kind that needs a new one means adding it here; a test compares every
// gradient with central differences.
type equation struct {
	rows    int
	observe func(n *network, o *observation, y []float64, s *adjust.Rows)
}

var equations = [...]equation{
	distance:   {1, observeDistance},
	length:     {1, observeLength},
	position:   {2, observePosition},
	coincide:   {2, observeCoincide},
	onLine:     {2, observeOnLine},
	besideLine: {2, observeBesideLine},
	onEdge:     {1, observeOnEdge},
	onCorner:   {2, observeOnCorner},
	stationOf:  {1, observeStation},
	offsetOf:   {1, observeOffset},
	direction:  {1, observeDirection},
	within:     {2, observeWithin},
	tied:       {1, observeTied},
}

// observeDistance: value = √(|q − p|² + value2²). Source: Ghilani & Wolf,
// Adjustment Computations, ch. 14.
func observeDistance(n *network, o *observation, y []float64, s *adjust.Rows) {
	w := n.where(y, o.q).Sub(n.where(y, o.p))
	m := math.Sqrt(w.Dot(w) + o.value2*o.value2 + 1e-8)
	g := w.Scale(1 / m)
	n.gradient(s, o.q, g)
	n.gradient(s, o.p, g.Scale(-1))
	s.End(o.value-m, o.sigma)
}

// observeLength: value = length of the polyline of nodes.
func observeLength(n *network, o *observation, y []float64, s *adjust.Rows) {
	total := 0.0
	for i := 1; i < len(o.line); i++ {
		a, b := place(o.line[i-1]), place(o.line[i])
		w := n.where(y, b).Sub(n.where(y, a))
		total += w.Norm()
		g := w.Unit()
		n.gradient(s, b, g)
		n.gradient(s, a, g.Scale(-1))
	}
	s.End(o.value-total, o.sigma)
}

// observePosition: (value, value2) = p + bias of the session.
func observePosition(n *network, o *observation, y []float64, s *adjust.Rows) {
	at := n.where(y, o.p)
	b := n.bias + 2*o.session
	n.gradient(s, o.p, geo.Vec{X: 1})
	s.Add(b, 1)
	s.End(o.value-at.X-y[b], o.sigma)
	n.gradient(s, o.p, geo.Vec{Y: 1})
	s.Add(b+1, 1)
	s.End(o.value2-at.Y-y[b+1], o.sigma2)
}

// observeCoincide: p − q = 0, along and across the line of nodes where there
// is one (sigma along, sigma2 across), else east and north.
func observeCoincide(n *network, o *observation, y []float64, s *adjust.Rows) {
	w := n.where(y, o.p).Sub(n.where(y, o.q))
	e := geo.Vec{X: 1}
	if len(o.line) > 1 {
		if u := n.at[o.line[len(o.line)-1]].Sub(n.at[o.line[0]]).Unit(); u != (geo.Vec{}) {
			e = u
		}
	}
	// The axes are taken as they lie now: w is small, so what their turning
	// does to it is smaller.
	for i, sigma := range [2]float64{o.sigma, o.sigma2} {
		a := e
		if i == 1 {
			a = e.Right()
		}
		n.gradient(s, o.p, a)
		n.gradient(s, o.q, a.Scale(-1))
		s.End(-w.Dot(a), sigma)
	}
}

// segment returns the nodes of the segment of a line that is nearest to v.
func (n *network) segment(line []int, v geo.Vec) (a, b place, first, last bool) {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		if d, _ := geo.SegmentDistance(n.at[line[i-1]], n.at[line[i]], v); d < best {
			best = d
			a, b = place(line[i-1]), place(line[i])
			first, last = i == 1, i == len(line)-1
		}
	}
	return a, b, first, last
}

// observeOnLine: the offset of p from the line is 0 (sigma), and p does not
// lie beyond its ends (sigma2).
func observeOnLine(n *network, o *observation, y []float64, s *adjust.Rows) {
	n.onLine(o, y, s, func(float64) float64 { return 0 })
}

// observeBesideLine: the offset of p from the line is value to one side or the
// other, whichever is nearer.
func observeBesideLine(n *network, o *observation, y []float64, s *adjust.Rows) {
	n.onLine(o, y, s, func(offset float64) float64 { return math.Copysign(o.value, offset) })
}

// onLine observes the offset of o.p from the line of nodes, want giving what
// it should be, and a station within the line. Baseline and offset: Ghilani &
// Wolf, Adjustment Computations; the derivatives are checked numerically.
func (n *network) onLine(o *observation, y []float64, s *adjust.Rows, want func(offset float64) float64) {
	p := n.where(y, o.p)
	a, b, first, last := n.segment(o.line, p)
	pa, pb := n.where(y, a), n.where(y, b)
	long := pb.Dist(pa)
	if long < 1e-6 {
		s.End(0, o.sigma)
		s.End(0, o.sigma2)
		return
	}
	e := pb.Sub(pa).Scale(1 / long)
	r := e.Right()
	station, offset := geo.AlongAcross(pa, pb, p)
	n.gradient(s, o.p, r)
	n.gradient(s, b, r.Scale(-station/long))
	n.gradient(s, a, r.Scale(-(1 - station/long)))
	s.End(want(offset)-offset, o.sigma)
	switch {
	case first && station < 0:
		n.gradient(s, o.p, e)
		n.gradient(s, b, r.Scale(offset/long))
		n.gradient(s, a, e.Scale(-1).Sub(r.Scale(offset/long)))
		s.End(-station, o.sigma2)
	case last && station > long:
		n.gradient(s, o.p, e)
		n.gradient(s, b, r.Scale(offset/long).Sub(e))
		n.gradient(s, a, r.Scale(-offset/long))
		s.End(long-station, o.sigma2)
	default:
		s.End(0, o.sigma2)
	}
}

// corners returns the outline of o about q as it lies in the field: its shape
// turned and scaled as the drawing is.
func (n *network) corners(o *observation, y []float64) []geo.Vec {
	t := y[n.lay:n.node]
	k := math.Exp(t[layScale])
	at := n.where(y, o.q)
	c := make([]geo.Vec, len(o.outline))
	for i, v := range o.outline {
		c[i] = at.Add(n.turn(v.Scale(k)))
	}
	return c
}

// observeOnEdge: the distance of p from the outline about q is 0. How the
// outline turns with the drawing is neglected: a box is small.
func observeOnEdge(n *network, o *observation, y []float64, s *adjust.Rows) {
	p := n.where(y, o.p)
	c := n.corners(o, y)
	best, off, g := math.Inf(1), 0.0, geo.Vec{}
	for i := range c {
		a, b := c[i], c[(i+1)%len(c)]
		d, u := geo.SegmentDistance(a, b, p)
		if d >= best {
			continue
		}
		best, off, g = d, d, p.Sub(a.Lerp(b, u)).Unit()
		if u > 0 && u < 1 { // signed, so that it is smooth where it is 0
			g = b.Sub(a).Unit().Right()
			off = p.Sub(a).Dot(g)
		}
	}
	n.gradient(s, o.p, g)
	n.gradient(s, o.q, g.Scale(-1))
	s.End(-off, o.sigma)
}

// observeOnCorner: p is the corner of the outline about q nearest to it.
func observeOnCorner(n *network, o *observation, y []float64, s *adjust.Rows) {
	p := n.where(y, o.p)
	near := nearestOf(n.corners(o, y), p)
	for i, e := range [2]geo.Vec{{X: 1}, {Y: 1}} {
		n.gradient(s, o.p, e)
		n.gradient(s, o.q, e.Scale(-1))
		s.End(near.Sub(p).Dot(e), [2]float64{o.sigma, o.sigma2}[i])
	}
}

// observeTied: value = distance from p to the nearest corner of the outline
// about q.
func observeTied(n *network, o *observation, y []float64, s *adjust.Rows) {
	p := n.where(y, o.p)
	w := nearestOf(n.corners(o, y), p).Sub(p)
	g := w.Unit()
	n.gradient(s, o.q, g)
	n.gradient(s, o.p, g.Scale(-1))
	s.End(o.value-w.Norm(), o.sigma)
}

func nearestOf(c []geo.Vec, p geo.Vec) geo.Vec {
	near := c[0]
	for _, v := range c[1:] {
		if v.Dist(p) < near.Dist(p) {
			near = v
		}
	}
	return near
}

// observeStation: value = distance of r along the line p → q.
func observeStation(n *network, o *observation, y []float64, s *adjust.Rows) {
	pa, pb := n.where(y, o.p), n.where(y, o.q)
	long := math.Max(pb.Dist(pa), 1e-6)
	e := pb.Sub(pa).Scale(1 / long)
	right := e.Right()
	station, offset := geo.AlongAcross(pa, pb, n.where(y, o.r))
	n.gradient(s, o.r, e)
	n.gradient(s, o.q, right.Scale(offset/long))
	n.gradient(s, o.p, e.Scale(-1).Sub(right.Scale(offset/long)))
	s.End(o.value-station, o.sigma)
}

// observeOffset: value = distance of r square to the line p → q, + to the right.
func observeOffset(n *network, o *observation, y []float64, s *adjust.Rows) {
	pa, pb := n.where(y, o.p), n.where(y, o.q)
	long := math.Max(pb.Dist(pa), 1e-6)
	right := pb.Sub(pa).Scale(1 / long).Right()
	station, offset := geo.AlongAcross(pa, pb, n.where(y, o.r))
	n.gradient(s, o.r, right)
	n.gradient(s, o.q, right.Scale(-station/long))
	n.gradient(s, o.p, right.Scale(-(1 - station/long)))
	s.End(o.value-offset, o.sigma)
}

// observeDirection: value = bearing of q from p, less the declination where it
// was counted from magnetic north. Source: Ghilani & Wolf, Adjustment
// Computations, ch. 15 (azimuths).
func observeDirection(n *network, o *observation, y []float64, s *adjust.Rows) {
	w := n.where(y, o.q).Sub(n.where(y, o.p))
	l2 := math.Max(w.Dot(w), 1e-6)
	m := math.Atan2(w.X, w.Y)
	g := geo.Vec{X: w.Y / l2, Y: -w.X / l2}
	n.gradient(s, o.q, g)
	n.gradient(s, o.p, g.Scale(-1))
	if o.compass {
		m -= y[n.compass]
		s.Add(n.compass, -1)
	}
	s.End(geo.Radians(o.value-m).Signed().Radians(), o.sigma)
}

// observeWithin: the straight distance p–q is not more than the cable (sigma),
// and usually cableRatio of it (sigma2).
func observeWithin(n *network, o *observation, y []float64, s *adjust.Rows) {
	w := n.where(y, o.q).Sub(n.where(y, o.p))
	d, g := w.Norm(), w.Unit()
	if d > o.value {
		n.gradient(s, o.q, g)
		n.gradient(s, o.p, g.Scale(-1))
		s.End(o.value-d, o.sigma)
	} else {
		s.End(0, o.sigma)
	}
	n.gradient(s, o.q, g)
	n.gradient(s, o.p, g.Scale(-1))
	s.End(cableRatio*o.value-d, o.sigma2)
}
