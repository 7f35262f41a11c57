package asbuilt_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
)

func line(x ...float64) []asbuilt.Shape {
	s := asbuilt.Shape{Form: asbuilt.Line}
	for i := 0; i+1 < len(x); i += 2 {
		s.Vertices = append(s.Vertices, asbuilt.Position{X: x[i], Y: x[i+1]})
	}
	return []asbuilt.Shape{s}
}

func point(x, y float64) []asbuilt.Shape {
	return []asbuilt.Shape{{Form: asbuilt.Point, Vertices: []asbuilt.Position{{X: x, Y: y}}}}
}

// good returns an invented sketch without fault.
func good() *asbuilt.Sketch {
	return &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Foot, Ratio: 1, Trust: asbuilt.ToScale, Parts: []asbuilt.Part{
		{ID: "A", Kind: asbuilt.Landmark, Shapes: point(0, 0), Feature: 1},
		{ID: "D1", Kind: asbuilt.Box, Shapes: point(30, 0), Feature: 2},
		{ID: "D2", Kind: asbuilt.Box, Shapes: point(30, 50), Feature: 3},
		{ID: "L1", Kind: asbuilt.Lateral, Shapes: line(31, 0, 91, 0), Feature: 4},
		{ID: "L2", Kind: asbuilt.Lateral, From: "D1", Shapes: line(31, 48, 91, 48), Feature: 5,
			Ties: []asbuilt.Tie{{At: asbuilt.End, From: "A", Distance: geo.Length{Metres: 31, Written: "31 m", Unit: geo.Metre}}}},
		{ID: "P", Kind: asbuilt.Port, Of: "L2", Shapes: point(91, 48), Feature: 6},
	}}
}

func TestCheckGood(t *testing.T) { assert.Empty(t, good().Check("s")) }

// TestCheck breaks the good sketch in ways that no file can express, and in
// ways that a file can but where the message differs. The rest is tested
// through asbuilt/geojson.
func TestCheck(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(*asbuilt.Sketch)
		want  string
	}{
		{"point without vertex", func(s *asbuilt.Sketch) { s.Parts[0].Shapes[0].Vertices = nil }, `s, feature 1 "A", geometry.coordinates: found 0 vertices; want 1 of a Point`},
		{"point of two", func(s *asbuilt.Sketch) { s.Parts[0].Shapes[0].Vertices = make([]asbuilt.Position, 2) }, `s, feature 1 "A", geometry.coordinates: found 2 vertices; want 1 of a Point`},
		{"line of one", func(s *asbuilt.Sketch) { s.Parts[3].Shapes = line(1, 2) }, `s, feature 4 "L1", geometry.coordinates: found 1 vertices; want 2 of a LineString`},
		{"no number", func(s *asbuilt.Sketch) { s.Parts[1].Shapes = point(math.NaN(), 0) }, `s, feature 2 "D1", geometry.coordinates: found [NaN, 0]; want coordinates between -1e+07 and 1e+07`},
		{"outlets", func(s *asbuilt.Sketch) { s.Parts[1].Outlets = -1 }, `s, feature 2 "D1", properties.outlets: found -1; want a whole number from 1 to 100`},
		{"grade no number", func(s *asbuilt.Sketch) { g := math.NaN(); s.Parts[3].Grade = &g }, `s, feature 4 "L1", properties.grade: found NaN; want fall over length, 0 to 0.1: 0.005 is 0.5 %, or 6 in in 100 ft`},
		{"no id", func(s *asbuilt.Sketch) { s.Parts[1].ID = "" }, "s, feature 2, id: found none; want an id, unique in the sketch, such as L1"},
		{"tie to a corner of a lateral", func(s *asbuilt.Sketch) { s.Parts[4].Ties[0].At = asbuilt.Corner }, `s, feature 5 "L2", properties.ties[0].at: found "corner"; want start or end: the spots that a lateral has ties to`},
		{"length no number", func(s *asbuilt.Sketch) { s.Parts[3].Length = &geo.Length{Metres: math.NaN(), Written: "?"} }, `s, feature 4 "L1", properties.length: found "?"; want a length above zero, at most 100 km`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := good()
			tt.spoil(s)
			problems := s.Check("s")
			require.NotEmpty(t, problems)
			assert.Equal(t, tt.want, problems[0].String())
		})
	}
}

// TestCheckEnds holds that Check gives up on a sketch of nothing but faults.
func TestCheckEnds(t *testing.T) {
	s := &asbuilt.Sketch{Parts: make([]asbuilt.Part, 5000)}
	for i := range s.Parts {
		s.Parts[i] = asbuilt.Part{Kind: asbuilt.Lateral, From: "D9", Feature: i + 1, Shapes: line(0, 0, 1, 1)}
	}
	assert.InDelta(t, 1000, len(s.Check("s")), 5)
}

func TestBoxOf(t *testing.T) {
	s := good()
	assert.Equal(t, "D1", s.BoxOf(s.Part("L1")).ID, "the nearest to its start")
	assert.Equal(t, "D1", s.BoxOf(s.Part("L2")).ID, "the one it names, though another is nearer")
	assert.Nil(t, s.BoxOf(s.Part("A")), "no lateral")
	assert.Nil(t, s.BoxOf(nil))
	s.Part("L2").From = "A"
	assert.Nil(t, s.BoxOf(s.Part("L2")), "what it names is no box")
	s.Parts = s.Parts[3:4]
	assert.Nil(t, s.BoxOf(&s.Parts[0]), "no box at all")
}

func TestShapeLength(t *testing.T) {
	assert.Equal(t, 7.0, line(0, 0, 3, 0, 3, 4)[0].Length())
	square := asbuilt.Shape{Form: asbuilt.Polygon, Vertices: []asbuilt.Position{{}, {X: 2}, {X: 2, Y: 2}, {Y: 2}}}
	assert.Equal(t, 8.0, square.Length(), "the perimeter")
	assert.Zero(t, point(1, 1)[0].Length())
}

func TestForms(t *testing.T) {
	for _, k := range asbuilt.Kinds() {
		forms, _ := k.Forms()
		assert.NotEmpty(t, forms, k)
	}
	assert.Equal(t, "Form(9)", asbuilt.Form(9).String())
}
