package locate

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"asfound/survey"
	"asfound/survey/finding"
)

// worthSaying is how much the holes must change a probability before the new
// one is reported.
const worthSaying = 0.05

// learnt reports what the empty holes changed in the statements of the fit.
func (l *locator) learnt() {
	if !l.belief.Counts {
		return
	}
	if l.Excluded >= worthSaying {
		l.Learnt = append(l.Learnt, finding.HolesExclude.New(finding.Number("share", l.Excluded)))
	}
	for _, r := range l.belief.Strange {
		l.Learnt = append(l.Learnt, finding.HoleStrange.New(finding.Word("hole", r.Point), finding.Readings(r.ID), finding.Parts(r.Target)))
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
		parts = slices.DeleteFunc(parts, func(p string) bool { return now[p] < 0.02 })
		l.Learnt = append(l.Learnt, finding.HoleCounts.New(finding.Word("hole", r.Point), finding.Readings(r.ID), finding.Odds(parts, now)))
	}
	if now := l.post.MirroredOdds(); math.Abs(now-l.mirrored) >= worthSaying {
		l.Learnt = append(l.Learnt, finding.MirrorCounts.New(finding.Number("odds", now)))
	}
}
