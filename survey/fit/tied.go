package fit

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

// Under a building lies what was built over since. Judgement; no published source.
const (
	underBuildingOdds  = 0.02 // of a box or a tank, against beside it
	underBuildingSigma = 1.0  // metres, of where the building ends
)

// branchTied tries the other crossing of the two ties that the sheet gives of a box
// or a tank: two distances from two landmarks are met on either side of the line
// between these, and a sheet that is not to scale may have drawn neither.
func (p *problem) branchTied(beam []Component) []Component {
	for i := range p.sketch.Parts {
		part := &p.sketch.Parts[i]
		if part.Kind != asbuilt.Box && part.Kind != asbuilt.Tank {
			continue
		}
		next := beam
		for _, c := range beam {
			k, to, ok := c.otherCrossing(part)
			if !ok || to.Norm() > 4*p.spreadOf(c)+3 {
				continue
			}
			y := slices.Clone(c.Solution.Y)
			c.Network.Shift(y, drawing.GroupOf(part.Kind), to)
			n, _, err := p.solve(c.Explanation.turn(part.ID), y)
			if err == nil && n.apart(&c, k) {
				next = append(next, n)
			}
		}
		beam = prune(next, keptExplanations, keptOdds)
	}
	return beam
}

// otherCrossing returns the node of a part and the way from it to where its first two
// ties cross a second time; ok is false where it has no two from different landmarks.
func (c *Component) otherCrossing(part *asbuilt.Part) (node observe.Place, to geo.Vec, ok bool) {
	if len(part.Ties) < 2 {
		return 0, geo.Vec{}, false
	}
	d, at := c.Network.Drawing, c.Placed()
	k, ok := d.Spots[asbuilt.SpotName{Part: part.ID, Spot: asbuilt.Center}]
	var from []geo.Vec
	for _, t := range part.Ties {
		if m, drawn := d.Spots[asbuilt.SpotName{Part: d.CrewName(t.From), Spot: asbuilt.Center}]; drawn {
			if v := at.Where(observe.Place(m)); len(from) == 0 || v.Dist(from[0]) > 1 {
				from = append(from, v)
			}
		}
	}
	if !ok || len(from) < 2 {
		return 0, geo.Vec{}, false
	}
	across := from[1].Sub(from[0]).Unit().Right()
	off := at.Where(observe.Place(k)).Sub(from[0]).Dot(across)
	return observe.Place(k), across.Scale(-2 * off), true
}

// beside returns the logarithm of the odds of where a component has boxes and tanks,
// against their all lying beside the buildings of the sheet.
func (c *Component) beside() (sum float64) {
	d := c.Network.Drawing
	if len(d.Buildings) == 0 {
		return 0
	}
	at := c.Placed()
	for _, ring := range d.Buildings {
		house := geo.Outline{Closed: true}
		for _, v := range ring {
			house.Vertices = append(house.Vertices, at.Field(v))
		}
		for k, n := range d.Nodes {
			if n.Kind != asbuilt.Box && n.Kind != asbuilt.Tank {
				continue
			}
			v := at.Where(observe.Place(k))
			deep := -house.Distance(v)
			if deep == 0 {
				deep = geo.Outline{Vertices: append(slices.Clone(house.Vertices), house.Vertices[0])}.Distance(v)
			}
			under := 0.5 * math.Erfc(-deep/underBuildingSigma/math.Sqrt2)
			sum += math.Log(1 - under + under*underBuildingOdds)
		}
	}
	return sum
}
