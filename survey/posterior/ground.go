package posterior

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/fit"
)

// ground is how the sheet of a fit lies in the frame.
type ground struct {
	shift   geo.Vec                             // brings fit coordinates to the frame
	onMarks func(drawing.Drawn) (geo.Vec, bool) // lays the old sketch on the landmarks; false: there are not two
}

// newGround returns how the sheet of a fit lies in the frame, m being its
// mixture before it is brought there.
func newGround(f *fit.Fit, m *mixture) (g ground) {
	d := m.drawing()
	if f.Frame.Kind == survey.Local && len(d.Marks) > 0 {
		g.shift = m.mean(d.Marks[0]).Scale(-1)
	}
	var drawn []geo.Vec // metres, in the axes of the sheet
	for _, k := range m.datum {
		drawn = append(drawn, d.Nodes[k].At.Metres(d.Scale))
	}
	move, ok := geo.FitHelmert(drawn, fit.Pick(m.members[0].at, m.datum), nil).Similarity()
	g.onMarks = func(v drawing.Drawn) (geo.Vec, bool) {
		if !ok {
			return geo.Vec{}, false
		}
		return move(v.Metres(d.Scale)), true
	}
	return g
}

// Laid returns where a drawn place (the sketch's coordinates) of a part lies on
// the ground: turned and scaled as the drawing is, and moved as its neighbours
// of the same group were. near names the spot it moves with rigidly, if there
// is one.
func (p *Posterior) Laid(v asbuilt.Position, kind asbuilt.Kind, near *asbuilt.SpotName) geo.Vec {
	c, d := p.mix.members[0].c, p.drawing()
	placed := c.Placed()
	node := placed.All(nil)
	at := placed.Field(d.Lay(v, drawing.GroupOf(kind)))
	var move geo.Vec
	if near != nil {
		if k, ok := d.Spots[*near]; ok {
			if kind == asbuilt.Landmark { // a point: its node is its place
				return node[k].Add(p.shift)
			}
			move = node[k].Sub(placed.Field(d.Nodes[k].At))
			return at.Add(move).Add(p.shift)
		}
	}
	sum := 0.0
	for k, nd := range d.Nodes {
		if nd.Group != drawing.House {
			continue
		}
		w := 1 / (1e-4 + math.Pow(node[k].Dist(at), 2))
		move = move.Add(node[k].Sub(placed.Field(nd.At)).Scale(w))
		sum += w
	}
	if sum > 0 {
		move = move.Scale(1 / sum)
	}
	return at.Add(move).Add(p.shift)
}

// AsDrawn returns where the old sketch, laid on the landmarks as well as a
// turn, a shift and one scale can, has a drawn place (the sketch's coordinates).
// The old place is compared with the new one in this way.
func (p *Posterior) AsDrawn(v asbuilt.Position) geo.Vec {
	drawn := p.drawing().Sheet(v)
	at, ok := p.onMarks(drawn)
	if !ok {
		at = p.mix.members[0].c.Placed().Field(drawn)
	}
	return at.Add(p.shift)
}

// SurroundingSigma returns the standard deviation per axis, in metres, of a
// thing that is drawn around the house and that no reading bears on, such as a
// utility, at a drawn place (the sketch's coordinates).
func (p *Posterior) SurroundingSigma(v asbuilt.Position) float64 {
	d := p.drawing()
	away := math.Inf(1)
	for _, k := range p.mix.datum {
		away = math.Min(away, d.Sheet(v).Dist(d.Nodes[k].At)*d.Scale)
	}
	if math.IsInf(away, 1) {
		away = 0
	}
	return drawing.DraftingOf(d.Sketch).Surrounding(away)
}
