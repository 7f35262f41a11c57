package api

import (
	"context"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/locate"
)

// PreviewRequest asks for a first look at what is sought, to be shown until the
// belief is ready.
type PreviewRequest struct {
	Job Job `json:"job"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

func preview(ctx context.Context, m *Memory, q *PreviewRequest) (*answer.Preview, error) {
	if s := m.known(&q.Job); s != nil {
		return &answer.Preview{Sought: sought(s.location)}, nil
	}
	job, problems := q.Job.read()
	if job == nil {
		return nil, unreadable(problems, q.Language)
	}
	prepared, err := m.prepare(&q.Job, job)
	if err != nil {
		return nil, refuseFor(err, q.Language)
	}
	fit, err := prepared.Preview(ctx, job, m.before())
	if err != nil {
		return nil, refuseFor(err, q.Language)
	}
	l, err := locate.Sought(ctx, job, fit)
	if err != nil {
		return nil, refuseFor(err, q.Language)
	}
	return &answer.Preview{Sought: sought(l), Rough: true}, nil
}
