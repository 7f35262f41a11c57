package observe

import (
	"fmt"
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
)

// writtenTieSigma returns the standard deviation in metres of a tie that is
// written on the sheet: 0.15 m and 1 % of the distance. Half a foot is the
// accuracy that WAC 246-272A-0265 asks of record drawings; the 1 % is judgement.
func writtenTieSigma(d float64) float64 { return math.Hypot(0.15, 0.01*d) }

// writtenTie returns a tie of the sheet: a distance, to the nearest corner
// where it runs to one; nil where the sheet lacks one of its ends.
func writtenTie(d *drawing.Drawing, p *asbuilt.Part, t asbuilt.Tie) Observation {
	from, ok := d.Spots[asbuilt.SpotName{Part: d.CrewName(t.From), Spot: asbuilt.Center}]
	at := t.At
	if at == asbuilt.Corner {
		at = asbuilt.Center
	}
	to, ok2 := d.Spots[asbuilt.SpotName{Part: p.ID, Spot: at}]
	if !ok || !ok2 || t.Distance.Metres <= 0 {
		return nil
	}
	whose := source{-1, fmt.Sprintf("%s%s.%s.%s", writtenPrefix, p.ID, t.At, t.From)}
	what := func() string { return fmt.Sprintf("written tie %s to %s of %s", t.From, t.At, p.ID) }
	ends, sigma := pair{Place(from), Place(to)}, writtenTieSigma(t.Distance.Metres)
	if t.At != asbuilt.Corner {
		return &distance{source: whose, pair: ends, value: t.Distance.Metres, sigma: sigma, read: t.Distance, what: what}
	}
	return &cornerTie{source: whose, pair: ends, outline: d.Outline(p), value: t.Distance.Metres, sigma: sigma, read: t.Distance, what: what}
}

// cornerTie is a distance from p to the nearest corner of a part about q.
type cornerTie struct {
	source
	pair
	outline      []drawing.Drawn
	value, sigma float64 // metres
	read         geo.Length
	what         func() string
}

// What implements Observation.
func (t *cornerTie) What() string { return t.what() }

// Rows implements Observation.
func (t *cornerTie) Rows(to []Row) []Row { return append(to, Row{Value: t.value, Sigma: t.sigma}) }

// Observe implements Observation: value = distance from p to the nearest corner
// of the outline about q. How the outline turns with the drawing is neglected:
// a box is small. Source: Ghilani & Wolf, Adjustment Computations, ch. 14.
func (t *cornerTie) Observe(at *Placed, s *adjust.Rows) {
	p := at.Where(t.p)
	w := nearestOf(at.around(t.q, t.outline), p).Sub(p)
	g := w.Unit()
	at.Gradient(s, t.q, g)
	at.Gradient(s, t.p, g.Scale(-1))
	s.End(t.value-w.Norm(), t.sigma)
}

// Blunders implements Observation.
func (t *cornerTie) Blunders(c *Case) []*Blunder {
	all := lengthBlunders(t.read, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(t *cornerTie) { t.value = correct(t.value) })
	})
	return append(all, cornerBlunders(c, t.pair, func(move func(*pair)) func(Observation) Observation {
		return changing(func(t *cornerTie) { move(&t.pair) })
	})...)
}

// nearestOf returns the place of several that is nearest to p.
func nearestOf(c []geo.Vec, p geo.Vec) geo.Vec {
	near := c[0]
	for _, v := range c[1:] {
		if v.Dist(p) < near.Dist(p) {
			near = v
		}
	}
	return near
}
