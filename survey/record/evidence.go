package record

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"asfound/survey"
	"asfound/survey/locate"
)

// Evidence is what a record rests on: how many readings of each kind that were
// not withdrawn.
type Evidence struct {
	Fixes, Tapes, Baselines, Bearings, Cables int
	Found, Empty                              int // holes
	Levels, Withdrawn                         int
	First, Last                               string   // days of the first and the last reading, empty: not given
	By                                        []string // who took them, as the log says
}

func rests(l *locate.Location) Evidence {
	var e Evidence
	count := map[survey.Kind]*int{survey.GNSS: &e.Fixes, survey.Tape: &e.Tapes, survey.Baseline: &e.Baselines, survey.Bearing: &e.Bearings,
		survey.Cable: &e.Cables, survey.Found: &e.Found, survey.Empty: &e.Empty, survey.Level: &e.Levels}
	live := l.Job.Live()
	for _, r := range live {
		if n := count[r.Kind]; n != nil {
			*n++
		}
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

// Words says what there is, for people: "8 tapes, 2 satellite fixes, 3 holes (2
// met a part, 1 empty)".
func (e Evidence) Words() string {
	var says []string
	add := func(n int, one, many string) {
		if n > 0 {
			says = append(says, plural(n, one, many))
		}
	}
	add(e.Tapes, "tape", "tapes")
	add(e.Baselines, "baseline offset", "baseline offsets")
	add(e.Bearings, "bearing", "bearings")
	add(e.Cables, "cable length", "cable lengths")
	add(e.Fixes, "satellite fix", "satellite fixes")
	add(e.Levels, "level", "levels")
	if n := e.Found + e.Empty; n > 0 {
		add(n, "hole", "holes")
		says[len(says)-1] += fmt.Sprintf(" (%d met a part, %d empty)", e.Found, e.Empty)
	}
	if len(says) == 0 {
		return "no reading: the sheet alone"
	}
	return strings.Join(says, ", ")
}

// any reports whether there is any reading that places anything.
func (e Evidence) any() bool {
	return e.Fixes+e.Tapes+e.Baselines+e.Bearings+e.Cables+e.Found+e.Empty+e.Levels > 0
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
