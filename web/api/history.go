package api

import (
	"cmp"
	"context"
	"slices"

	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/locate"
)

// maxSteps bounds the work: each step is a separate fit, and a chart on a phone
// has no room for more.
const maxSteps = 16

// history returns the radius of what is sought before the first hole and after
// each, in the order in which they were dug: by time where the log gives it,
// else by the order of the log. Each step is fitted to everything but what was
// read of later holes. Of a long log the first holes are passed over. Steps
// that cannot be fitted are left out. With brief, at most one step that was not
// known is worked out, and the result says whether the history is complete.
func (m *Memory) history(ctx context.Context, q *Job, s *site, brief bool) (steps []answer.HistoryStep, whole bool, err error) {
	job := s.job
	live := job.Live()
	holes := dug(live)
	first := 0
	if len(holes) > maxSteps {
		first = len(holes) - maxSteps
	}
	by := map[string]map[string]string{}
	for _, row := range q.named() {
		by[row["id"]] = row
	}
	fresh := 0
	for n := first; n <= len(holes); n++ {
		later := map[string]bool{}
		for _, h := range holes[n:] {
			later[h.Point] = true
		}
		then := *job
		then.Readings = slices.DeleteFunc(slices.Clone(live), func(r survey.Reading) bool {
			return later[r.Point] || later[r.From] || later[r.To]
		})
		var known *locate.Location
		if n == len(holes) {
			known = s.location
		}
		if brief && fresh > 0 {
			return steps, false, nil
		}
		radius, ok, was, err := m.step(ctx, q, &then, by, known)
		if err != nil {
			return nil, false, err
		}
		if !was {
			fresh++
		}
		if !ok {
			continue
		}
		step := answer.HistoryStep{Radius95: radius}
		if n > 0 {
			step.After, step.Met = holes[n-1].Point, holes[n-1].Target
		}
		steps = append(steps, step)
	}
	return steps, true, nil
}

// dug returns one reading of each hole, in the order in which they were dug.
func dug(live []survey.Reading) (holes []survey.Reading) {
	for _, r := range live {
		if r.Kind != survey.Found && r.Kind != survey.Empty {
			continue
		}
		if !slices.ContainsFunc(holes, func(h survey.Reading) bool { return h.Point == r.Point }) {
			holes = append(holes, r)
		}
	}
	slices.SortStableFunc(holes, func(a, b survey.Reading) int {
		if a.Time.IsZero() || b.Time.IsZero() {
			return 0
		}
		return cmp.Compare(a.Time.UnixNano(), b.Time.UnixNano())
	})
	return holes
}
