package observe

import (
	"fmt"
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
)

// cable is the length of a camera's cable from one point to another.
var cable = Kind{
	Name: survey.Cable, One: "cable length", Many: "cable lengths", Must: []string{"from", "to", "value"}, Value: Distance,
	Sigmas:  []survey.Default{{Reading: "cable", Sigma: "one-sided: 0.15 m and 1 %; the straight distance is 0.93 ± 0.07 of the cable", Source: survey.Judged}},
	Locates: fromAndTo,
	Observe: func(c *Case) Observation {
		r := c.reading()
		ends, ok := c.ends()
		if r.Value == nil || !ok {
			return nil
		}
		v := r.Value.Metres
		return &within{source: c.source(), pair: ends, value: v, sigma: c.sigma(cableSigma(v)), sigmaUsual: cableRatioSigma * math.Max(v, 1), read: *r.Value, r: r}
	},
}

const (
	cableRatio      = 0.93
	cableRatioSigma = 0.07
)

func cableSigma(l float64) float64 { return 0.15 + 0.01*l }

// within is a cable between two places: it is never shorter than the straight
// distance.
type within struct {
	source
	pair
	value, sigma float64 // metres
	sigmaUsual   float64 // of the usual straight distance
	read         geo.Length
	r            *survey.Reading
}

// What implements Observation.
func (w *within) What() string { return fmt.Sprintf("cable %s to %s", w.r.From, w.r.To) }

// Rows implements Observation.
func (w *within) Rows(to []Row) []Row {
	return append(to, Row{Value: w.value, Sigma: w.sigma, OneSided: true}, Row{Value: cableRatio * w.value, Sigma: w.sigmaUsual, Usual: true})
}

// Observe implements Observation: the straight distance is not more than the
// cable, and usually cableRatio of it. Source: geometry, and judgement for the
// ratio; no published source.
func (w *within) Observe(at *Placed, s *adjust.Rows) {
	v := at.Where(w.q).Sub(at.Where(w.p))
	d, g := v.Norm(), v.Unit()
	if d > w.value {
		at.Gradient(s, w.q, g)
		at.Gradient(s, w.p, g.Scale(-1))
		s.End(w.value-d, w.sigma)
	} else {
		s.End(0, w.sigma)
	}
	at.Gradient(s, w.q, g)
	at.Gradient(s, w.p, g.Scale(-1))
	s.End(cableRatio*w.value-d, w.sigmaUsual)
}

// Blunders implements Observation.
func (w *within) Blunders(c *Case) []*Blunder {
	return lengthBlunders(w.read, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(w *within) { w.value = correct(w.value) })
	})
}
