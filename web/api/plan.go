package api

import (
	"context"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/observe"
)

// PlanRequest asks where to dig. Seek, where it is given, is sought instead of
// what the job seeks. Brief asks only for what is ready soon: a phone asks
// again until the plan is complete, and may log a hole in between. An engine
// without a memory makes the whole plan at once.
type PlanRequest struct {
	Job Job `json:"job"`
	// A part's id or a kind of part; left out: the job's.
	Seek string `json:"seek,omitempty"`
	// Only what is ready soon; ask again until it is complete. An engine
	// without a memory answers completely.
	Brief bool `json:"brief,omitempty"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

func plan(ctx context.Context, m *Memory, q *PlanRequest) (*answer.Plan, error) {
	if q.Seek != "" {
		m = &Memory{forgets: true} // the cache is of the job as it stands
	}
	s, err := m.locate(ctx, &q.Job, q.Language)
	if err != nil {
		return nil, err
	}
	if q.Seek != "" {
		s.job.Settings.Seek = q.Seek
		for _, p := range observe.Check(s.job) {
			if p.Field == "seek" {
				return nil, refuse("seek %q; want %s", q.Seek, p.Want)
			}
		}
	}
	p, err := s.plan(ctx, q.Brief && !m.forgets, q.Language)
	if err != nil {
		return nil, err
	}
	return &answer.Plan{DigPlan: export.NewDigPlan(s.location, p, q.Language), Whole: s.more == nil, Problems: export.NewProblems(s.problems, q.Language)}, nil
}
