package observe

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
)

var foundLineSigmas = []survey.Default{
	{Reading: "found on a lateral or header", Sigma: "across: uniform over the width of trench and hole", Source: "geometry"},
}

const (
	edgeSigma      = 0.08
	beyondEndSigma = 0.3 // a hole past the end of the line that it met
)

// uniformSigma returns the standard deviation of a uniform error of ± half.
func uniformSigma(half float64) float64 { return half / math.Sqrt(3) }

// foundOnLine returns the observation of a hole that met a lateral or header.
func foundOnLine(c *Case, m meeting, part *asbuilt.Part, line []int) Observation {
	width := drawing.Across(part)
	switch spot := c.reading().Spot; spot {
	case asbuilt.Start, asbuilt.End:
		k := c.Drawing.Spots[asbuilt.SpotName{Part: part.ID, Spot: spot}]
		return &spotMet{meeting: m, spot: Place(k), line: line, sigma: [2]float64{c.sigma(endAlongSigma), c.sigma(math.Max(width/4, 0.05))}}
	case asbuilt.Edge:
		return &lineMet{meeting: m, line: line, off: width / 2, sigma: c.sigma(edgeSigma)}
	default:
		i, _ := m.hole.Hole()
		return &lineMet{meeting: m, line: line, sigma: c.sigma(uniformSigma(width/2 + c.Log.Points[i].Radius))}
	}
}

// lineMet is a hole on a line of nodes, or beside it at a distance.
type lineMet struct {
	meeting
	line  []int
	off   float64 // metres to one side or the other, whichever is nearer; 0: on it
	sigma float64 // across
}

// Rows implements Observation.
func (l *lineMet) Rows(to []Row) []Row {
	return append(to, Row{Part: ", across", Value: l.off, Sigma: l.sigma},
		Row{Part: ", beyond its end", Sigma: beyondEndSigma, OneSided: true})
}

// Observe implements Observation: the offset of the hole from the line is off,
// and its station lies within the line. Baseline and offset: Ghilani & Wolf,
// Adjustment Computations; the derivatives are checked numerically.
func (l *lineMet) Observe(at *Placed, s *adjust.Rows) {
	p := at.Where(l.hole)
	a, b, first, last := at.segment(l.line, p)
	pa, pb := at.Where(a), at.Where(b)
	long := pb.Dist(pa)
	if long < 1e-6 {
		s.End(0, l.sigma)
		s.End(0, beyondEndSigma)
		return
	}
	e := pb.Sub(pa).Scale(1 / long)
	r := e.Right()
	station, offset := geo.AlongAcross(pa, pb, p)
	at.Gradient(s, l.hole, r)
	at.Gradient(s, b, r.Scale(-station/long))
	at.Gradient(s, a, r.Scale(-(1 - station/long)))
	want := 0.0
	if l.off > 0 {
		want = math.Copysign(l.off, offset)
	}
	s.End(want-offset, l.sigma)
	switch {
	case first && station < 0:
		at.Gradient(s, l.hole, e)
		at.Gradient(s, b, r.Scale(offset/long))
		at.Gradient(s, a, e.Scale(-1).Sub(r.Scale(offset/long)))
		s.End(-station, beyondEndSigma)
	case last && station > long:
		at.Gradient(s, l.hole, e)
		at.Gradient(s, b, r.Scale(offset/long).Sub(e))
		at.Gradient(s, a, r.Scale(-offset/long))
		s.End(long-station, beyondEndSigma)
	default:
		s.End(0, beyondEndSigma)
	}
}

// segment returns the nodes of the segment of a line that is nearest to v.
func (p *Placed) segment(line []int, v geo.Vec) (a, b Place, first, last bool) {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		if d, _ := geo.SegmentDistance(p.node[line[i-1]], p.node[line[i]], v); d < best {
			best = d
			a, b = Place(line[i-1]), Place(line[i])
			first, last = i == 1, i == len(line)-1
		}
	}
	return a, b, first, last
}
