package observe

import (
	"fmt"
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/finding"
)

// tape is a distance between two points, level or over a known rise.
var tape = Kind{
	Name: survey.Tape, One: "tape", Many: "tapes", Must: []string{"from", "to", "value"}, May: []string{"rise"}, Value: Distance,
	Sigmas: []survey.Default{{Reading: "tape, tie of the log", Sigma: "0.03 m and 0.2 % of the distance, in quadrature",
		Source: "0.1 ft in 50 ft held level by two people: common practice, no published source"}},
	Locates: fromAndTo,
	Observe: func(c *Case) Observation {
		r := c.reading()
		ends, ok := c.ends()
		if r.Value == nil || !ok {
			return nil
		}
		d := &distance{source: c.source(), pair: ends, value: r.Value.Metres, sigma: c.sigma(tapeSigma(r.Value.Metres)), read: *r.Value}
		if r.Rise != nil {
			d.rise = r.Rise.Metres
		}
		d.what = func() string { return fmt.Sprintf("tape %s to %s", r.From, r.To) }
		return d
	},
	Hint: func(a *Asked, r *survey.Reading, h *Hint) {
		at, ok := a.other(r)
		if !ok || r.Value == nil {
			return
		}
		d := r.Value.Metres
		if r.Rise != nil {
			d = math.Sqrt(math.Max(0, d*d-r.Rise.Metres*r.Rise.Metres))
		}
		h.Rings = append(h.Rings, Ring{at, d})
	},
}

func tapeSigma(d float64) float64 { return math.Hypot(0.03, 0.002*d) }

// fromAndTo names both ends of a reading.
func fromAndTo(r *survey.Reading) []string { return []string{r.From, r.To} }

// distance is a tape of the log, or a tie that is written on the sheet.
type distance struct {
	source
	pair
	value, sigma float64 // metres
	rise         float64 // metres
	read         geo.Length
	what         func() string
}

// What implements Observation.
func (d *distance) What() string { return d.what() }

// Rows implements Observation.
func (d *distance) Rows(to []Row) []Row { return append(to, Row{Value: d.value, Sigma: d.sigma}) }

// Observe implements Observation: value = √(|q − p|² + rise²). Source: Ghilani &
// Wolf, Adjustment Computations, ch. 14.
func (d *distance) Observe(at *Placed, s *adjust.Rows) {
	w := at.Where(d.q).Sub(at.Where(d.p))
	m := math.Sqrt(w.Dot(w) + d.rise*d.rise + 1e-8)
	g := w.Scale(1 / m)
	at.Gradient(s, d.q, g)
	at.Gradient(s, d.p, g.Scale(-1))
	s.End(d.value-m, d.sigma)
}

const (
	oddsCorner = 0.010 // from another landmark than it says, all together
	oddsSlope  = 0.008 // a slope distance taken for a level one
)

// Blunders implements Observation.
func (d *distance) Blunders(c *Case) []*Blunder {
	all := lengthBlunders(d.read, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(d *distance) { d.value = correct(d.value) })
	})
	all = append(all, cornerBlunders(c, d.pair, func(move func(*pair)) func(Observation) Observation {
		return changing(func(d *distance) { move(&d.pair) })
	})...)
	if d.reading >= 0 && d.rise == 0 {
		all = append(all, d.slopeBlunder(c)...)
	}
	return all
}

// slopeBlunder lists the blunder of a tape laid along the slope: by the heights
// of its ends where the log has them, else by an unrecorded slope.
func (d *distance) slopeBlunder(c *Case) (all []*Blunder) {
	r := c.reading()
	from, ok := c.Log.height(r.From)
	to, ok2 := c.Log.height(r.To)
	flat := 0.0
	if ok && ok2 {
		rise := to - from
		if v := d.value*d.value - rise*rise; math.Abs(rise) > 0.1 && v > 0 {
			flat = math.Sqrt(v)
		}
	}
	switch {
	case flat > 0:
		all = append(all, &Blunder{Odds: 3 * oddsSlope, Cause: finding.SlopeDistance.New(),
			Instead: geo.FormatLength(flat, c.unit()), Change: changing(func(d *distance) { d.value = flat })})
	case !ok && !ok2:
		// Slopes of 10 to 40 % make a tape 0.5 to 8 % long.
		all = append(all, &Blunder{Odds: oddsSlope, Cause: finding.SlopeUnnoted.New(),
			Change: changing(func(d *distance) { d.value, d.sigma = 0.97*d.value, math.Hypot(d.sigma, 0.02*d.value) })})
	}
	return all
}

// cornerBlunders lists the other landmarks that a tie may have been taken from,
// change making what applies a move of an end to an observation.
func cornerBlunders(c *Case, e pair, change func(move func(*pair)) func(Observation) Observation) (all []*Blunder) {
	d := c.Drawing
	if len(d.Marks) < 2 {
		return nil
	}
	for _, side := range []bool{false, true} {
		end, far := e.p, e.q
		if side {
			end, far = e.q, e.p
		}
		if end < 0 || !slices.Contains(d.Marks, int(end)) {
			continue
		}
		for _, m := range d.Marks {
			other := Place(m)
			if other == end || other == far {
				continue
			}
			all = append(all, &Blunder{Odds: oddsCorner / float64(len(d.Marks)-1), Cause: finding.OtherCorner.New(finding.Parts(d.MarkName(m), d.MarkName(int(end)))),
				Instead: "from " + d.MarkName(m), Change: change(func(e *pair) {
					if e.p == end {
						e.p = other
					} else {
						e.q = other
					}
				})})
		}
	}
	return all
}
