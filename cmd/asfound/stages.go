package main

import (
	"encoding/json"
	"errors"
	"io"
	"io/fs"

	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

var errSeam = errors.New("not wired yet")

func locateJob(job *survey.Job) (*locate.Location, error)              { return nil, errSeam }
func planHoles(l *locate.Location) (*probe.Plan, error)                { return nil, errSeam }
func checkJSON(w io.Writer, job *survey.Job, cautions []string) error  { return errSeam }
func fitJSON(w io.Writer, job *survey.Job, f *survey.Fit) error        { return errSeam }
func locateJSON(w io.Writer, l *locate.Location) error                 { return errSeam }
func digplanJSON(w io.Writer, l *locate.Location, p *probe.Plan) error { return errSeam }
func predictionsGeoJSON(w io.Writer, l *locate.Location) error         { return errSeam }
func planGeoJSON(w io.Writer, l *locate.Location, p *probe.Plan) error { return errSeam }
func asbuiltGeoJSON(w io.Writer, l *locate.Location) error             { return errSeam }
func spotsCSV(w io.Writer, l *locate.Location) error                   { return errSeam }
func holesCSV(w io.Writer, l *locate.Location, p *probe.Plan) error    { return errSeam }
func addLocation(o *outbox, l *locate.Location, p *probe.Plan)         {}
func addPlan(o *outbox, l *locate.Location, p *probe.Plan)             {}
func addRecord(o *outbox, l *locate.Location)                          {}

// addJob adds the job's own files, as a folder.
func addJob(o *outbox, fsys fs.FS) {
	names, err := fs.Glob(fsys, "*")
	if err != nil {
		o.err = err
	}
	for _, name := range names {
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			o.err = err
			return
		}
		o.add("job/"+name, func(w io.Writer) error { _, err := w.Write(text); return err })
	}
}

var _ = json.Marshal
