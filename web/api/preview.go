package api

import (
	"asfound/survey/answer"
	"asfound/survey/locate"
)

// PreviewRequest asks for a first look at what is sought, to be shown until the
// belief is ready.
type PreviewRequest struct {
	Job Job `json:"job"`
}

func preview(m *Memory, q *PreviewRequest) (*answer.Preview, *answer.Refusal) {
	if s := m.known(&q.Job); s != nil {
		return &answer.Preview{Sought: sought(s.location)}, nil
	}
	job, problems := q.Job.read()
	if job == nil {
		return nil, &answer.Refusal{Says: "the job cannot be read", Problems: problems}
	}
	prepared, err := m.prepare(&q.Job, job)
	if err != nil {
		return nil, refuseFor(err)
	}
	fit, err := prepared.Preview(job, m.before())
	if err != nil {
		return nil, refuseFor(err)
	}
	l, err := locate.Sought(job, fit)
	if err != nil {
		return nil, refuseFor(err)
	}
	return &answer.Preview{Sought: sought(l), Rough: true}, nil
}
