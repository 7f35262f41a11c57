package observe

import (
	"math"
	"slices"
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
)

var foundRunsSigmas = []survey.Default{{Reading: "direction of a pipe or trench in a hole", Sigma: "6° facing a point or true north, more by a magnetic compass", Source: "common practice, no published source"}}

// runsSigma is the standard deviation of the direction of a line as it is read in
// a hole against a landmark, radians.
const runsSigma = 6 * math.Pi / 180

// Runs is the direction of a line as it was seen in a hole. The line is no
// unknown of the fit: the belief weighs it as evidence.
type Runs struct {
	Facing string  // name of what it was counted from; empty: true north
	Angle  float64 // clockwise from there, radians
	Sigma  float64 // standard deviation, radians
	Flows  bool    // water was seen to flow that way; else the line may run either way
}

// Runs returns the direction of a line that a reading has; ok is false where it
// has none, and where its north is not known here.
func (l *Log) Runs(r *survey.Reading) (d Runs, ok bool) {
	if r.Kind != survey.Found || r.Runs == nil {
		return d, false
	}
	d = Runs{Facing: r.Facing, Angle: r.Runs.Radians(), Sigma: runsSigma, Flows: r.Flow != ""}
	if r.Flow == survey.FlowAgainst {
		d.Angle += math.Pi
	}
	switch survey.North(r.Facing) {
	case survey.MagneticNorth:
		mean, sigma := l.magnetic()
		d.Facing, d.Angle, d.Sigma = "", d.Angle+mean, math.Hypot(d.Sigma, sigma)
	case survey.TrueNorth:
		d.Facing = ""
	}
	return d, d.Facing != "" || l.North || l.Frame.Kind == survey.Geodetic
}

// Off returns the angle in radians from the direction that was seen to that of a
// line, which goes the way the water flows; toward is the direction from the hole
// to Facing, frame axes. It lies between −π/2 and π/2 where no flow was seen, else
// between −π and π.
func (d *Runs) Off(line, toward geo.Vec) float64 {
	from := 0.0
	if d.Facing != "" {
		from = geo.Bearing(geo.Vec{}, toward).Radians()
	}
	off := geo.Radians(geo.Bearing(geo.Vec{}, line).Radians() - from - d.Angle).Signed().Radians()
	if !d.Flows {
		off = math.Remainder(off, math.Pi)
	}
	return off
}

// runs reports a direction that cannot be used.
func (c *checker) runs(i int, line bool) {
	r := &c.job.Readings[i]
	if !line {
		c.add(i, "runs", strconv.FormatFloat(r.Runs.Degrees(), 'f', -1, 64), finding.WantNoRuns.New())
		return
	}
	if n := survey.North(r.Facing); n == survey.TrueNorth || n == survey.MagneticNorth {
		if !c.northKnown() {
			c.add(i, "facing", strconv.Quote(r.Facing), finding.WantNorth.New())
		}
		return
	}
	if r.Facing == r.Point {
		c.add(i, "facing", strconv.Quote(r.Facing), finding.WantNotHole.New())
		return
	}
	if p := c.job.Sketch.Part(r.Facing); p != nil {
		if _, ok := p.Point(asbuilt.Center); !ok {
			c.add(i, "facing", strconv.Quote(r.Facing), finding.WantPoint.New(finding.Parts(p.ID), kindOf(p)))
		}
		return
	}
	var names []string
	for k := range c.job.Readings {
		o := &c.job.Readings[k]
		names = append(names, o.Point, o.From, o.To)
	}
	names = slices.DeleteFunc(names, func(n string) bool { return n == "" })
	if !slices.Contains(names, r.Facing) {
		for k := range c.job.Sketch.Parts {
			names = append(names, c.job.Sketch.Parts[k].ID)
		}
		c.add(i, "facing", strconv.Quote(r.Facing), meant(finding.WantFacing.New(), r.Facing, names))
	}
}

// northKnown reports whether anything in the job tells where north is.
func (c *checker) northKnown() bool {
	return sheetHasNorth(c.job.Sketch) ||
		slices.ContainsFunc(c.job.Readings, func(r survey.Reading) bool { return r.Kind == survey.GNSS || r.Kind == survey.Bearing })
}
