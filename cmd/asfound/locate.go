package main

import (
	"context"
	"fmt"
	"io"

	"github.com/urfave/cli/v2"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

func (s *session) locate() *cli.Command {
	formats := []string{"text", "json", "geojson", "csv"}
	return &cli.Command{
		Name:      "locate",
		Usage:     "say where every part lies, how deep, and how certain that is; draw the map",
		UsageText: "asfound locate [flags] JOB",
		Description: `Prints first what is sought: where it lies in tapes from two landmarks, within
what radius, how deep. Then every part with its state: seen (a hole met it),
inferred (supported by readings), recorded (the sheet alone says so). "within" is
the radius that holds the true place with 95 %. Writes map.pdf, map.svg,
predictions.geojson and spots.csv to the folder --out.

With --format json, geojson or csv the answer goes to standard output for
another program, in metres and degrees, and files are written only where --out
is given.

  asfound locate lot7
  asfound locate lot7 --seek L3 --out lot7/today
  asfound locate lot7 --format json | jq '.spots[] | select(.kind == "box")'`,
		Flags: []cli.Flag{formatFlag(formats...), seekFlag(), unitFlag(), languageFlag(), outFlag()},
		Action: s.asking(formats, func(_ context.Context, q *question) error {
			w, to, loc := &q.answer.text, q.to, q.location
			q.progress.step("drawing")
			if q.answer.files != nil {
				addLocation(q.answer.files, to, loc, nil)
			}
			switch q.format {
			case "json":
				return export.LocateJSON(w, loc, to.Language)
			case "geojson":
				return export.PredictionsGeoJSON(w, loc)
			case "csv":
				return export.SpotsCSV(w, loc)
			}
			sayLocation(w, to, loc)
			return nil
		}),
	}
}

// writes reports whether files are wanted: always with text, else where a
// folder is named.
func writes(c *cli.Context, format string) bool { return format == "text" || c.IsSet("out") }

// sayLocation prints where everything lies, for a crew lead.
func sayLocation(w io.Writer, to finding.Reader, l *locate.Location) {
	fmt.Fprintf(w, "%s\n\n", heading(l.Job))
	saySought(w, to, l)
	fmt.Fprintln(w)
	sayParts(w, to, l)
	fmt.Fprintf(w, "\nwithin: the radius that holds the true place with 95 %%, as taped from the landmarks\n")
	fmt.Fprintf(w, "tapes: left or right of the line from the first landmark to the second\n")
	if l.Fill != nil {
		fmt.Fprintf(w, "fill: %s of ground were added since the record\n", geo.FormatDepth(*l.Fill, l.Job.Settings.Unit))
	}
	if l.Frame.Site == nil {
		fmt.Fprintf(w, "frame: %s; no satellite fix, so no longitude and latitude\n", l.Frame.Note(to))
	}
	for _, learnt := range finding.Sentences(l.Learnt, to) {
		fmt.Fprintf(w, "holes: %s\n", fold(learnt, 72, "       "))
	}
	saySuspects(w, to, l.Fit)
	sayDepthSuspects(w, to, l)
	sayCautions(w, to, l.Job)
}

// sayDepthSuspects prints the depths and levels that do not fit the others.
func sayDepthSuspects(w io.Writer, to finding.Reader, l *locate.Location) {
	if len(l.DepthSuspects) == 0 {
		return
	}
	u := l.Job.Settings.Unit
	fmt.Fprintf(w, "\nThese depths and levels do not fit the others; measure again before you trust a depth:\n")
	for _, s := range l.DepthSuspects {
		list(w, []string{fmt.Sprintf("%s (%s) %s", s.Reading, s.What, s.Cause.Says(to))})
		fmt.Fprintf(w, "    wrong with %s (w %.1f); %s is expected\n", survey.Percent(s.Chance), s.Standardized, geo.FormatDepth(s.Fitted, u))
	}
}

// sought returns the spots of what is sought, by id or kind.
func sought(l *locate.Location) (spots []*locate.Spot) {
	for i := range l.Spots {
		s := &l.Spots[i]
		if l.Job.Settings.Seeks(s.Part, s.Kind) {
			spots = append(spots, s)
		}
	}
	return spots
}

// saySought prints what is sought.
func saySought(w io.Writer, to finding.Reader, l *locate.Location) {
	spots := sought(l)
	if len(spots) == 0 {
		fmt.Fprintf(w, "SOUGHT  %s: nothing says where it lies\n", l.Job.Settings.Seek)
	}
	u := l.Job.Settings.Unit
	for _, s := range spots {
		fmt.Fprintf(w, "SOUGHT  %s, %s: within %s of this point\n", partName(s.Kind, s.Part), spotName(s.Spot), geo.FormatLength(s.Landmarks95, u))
		if len(s.Lobes) > 1 {
			sayLobes(w, to, l, s)
		} else {
			fmt.Fprintf(w, "        %s\n", fold(tieWords(l, to, s.At), 70, "        "))
		}
		if s.Depth != nil {
			fmt.Fprintf(w, "        %s deep to the %s%s\n", geo.FormatDepth(s.Depth.Mean, u), s.Depth.Feature, s.Depth.Off(u, ", give or take "))
		}
		fmt.Fprintf(w, "        %s\n", stateWords(s.State))
	}
}

// sayLobes prints a spot that lies in one of several separate places.
func sayLobes(w io.Writer, to finding.Reader, l *locate.Location, s *locate.Spot) {
	word := "either"
	for _, lobe := range s.Lobes {
		words := fmt.Sprintf("%s about (%.0f %%) %s, within %s of there", word, 100*lobe.Share, tieWords(l, to, lobe.At), geo.FormatLength(lobe.Radius95, l.Job.Settings.Unit))
		fmt.Fprintf(w, "        %s\n", fold(words, 70, "        "))
		word = "or"
	}
}

// spotName names a spot for people.
func spotName(s asbuilt.Spot) string {
	switch s {
	case asbuilt.End:
		return "far end"
	case asbuilt.Start:
		return "near end"
	}
	return string(s)
}

// stateWords says what a state means.
func stateWords(s locate.State) string {
	switch s {
	case locate.Seen:
		return "seen: a hole met it there"
	case locate.Inferred:
		return "inferred: not seen, supported by readings"
	}
	return "recorded: the sheet alone says so"
}

// sayParts prints every part but the landmarks as a table.
func sayParts(w io.Writer, to finding.Reader, l *locate.Location) {
	u := l.Job.Settings.Unit
	marks := setout.New(l)
	rows := [][]string{{"part", "", "state", "within", "depth", "tapes"}}
	for i := range l.Spots {
		s := &l.Spots[i]
		if s.Kind == asbuilt.Landmark {
			continue
		}
		row := []string{partName(s.Kind, s.Part), spotName(s.Spot), string(s.State), geo.FormatLength(s.Landmarks95, u), "-", "-"}
		if s.Depth != nil {
			row[4] = geo.FormatDepth(s.Depth.Mean, u) + s.Depth.Off(u, " ± ")
		}
		if f, ok := marks.Fix(s.At); ok {
			row[5] = fmt.Sprintf("%s %s, %s %s, %s", f.Ties[0].From, geo.FormatLength(f.Ties[0].Distance, u), f.Ties[1].From, geo.FormatLength(f.Ties[1].Distance, u), f.Side.Brief(to))
			if f.Crossing.Degrees() < setout.Flat {
				row[5] += " (flat)"
			}
		}
		rows = append(rows, row)
	}
	table(w, rows)
}
