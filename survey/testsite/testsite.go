// Package testsite is a small invented lot, and logs of it as a crew would
// write them: for tests of all that reads a job.
package testsite

import (
	"fmt"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// Sketch returns the sheet of the lot: a house with corners A to D, a tank, a
// box, four laterals with a vertex in the middle, and a header.
func Sketch(trust asbuilt.Trust) *asbuilt.Sketch {
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: trust}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: asbuilt.Positions(v...)}}})
	}
	for i, v := range []geo.Vec{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 9}, {X: 0, Y: 9}} {
		add(string(rune('A'+i)), asbuilt.Landmark, asbuilt.Point, v)
	}
	add("tank", asbuilt.Tank, asbuilt.Polygon, geo.Vec{X: 4, Y: -4}, geo.Vec{X: 6.5, Y: -4}, geo.Vec{X: 6.5, Y: -2.5}, geo.Vec{X: 4, Y: -2.5})
	add("box", asbuilt.Box, asbuilt.Point, geo.Vec{X: 2, Y: -10})
	for k := range 4 {
		y := -7 - 2.4*float64(k)
		add(fmt.Sprintf("L%d", k+1), asbuilt.Lateral, asbuilt.Line, geo.Vec{X: 4, Y: y}, geo.Vec{X: 14, Y: y - 0.2}, geo.Vec{X: 24, Y: y})
	}
	add("H", asbuilt.Header, asbuilt.Line, geo.Vec{X: 5, Y: -4}, geo.Vec{X: 2, Y: -10})
	return s
}

// Metres returns a length in metres.
func Metres(v float64) *geo.Length { return &geo.Length{Metres: v, Unit: geo.Metre} }

// Taped returns a job with a few tapes and holes on the sheet.
func Taped() *survey.Job {
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: Sketch(asbuilt.Roughly)}
	add := func(r survey.Reading) {
		r.ID = "r" + string(rune('a'+len(j.Readings)))
		j.Readings = append(j.Readings, r)
	}
	tape := func(from, to string, d float64) {
		add(survey.Reading{Kind: survey.Tape, From: from, To: to, Value: Metres(d)})
	}
	tape("A", "B", 12.02)
	tape("A", "C", 15.01)
	tape("B", "D", 14.98)
	tape("A", "H1", 17.00)
	tape("B", "H1", 9.78)
	tape("D", "H1", 23.30)
	add(survey.Reading{Kind: survey.Found, Point: "H1", Target: "L2"})
	tape("A", "H2", 26.77)
	tape("B", "H2", 16.86)
	add(survey.Reading{Kind: survey.Found, Point: "H2", Target: "L3", Spot: asbuilt.End})
	return j
}

// Braced returns a job on a correctly drawn sheet, with four holes that four
// tapes each place, as a crew writes them: feet and inches. It returns an error
// if a length does not read back as it was written.
func Braced() (*survey.Job, error) {
	j := &survey.Job{Settings: survey.DefaultSettings(), Sketch: Sketch(asbuilt.Roughly)}
	var failed error
	add := func(r survey.Reading) {
		r.ID = fmt.Sprintf("r%02d", len(j.Readings)+2)
		j.Readings = append(j.Readings, r)
	}
	corner := map[string]geo.Vec{"A": {X: 0, Y: 0}, "B": {X: 12, Y: 0}, "C": {X: 12, Y: 9}, "D": {X: 0, Y: 9}}
	tape := func(from, to string, a, b geo.Vec) {
		l, err := geo.ParseLength(geo.FormatLength(a.Dist(b), geo.Foot), geo.Foot)
		if err != nil {
			failed = err
		}
		add(survey.Reading{Kind: survey.Tape, From: from, To: to, Value: &l})
	}
	for _, w := range []string{"AB", "BC", "CD", "DA", "AC", "BD"} {
		tape(w[:1], w[1:], corner[w[:1]], corner[w[1:]])
	}
	for i, h := range []struct {
		at     geo.Vec
		target string
		spot   asbuilt.Spot
	}{{geo.Vec{X: 10, Y: -7.12}, "L1", ""}, {geo.Vec{X: 16, Y: -9.56}, "L2", ""}, {geo.Vec{X: 24, Y: -11.8}, "L3", asbuilt.End}, {geo.Vec{X: 8, Y: -14.28}, "L4", ""}} {
		name := fmt.Sprintf("H%d", i+1)
		for _, c := range []string{"A", "B", "C", "D"} {
			tape(c, name, corner[c], h.at)
		}
		add(survey.Reading{Kind: survey.Found, Point: name, Target: h.target, Spot: h.spot})
	}
	return j, failed
}

// Part returns a part that is drawn where it lies, on a sheet in metres.
func Part(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) asbuilt.Part {
	return asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: asbuilt.Positions(v...)}}}
}

// Landmark returns a landmark at (x, y), metres.
func Landmark(id string, x, y float64) asbuilt.Part {
	return Part(id, asbuilt.Landmark, asbuilt.Point, geo.Vec{X: x, Y: y})
}

// Box returns a box of a side, about (x, y), metres.
func Box(id string, side, x, y float64) asbuilt.Part {
	p := Part(id, asbuilt.Box, asbuilt.Point, geo.Vec{X: x, Y: y})
	p.Size = Metres(side)
	return p
}

// Trench returns a lateral of a width in metres along places.
func Trench(id string, width float64, v ...geo.Vec) asbuilt.Part {
	p := Part(id, asbuilt.Lateral, asbuilt.Line, v...)
	p.Width = Metres(width)
	return p
}
