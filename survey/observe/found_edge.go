package observe

import (
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
)

var foundEdgeSigmas = []survey.Default{{Reading: "found an edge or corner", Sigma: "0.08 m", Source: survey.Judged}}

// edgeMet is a hole at the side of a box or tank.
type edgeMet struct {
	meeting
	middle  Place
	outline []drawing.Drawn // about the middle
	sigma   float64         // metres
}

// Touches implements Observation.
func (m *edgeMet) Touches(to []Place) []Place { return append(to, m.hole, m.middle) }

// Rows implements Observation.
func (m *edgeMet) Rows(to []Row) []Row { return append(to, Row{Sigma: m.sigma}) }

// Observe implements Observation: the distance of the hole from the outline is
// 0. How the outline turns with the drawing is neglected: a box is small.
// Source: geometry.
func (m *edgeMet) Observe(at *Placed, s *adjust.Rows) {
	p := at.Where(m.hole)
	c := at.around(m.middle, m.outline)
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
	at.Gradient(s, m.hole, g)
	at.Gradient(s, m.middle, g.Scale(-1))
	s.End(-off, m.sigma)
}
