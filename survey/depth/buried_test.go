package depth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

func TestTankAndHeader(t *testing.T) {
	f := newField(3, 20, 2.4, 0.61)
	tank := geo.Vec{X: -10, Y: -2.4}
	f.spots["tank"] = tank
	f.lines["H1"] = []geo.Vec{{X: -8.7, Y: -2.4}, {X: -1.8, Y: -2.4}}
	f.job.Sketch.Parts = append(f.job.Sketch.Parts,
		asbuilt.Part{ID: "tank", Kind: asbuilt.Tank, Shapes: []asbuilt.Shape{{Form: asbuilt.Point, Vertices: asbuilt.Positions(tank)}}},
		asbuilt.Part{ID: "H1", Kind: asbuilt.Header, Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: asbuilt.Positions(f.lines["H1"]...)}}})
	for _, id := range []string{"L1", "L2", "L3"} {
		f.found(id, 0, 1.1, survey.Crown)
	}
	for _, v := range []geo.Vec{tank, f.spots["box"], f.spot("L1", 0), f.spot("L3", 1)} {
		f.level(v, 5)
	}
	m := solve(t, f)
	upper, lower := m.ask(t, f, "H1", 0, ""), m.ask(t, f, "H1", 1, "")
	assert.Equal(t, survey.Crown, upper.Feature)
	assert.Less(t, upper.Mean, lower.Mean, "it falls from the tank to the box")
	assert.InDelta(t, practice.HeaderGrade.Mean*6.9, lower.Mean-upper.Mean, 0.06)
	_, ok := m.At("tank", tank, "")
	assert.True(t, ok)
}

// Laterals without a box still lie level with one another; those of a drop box
// never do.
func TestWithoutBoxAndDropBox(t *testing.T) {
	sigma := func(change func(*field)) float64 {
		f := newField(4, 20, 2.4, math.NaN())
		change(f)
		for _, id := range []string{"L1", "L2"} {
			f.found(id, 0, 1, survey.Crown)
			f.level(f.spot(id, 0), 7)
		}
		f.level(f.spot("L3", 0), 7)
		return solve(t, f).ask(t, f, "L3", 0, survey.Crown).Sigma
	}
	box := sigma(func(*field) {})
	none := sigma(func(f *field) {
		f.job.Sketch.Parts = f.job.Sketch.Parts[1:]
		for i := range f.job.Sketch.Parts {
			f.job.Sketch.Parts[i].From = ""
		}
	})
	drop := sigma(func(f *field) { f.job.Sketch.Parts[0].BoxKind = asbuilt.Drop })
	assert.InDelta(t, box, none, 0.03)
	assert.Greater(t, drop, 1.5*box)
}

// A header whose ends meet nothing, or one part only, falls by its grade.
func TestLooseHeaders(t *testing.T) {
	for _, tt := range []struct {
		name string
		line []geo.Vec
	}{
		{"from the box", []geo.Vec{{X: -1.8, Y: -2.4}, {X: -12, Y: -2.4}}},
		{"to the box", []geo.Vec{{X: -12, Y: -2.4}, {X: -1.8, Y: -2.4}}},
		{"to nothing", []geo.Vec{{X: -40, Y: -2.4}, {X: -29.8, Y: -2.4}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := newField(3, 20, 2.4, 0.61)
			f.lines["H"] = tt.line
			f.job.Sketch.Parts = append(f.job.Sketch.Parts, asbuilt.Part{ID: "H", Kind: asbuilt.Header, Cover: metres(0.61),
				Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: asbuilt.Positions(tt.line...)}}})
			for _, v := range tt.line {
				f.level(v, 3)
			}
			m := solve(t, f)
			fall := m.ask(t, f, "H", 1, "").Mean - m.ask(t, f, "H", 0, "").Mean
			assert.InDelta(t, practice.HeaderGrade.Mean*10.2, fall, 0.03)
			assert.Equal(t, m.ask(t, f, "H", 0.5, survey.Crown), m.ask(t, f, "H", 0.5, ""))
		})
	}
}
