package locate

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"asfound/survey"
)

// worthSaying is by how much the holes must move a probability before it is
// told anew.
const worthSaying = 0.05

// learnt says, for people, what the holes that met nothing changed in what the
// fit says of itself.
func (l *locator) learnt() {
	if !l.belief.Counts {
		return
	}
	if l.Excluded >= worthSaying {
		l.Learnt = append(l.Learnt, fmt.Sprintf("the holes that met nothing rule out %s of what was believed before them", survey.Percent(l.Excluded)))
	}
	for _, r := range l.belief.Strange {
		l.Learnt = append(l.Learnt, fmt.Sprintf("%s (%s) met a %s where hardly any was believed to pass: measure its place again, or is it another pipe or trench?", r.Point, r.ID, r.Target))
	}
	live := l.Job.Live()
	slices.SortStableFunc(live, func(a, b survey.Reading) int { return cmp.Compare(a.ID, b.ID) })
	for _, r := range live {
		before, now := l.Fit.MetOdds(r.ID), l.post.MetOdds(r.ID)
		moved := 0.0
		for part := range before {
			moved = math.Max(moved, math.Abs(before[part]-now[part]))
		}
		if before == nil || moved < worthSaying {
			continue
		}
		parts := slices.SortedFunc(maps.Keys(now), func(a, b string) int {
			return cmp.Or(cmp.Compare(now[b], now[a]), cmp.Compare(a, b))
		})
		var says []string
		for _, p := range parts {
			if now[p] >= 0.02 {
				says = append(says, fmt.Sprintf("%s (%s)", p, survey.Percent(now[p])))
			}
		}
		l.Learnt = append(l.Learnt, fmt.Sprintf("once they count, %s (%s) is %s", r.Point, r.ID, strings.Join(says, " or ")))
	}
	if now := l.post.MirroredOdds(); math.Abs(now-l.mirrored) >= worthSaying {
		l.Learnt = append(l.Learnt, fmt.Sprintf("once they count, the sheet is mirrored with %s", survey.Percent(now)))
	}
}
