package observe

import (
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/finding"
)

// followed is a pipe or trench that the crew kept to, in the open or with a rod,
// from one hole or stake to another: one line lies at both. It places neither of
// them, and the line is no unknown of the fit: the belief weighs it as evidence.
var followed = Kind{
	Name: survey.Followed, One: "line followed", Many: "lines followed", Must: []string{"from", "to", "target"},
	Check: checkFollowed,
}

// followable are the kinds of part that can be followed.
var followable = []asbuilt.Kind{asbuilt.Header, asbuilt.Lateral}

// checkFollowed reports a target that is no line, and ends that are no two points.
func checkFollowed(c *checker, i int) {
	r := &c.job.Readings[i]
	if c.followedKind(r.Target) == "" {
		c.add(i, "target", strconv.Quote(r.Target), c.choice(r.Target, followable, c.unnamed()...))
	}
	c.twoPoints(i)
}

// twoPoints reports ends of a reading that are no two points of the log which
// something places.
func (c *checker) twoPoints(i int) {
	r := &c.job.Readings[i]
	if r.From == r.To {
		c.add(i, "to", strconv.Quote(r.To), finding.WantOtherPoint.New())
		return
	}
	for _, end := range [...]struct{ column, name string }{{"from", r.From}, {"to", r.To}} {
		if p := c.job.Sketch.Part(end.name); p != nil {
			if _, point := p.Point(asbuilt.Center); point { // names has reported any other
				c.add(i, end.column, strconv.Quote(end.name), finding.WantLogPoint.New(finding.Parts(p.ID), kindOf(p)))
			}
			continue
		}
		if !slices.Contains(c.placed(), end.name) {
			c.unplaced(i, end.column, end.name, finding.WantPlaced.New())
		}
	}
}

// unplaced reports the name of a point that no row of the log helps to place.
func (c *checker) unplaced(i int, column, name string, wanted finding.Finding) {
	c.add(i, column, strconv.Quote(name), meant(wanted, name, c.placed()))
}

// followedKind returns the kind of line that a target names; empty: it names none.
func (c *checker) followedKind(target string) asbuilt.Kind {
	for _, p := range c.parts(target) {
		if slices.Contains(followable, p.Kind) && (p.ID == target || !strings.Contains(target, ".")) {
			return p.Kind
		}
	}
	if slices.Contains(c.unnamed(), target) {
		return asbuilt.Kind(target)
	}
	return ""
}

// Along returns the points that a line was followed to which the hole of a reading
// met, that hole first.
func (l *Log) Along(r *survey.Reading) []string {
	all := []string{r.Point}
	for i := 0; i < len(all); i++ {
		for k := range l.Readings {
			f := &l.Readings[k]
			if f.Kind != survey.Followed || l.kindOf(f) != l.kindOf(r) || f.From != all[i] && f.To != all[i] {
				continue
			}
			for _, name := range []string{f.From, f.To} {
				if !slices.Contains(all, name) {
					all = append(all, name)
				}
			}
		}
	}
	return all
}
