package observe

import (
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/finding"
)

// rod is one stab of a probe rod, or several along a line, and what they felt. It
// places nothing and is no hole: the belief weighs it as evidence.
var rod = Kind{
	Name: survey.Rod, One: "row of rod stabs", Many: "rows of rod stabs", Must: []string{"depth", "target"}, May: []string{"point", "from", "to", "value"},
	Value: Count, Check: checkRod,
}

// felt are the kinds of part that a rod can feel.
var felt = []asbuilt.Kind{asbuilt.Box, asbuilt.Tank, asbuilt.Header, asbuilt.Lateral}

// mostRod is how deep a rod is pushed at most, metres: longer ones are not pushed by
// hand. Common practice, no published source.
const mostRod = 3.0

// checkRod reports what a rod cannot have felt, a depth that no rod reaches, and
// points that nothing places.
func checkRod(c *checker, i int) {
	r := &c.job.Readings[i]
	if !c.feels(r.Target) {
		choice := c.choice(r.Target, felt, c.unnamed()...)
		want := finding.WantRodTarget.New(finding.About(choice))
		if choice.Code != finding.WantMeant {
			want = meant(want, r.Target, []string{survey.RodNone, survey.RodContact})
		}
		c.add(i, "target", strconv.Quote(r.Target), want)
	}
	switch {
	case r.Depth == nil:
		c.add(i, "depth", "nothing", finding.WantRodDepth.New())
	case !(r.Depth.Metres > 0) || r.Depth.Metres > mostRod:
		c.add(i, "depth", strconv.Quote(r.Depth.Written), finding.WantRodDepthMost.New(finding.Number("most", mostRod)))
	}
	if r.Point == "" && (r.From == "" || r.To == "" || r.From == r.To || r.Stabs < 2) {
		c.add(i, "point", "nothing", finding.WantStabs.New())
		return
	}
	ends := [...]struct{ column, name string }{{"point", r.Point}, {"from", r.From}, {"to", r.To}}
	for _, end := range ends {
		if end.name != "" && c.job.Sketch.Part(end.name) == nil && !slices.Contains(c.placed(), end.name) {
			c.unplaced(i, end.column, end.name, finding.WantPlacedLandmark.New())
		}
	}
}

// feels reports whether a rod can have met what a target names.
func (c *checker) feels(target string) bool {
	if target == survey.RodNone || target == survey.RodContact || slices.Contains(c.unnamed(), target) {
		return true
	}
	for _, p := range c.parts(target) {
		if slices.Contains(felt, p.Kind) && (p.ID == target || !strings.Contains(target, ".")) {
			return true
		}
	}
	return false
}

// Feels returns whether a rod that met what a reading names can have met a part of a
// kind and, where that is drawn, of an id: anything where the crew felt no more than
// that it was hard.
func Feels(r *survey.Reading, kind asbuilt.Kind, id string) bool {
	if r.Target == survey.RodNone || r.Target == survey.RodContact {
		return true
	}
	return r.Target == string(kind) || r.Target == id && id != ""
}
