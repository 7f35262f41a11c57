package main

import (
	"context"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

func (s *session) record() *cli.Command {
	formats := []string{"text", "json", "geojson", "csv"}
	return &cli.Command{
		Name:      "record",
		Usage:     "write the corrected as-built: sheet, GeoJSON and tables",
		UsageText: "asfound record [flags] JOB",
		Description: `Writes the corrected as-built for the permit file to the folder --out:
record.pdf (drawing to scale, new ties from permanent landmarks, cover, state
and accuracy of each part, how far each lies from the old sketch),
asbuilt.geojson, map.pdf, map.svg and spots.csv.

  asfound record lot7 --out lot7/office
  asfound record lot7 --format geojson > asbuilt.geojson`,
		Flags: []cli.Flag{formatFlag(formats...), unitFlag(), outFlag()},
		Action: s.asking(formats, func(ctx context.Context, q *question) error {
			w, to, loc := &q.answer.text, q.to, q.location
			q.progress.step("drawing")
			if q.answer.files != nil {
				addRecord(ctx, q.answer.files, loc)
				addLocation(q.answer.files, to, loc, nil)
			}
			switch q.format {
			case "json", "geojson": // the as-built is a GeoJSON file either way
				return export.AsBuiltGeoJSON(ctx, w, loc)
			case "csv":
				return export.SpotsCSV(w, loc)
			}
			sayRecord(w, to, loc)
			return nil
		}),
	}
}

// sayRecord prints what the record rests on.
func sayRecord(w io.Writer, to finding.Reader, l *locate.Location) {
	fmt.Fprintf(w, "%s: corrected as-built\n\n", heading(l.Job))
	n := map[locate.State]int{}
	parts := map[string]bool{}
	for _, o := range l.Outlines {
		if !parts[o.Part] {
			parts[o.Part] = true
			n[o.State]++
		}
	}
	fmt.Fprintf(w, "%d parts: %d seen, %d inferred, %d recorded only\n", len(parts), n[locate.Seen], n[locate.Inferred], n[locate.Recorded])
	sayParts(w, to, l)
	saySuspects(w, to, l.Fit)
	sayDepthSuspects(w, to, l)
	sayCautions(w, to, l.Job)
}
