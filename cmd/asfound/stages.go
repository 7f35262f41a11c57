package main

import (
	"context"

	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/probe"
)

// steps are the stages of a command that does all: locate, plan, draw.
const steps = 3

// locateJob fits a job and works out where everything lies.
func locateJob(ctx context.Context, job *survey.Job, p *progress) (*locate.Location, error) {
	p.step("fitting the drawing to the readings, locating every part")
	return pipeline.Locate(ctx, job, nil)
}

// planHoles plans the digging for what the job seeks.
func planHoles(ctx context.Context, l *locate.Location, p *progress) (*probe.Plan, error) {
	p.step("planning the holes")
	return pipeline.Plan(ctx, l)
}
