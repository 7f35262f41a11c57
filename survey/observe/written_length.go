package observe

import (
	"math"

	"asfound/geo"
	"asfound/survey/adjust"
)

// writtenLengthSigma returns the standard deviation in metres of a length that
// is written on the sheet: 0.15 m and 2 % of the length. A record is often a
// round number of 10 ft pipes: common practice, no published source.
func writtenLengthSigma(l float64) float64 { return math.Hypot(0.15, 0.02*l) }

// length is the length of a line as it is written on the sheet.
type length struct {
	source
	part         string
	line         []int   // nodes
	value, sigma float64 // metres
	read         geo.Length
}

// What implements Observation.
func (l *length) What() string { return "written length of " + l.part }

// Touches implements Observation: a length places no point of the log.
func (l *length) Touches(to []Place) []Place { return to }

// Rows implements Observation.
func (l *length) Rows(to []Row) []Row { return append(to, Row{Value: l.value, Sigma: l.sigma}) }

// Observe implements Observation: value = length of the polyline of nodes.
// Source: Ghilani & Wolf, Adjustment Computations, ch. 14, summed.
func (l *length) Observe(at *Placed, s *adjust.Rows) {
	total := 0.0
	for i := 1; i < len(l.line); i++ {
		a, b := Place(l.line[i-1]), Place(l.line[i])
		w := at.Where(b).Sub(at.Where(a))
		total += w.Norm()
		g := w.Unit()
		at.Gradient(s, b, g)
		at.Gradient(s, a, g.Scale(-1))
	}
	s.End(l.value-total, l.sigma)
}

// Blunders implements Observation.
func (l *length) Blunders(c *Case) []*Blunder {
	return lengthBlunders(l.read, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(l *length) { l.value = correct(l.value) })
	})
}
