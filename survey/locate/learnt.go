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

// broken is the chance of having met what is sought above which something is wrong
// where it is not met. As each hole is judged by what was believed before it, a sound
// job comes there once in a hundred times, whatever it digs (Ville's inequality:
// Étude critique de la notion de collectif, 1939).
const broken = 0.99

// promised works out how surely what is sought should have been met by now, and
// doubts the answer where that is too sure.
func (l *locator) promised() {
	if _, met := l.metSought(); met {
		return
	}
	if l.Promised = l.belief.Promised; l.Promised <= broken || l.Fit.Doubtful != nil {
		return
	}
	one := *l.Fit
	d := finding.PromisesBroken.New(finding.Number("chance", 1-l.Promised), finding.Parts(l.Job.Settings.Seek), finding.About(l.suspected()))
	one.Doubtful = &d
	l.Fit = &one
}

// unfit is the probability of being wrong from which on a reading is looked at
// before anything else; judgement.
const unfit = 0.1

// suspected returns what to look at first where what is sought should have been met.
func (l *locator) suspected() finding.Finding {
	for _, r := range l.belief.Strange {
		return finding.LookStrange.New(finding.Word("hole", r.Point), finding.Readings(r.ID), finding.Parts(r.Target))
	}
	for _, s := range l.Fit.Suspects {
		if s.Odds >= unfit {
			return finding.LookReading.New(finding.Readings(s.Reading))
		}
	}
	for _, r := range l.Job.Live() {
		if r.Kind == survey.Empty && r.Depth == nil {
			return finding.LookDepth.New(finding.Word("hole", r.Point))
		}
	}
	return finding.LookSheet.New()
}

// metSought returns the hole that met what the job seeks.
func (l *locator) metSought() (hole string, ok bool) {
	for _, r := range l.Job.Live() {
		if p := l.Job.Sketch.Part(l.post.Met(r.ID)); r.Kind == survey.Found && p != nil && l.Job.Settings.Seeks(p.ID, p.Kind) {
			return r.Point, true
		}
	}
	return "", false
}

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
