package main

import (
	"fmt"

	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// tieWords says where a place is for two tapes.
func tieWords(l *locate.Location, to finding.Reader, at geo.Vec) string {
	f, ok := setout.New(l).Fix(at)
	if !ok {
		return "no two landmarks to tape it from"
	}
	u := l.Job.Settings.Unit
	warning := ""
	if f.Crossing.Degrees() < setout.Flat {
		warning = "; " + finding.FlatTapes.New(finding.Number("crossing", f.Crossing.Degrees())).Says(to)
	}
	return fmt.Sprintf("%s from %s and %s from %s, %s%s",
		geo.FormatLength(f.Ties[0].Distance, u), landmarkName(l.Job.Sketch, f.Ties[0].From),
		geo.FormatLength(f.Ties[1].Distance, u), landmarkName(l.Job.Sketch, f.Ties[1].From), f.Side.Says(to), warning)
}
