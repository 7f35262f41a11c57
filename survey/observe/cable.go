package observe

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/finding"
)

// cable is the length of a cable, or of a camera's, pushed through a pipe from one
// place to where it stopped.
var cable = Kind{
	Name: survey.Cable, One: "cable length", Many: "cable lengths", Must: []string{"from", "to", "value"}, Value: Distance,
	Sigmas: []survey.Default{
		{Reading: "cable", Sigma: "one-sided: 0.15 m and 1 %; the straight distance is 0.93 ± 0.07 of the cable", Source: survey.Judged},
		{Reading: "cable to or from a box or tank", Sigma: "it ends within the part: 0.8 ± 0.3 of half its long side from the middle", Source: "common practice, no published source"},
	},
	Locates: fromAndTo,
	Check:   checkCable,
	Observe: func(c *Case) Observation {
		r := c.reading()
		p, ok := c.cableEnd(r.From)
		q, ok2 := c.cableEnd(r.To)
		if r.Value == nil || !ok || !ok2 || p == q {
			return nil
		}
		v := r.Value.Metres
		in := c.Log.inside(r.From) + c.Log.inside(r.To)
		return &within{source: c.source(), pair: pair{p, q}, value: v, inside: in, sigma: c.sigma(cableSigma(v)),
			sigmaUsual: math.Hypot(cableRatioSigma*math.Max(v, 1), insideSigma*in), read: *r.Value, r: r}
	},
}

const (
	cableRatio      = 0.93
	cableRatioSigma = 0.07
	insideUsual     = 0.8 // outlets are at an end, and face the field more often than not
	insideSigma     = 0.3
)

func cableSigma(l float64) float64 { return 0.15 + 0.01*l }

// cableEnd returns the place where a cable begins or stops.
func (c *Case) cableEnd(name string) (Place, bool) {
	if spot, ok := c.Log.Job.Sketch.SpotNamed(name); ok {
		k, ok := c.Drawing.Spots[spot]
		return Place(k), ok
	}
	return c.place(name)
}

// inside returns how far at most a pipe ends from the middle of the box or tank of a
// name, metres; 0 for any other place.
func (l *Log) inside(name string) float64 {
	spot, _ := l.Job.Sketch.SpotNamed(name)
	if p := l.Job.Sketch.Part(spot.Part); p != nil && (p.Kind == asbuilt.Box || p.Kind == asbuilt.Tank) {
		long, _, _ := drawing.Plan(p)
		return long / 2
	}
	return 0
}

// checkCable reports a cable that nobody pushes, and ends that are no one place.
func checkCable(c *checker, i int) {
	r := &c.job.Readings[i]
	if r.Value != nil && r.Value.Metres > practice.LongestCable {
		found := r.Value.Written
		if found == "" {
			found = geo.FormatLength(r.Value.Metres, c.job.Settings.Unit)
		}
		c.add(i, "value", strconv.Quote(found), finding.WantCableLength.New(finding.Number("most", practice.LongestCable), finding.Number("feet", practice.LongestCable/foot)))
	}
	from, ok := c.job.Sketch.SpotNamed(r.From)
	to, ok2 := c.job.Sketch.SpotNamed(r.To)
	if ok && ok2 && from == to {
		c.add(i, "to", strconv.Quote(r.To), finding.WantOtherPlace.New())
	}
	for _, end := range [...]struct{ column, name string }{{"from", r.From}, {"to", r.To}} {
		if _, ok := c.job.Sketch.SpotNamed(end.name); ok || c.job.Sketch.Part(end.name) != nil {
			continue
		}
		id, _, spot := strings.Cut(end.name, ".")
		switch p := c.job.Sketch.Part(id); {
		case spot && p != nil:
			c.add(i, end.column, strconv.Quote(end.name), spotsOf(p))
		case slices.Contains(findable, asbuilt.Kind(end.name)):
			c.add(i, end.column, strconv.Quote(end.name), c.cableEnds())
		}
	}
}

// spotsOf says which spots of a part a name may have.
func spotsOf(p *asbuilt.Part) finding.Finding {
	if p.Kind == asbuilt.Lateral || p.Kind == asbuilt.Header {
		return finding.WantSpots.New(finding.Parts(p.ID))
	}
	return finding.WantPartAlone.New(finding.Parts(p.ID))
}

// cableEnds says what a cable may run from and to.
func (c *checker) cableEnds() finding.Finding {
	var ids []string
	line := ""
	for i := range c.job.Sketch.Parts {
		switch p := &c.job.Sketch.Parts[i]; p.Kind {
		case asbuilt.Tank, asbuilt.Box, asbuilt.Port:
			ids = append(ids, p.ID)
		case asbuilt.Lateral, asbuilt.Header:
			line = p.ID
		}
	}
	if line == "" {
		return finding.WantCableEnd.New(finding.Word("ids", strings.Join(ids, ", ")))
	}
	return finding.WantCableEndLike.New(finding.Word("ids", strings.Join(append(ids, line+".start", line+".end"), ", ")))
}

// within is a cable between two places: the straight distance is never longer.
type within struct {
	source
	pair
	value, sigma float64 // metres
	inside       float64 // metres: how far at most its ends lie inside the parts whose middles the places are, together
	sigmaUsual   float64 // of the usual straight distance
	read         geo.Length
	r            *survey.Reading
}

// What implements Observation.
func (w *within) What() string { return fmt.Sprintf("cable %s to %s", w.r.From, w.r.To) }

// most and usual return the longest and the usual straight distance, metres.
func (w *within) most() float64  { return w.value + w.inside }
func (w *within) usual() float64 { return cableRatio*w.value + insideUsual*w.inside }

// Gross implements Observation: what stops a cable is often not what the crew takes
// it to be. It has then stopped anywhere along the pipe, not anywhere on the lot, which
// is what an error of any size is spread over: the odds make up for that.
func (w *within) Gross() (cause finding.Finding, odds float64) {
	return finding.CableStopped.New(), practice.StopsShort * grossLength / math.Max(w.value, practice.PipeRun)
}

// Rows implements Observation.
func (w *within) Rows(to []Row) []Row {
	return append(to, Row{Value: w.most(), Sigma: w.sigma, OneSided: true}, Row{Value: w.usual(), Sigma: w.sigmaUsual, Usual: true})
}

// Observe implements Observation: the straight distance is not more than the
// cable and what its ends lie inside, and usually somewhat less. Source: geometry, and judgement for the
// ratio; no published source.
func (w *within) Observe(at *Placed, s *adjust.Rows) {
	v := at.Where(w.q).Sub(at.Where(w.p))
	d, g := v.Norm(), v.Unit()
	if d > w.most() {
		at.Gradient(s, w.q, g)
		at.Gradient(s, w.p, g.Scale(-1))
		s.End(w.most()-d, w.sigma)
	} else {
		s.End(0, w.sigma)
	}
	at.Gradient(s, w.q, g)
	at.Gradient(s, w.p, g.Scale(-1))
	s.End(w.usual()-d, w.sigmaUsual)
}

// Blunders implements Observation.
func (w *within) Blunders(c *Case) []*Blunder {
	return lengthBlunders(w.read, c.unit(), func(correct func(float64) float64) func(Observation) Observation {
		return changing(func(w *within) { w.value = correct(w.value) })
	})
}
