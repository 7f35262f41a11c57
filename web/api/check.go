package api

import (
	"asfound/asbuilt/practice"
	"asfound/survey/export"
	"asfound/survey/observe"
)

// CheckRequest asks what is wrong with a job.
type CheckRequest struct {
	Job Job `json:"job"`
}

// Check says what is wrong with a job, and what is allowed but unusual.
type Check struct {
	export.Check
	Problems []Problem `json:"problems"`
}

func check(_ *Memory, q *CheckRequest) (*Check, *Refusal) {
	job, problems := q.Job.read()
	var cautions []string
	if job != nil {
		cautions = append(observe.Cautions(job), practice.Cautions(job.Sketch)...)
	}
	c := &Check{export.NewCheck(job, nil, cautions), problems}
	c.OK = len(problems) == 0
	return c, nil
}
