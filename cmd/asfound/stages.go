package main

import (
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// ways is how many ways in which the site may lie a plan is made on: chances
// are then good to a percent or so.
const ways = 2000

// locateJob fits a job and works out where everything lies.
func locateJob(job *survey.Job) (*locate.Location, error) {
	fit, err := survey.Solve(job)
	if err != nil {
		return nil, err
	}
	return locate.Locate(job, fit)
}

// planHoles plans the digging for what the job seeks.
func planHoles(l *locate.Location) (*probe.Plan, error) {
	return probe.New(l, l.Fit.Draws(l.Fit.Posterior(), ways))
}
