package observe

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/finding"
)

// sonde is a transmitter in a pipe that a receiver has located from above. At a box,
// a tank, a port or an end of a line it is an observation of that place; anywhere
// else along a line the belief weighs it as evidence. It opens nothing: no part is
// seen by it.
var sonde = Kind{
	Name: survey.Sonde, One: "sonde located", Many: "sondes located", Must: []string{"point", "target", "depth"},
	Sigmas: []survey.Default{{Reading: "sonde located", Sigma: "0.05 m and 10 % of its depth per axis, and of the depth", Source: "common practice, no published source"}},
	Check:  checkSonde,
	Observe: func(c *Case) Observation {
		r := c.reading()
		spot, ok := c.Log.Job.Sketch.SpotNamed(r.Target)
		k, drawn := c.Drawing.Spots[spot]
		at, placed := c.place(r.Point)
		if !ok || !drawn || !placed || at >= 0 {
			return nil
		}
		m := meeting{source: c.source(), hole: at, point: r.Point, part: spot.Part}
		s, part := SondeSigma(r), c.Log.Job.Sketch.Part(spot.Part)
		o := &located{spotMet{meeting: m, spot: Place(k), sigma: [2]float64{s, s}}}
		switch part.Kind {
		case asbuilt.Box, asbuilt.Tank:
			// It lies anywhere from the middle to the wall where the pipe ends: a
			// Gaussian that is never narrower.
			s = math.Hypot(s, c.Log.inside(r.Target)/math.Sqrt2)
			o.sigma = [2]float64{s, s}
		case asbuilt.Lateral, asbuilt.Header:
			o.line = c.Drawing.Lines[part.ID]
			o.sigma = [2]float64{math.Hypot(s, endAlongSigma), math.Hypot(s, math.Max(drawing.Across(part)/8, 0.05))} // the pipe lies about the middle of its trench
		}
		return o
	},
}

// SondeSigma returns the standard deviation in metres, per axis, with which a
// reading has located a transmitter.
func SondeSigma(r *survey.Reading) float64 {
	if r.Sigma != nil && r.Sigma.Metres > 0 {
		return r.Sigma.Metres
	}
	deep := practice.BoxCover.Mean // a reading that was made without a log may have none
	if r.Depth != nil {
		deep = r.Depth.Metres
	}
	return practice.SondeSigma(deep)
}

// SondeLines reports whether a transmitter was located somewhere along a line, of
// which kinds, and in which part; empty: in any of those.
func SondeLines(s *asbuilt.Sketch, r *survey.Reading) (kinds []asbuilt.Kind, part string, ok bool) {
	if r.Kind != survey.Sonde {
		return nil, "", false
	}
	if _, spot := s.SpotNamed(r.Target); spot {
		return nil, "", false
	}
	if r.Target == survey.AnyPipe {
		return followable, "", true
	}
	kind := s.KindOf(r.Target)
	if s.Part(r.Target) != nil {
		part = r.Target
	}
	return []asbuilt.Kind{kind}, part, slices.Contains(followable, kind)
}

// located is a transmitter located over one place of a part.
type located struct{ spotMet }

// What implements Observation.
func (o *located) What() string { return fmt.Sprintf("sonde at %s, in %s", o.point, o.part) }

// Gross implements Observation.
func (*located) Gross() (cause finding.Finding, odds float64) {
	return finding.SondeGhost.New(), practice.StraySonde
}

// Blunders implements Observation.
func (*located) Blunders(*Case) []*Blunder { return nil }

// checkSonde reports a target in which there is no pipe, and a point that nothing
// places.
func checkSonde(c *checker, i int) {
	r := &c.job.Readings[i]
	if p := c.job.Sketch.Part(r.Point); p != nil {
		if _, point := p.Point(asbuilt.Center); point { // names has reported any other
			c.add(i, "point", strconv.Quote(r.Point), finding.WantStake.New(finding.Parts(p.ID), kindOf(p)))
		}
	} else if !slices.Contains(c.placed(), r.Point) {
		c.unplaced(i, "point", r.Point, finding.WantPlacedStake.New())
	}
	if _, ok := c.job.Sketch.SpotNamed(r.Target); ok {
		return
	}
	kinds, _, ok := SondeLines(c.job.Sketch, r)
	if ok && (c.job.Sketch.Part(r.Target) != nil || slices.ContainsFunc(kinds, c.exists)) {
		return
	}
	want := c.targets(r.Target, append(c.unnamed(), survey.AnyPipe)...)
	if id, _, spot := strings.Cut(r.Target, "."); spot && c.job.Sketch.Part(id) != nil {
		want = spotsOf(c.job.Sketch.Part(id))
	} else if n := len(c.parts(r.Target)); n > 1 {
		want = finding.WantOfSeveral.New(finding.Number("n", float64(n)), finding.About(c.targets(r.Target)))
	}
	c.add(i, "target", strconv.Quote(r.Target), want)
}

// exists reports whether there are parts of a kind, drawn or not.
func (c *checker) exists(kind asbuilt.Kind) bool {
	return len(c.parts(string(kind))) > 0 || slices.Contains(c.unnamed(), string(kind))
}
