package posterior

import (
	"asfound/geo"
	"asfound/survey/fit"
	"asfound/survey/observe"
)

// arcs says of each point of the log how far it turns with the sheet: 1 where it was
// taped from landmarks of the sheet, 0 where fixes hold it.
//
// The unknowns of a draw are jointly Gaussian: when the sheet turns, such a point
// moves along the tangent, but the parts of the sheet move along the arc. Where only
// the arrow of the sheet says where north is, to 10°, the two come apart by 1.5 % of
// the distance, and the holes of a draw would all be off to one side.
type arcs []float64

// newArcs works out the arcs of a component, by how the places of the points relative
// to the middle of the sheet regress on its turn.
func newArcs(c *fit.Component) arcs {
	n, y := c.Network, c.Solution.Y
	all := make(arcs, len(n.Points))
	column := make([]float64, n.Size) // of the covariance: that of the turn
	column[n.Lay+observe.LayTurn] = 1
	c.Solution.Factor.Forward(column)
	c.Solution.Factor.Backward(column)
	variance, middle := column[n.Lay+observe.LayTurn], at(column, n.Lay+observe.LayE)
	for i := range all {
		tangent := quarter(at(y, 2*i).Sub(at(y, n.Lay+observe.LayE)))
		if l := tangent.Dot(tangent); l > 0 && variance > 0 {
			all[i] = max(0, min(1, at(column, 2*i).Sub(middle).Dot(tangent)/variance/l))
		}
	}
	return all
}

// bend moves the points of y, a draw about a solution, from the tangent to the arc.
func (a arcs) bend(n *observe.Network, solution, y []float64) {
	turn := y[n.Lay+observe.LayTurn] - solution[n.Lay+observe.LayTurn]
	was, now := at(solution, n.Lay+observe.LayE), at(y, n.Lay+observe.LayE)
	for i, share := range a {
		lever, v := at(solution, 2*i).Sub(was), at(y, 2*i)
		rest := v.Sub(now).Sub(lever).Sub(quarter(lever).Scale(turn))
		v = v.Lerp(now.Add(lever.Add(rest).Rotate(geo.Radians(turn))), share)
		y[2*i], y[2*i+1] = v.X, v.Y
	}
}

// at returns the place whose easting is number k of y, and its northing the next.
func at(y []float64, k int) geo.Vec { return geo.Vec{X: y[k], Y: y[k+1]} }

// quarter returns v a quarter turn counter-clockwise.
func quarter(v geo.Vec) geo.Vec { return geo.Vec{X: -v.Y, Y: v.X} }
