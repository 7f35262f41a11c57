package observe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/observe"
)

// What a tired person writes wrong about a transmitter, a strip on the surface or a
// cable.
func TestPushedAndSeenThatCannotBe(t *testing.T) {
	v := func(metres float64) *geo.Length { return &geo.Length{Metres: metres} }
	sonde := func(point, target string) survey.Reading {
		return survey.Reading{Kind: survey.Sonde, Point: point, Target: target, Depth: v(0.6)}
	}
	sign := func(from, to, target string) survey.Reading {
		return survey.Reading{Kind: survey.Sign, From: from, To: to, Target: target}
	}
	cable := func(from, to string, metres float64) survey.Reading {
		return survey.Reading{Kind: survey.Cable, From: from, To: to, Value: v(metres)}
	}
	for name, tt := range map[string]struct {
		r    survey.Reading
		want string
	}{
		"at the box":               {sonde("H1", "box"), ""},
		"at an end":                {sonde("H1", "L2.end"), ""},
		"in a lateral":             {sonde("H1", "L2"), ""},
		"in some lateral":          {sonde("H1", "lateral"), ""},
		"in a pipe":                {sonde("H1", "pipe"), ""},
		"in a header not drawn":    {sonde("H1", "header"), ""},
		"target misspelt":          {sonde("H1", "L3"), `target: found "L3"; want a part of the sketch (box, L1, L2, T1, T2) or a kind (box, lateral, tank, header, pipe)`},
		"spot misspelt":            {sonde("H1", "L2.ned"), `target: found "L2.ned"; want L2.start or L2.end`},
		"the end of a box":         {sonde("H1", "box.end"), `target: found "box.end"; want box alone`},
		"one of several tanks":     {sonde("H1", "tank"), `target: found "tank"; want the id of one of the 2: a part of the sketch`},
		"a landmark":               {sonde("H1", "A"), `target: found "A"; want a part of the sketch`},
		"a point nothing places":   {sonde("S1", "box"), `point: found "S1"; want a stake or a hole that a row of the log places, such as a tape`},
		"nearly that name":         {sonde("h1", "box"), `did you mean H1?`},
		"at a landmark":            {sonde("A", "box"), `point: found "A"; want a stake of the log under which it was located, such as S1; A is a landmark of the sketch`},
		"at a line":                {sonde("L1", "box"), `L1 is a lateral, which is no single point`},
		"a strip":                  {sign("H1", "H0", "lateral"), ""},
		"a strip of one point":     {sign("H1", "H1", "lateral"), `to: found "H1"; want another point than from`},
		"a strip over a box":       {sign("H1", "H0", "box"), `target: found "box"; want a part of the sketch (L1, L2) or a kind (lateral, header)`},
		"a strip to nowhere":       {sign("H1", "H7", "L1"), `to: found "H7"; want a hole or a stake that a row of the log places`},
		"a cable to the box":       {cable("T1", "box", 12), ""},
		"a cable to an end":        {cable("box", "L2.end", 20), ""},
		"a cable to a hole":        {cable("box", "H1", 20), ""},
		"a cable to a line":        {cable("box", "L2", 20), `L2 is a lateral, which is no single point`},
		"a cable past all lots":    {cable("box", "L2.end", 130), `want the length of cable in the pipe, at most 120 m (394 ft); is the unit right?`},
		"a cable round":            {cable("box", "box", 4), `to: found "box"; want another place than from`},
		"a cable from which tank":  {cable("tank", "box", 4), `from: found "tank"; want the id of one part or of an end (box, T1, T2, L2.start, L2.end and the like), a hole or a stake`},
		"a cable to no such place": {cable("box", "L2.middle", 4), `to: found "L2.middle"; want L2.start or L2.end`},
		"a cable from a lateral":   {cable("lateral", "box", 4), `from: found "lateral"; want the id of one part`},
	} {
		t.Run(name, func(t *testing.T) {
			j := directed()
			for _, id := range []string{"T1", "T2"} {
				j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: id, Kind: asbuilt.Tank, Shapes: []asbuilt.Shape{{Form: asbuilt.Point, Vertices: asbuilt.Positions(geo.Vec{X: 2, Y: -1})}}})
			}
			tt.r.ID = "y"
			j.Readings = append(j.Readings, tt.r)
			problems := observe.Check(j)
			if tt.want == "" {
				assert.Empty(t, problems)
				return
			}
			assert.Len(t, problems, 1)
			assert.Contains(t, problems.Error(), tt.want)
		})
	}
}

// An end of a line and the kind of the only tank are places of the sketch for a
// cable, and no new points.
func TestCableMakesNoPoint(t *testing.T) {
	j := directed()
	j.Readings = append(j.Readings, survey.Reading{ID: "y", Kind: survey.Cable, From: "box", To: "L2.end", Value: &geo.Length{Metres: 16}})
	before := len(observe.NewLog(directed()).Points)
	assert.Len(t, observe.NewLog(j).Points, before)
}
