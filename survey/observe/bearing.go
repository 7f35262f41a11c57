package observe

import (
	"fmt"
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/finding"
)

// bearing is the direction of one point from another, by compass.
var bearing = Kind{
	Name: survey.Bearing, One: "bearing", Many: "bearings", Must: []string{"from", "to", "value", "north"},
	Sigmas: []survey.Default{
		{Reading: "bearing, true", Sigma: "2°", Source: "hand compass: from memory, no published source"},
		{Reading: "bearing, magnetic", Sigma: "2°, and 2° common to all (8° where no declination is given)", Source: survey.Judged},
	},
	Locates: fromAndTo,
	Prepare: func(l *Log, r *survey.Reading) {
		l.North = true
		l.Magnetic = l.Magnetic || r.North == survey.MagneticNorth
	},
	Observe: func(c *Case) Observation {
		r := c.reading()
		ends, ok := c.ends()
		if !ok {
			return nil
		}
		d := &direction{source: c.source(), pair: ends, value: r.Azimuth.Radians(), sigma: bearingSigma, magnetic: r.North == survey.MagneticNorth, r: r}
		if r.SigmaA != nil && r.SigmaA.Radians() > 0 {
			d.sigma = r.SigmaA.Radians()
		}
		return d
	},
	Hint: func(a *Asked, r *survey.Reading, h *Hint) {
		if _, ok := a.other(r); !ok {
			return
		}
		s, c := math.Sincos(r.Azimuth.Radians())
		h.Direction, h.HasDirection = geo.Vec{X: s, Y: c}, true
		if a.Name == r.From {
			h.Direction = h.Direction.Scale(-1)
		}
	},
}

const (
	bearingSigma     = 2 * math.Pi / 180
	declinationSigma = 2 * math.Pi / 180
	noDeclination    = 8 * math.Pi / 180
)

// declination returns mean and standard deviation of the declination before any
// reading, radians.
func (l *Log) declination() (mean, sigma float64) {
	if !l.Magnetic {
		return 0, HeldSigma
	}
	return l.magnetic()
}

// magnetic returns mean and standard deviation of where magnetic north lies
// before any reading, clockwise from true north, radians.
func (l *Log) magnetic() (mean, sigma float64) {
	if d := l.Job.Settings.Declination.Radians(); d != 0 {
		return d, declinationSigma
	}
	return 0, noDeclination
}

// direction is a bearing from p to q.
type direction struct {
	source
	pair
	value, sigma float64 // radians
	magnetic     bool
	r            *survey.Reading
}

// What implements Observation.
func (d *direction) What() string { return fmt.Sprintf("bearing %s to %s", d.r.From, d.r.To) }

// Rows implements Observation.
func (d *direction) Rows(to []Row) []Row {
	return append(to, Row{Value: d.value, Sigma: d.sigma, Angle: true})
}

// Observe implements Observation: value = bearing of q from p, less the
// declination where it was counted from magnetic north. Source: Ghilani & Wolf,
// Adjustment Computations, ch. 15 (azimuths).
func (d *direction) Observe(at *Placed, s *adjust.Rows) {
	w := at.Where(d.q).Sub(at.Where(d.p))
	l2 := math.Max(w.Dot(w), 1e-6)
	m := math.Atan2(w.X, w.Y)
	g := geo.Vec{X: w.Y / l2, Y: -w.X / l2}
	at.Gradient(s, d.q, g)
	at.Gradient(s, d.p, g.Scale(-1))
	if d.magnetic {
		m -= at.y[at.network.Compass]
		s.Add(at.network.Compass, -1)
	}
	s.End(geo.Radians(d.value-m).Signed().Radians(), d.sigma)
}

const oddsNorth = 0.010 // magnetic for true, or the declination applied twice

// Blunders implements Observation.
func (d *direction) Blunders(c *Case) []*Blunder {
	all := []*Blunder{{Odds: oddsBackwards, Cause: finding.TurnedRound.New(), Change: changing(func(d *direction) { d.value += math.Pi })}}
	declination := c.Log.Job.Settings.Declination.Radians()
	switch {
	case !d.magnetic && declination != 0:
		all = append(all, &Blunder{Odds: oddsNorth, Cause: finding.MagneticNorth.New(), Instead: "north: magnetic",
			Change: changing(func(d *direction) { d.value += declination })})
	case !d.magnetic:
		all = append(all, &Blunder{Odds: oddsNorth, Cause: finding.MaybeMagnetic.New(), Instead: "north: magnetic",
			Change: changing(func(d *direction) { d.sigma = math.Hypot(d.sigma, 1.3*noDeclination) })})
	case declination != 0:
		all = append(all, &Blunder{Odds: oddsNorth, Cause: finding.TrueNorth.New(), Instead: "north: true",
			Change: changing(func(d *direction) { d.value -= declination })})
	}
	return all
}
