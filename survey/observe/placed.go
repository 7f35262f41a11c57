package observe

import (
	"math"

	"asfound/geo"
	"asfound/survey/drawing"
)

// Placed is where everything lies for given unknowns, with what is needed to
// take derivatives there. It changes only by Move.
type Placed struct {
	network     *Network
	y           []float64
	sin, cos    float64
	node        []geo.Vec // of each node, field frame
	lever       []geo.Vec // of each node from the drawing's centre, field axes, discrepancy included
	undistorted []geo.Vec // the same without discrepancy
	stretched   []geo.Vec // derivative of lever by the stretch
}

// At returns where the unknowns y have everything. The place of a point of the
// log is read from y itself; nothing else follows a later change of y.
func (n *Network) At(y []float64) *Placed {
	j := len(n.Drawing.Nodes)
	all := make([]geo.Vec, 4*j)
	p := &Placed{node: all[:j:j], lever: all[j : 2*j : 2*j], undistorted: all[2*j : 3*j : 3*j], stretched: all[3*j:]}
	p.Move(n, y)
	return p
}

// Move makes p what At would return, in the storage that p has: for the many
// draws of a sample, whose networks share one drawing size.
func (p *Placed) Move(n *Network, y []float64) {
	if len(p.node) != len(n.Drawing.Nodes) {
		*p = *n.At(y)
		return
	}
	p.network, p.y = n, y
	t := y[n.Lay:n.Node]
	p.sin, p.cos = math.Sincos(t[LayTurn])
	sx, sy := math.Exp(t[LayScale]+t[LayStretch]), math.Exp(t[LayScale]-t[LayStretch])
	centre := geo.Vec{X: t[LayE], Y: t[LayN]}
	for i := range n.Drawing.Nodes {
		g := n.Drawing.Nodes[i].At.Stretched(sx, sy)
		d := geo.Vec{X: y[n.Node+2*i], Y: y[n.Node+2*i+1]}
		p.undistorted[i] = p.turn(g)
		p.stretched[i] = p.turn(geo.Vec{X: g.X, Y: -g.Y})
		p.lever[i] = p.turn(g.Add(d))
		p.node[i] = centre.Add(p.lever[i])
	}
}

// turn brings v, in metres, from the axes of the sheet to those of the field.
func (p *Placed) turn(v geo.Vec) geo.Vec {
	return geo.Vec{X: p.cos*v.X - p.sin*v.Y, Y: p.sin*v.X + p.cos*v.Y}
}

// Where returns the field position of a place.
func (p *Placed) Where(at Place) geo.Vec {
	if i, ok := at.Hole(); ok {
		return geo.Vec{X: p.y[2*i], Y: p.y[2*i+1]}
	}
	return p.node[at]
}

// All overwrites to with the field position of every place, nodes first.
func (p *Placed) All(to []geo.Vec) []geo.Vec {
	to = append(to[:0], p.node...)
	for i := range p.network.Points {
		to = append(to, p.Where(HolePlace(i)))
	}
	return to
}

// Field returns where the layout alone brings a drawn place, without any
// discrepancy.
func (p *Placed) Field(d drawing.Drawn) geo.Vec {
	t := p.y[p.network.Lay:p.network.Node]
	sx, sy := math.Exp(t[LayScale]+t[LayStretch]), math.Exp(t[LayScale]-t[LayStretch])
	return geo.Vec{X: t[LayE], Y: t[LayN]}.Add(p.turn(d.Stretched(sx, sy)))
}

// around returns a shape of the sheet about a place as it lies in the field:
// turned and scaled as the drawing is.
func (p *Placed) around(at Place, outline []drawing.Drawn) []geo.Vec {
	k := math.Exp(p.y[p.network.Lay+LayScale])
	middle := p.Where(at)
	c := make([]geo.Vec, len(outline))
	for i, v := range outline {
		c[i] = middle.Add(p.turn(v.Metres(k)))
	}
	return c
}

// Adder takes derivatives, unknown by unknown: a row being built, or a dense
// vector.
type Adder interface{ Add(i int, c float64) }

// Dense is a gradient with respect to all unknowns.
type Dense []float64

// Add implements Adder; c is a derivative, in the unit of what is observed over
// that of the unknown.
func (d Dense) Add(i int, c float64) { d[i] += c }

// Gradient adds to s the derivative of a quantity whose gradient with respect
// to the position of a place is g.
func (p *Placed) Gradient(s Adder, at Place, g geo.Vec) {
	n := p.network
	if i, ok := at.Hole(); ok {
		s.Add(2*i, g.X)
		s.Add(2*i+1, g.Y)
		return
	}
	lever := p.lever[at]
	s.Add(n.Lay+LayE, g.X)
	s.Add(n.Lay+LayN, g.Y)
	s.Add(n.Lay+LayTurn, -g.X*lever.Y+g.Y*lever.X)
	s.Add(n.Lay+LayScale, g.Dot(p.undistorted[at]))
	s.Add(n.Lay+LayStretch, g.Dot(p.stretched[at]))
	i := n.Node + 2*int(at)
	s.Add(i, p.cos*g.X+p.sin*g.Y)
	s.Add(i+1, -p.sin*g.X+p.cos*g.Y)
}
