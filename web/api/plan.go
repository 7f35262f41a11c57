package api

import (
	"asfound/survey/export"
	"asfound/survey/observe"
)

// ways is how many ways in which the site may lie a plan is made on: the same
// as the command's, so that both say the same.
const ways = 2000

// PlanRequest asks where to dig. Seek, where it is given, is sought instead of
// what the job seeks. Brief asks for what can be told soon: a phone asks again
// until the plan is whole, and may log a hole between. An engine without a
// memory plans the whole at once.
type PlanRequest struct {
	Job   Job    `json:"job"`
	Seek  string `json:"seek,omitempty"`
	Brief bool   `json:"brief,omitempty"`
}

// Plan is the answer of digplan.
type Plan struct {
	export.DigPlan
	Whole    bool      `json:"whole"`    // false: its first holes, the rest is to be asked for
	Problems []Problem `json:"problems"` // rows that could not be read and were left out
}

func plan(m *Memory, q *PlanRequest) (*Plan, *Refusal) {
	if q.Seek != "" {
		m = &Memory{forgets: true} // what is kept is of the job as it stands
	}
	s, refusal := m.locate(&q.Job)
	if refusal != nil {
		return nil, refusal
	}
	if q.Seek != "" {
		s.job.Settings.Seek = q.Seek
		for _, p := range observe.Check(s.job) {
			if p.Field == "seek" {
				return nil, refuse("seek %q; want %s", q.Seek, p.Want)
			}
		}
	}
	p, refusal := s.plan(q.Brief && !m.forgets)
	if refusal != nil {
		return nil, refusal
	}
	return &Plan{export.NewDigPlan(s.location, p), s.more == nil, s.problems}, nil
}
