package record

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/observe"
)

// Evidence is what a record rests on: how many readings of each kind that were
// not withdrawn.
type Evidence struct {
	Count       map[survey.Kind]int
	Withdrawn   int
	First, Last string   // days of the first and the last reading, empty: not given
	By          []string // who took them, as the log says
}

func rests(l *locate.Location) Evidence {
	e := Evidence{Count: map[survey.Kind]int{}}
	live := l.Job.Live()
	for _, r := range live {
		e.Count[r.Kind]++
		if r.By != "" && !slices.Contains(e.By, r.By) {
			e.By = append(e.By, r.By)
		}
		if d := day(r.Time); d != "" {
			if e.First == "" || d < e.First {
				e.First = d
			}
			e.Last = max(e.Last, d)
		}
	}
	for _, r := range l.Job.Readings {
		if r.Kind == survey.Void {
			e.Withdrawn++
		}
	}
	return e
}

// day returns the day of a time as ISO 8601 has it, empty for none.
func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// Words describes the evidence, for people: "8 tapes, 2 satellite fixes, 3
// holes (2 met a part, 1 empty)".
func (e Evidence) Words() string {
	var says []string
	add := func(n int, one, many string) {
		if n > 0 {
			says = append(says, plural(n, one, many))
		}
	}
	for _, k := range observe.Kinds {
		if k.Many != "" && !k.Hole && k.Name != survey.Condition {
			add(e.Count[k.Name], k.One, k.Many)
		}
	}
	if n := e.holes(); n > 0 {
		add(n, "hole", "holes")
		says[len(says)-1] += fmt.Sprintf(" (%d met a part, %d empty)", e.Count[survey.Found], e.Count[survey.Empty])
	}
	if len(says) == 0 {
		return "no reading: the sheet alone"
	}
	return strings.Join(says, ", ")
}

// holes returns how many holes are logged.
func (e Evidence) holes() int { return e.Count[survey.Found] + e.Count[survey.Empty] }

// any reports whether there is any reading of where something lies.
func (e Evidence) any() bool {
	for _, k := range observe.Kinds {
		if k.Name != survey.Condition && k.Name != survey.Void && e.Count[k.Name] > 0 {
			return true
		}
	}
	return false
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
