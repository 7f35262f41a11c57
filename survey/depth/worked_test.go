package depth

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// worked is a box at the origin, a tank above it, a header to the start of one
// lateral with a recorded cover of 0.6 m, three level shots, and one crown that
// was met. Every part may lie 0.5 m off in plan.
func worked() *field {
	box, tank := geo.Vec{}, geo.Vec{X: -8, Y: 3}
	f := &field{&plan{
		spots:  map[string]geo.Vec{"box": box, "tank": tank},
		lines:  map[string][]geo.Vec{"L": {{X: 10.3}, {X: 30.3}}, "H": {box, {X: 10.3}}},
		points: map[string]geo.Vec{}, met: map[string]string{}, sigma: 0.5,
	}, &survey.Job{Sketch: &asbuilt.Sketch{}}}
	point := func(v geo.Vec) []asbuilt.Shape {
		return []asbuilt.Shape{{Form: asbuilt.Point, Vertices: asbuilt.Positions(v)}}
	}
	line := func(id string) []asbuilt.Shape {
		return []asbuilt.Shape{{Form: asbuilt.Line, Vertices: asbuilt.Positions(f.lines[id]...)}}
	}
	f.job.Sketch.Parts = []asbuilt.Part{
		{ID: "box", Kind: asbuilt.Box, Shapes: point(box)},
		{ID: "L", Kind: asbuilt.Lateral, From: "box", Bed: asbuilt.Gravel, Shapes: line("L"), Cover: metres(0.6)},
		{ID: "H", Kind: asbuilt.Header, Shapes: line("H")},
		{ID: "tank", Kind: asbuilt.Tank, Shapes: point(tank)},
	}
	f.level(box, 10.0)
	f.level(geo.Vec{X: 10.3}, 10.1)
	f.level(geo.Vec{X: 30.3}, 10.2)
	f.found("L", 0.25, 0.95, survey.Crown)
	return f
}

// Every depth of a small field against testdata/reference/depths.py, which
// conditions one joint Gaussian of all latents and places for each supposition,
// with NumPy, and weighs them by their evidence.
func TestDepthsAgainstNumPy(t *testing.T) {
	b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "depths.json"))
	require.NoError(t, err)
	var want map[string][2]float64
	require.NoError(t, json.Unmarshal(b, &want))
	require.Len(t, want, 12)
	f := worked()
	m := solve(t, f)
	places := map[string]geo.Vec{"box": {}, "L start": {X: 10.3}, "L end": {X: 30.3}, "H middle": {X: 5.15}, "H start": {}, "tank": {X: -8, Y: 3}}
	for name, w := range want {
		var d Depth
		ok := true
		switch name {
		case "fill":
			d.Mean, d.Sigma, _ = m.Fill()
		case "stepped":
			for i, b := range m.beliefs {
				if suppositions[i].structure == stepped {
					d.Mean += b.weight
				}
			}
		case "off the line":
			d, ok = m.At("L", geo.Vec{X: 20.3, Y: 4}, survey.Crown)
		default:
			i := strings.LastIndex(name, " ")
			part, _, _ := strings.Cut(name, " ")
			d, ok = m.At(part, places[name[:i]], survey.Feature(name[i+1:]))
		}
		require.True(t, ok, name)
		assert.InDelta(t, w[0], d.Mean, 2e-8, "%s, depth", name)
		assert.InDelta(t, w[1], d.Sigma, 2e-8, "%s, standard deviation", name)
	}
}

// Which way each pipe falls, by hand: on level ground the header runs 10 m from
// the wall of the box, at 1.5 % (IPC 704.1 has 1 to 2 %), so the lateral starts
// 0.15 m lower than the box's outlet, falls 0.002 · 20 = 0.04 m to its end, and
// the tank's outlet lies 0.015 · 8.54 + 0.03 = 0.16 m higher (1 in of fall
// through a box, Ramsey MN 8.30). The depths of features lie as far apart as the
// features.
func TestWhatFallsWhichWay(t *testing.T) {
	f := worked()
	f.job.Sketch.Parts[1].Cover = nil
	m := solve(t, f)
	var mean [4]float64
	for k := range m.beliefs {
		b := &m.beliefs[k]
		if suppositions[k].structure == stepped {
			continue
		}
		none := *b
		none.obs, none.weights = nil, nil // before anything is recorded
		for i, q := range []quantity{m.named["box"].invert, m.named["L"].at(geo.Vec{X: 10.3}), m.named["L"].at(geo.Vec{X: 30.3}), m.named["tank"].invert} {
			mean[i] = none.expect(&q)
		}
		assert.InDelta(t, -0.15, mean[1]-mean[0], 1e-9, "start of the lateral against the box")
		assert.InDelta(t, -0.04, mean[2]-mean[1], 1e-9, "end of the lateral against its start")
		assert.InDelta(t, 0.015*8.544003745+0.03, mean[3]-mean[0], 1e-9, "tank against the box")
	}
}
