package observe

import (
	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
)

// cornerMet is a hole at a corner of a box or tank; the log does not say which.
type cornerMet struct {
	meeting
	middle  Place
	outline []drawing.Drawn // about the middle
	sigma   float64         // metres
}

// Touches implements Observation.
func (m *cornerMet) Touches(to []Place) []Place { return append(to, m.hole, m.middle) }

// Rows implements Observation.
func (m *cornerMet) Rows(to []Row) []Row {
	return append(to, Row{Part: ", along", Sigma: m.sigma}, Row{Part: ", across", Sigma: m.sigma, Second: true})
}

// Observe implements Observation: the hole is the corner of the outline nearest
// to it. How the outline turns with the drawing is neglected: a box is small.
// Source: geometry.
func (m *cornerMet) Observe(at *Placed, s *adjust.Rows) {
	p := at.Where(m.hole)
	off := nearestOf(at.around(m.middle, m.outline), p).Sub(p)
	for _, e := range [2]geo.Vec{{X: 1}, {Y: 1}} {
		at.Gradient(s, m.hole, e)
		at.Gradient(s, m.middle, e.Scale(-1))
		s.End(off.Dot(e), m.sigma)
	}
}
