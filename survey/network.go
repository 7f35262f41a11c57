package survey

import (
	"math"

	"asfound/geo"
	"asfound/survey/adjust"
)

// place is a point of a network: a node of the drawing where it is not
// negative, else hole number −place−1.
type place int

func holePlace(i int) place { return place(-i - 1) }

// point is a place of the field that the drawing does not have: a hole or a
// stake.
type point struct {
	name   string
	radius float64 // metres
}

// Offsets of the unknowns that lay the drawing on the field, from network.lay.
const (
	layE, layN  = 0, 1 // of the drawing's centre, metres
	layTurn     = 2    // counter-clockwise, radians
	layScale    = 3    // natural logarithm of metres per drawing unit
	layStretch  = 4    // half the logarithm of x scale over y scale
	layUnknowns = 5
)

// network is one explanation of a job as an adjustment: the unknowns and the
// observations of them. The unknowns are, in this order: two of each point,
// two of each satellite session, one declination, five that lay the drawing on
// the field, two of each node. Points come first because each touches few
// others, which the factorisation uses.
type network struct {
	drawing  *drawing
	points   []point
	sessions int
	bias     int // first unknown of the sessions
	compass  int // unknown of the declination
	lay      int // first unknown of the layout
	node     int // first unknown of the nodes
	size     int

	observations []observation
	prior        adjust.Prior

	// What Observe works out once for all rows.
	sin, cos float64
	at       []geo.Vec // of each node, field frame
	arm      []geo.Vec // of each node from the drawing's centre, field axes, discrepancy included
	pure     []geo.Vec // the same without discrepancy
	skew     []geo.Vec // derivative of arm by the stretch
}

// newNetwork lays out the unknowns. The layout's means and standard deviations
// are the caller's.
func newNetwork(d *drawing, points []point, sessions int, layMean, laySigma [layUnknowns]float64, info []float64, logDet float64) *network {
	n := &network{drawing: d, points: points, sessions: sessions}
	n.bias = 2 * len(points)
	n.compass = n.bias + 2*sessions
	n.lay = n.compass + 1
	n.node = n.lay + layUnknowns
	n.size = n.node + 2*len(d.nodes)
	j := len(d.nodes)
	n.at, n.arm, n.pure, n.skew = make([]geo.Vec, j), make([]geo.Vec, j), make([]geo.Vec, j), make([]geo.Vec, j)

	n.prior.Mean = make([]float64, n.size)
	copy(n.prior.Mean[n.lay:], layMean[:])
	sigma := make([]float64, n.node)
	for i := range n.bias {
		sigma[i] = pointSigma
	}
	for i := n.bias; i < n.lay; i++ {
		sigma[i] = 1 // set by the caller
	}
	copy(sigma[n.lay:], laySigma[:])
	n.prior.Blocks = []adjust.Block{
		{At: 0, Size: n.node, Sigma: sigma},
		{At: n.node, Size: 2 * j, Info: info, LogDet: logDet},
	}
	return n
}

// sigma returns the prior standard deviations of the unknowns before the nodes.
func (n *network) sigma() []float64 { return n.prior.Blocks[0].Sigma }

// withDrafting returns the network with another discrepancy prior; everything
// else is shared.
func (n *network) withDrafting(info []float64, logDet float64) *network {
	m := *n
	m.prior.Blocks = []adjust.Block{n.prior.Blocks[0], {At: n.node, Size: 2 * len(n.drawing.nodes), Info: info, LogDet: logDet}}
	return &m
}

// place works out where every node lies for the unknowns y.
func (n *network) place(y []float64) {
	t := y[n.lay:n.node]
	n.sin, n.cos = math.Sincos(t[layTurn])
	sx, sy := math.Exp(t[layScale]+t[layStretch]), math.Exp(t[layScale]-t[layStretch])
	for i, k := range n.drawing.nodes {
		g := geo.Vec{X: sx * k.at.X, Y: sy * k.at.Y}
		d := geo.Vec{X: y[n.node+2*i], Y: y[n.node+2*i+1]}
		n.pure[i] = n.turn(g)
		n.skew[i] = n.turn(geo.Vec{X: g.X, Y: -g.Y})
		n.arm[i] = n.turn(g.Add(d))
		n.at[i] = geo.Vec{X: t[layE], Y: t[layN]}.Add(n.arm[i])
	}
}

// turn brings v from the axes of the sheet to those of the field.
func (n *network) turn(v geo.Vec) geo.Vec {
	return geo.Vec{X: n.cos*v.X - n.sin*v.Y, Y: n.sin*v.X + n.cos*v.Y}
}

// where returns the field position of p for the unknowns y, place having been
// called for them.
func (n *network) where(y []float64, p place) geo.Vec {
	if p < 0 {
		i := 2 * int(-p-1)
		return geo.Vec{X: y[i], Y: y[i+1]}
	}
	return n.at[p]
}

// adder takes derivatives, unknown by unknown: a row being built, or a dense
// vector.
type adder interface{ Add(i int, c float64) }

// dense is a gradient with respect to all unknowns.
type dense []float64

// Add implements adder.
func (d dense) Add(i int, c float64) { d[i] += c }

// gradient adds to s the derivative of a quantity whose gradient with respect
// to the position of p is g.
func (n *network) gradient(s adder, p place, g geo.Vec) {
	if p < 0 {
		i := 2 * int(-p-1)
		s.Add(i, g.X)
		s.Add(i+1, g.Y)
		return
	}
	arm := n.arm[p]
	s.Add(n.lay+layE, g.X)
	s.Add(n.lay+layN, g.Y)
	s.Add(n.lay+layTurn, -g.X*arm.Y+g.Y*arm.X)
	s.Add(n.lay+layScale, g.Dot(n.pure[p]))
	s.Add(n.lay+layStretch, g.Dot(n.skew[p]))
	i := n.node + 2*int(p)
	s.Add(i, n.cos*g.X+n.sin*g.Y)
	s.Add(i+1, -n.sin*g.X+n.cos*g.Y)
}

// Observe implements adjust.Model.
func (n *network) Observe(y []float64, s *adjust.Rows) {
	n.place(y)
	for i := range n.observations {
		o := &n.observations[i]
		equations[o.kind].observe(n, o, y, s)
	}
}

// logSigma returns what turns the misfit of the rows into a density: explanations
// that weigh the same reading otherwise, or leave one out, differ in it.
func (n *network) logSigma() (sum float64) {
	for i := range n.observations {
		sum += n.observations[i].logSigma()
	}
	return sum
}
