// Package question says what is odd about an entry before it is kept: by what is
// believed of the job without it, in the moment in which the crew still stands there
// and can look at the tape again. A question is no refusal: whoever was there may
// say that it is so.
package question

import (
	"strings"
	"unicode"

	"asfound/geo"
	"asfound/geo/spelling"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// Entry is what is about to be logged.
type Entry struct {
	Rows     []survey.Reading
	Proposed []geo.Vec // where the plan proposes to dig, metres in the field frame; none: the hole was not to be set out
}

// Of returns what is odd about an entry, l being what is believed without it.
func Of(l *locate.Location, e Entry) []finding.Finding {
	a := asked{l: l, lot: extent(l)}
	for i := range e.Rows {
		r := &e.Rows[i]
		a.names(r)
		a.tape(r)
	}
	if len(a.odd) == 0 { // one wrong tape is asked about once
		for _, name := range points(e.Rows) {
			a.crossing(name, e)
		}
	}
	for i := range e.Rows {
		a.depth(&e.Rows[i])
	}
	return a.odd
}

// asked is one entry that is looked at.
type asked struct {
	l   *locate.Location
	lot float64 // metres: the greatest distance between two things of the sketch
	odd []finding.Finding
}

func (a *asked) add(f finding.Finding) { a.odd = append(a.odd, f) }

// names asks about a name that is new and nearly that of a landmark or a part:
// another case, a space, a letter changed. Names that differ in their digits are
// numbered on purpose.
func (a *asked) names(r *survey.Reading) {
	var known []string
	for i := range a.l.Job.Sketch.Parts {
		known = append(known, a.l.Job.Sketch.Parts[i].ID)
	}
	known = append(known, a.l.Posterior.Points()...)
	for _, name := range []string{r.Point, r.From, r.To} {
		if name == "" || a.knows(name) {
			continue
		}
		for _, k := range known {
			if alike(name, k) {
				a.add(finding.NameClose.New(finding.Word("name", name), finding.Word("known", k)))
				break
			}
		}
	}
}

// knows reports whether a name is that of a part or of a point of the log.
func (a *asked) knows(name string) bool {
	_, ok := a.l.Posterior.Point(name)
	return ok || a.l.Job.Sketch.Part(name) != nil
}

// alike reports whether two different names may be one that was written twice.
func alike(a, b string) bool {
	plain := func(keep func(r rune) bool, s string) string {
		return strings.Map(func(r rune) rune {
			if keep(r) {
				return unicode.ToLower(r)
			}
			return -1
		}, s)
	}
	both := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	if plain(both, a) == plain(both, b) {
		return true
	}
	return plain(unicode.IsDigit, a) == "" && plain(unicode.IsDigit, b) == "" && spelling.Nearest(a, []string{b}) != ""
}
