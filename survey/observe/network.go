package observe

import (
	"slices"

	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
)

// Place is a point of a network: a node of the drawing where it is not
// negative, else hole number −place−1.
type Place int

// HolePlace returns the place of point number i of the log.
func HolePlace(i int) Place { return Place(-i - 1) }

// Hole returns the number of the point of the log that a place is; ok is false
// for a node of the drawing.
func (p Place) Hole() (i int, ok bool) { return int(-p - 1), p < 0 }

// Point is a place of the field that the drawing does not have: a hole or a
// stake.
type Point struct {
	Name   string
	Radius float64 // metres
}

// Offsets of the unknowns that lay the drawing on the field, from Network.Lay.
const (
	LayE, LayN  = 0, 1 // of the drawing's centre, metres
	LayTurn     = 2    // counter-clockwise, radians
	LayScale    = 3    // natural logarithm of metres per drawing unit
	LayStretch  = 4    // half the logarithm of x scale over y scale
	LayUnknowns = 5
)

// Layout is the prior of the five unknowns that lay the drawing on the field.
type Layout struct {
	Mean, Sigma [LayUnknowns]float64
}

// Network is one explanation of a job as an adjustment: the unknowns and the
// observations of them. The unknowns are, in this order: two of each point,
// two of each satellite session, one declination, five that lay the drawing on
// the field, two of each node. Points come first because each touches few
// others, which the factorisation uses.
type Network struct {
	Drawing *drawing.Drawing
	Points  []Point
	Session int // first unknown of the sessions
	Compass int // unknown of the declination
	Lay     int // first unknown of the layout
	Node    int // first unknown of the nodes
	Size    int
	Prior   adjust.Prior

	Observations []Observation
	Rows         []Row // of all observations, as the adjustment counts them
}

// NewNetwork lays out the unknowns of a log and a drawing, which has nothing
// observed yet. info (1/m²) and logDet, the logarithm of the determinant of its
// inverse, are the prior of the nodes.
func NewNetwork(l *Log, d *drawing.Drawing, lay Layout, info []float64, logDet float64) *Network {
	n := &Network{Drawing: d, Points: l.Points}
	n.Session = 2 * len(l.Points)
	n.Compass = n.Session + 2*len(l.SessionSigma)
	n.Lay = l.LayoutAt()
	n.Node = n.Lay + LayUnknowns
	n.Size = n.Node + 2*len(d.Nodes)

	n.Prior.Mean = make([]float64, n.Size)
	copy(n.Prior.Mean[n.Lay:], lay.Mean[:])
	sigma := make([]float64, n.Node)
	for i := range n.Session {
		sigma[i] = PointSigma
	}
	for k, v := range l.SessionSigma {
		sigma[n.Session+2*k], sigma[n.Session+2*k+1] = v, v
	}
	n.Prior.Mean[n.Compass], sigma[n.Compass] = l.declination()
	copy(sigma[n.Lay:], lay.Sigma[:])
	n.Prior.Blocks = []adjust.Block{
		{At: 0, Size: n.Node, Sigma: sigma},
		{At: n.Node, Size: 2 * len(d.Nodes), Info: info, LogDet: logDet},
	}
	return n
}

// With returns the network with observations of its unknowns; everything else
// is shared.
func (n *Network) With(all []Observation) *Network {
	m := *n
	m.Observations, m.Rows = all, RowsOf(all)
	return &m
}

// WithDrafting returns the network with another prior of the nodes, in the units
// of NewNetwork; everything else is shared.
func (n *Network) WithDrafting(info []float64, logDet float64) *Network {
	m := *n
	m.Prior.Blocks = []adjust.Block{n.Prior.Blocks[0], {At: n.Node, Size: 2 * len(n.Drawing.Nodes), Info: info, LogDet: logDet}}
	return &m
}

// Observe implements adjust.Model.
func (n *Network) Observe(y []float64, s *adjust.Rows) {
	at := n.At(y)
	for _, o := range n.Observations {
		o.Observe(at, s)
	}
}

// Near returns steps too small to matter when explanations are compared: a
// millimetre, and the turn, scale and stretch that move nothing on a lot by
// more.
func (n *Network) Near() []float64 {
	small := slices.Repeat([]float64{1e-3}, n.Size)
	for _, k := range []int{LayTurn, LayScale, LayStretch} {
		small[n.Lay+k] = 2e-5
	}
	return small
}

// Places returns the number of places: nodes, then points.
func (n *Network) Places() int { return len(n.Drawing.Nodes) + len(n.Points) }

// Place returns place number i.
func (n *Network) Place(i int) Place {
	if k := i - len(n.Drawing.Nodes); k >= 0 {
		return HolePlace(k)
	}
	return Place(i)
}

// Shift moves all nodes of a group by w, metres in the axes of the field, among the
// unknowns y.
func (n *Network) Shift(y []float64, g drawing.Group, w geo.Vec) {
	d := w.Rotate(geo.Radians(-y[n.Lay+LayTurn]))
	for i := range n.Drawing.Nodes {
		if n.Drawing.Nodes[i].Group == g {
			y[n.Node+2*i] += d.X
			y[n.Node+2*i+1] += d.Y
		}
	}
}

// Set moves point number i of the log to v among the unknowns y.
func (n *Network) Set(y []float64, i int, v geo.Vec) { y[2*i], y[2*i+1] = v.X, v.Y }
