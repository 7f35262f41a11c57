package main

import (
	"fmt"
	"slices"

	"github.com/urfave/cli/v2"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

func (s *session) check() *cli.Command {
	return &cli.Command{
		Name:      "check",
		Usage:     "report everything that is wrong with a job's files, in one pass",
		UsageText: "asfound check [flags] JOB",
		Description: `Reads sketch.geojson, job.json, readings.csv and any GPX and NMEA files of the
folder JOB. Each problem is on a line of its own: file, row or feature,
column or member, what was found, what would be right. The same checks run
before every other command. What is allowed but unusual is listed as a caution.

  asfound check lot7
  asfound check lot7 --format json`,
		Flags: []cli.Flag{formatFlag("text", "json"), languageFlag()},
		Action: func(c *cli.Context) error {
			format, err := formatOf(c, "text", "json")
			if err != nil {
				return err
			}
			job, err := s.open(c)
			if err != nil {
				return err
			}
			to, err := readerOf(c, job)
			if err != nil {
				return err
			}
			a := &answer{format: format}
			cautions := append(observe.Cautions(job), practice.Cautions(job.Sketch)...)
			if format == "json" {
				if err := export.CheckJSON(&a.text, job, nil, cautions, to.Language); err != nil {
					return err
				}
			} else {
				sayCheck(a, to, job, cautions)
			}
			return s.deliver(c, a)
		},
	}
}

// sayCheck prints what was read, for a crew lead.
func sayCheck(a *answer, to finding.Reader, job *survey.Job, cautions []finding.Finding) {
	w := &a.text
	fmt.Fprintf(w, "%s: no problems\n\n", heading(job))
	sketch := job.Sketch
	scale := "coordinates in " + string(sketch.Unit)
	if _, known := sketch.MetresPerUnit(); !known {
		scale = "scale unknown"
	}
	if sketch.Plane == asbuilt.WGS84 {
		scale = "longitude and latitude"
	}
	fmt.Fprintf(w, "sketch    %s, %s\n", trustWords(sketch.Trust), scale)
	fmt.Fprintf(w, "parts     %s\n", fold(and(partCounts(sketch)), 68, "          "))
	if n := written(sketch); n > 0 {
		fmt.Fprintf(w, "written   %s\n", count(n, "length or tie", "lengths and ties"))
	}
	live := job.Live()
	if len(live) == 0 {
		fmt.Fprintf(w, "readings  none: a day-before job, the sheet alone\n")
	} else {
		fmt.Fprintf(w, "readings  %s\n", fold(and(readingCounts(live)), 68, "          "))
	}
	if n := len(job.Readings) - len(live); n > 0 {
		fmt.Fprintf(w, "withdrawn %s of the log\n", count(n, "row", "rows"))
	}
	fmt.Fprintf(w, "sought    %s\n", job.Settings.Seek)
	if len(cautions) > 0 {
		fmt.Fprintf(w, "\nLook at these before you go on:\n")
		list(w, finding.Sentences(cautions, to))
	}
}

// partCounts says how many parts of each kind a sketch has.
func partCounts(s *asbuilt.Sketch) (words []string) {
	n := map[asbuilt.Kind]int{}
	for _, p := range s.Parts {
		n[p.Kind]++
	}
	for _, k := range []asbuilt.Kind{asbuilt.Landmark, asbuilt.Building, asbuilt.Tank, asbuilt.Box, asbuilt.Header, asbuilt.Lateral,
		asbuilt.Port, asbuilt.Well, asbuilt.Boundary, asbuilt.Water, asbuilt.Driveway, asbuilt.Utility, asbuilt.NoDig} {
		if n[k] == 0 {
			continue
		}
		many := string(k) + "s"
		switch k {
		case asbuilt.Box:
			many = "boxes"
		case asbuilt.Boundary:
			many = "boundaries"
		case asbuilt.Utility:
			many = "utilities"
		case asbuilt.NoDig:
			many = "no-dig areas"
		}
		words = append(words, count(n[k], string(k), many))
	}
	return words
}

// written returns how many lengths and ties are written on a sketch.
func written(s *asbuilt.Sketch) (n int) {
	for _, p := range s.Parts {
		n += len(p.Ties)
		if p.Length != nil {
			n++
		}
	}
	return n
}

// readingCounts says how many readings of each kind a log has.
func readingCounts(readings []survey.Reading) (words []string) {
	for _, k := range observe.Kinds {
		n := len(slices.DeleteFunc(slices.Clone(readings), func(r survey.Reading) bool { return r.Kind != k.Name }))
		if n > 0 && k.Many != "" {
			words = append(words, count(n, k.One, k.Many))
		}
	}
	return words
}
