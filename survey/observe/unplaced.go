package observe

import (
	"slices"
	"strconv"

	"asfound/survey"
	"asfound/survey/finding"
)

// The kinds that say nothing about where things lie in plan.
var (
	// empty is a hole that met nothing: the belief weighs it.
	empty = Kind{Name: survey.Empty, One: "empty hole", Many: "empty holes", Must: []string{"point"}, May: []string{"depth", "stopped"}, Hole: true}

	// level is the height of a point: slopes and depths use it.
	level = Kind{Name: survey.Level, One: "level", Many: "levels", Must: []string{"point", "value"}, Value: Signed}

	// condition is a note on a part, a point of the log, or the whole job.
	condition = Kind{Name: survey.Condition, One: "condition note", Many: "condition notes", Must: []string{"target", "note"},
		Check: func(c *checker, i int) {
			r := &c.job.Readings[i]
			if r.Target != survey.WholeJob && len(c.parts(r.Target)) == 0 && !c.named(r.Target) {
				c.add(i, "target", strconv.Quote(r.Target), finding.WantAlsoPoint.New(finding.About(c.targets(r.Target, survey.WholeJob))))
			}
		}}

	// void withdraws a reading.
	void = Kind{Name: survey.Void, Must: []string{"target"},
		Check: func(c *checker, i int) {
			r := &c.job.Readings[i]
			switch k, ok := c.first[r.Target]; {
			case !ok:
				c.add(i, "target", strconv.Quote(r.Target), finding.WantReading.New())
			case c.job.Readings[k].Kind == survey.Void:
				c.add(i, "target", strconv.Quote(r.Target), finding.WantNotVoid.New())
			}
		}}
)

// height returns the level of a point of the log, metres.
func (l *Log) height(point string) (float64, bool) {
	for i := range l.Readings {
		if r := &l.Readings[i]; r.Kind == survey.Level && r.Point == point && r.Value != nil {
			return r.Value.Metres, true
		}
	}
	return 0, false
}

// Empty reports whether the hole of a name met nothing.
func (l *Log) Empty(point string) bool {
	return slices.ContainsFunc(l.Readings, func(r survey.Reading) bool { return r.Kind == survey.Empty && r.Point == point })
}
