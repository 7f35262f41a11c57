package main

import (
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// ways is how many ways in which the site may lie a plan is made on: chances
// are then good to a percent or so.
const ways = 2000

// steps are the stages of a command that does all: fit, locate, plan, draw.
const steps = 4

// locateJob fits a job and works out where everything lies.
func locateJob(job *survey.Job, p *progress) (*locate.Location, error) {
	p.step("fitting the drawing to the readings")
	solved, err := fit.Solve(job)
	if err != nil {
		return nil, err
	}
	p.step("locating every part")
	return locate.Locate(job, solved)
}

// planHoles plans the digging for what the job seeks.
func planHoles(l *locate.Location, p *progress) (*probe.Plan, error) {
	p.step("planning the holes")
	return probe.New(l, l.Posterior.Draws(ways))
}
