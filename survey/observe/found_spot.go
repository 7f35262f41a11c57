package observe

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
)

var foundSpotSigmas = []survey.Default{
	{Reading: "found the start or the end", Sigma: "0.15 m along, a quarter of the width across", Source: survey.Judged},
	{Reading: "found the centre of a box or port", Sigma: "0.10 m per axis", Source: survey.Judged},
	{Reading: "found the centre of a tank", Sigma: "0.25 m per axis", Source: survey.Judged},
}

const (
	endAlongSigma   = 0.15
	centreSigma     = 0.10
	tankCentreSigma = 0.25
)

// foundAt returns the observation of a hole that met a box, tank or port.
func foundAt(c *Case, m meeting, part *asbuilt.Part) Observation {
	k, ok := c.Drawing.Spots[asbuilt.SpotName{Part: part.ID, Spot: asbuilt.Center}]
	if !ok {
		return nil
	}
	i, _ := m.hole.Hole()
	if contact, ok := newContact(c.reading(), part, c.Log.Points[i].Radius); ok {
		return &spotMet{meeting: m, spot: Place(k), sigma: [2]float64{contact.Sigma, contact.Sigma}}
	}
	s := centreSigma
	if part.Kind == asbuilt.Tank {
		s = tankCentreSigma
	}
	s = c.sigma(s)
	return &spotMet{meeting: m, spot: Place(k), sigma: [2]float64{s, s}}
}

// spotMet is a hole at one place of a part: its middle, or an end of a line.
type spotMet struct {
	meeting
	spot  Place
	line  []int      // nodes of the line whose end it is, nil: of none
	sigma [2]float64 // along and across that line, else east and north; metres
}

// Touches implements Observation.
func (m *spotMet) Touches(to []Place) []Place { return append(to, m.hole, m.spot) }

// Rows implements Observation.
func (m *spotMet) Rows(to []Row) []Row {
	return append(to, Row{Part: ", along", Sigma: m.sigma[0]}, Row{Part: ", across", Sigma: m.sigma[1], Second: true})
}

// Observe implements Observation: the hole is where the spot is. Source:
// geometry.
func (m *spotMet) Observe(at *Placed, s *adjust.Rows) {
	w := at.Where(m.hole).Sub(at.Where(m.spot))
	e := geo.Vec{X: 1}
	if len(m.line) > 1 {
		if u := at.node[m.line[len(m.line)-1]].Sub(at.node[m.line[0]]).Unit(); u != (geo.Vec{}) {
			e = u
		}
	}
	// The axes are held fixed: w is small, so the effect of their rotation on
	// it is smaller still.
	for i, sigma := range m.sigma {
		a := e
		if i == 1 {
			a = e.Right()
		}
		at.Gradient(s, m.hole, a)
		at.Gradient(s, m.spot, a.Scale(-1))
		s.End(-w.Dot(a), sigma)
	}
}
