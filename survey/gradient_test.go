package survey

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/adjust"
)

func smallSketch(trust asbuilt.Trust) *asbuilt.Sketch {
	s := &asbuilt.Sketch{Plane: asbuilt.Paper, Unit: geo.Metre, Ratio: 1, Trust: trust}
	add := func(id string, k asbuilt.Kind, f asbuilt.Form, v ...geo.Vec) {
		s.Parts = append(s.Parts, asbuilt.Part{ID: id, Kind: k, Shapes: []asbuilt.Shape{{Form: f, Vertices: v}}})
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

// Every gradient of every observation equation equals central differences.
func TestGradients(t *testing.T) {
	prepared, err := Prepare(smallSketch(asbuilt.Roughly))
	require.NoError(t, err)
	sheet, err := prepared.sheet(prepared.faults[0])
	require.NoError(t, err)
	d := sheet.drawing
	tb, err := sheet.at(d.scale)
	require.NoError(t, err)
	info, logDet, err := tb.of(usual)
	require.NoError(t, err)
	points := []point{{"P", 0.15}, {"Q", 0.15}, {"R", 0.15}}
	n := newNetwork(d, points, 1, [layUnknowns]float64{3, -2, 0.4, 0.05, 0.01}, [layUnknowns]float64{1, 1, 1, 1, 1}, info, logDet)
	p, q, r := holePlace(0), holePlace(1), holePlace(2)
	node := func(part string, spot asbuilt.Spot) place { return place(d.spots[SpotName{part, spot}]) }
	square := []geo.Vec{{X: 0.3, Y: 0.3}, {X: -0.3, Y: 0.3}, {X: -0.3, Y: -0.3}, {X: 0.3, Y: -0.3}}
	a, b, box, line := node("A", asbuilt.Center), node("B", asbuilt.Center), node("box", asbuilt.Center), d.lines["L2"]
	cases := map[string]observation{
		"distance":        {kind: distance, p: a, q: p, value: 7, sigma: 0.03},
		"distance, rise":  {kind: distance, p: a, q: b, value: 12, value2: 1.3, sigma: 0.03},
		"length":          {kind: length, line: line, value: 20, sigma: 0.15},
		"position":        {kind: position, p: b, value: 3, value2: 4, sigma: 1, sigma2: 2},
		"coincide":        {kind: coincide, p: p, q: box, sigma: 0.1, sigma2: 0.2},
		"on line":         {kind: onLine, p: p, line: line, sigma: 0.3, sigma2: 0.3},
		"on line, before": {kind: onLine, p: q, line: line, sigma: 0.3, sigma2: 0.3},
		"on line, beyond": {kind: onLine, p: r, line: line, sigma: 0.3, sigma2: 0.3},
		"beside line":     {kind: besideLine, p: p, line: line, value: 0.45, sigma: 0.1, sigma2: 0.3},
		"on edge":         {kind: onEdge, p: p, q: box, outline: square, sigma: 0.08},
		"on corner":       {kind: onCorner, p: p, q: box, outline: square, sigma: 0.08, sigma2: 0.08},
		"station":         {kind: stationOf, p: a, q: b, r: p, value: 5, sigma: 0.05},
		"offset":          {kind: offsetOf, p: a, q: b, r: p, value: 5, sigma: 0.05},
		"direction":       {kind: direction, p: a, q: p, value: 1, sigma: 0.03},
		"direction, mag":  {kind: direction, p: a, q: b, value: 1, sigma: 0.03, compass: true},
		"within, short":   {kind: within, p: a, q: b, value: 30, sigma: 0.2, sigma2: 2},
		"within, long":    {kind: within, p: a, q: b, value: 3, sigma: 0.2, sigma2: 2},
		"tied":            {kind: tied, p: a, q: box, outline: square, value: 10, sigma: 0.15},
	}
	rng := rand.New(rand.NewPCG(1, 2))
	y := make([]float64, n.size)
	for i := range y {
		y[i] = 0.1 * rng.NormFloat64()
	}
	copy(y[n.lay:], []float64{3, -2, 0.4, 0.05, 0.01})
	n.place(y)
	mid := n.at[line[0]].Lerp(n.at[line[1]], 0.4)
	dir := n.at[line[1]].Sub(n.at[line[0]]).Unit()
	set := func(i int, v geo.Vec) { y[2*i], y[2*i+1] = v.X, v.Y }
	set(0, mid.Add(dir.Right().Scale(0.3)))
	set(1, n.at[line[0]].Sub(dir.Scale(0.7)).Add(dir.Right().Scale(0.2)))
	set(2, n.at[line[2]].Add(dir.Scale(0.9)).Sub(dir.Right().Scale(0.1)))
	seen := map[equationKind]bool{}
	for name, o := range cases {
		t.Run(name, func(t *testing.T) {
			seen[o.kind] = true
			o.session = 0
			n.observations = []observation{o}
			at := func(y []float64) (rows adjust.Rows) {
				adjust.Linearize(n, y, &rows)
				return rows
			}
			rows := at(y)
			require.Equal(t, equations[o.kind].rows, rows.Len())
			for k := range rows.Len() {
				index, coef := rows.Row(k)
				got := make([]float64, n.size)
				for j, u := range index {
					got[u] = coef[j]
				}
				for u := range y {
					const h = 1e-6
					up, down := append([]float64(nil), y...), append([]float64(nil), y...)
					up[u] += h
					down[u] -= h
					a, b := at(up), at(down)
					want := -(a.Misclosure(k) - b.Misclosure(k)) / (2 * h)
					// The axes along and across a line, and how an outline turns,
					// are held fixed within a step: see the equations.
					tolerance := 1e-6 * (1 + math.Abs(want))
					if o.kind == onEdge || o.kind == onCorner || o.kind == tied {
						if u >= n.lay && u < n.node {
							continue
						}
					}
					assert.InDelta(t, want, got[u], tolerance, "row %d, unknown %d", k, u)
				}
			}
		})
	}
	for k := range equations {
		assert.True(t, seen[equationKind(k)], "equation %d has no case", k)
	}
}
