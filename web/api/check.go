package api

import (
	"context"

	"asfound/asbuilt/practice"
	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// CheckRequest asks what is wrong with a job.
type CheckRequest struct {
	Job Job `json:"job"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

func check(_ context.Context, _ *Memory, q *CheckRequest) (*answer.Check, error) {
	job, problems := q.Job.read()
	var cautions []finding.Finding
	if job != nil {
		cautions = append(observe.Cautions(job), practice.Cautions(job.Sketch)...)
	}
	c := export.NewCheck(job, problems, cautions, q.Language)
	return &c, nil
}
