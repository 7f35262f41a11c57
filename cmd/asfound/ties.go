package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/locate"
)

// tie is a tape distance from a landmark.
type tie struct {
	from     string
	distance float64 // metres
}

// flat is the crossing angle under which two tapes fix a point badly: at 30° an
// error of the tapes counts 2.8 times (√2/sin of the angle).
const flat = 30 * math.Pi / 180

// tiesTo returns the two tapes that fix a place best, and on which side of
// the line between their landmarks it lies; crossing is the angle at which
// they cross, in radians. ok is false where there are no two landmarks apart.
func tiesTo(l *locate.Location, at geo.Vec) (ties [2]tie, side string, crossing float64, ok bool) {
	marks := landmarks(l)
	best := math.Inf(1)
	for i, a := range marks {
		for _, b := range marks[i+1:] {
			angle := math.Abs(math.Asin(a.At.Sub(at).Unit().Cross(b.At.Sub(at).Unit())))
			cost := (a.At.Dist(at) + b.At.Dist(at)) / math.Sin(angle) // errors grow with the distance
			if !(cost < best) {
				continue
			}
			best, crossing, ok = cost, angle, true
			ties = [2]tie{{a.Part, a.At.Dist(at)}, {b.Part, b.At.Dist(at)}}
			side = "left"
			if _, offset := geo.AlongAcross(a.At, b.At, at); offset > 0 {
				side = "right"
			}
		}
	}
	return ties, side, crossing, ok
}

// landmarks returns the landmarks whose place is well known, the best first.
func landmarks(l *locate.Location) []locate.Spot {
	var marks []locate.Spot
	for _, s := range l.Spots {
		if s.Kind == asbuilt.Landmark {
			marks = append(marks, s)
		}
	}
	slices.SortStableFunc(marks, func(a, b locate.Spot) int { return cmp.Compare(a.Landmarks95, b.Landmarks95) })
	return marks
}

// tieWords says where a place is for two tapes.
func tieWords(l *locate.Location, at geo.Vec) string {
	ties, side, crossing, ok := tiesTo(l, at)
	if !ok {
		return "no two landmarks to tape it from"
	}
	u := l.Job.Settings.Unit
	warning := ""
	if crossing < flat {
		warning = fmt.Sprintf("; the tapes cross at %.0f° only, so that a slip of one counts much", crossing*180/math.Pi)
	}
	return fmt.Sprintf("%s from %s and %s from %s, %s of the line %s to %s%s",
		geo.FormatLength(ties[0].distance, u), landmarkName(l.Job.Sketch, ties[0].from),
		geo.FormatLength(ties[1].distance, u), landmarkName(l.Job.Sketch, ties[1].from),
		side, ties[0].from, ties[1].from, warning)
}
