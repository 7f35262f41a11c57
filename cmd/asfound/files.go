package main

import (
	"io"
	"io/fs"
	"time"

	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/sheet"
)

// addLocation adds the files that locate writes. A plan, where there is one, is
// drawn on the map.
func addLocation(o *outbox, l *locate.Location, p *probe.Plan) {
	d, err := sheet.Map(l, p, sheet.MapOptions{Date: time.Now()})
	if err != nil {
		o.fail("map", err)
		return
	}
	o.add("map.svg", func(w io.Writer) error { return d.Pages[0].WriteSVG(w) })
	o.add("map.pdf", d.WritePDF)
}

// addPlan adds the files that digplan writes.
func addPlan(o *outbox, l *locate.Location, p *probe.Plan) {}

// addRecord adds the files that record writes beside those of locate.
func addRecord(o *outbox, l *locate.Location) {}

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
