package observe

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/testsite"
)

// Every gradient of every observation equation equals central differences.
func TestGradients(t *testing.T) {
	sketch := testsite.Sketch(asbuilt.Roughly)
	sheet := drawing.NewSheet(sketch, drawing.Hypotheses(sketch)[0])
	d := sheet.Drawing
	tb, err := sheet.At(d.Scale)
	require.NoError(t, err)
	info, logDet, err := tb.Of(drawing.Usual)
	require.NoError(t, err)
	log := &Log{Points: []Point{{"P", 0.15}, {"Q", 0.15}, {"R", 0.15}}, SessionSigma: []float64{1}}
	n := NewNetwork(log, d, Layout{Mean: [LayUnknowns]float64{3, -2, 0.4, 0.05, 0.01}, Sigma: [LayUnknowns]float64{1, 1, 1, 1, 1}}, info, logDet)
	p, q, r := HolePlace(0), HolePlace(1), HolePlace(2)
	node := func(part string, spot asbuilt.Spot) Place {
		return Place(d.Spots[asbuilt.SpotName{Part: part, Spot: spot}])
	}
	var square []drawing.Drawn
	for _, v := range []geo.Vec{{X: 0.3, Y: 0.3}, {X: -0.3, Y: 0.3}, {X: -0.3, Y: -0.3}, {X: 0.3, Y: -0.3}} {
		square = append(square, drawing.At(v))
	}
	a, b, box, line := node("A", asbuilt.Center), node("B", asbuilt.Center), node("box", asbuilt.Center), d.Lines["L2"]
	at := func(p Place) meeting { return meeting{hole: p} }
	cases := map[string]Observation{
		"distance":        &distance{pair: pair{a, p}, value: 7, sigma: 0.03},
		"distance, rise":  &distance{pair: pair{a, b}, value: 12, rise: 1.3, sigma: 0.03},
		"length":          &length{line: line, value: 20, sigma: 0.15},
		"position":        &position{at: b, fix: geo.Vec{X: 3, Y: 4}, sigma: [2]float64{1, 2}},
		"spot":            &spotMet{meeting: at(p), spot: box, sigma: [2]float64{0.1, 0.2}},
		"on line":         &lineMet{meeting: at(p), line: line, sigma: 0.3},
		"on line, before": &lineMet{meeting: at(q), line: line, sigma: 0.3},
		"on line, beyond": &lineMet{meeting: at(r), line: line, sigma: 0.3},
		"beside line":     &lineMet{meeting: at(p), line: line, off: 0.45, sigma: 0.1},
		"baseline":        &offsets{pair: pair{a, b}, point: p, station: 5, offset: 5, sigmaStation: 0.05, sigmaOffset: 0.05, r: &survey.Reading{}},
		"direction":       &direction{pair: pair{a, p}, value: 1, sigma: 0.03},
		"direction, mag":  &direction{pair: pair{a, b}, value: 1, sigma: 0.03, magnetic: true},
		"within, short":   &within{pair: pair{a, b}, value: 30, sigma: 0.2, sigmaUsual: 2},
		"within, long":    &within{pair: pair{a, b}, value: 3, sigma: 0.2, sigmaUsual: 2},
		"within, a box":   &within{pair: pair{p, box}, value: 3, inside: 0.3, sigma: 0.2, sigmaUsual: 2},
		"sonde":           &located{spotMet{meeting: at(p), spot: box, sigma: [2]float64{0.1, 0.2}}},
		"corner tie":      &cornerTie{pair: pair{a, box}, outline: square, value: 10, sigma: 0.15},
	}
	rng := rand.New(rand.NewPCG(1, 2))
	y := make([]float64, n.Size)
	for i := range y {
		y[i] = 0.1 * rng.NormFloat64()
	}
	copy(y[n.Lay:], []float64{3, -2, 0.4, 0.05, 0.01})
	lies := n.At(y)
	mid := lies.node[line[0]].Lerp(lies.node[line[1]], 0.4)
	dir := lies.node[line[1]].Sub(lies.node[line[0]]).Unit()
	set := func(i int, v geo.Vec) { y[2*i], y[2*i+1] = v.X, v.Y }
	set(0, mid.Add(dir.Right().Scale(0.3)))
	set(1, lies.node[line[0]].Sub(dir.Scale(0.7)).Add(dir.Right().Scale(0.2)))
	set(2, lies.node[line[2]].Add(dir.Scale(0.9)).Sub(dir.Right().Scale(0.1)))
	seen := map[reflect.Type]bool{}
	for name, o := range cases {
		t.Run(name, func(t *testing.T) {
			seen[reflect.TypeOf(o)] = true
			n := n.With([]Observation{o})
			at := func(y []float64) (rows adjust.Rows) {
				adjust.Linearize(n, y, &rows)
				return rows
			}
			rows := at(y)
			require.Len(t, n.Rows, rows.Len(), "each row is described")
			for k := range rows.Len() {
				index, coef := rows.Row(k)
				got := make([]float64, n.Size)
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
					switch o.(type) {
					case *cornerTie:
						if u >= n.Lay && u < n.Node {
							continue
						}
					}
					assert.InDelta(t, want, got[u], tolerance, "row %d, unknown %d", k, u)
				}
			}
		})
	}
	for _, o := range everyType(t) {
		assert.True(t, seen[o], "%v has no case", o)
	}
}

// everyType returns the types of observation that a job with a reading of every
// kind gives.
func everyType(t *testing.T) (all []reflect.Type) {
	j := testsite.Taped()
	add := func(r survey.Reading) {
		r.ID = "s" + string(rune('a'+len(j.Readings)))
		j.Readings = append(j.Readings, r)
	}
	v := testsite.Metres(5)
	add(survey.Reading{Kind: survey.GNSS, Point: "A", Accuracy: 3})
	add(survey.Reading{Kind: survey.Baseline, From: "A", To: "B", Point: "H1", Value: v, Offset: v})
	add(survey.Reading{Kind: survey.Bearing, From: "A", To: "B"})
	add(survey.Reading{Kind: survey.Cable, From: "A", To: "box", Value: v})
	add(survey.Reading{Kind: survey.Sonde, Point: "H1", Target: "box", Depth: v})
	for _, s := range []asbuilt.Spot{asbuilt.On, asbuilt.Center, asbuilt.Edge, asbuilt.Corner} {
		add(survey.Reading{Kind: survey.Found, Point: "H1", Target: "box", Spot: s})
	}
	p := j.Sketch.Part("L1")
	p.Length, p.Ties = v, []asbuilt.Tie{{At: asbuilt.End, From: "A", Distance: *v}}
	j.Sketch.Part("tank").Ties = []asbuilt.Tie{{At: asbuilt.Corner, From: "A", Distance: *v}}
	l := NewLog(j)
	used := map[survey.Kind]bool{}
	for _, o := range l.Observations(drawing.New(j.Sketch, drawing.Hypothesis{}), Explanation{}) {
		all = append(all, reflect.TypeOf(o))
		if o.Reading() >= 0 {
			used[l.Readings[o.Reading()].Kind] = true
		}
	}
	for _, k := range Kinds {
		assert.Equal(t, k.Observe != nil, used[k.Name], "%s: add a reading of it here", k.Name)
		assert.Equal(t, k.Observe != nil, len(k.Sigmas) > 0, "%s: a default standard deviation for what is observed", k.Name)
	}
	return all
}
