package observe

import (
	"math"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/finding"
)

// baseline is a station along the line from one point to another, and an
// offset square to it, + to the right.
var baseline = Kind{
	Name: survey.Baseline, One: "baseline offset", Many: "baseline offsets", Must: []string{"from", "to", "point", "value", "offset"}, Value: Signed,
	Sigmas: []survey.Default{
		{Reading: "baseline station", Sigma: "as a tape, and 1° of the offset", Source: "squaring off by eye: common practice, no published source"},
		{Reading: "baseline offset", Sigma: "as a tape, and 0.3° of the station", Source: survey.Judged},
	},
	Locates: func(r *survey.Reading) []string { return []string{r.Point} },
	Observe: func(c *Case) Observation {
		r := c.reading()
		ends, ok := c.ends()
		point, ok2 := c.place(r.Point)
		if r.Value == nil || r.Offset == nil || !ok || !ok2 {
			return nil
		}
		station, offset := r.Value.Metres, r.Offset.Metres
		return &offsets{source: c.source(), pair: ends, point: point, r: r, station: station, offset: offset,
			sigmaStation: c.sigma(stationSigma(station, offset)), sigmaOffset: c.sigma(offsetSigma(station, offset))}
	},
	Hint: func(a *Asked, r *survey.Reading, h *Hint) {
		if r.Point != a.Name || r.Value == nil || r.Offset == nil {
			return
		}
		from, ok := a.Where(r.From)
		to, ok2 := a.Where(r.To)
		if ok && ok2 {
			along := to.Sub(from).Unit()
			h.Fix = from.Add(along.Scale(r.Value.Metres)).Add(along.Right().Scale(r.Offset.Metres))
			h.HasFix = true
		}
	},
}

func stationSigma(station, offset float64) float64 {
	return math.Hypot(tapeSigma(station), math.Pi/180*offset)
}

func offsetSigma(station, offset float64) float64 {
	return math.Hypot(tapeSigma(offset), 0.3*math.Pi/180*station)
}

// offsets is a reading by baseline: a station and an offset of a point.
type offsets struct {
	source
	pair
	point                     Place
	station, offset           float64 // metres
	sigmaStation, sigmaOffset float64
	r                         *survey.Reading
}

// What implements Observation.
func (o *offsets) What() string { return o.r.Point }

// Touches implements Observation.
func (o *offsets) Touches(to []Place) []Place { return append(to, o.p, o.q, o.point) }

// Rows implements Observation.
func (o *offsets) Rows(to []Row) []Row {
	line := o.r.From + " to " + o.r.To
	return append(to, Row{Part: " along " + line, Value: o.station, Sigma: o.sigmaStation},
		Row{Part: " square to " + line, Value: o.offset, Sigma: o.sigmaOffset})
}

// Observe implements Observation: station and offset of the point on the line
// p → q. Source: geometry; the derivatives are checked numerically.
func (o *offsets) Observe(at *Placed, s *adjust.Rows) {
	p, q := at.Where(o.p), at.Where(o.q)
	long := math.Max(q.Dist(p), 1e-6)
	e := q.Sub(p).Scale(1 / long)
	right := e.Right()
	station, offset := geo.AlongAcross(p, q, at.Where(o.point))
	at.Gradient(s, o.point, e)
	at.Gradient(s, o.q, right.Scale(offset/long))
	at.Gradient(s, o.p, e.Scale(-1).Sub(right.Scale(offset/long)))
	s.End(o.station-station, o.sigmaStation)
	at.Gradient(s, o.point, right)
	at.Gradient(s, o.q, right.Scale(-station/long))
	at.Gradient(s, o.p, right.Scale(-(1 - station/long)))
	s.End(o.offset-offset, o.sigmaOffset)
}

const oddsSides = 0.010 // left for right

// Blunders implements Observation.
func (o *offsets) Blunders(c *Case) []*Blunder {
	all := lengthBlunders(*o.r.Value, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(o *offsets) { o.station = correct(o.station) })
	})
	for _, b := range lengthBlunders(*o.r.Offset, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(o *offsets) { o.offset = correct(o.offset) })
	}) {
		b.Odds /= 2
		b.Cause = finding.OfOffset.New(finding.About(b.Cause))
		all = append(all, b)
	}
	from, to := o.r.From, o.r.To
	return append(all,
		&Blunder{Odds: oddsSides, Cause: finding.LeftForRight.New(),
			Instead: "offset " + signed(-o.offset, o.r.Offset.Unit), Change: changing(func(o *offsets) { o.offset = -o.offset })},
		&Blunder{Odds: oddsBackwards, Cause: finding.Backwards.New(finding.Word("from", to), finding.Word("instead", from)),
			Instead: "from " + to + " to " + from, Change: changing(func(o *offsets) {
				o.p, o.q = o.q, o.p
				o.offset = -o.offset // what was right of the one way is left of the other
			})})
}

// signed writes an offset with its sign.
func signed(metres float64, u geo.Unit) string {
	if metres > 0 {
		return "+" + geo.FormatLength(metres, u)
	}
	return geo.FormatLength(metres, u)
}
