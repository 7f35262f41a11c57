package main

import (
	"context"
	"io"
	"io/fs"
	"time"

	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/plot"
	"asfound/survey/probe"
	"asfound/survey/record"
)

// addLocation adds the files that locate writes, for a reader. A plan, where there is one, is
// drawn on the map.
func addLocation(o *outbox, to finding.Reader, l *locate.Location, p *probe.Plan) {
	d, err := plot.Map(l, p, plot.MapOptions{Date: time.Now(), Language: to.Language})
	if err != nil {
		o.fail("map", err)
		return
	}
	o.add("map.svg", d.Pages[0].WriteSVG)
	o.add("map.pdf", d.WritePDF)
	o.add("predictions.geojson", func(w io.Writer) error { return export.PredictionsGeoJSON(w, l) })
	o.add("spots.csv", func(w io.Writer) error { return export.SpotsCSV(w, l) })
}

// addPlan adds the files that digplan writes, for a reader.
func addPlan(o *outbox, to finding.Reader, l *locate.Location, p *probe.Plan) {
	d, err := plot.DigPlan(l, p, plot.MapOptions{Date: time.Now(), Language: to.Language})
	if err != nil {
		o.fail("digplan.pdf", err)
		return
	}
	o.add("digplan.pdf", d.WritePDF)
	o.add("plan.geojson", func(w io.Writer) error { return export.PlanGeoJSON(w, l, p) })
	o.add("holes.csv", func(w io.Writer) error { return export.HolesCSV(w, l, p) })
}

// addRecord adds the files that record writes beside those of locate.
func addRecord(ctx context.Context, o *outbox, l *locate.Location) {
	d, err := plot.RecordSheet(l, record.New(l), plot.MapOptions{Date: time.Now()})
	if err != nil {
		o.fail("record.pdf", err)
		return
	}
	o.add("record.pdf", d.WritePDF)
	o.add("asbuilt.geojson", func(w io.Writer) error { return export.AsBuiltGeoJSON(ctx, w, l) })
}

// addJob adds the job's own files, as a folder.
func addJob(o *outbox, fsys fs.FS) {
	names, err := fs.Glob(fsys, "*")
	if err != nil {
		o.fail("job", err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			o.fail("job", err)
			return
		}
		o.add("job/"+name, func(w io.Writer) error { _, err := w.Write(text); return err })
	}
}
