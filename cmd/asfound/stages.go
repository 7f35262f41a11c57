package main

import (
	"errors"
	"io"

	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

var errSeam = errors.New("not wired yet")

func locateJob(job *survey.Job) (*locate.Location, error) {
	fit, err := survey.Solve(job)
	if err != nil {
		return nil, err
	}
	return locate.Locate(job, fit)
}

// ways is how many ways the site may lie the plan is made on: chances are then
// good to one percent.
const ways = 2000

func planHoles(l *locate.Location) (*probe.Plan, error) {
	return probe.New(l, l.Fit.Draws(l.Fit.Posterior(), ways))
}
func checkJSON(w io.Writer, job *survey.Job, cautions []string) error  { return export.CheckJSON(w, job, nil, cautions) }
func fitJSON(w io.Writer, job *survey.Job, f *survey.Fit) error        { return export.FitJSON(w, f) }
func locateJSON(w io.Writer, l *locate.Location) error                 { return export.LocateJSON(w, l) }
func digplanJSON(w io.Writer, l *locate.Location, p *probe.Plan) error { return export.DigplanJSON(w, l, p) }
func predictionsGeoJSON(w io.Writer, l *locate.Location) error         { return errSeam }
func planGeoJSON(w io.Writer, l *locate.Location, p *probe.Plan) error { return errSeam }
func asbuiltGeoJSON(w io.Writer, l *locate.Location) error             { return errSeam }
func spotsCSV(w io.Writer, l *locate.Location) error                   { return errSeam }
func holesCSV(w io.Writer, l *locate.Location, p *probe.Plan) error    { return errSeam }
