package observe_test

import (
	"testing"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

// siteOf returns the frame about the first fix of the examples.
func siteOf(t *testing.T) *geodesy.Site {
	t.Helper()
	p, err := geodesy.New(-79.9, 37.2)
	if err != nil {
		t.Fatal(err)
	}
	return geodesy.NewSite(p, 0)
}

// A hole at the start or end of a trench: 0.15 m along it, a quarter of its
// width across. The trench runs from (0, 0) to (30, 40), so e = (0.6, 0.8) and
// right of it (0.8, −0.6); the hole is at (3, −1), 1.8 − 0.8 = 1 along and 2.4
// + 0.6 = 3 across. Places after the adjustment of all these sites:
// testdata/reference/equations.py.
func TestHoleAtAnEnd(t *testing.T) {
	l := []asbuilt.Part{testsite.Trench("L", 1.2, geo.Vec{}, geo.Vec{X: 30, Y: 40})}
	try(t, []little.Site{
		{
			Name: "hole at a start", Parts: l, Sigma: map[string]float64{"L": 0.4}, Points: map[string]little.Known{"P": {3, -1, 0.2}},
			Readings: []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: "L", Spot: asbuilt.Start}},
			Off:      map[string][]float64{"r": {-1, -3}},
		},
		{
			Name: "hole at an end", Parts: l, Sigma: map[string]float64{"L": 0.4}, Points: map[string]little.Known{"P": {30.6, 40.8, 0.2}},
			Readings: []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: "L", Spot: asbuilt.End}},
			Off:      map[string][]float64{"r": {-1, 0}},
		},
	})
}

// A hole that met a trench between its ends: across it anywhere within half
// the width of the trench and the radius of the hole (0.3 + 0.15 m), uniform,
// so σ = 0.45/√3; past an end it is drawn back with σ = 0.3 m. The trench runs
// 10 m north from the origin.
func TestHoleOnATrench(t *testing.T) {
	l := []asbuilt.Part{testsite.Trench("L", 0.6, geo.Vec{}, geo.Vec{Y: 10})}
	bent := []asbuilt.Part{testsite.Trench("L", 0.6, geo.Vec{}, geo.Vec{Y: 10}, geo.Vec{X: 10, Y: 10})}
	sigma := map[string]float64{"L": 0.4}
	on := []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: "L"}}
	at := func(x, y float64) map[string]little.Known { return map[string]little.Known{"P": {x, y, 0.1}} }
	try(t, []little.Site{
		{Name: "hole on a trench, right of it", Parts: l, Sigma: sigma, Points: at(0.5, 4), Readings: on,
			Off: map[string][]float64{"r": {-0.5, 0}}},
		{Name: "hole on a trench, left of it, past its end", Parts: l, Sigma: sigma, Points: at(-0.5, 11), Readings: on,
			Off: map[string][]float64{"r": {0.5, -1}}},
		{Name: "hole on a trench, before its start", Parts: l, Sigma: sigma, Points: at(0.2, -0.7), Readings: on,
			Off: map[string][]float64{"r": {-0.2, 0.7}}},
		{Name: "hole on a trench, the nearer leg", Parts: bent, Sigma: sigma, Points: at(6, 9.6), Readings: on,
			Off: map[string][]float64{"r": {-0.4, 0}}},
	})
}

// A hole at the side of a trench lies half its width, 0.3 m, off its line, on
// the side where the hole is.
func TestHoleAtTheEdgeOfATrench(t *testing.T) {
	l := []asbuilt.Part{testsite.Trench("L", 0.6, geo.Vec{}, geo.Vec{Y: 10})}
	sigma := map[string]float64{"L": 0.4}
	edge := []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: "L", Spot: asbuilt.Edge}}
	at := func(x, y float64) map[string]little.Known { return map[string]little.Known{"P": {x, y, 0.1}} }
	try(t, []little.Site{
		{Name: "hole at an edge of a trench, right of it", Parts: l, Sigma: sigma, Points: at(0.5, 4), Readings: edge,
			Off: map[string][]float64{"r": {-0.2, 0}}},
		{Name: "hole at an edge of a trench, left of it", Parts: l, Sigma: sigma, Points: at(-0.5, 4), Readings: edge,
			Off: map[string][]float64{"r": {0.2, 0}}},
		{Name: "hole at an edge of a trench, too near on the right", Parts: l, Sigma: sigma, Points: at(0.1, 4), Readings: edge,
			Off: map[string][]float64{"r": {0.2, 0}}},
	})
}

// Holes at a box of 0.6 m about (5, 5) and at a tank about (5, 9.5): at the
// middle; or somewhere, at a side, at a corner, nobody saying which, where the
// Gaussian that stands for it is about the middle, and as wide as equations.py
// has it.
func TestHoleAtABox(t *testing.T) {
	b := []asbuilt.Part{testsite.Box("box", 0.6, 5, 5)}
	tank := []asbuilt.Part{testsite.Part("tank", asbuilt.Tank, asbuilt.Polygon, geo.Vec{X: 4, Y: 9}, geo.Vec{X: 6, Y: 9}, geo.Vec{X: 6, Y: 10}, geo.Vec{X: 4, Y: 10})}
	sigma := map[string]float64{"box": 0.4, "tank": 0.4}
	met := func(target string, s asbuilt.Spot) []survey.Reading {
		return []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: target, Spot: s}}
	}
	at := func(x, y float64) map[string]little.Known { return map[string]little.Known{"P": {x, y, 0.1}} }
	try(t, []little.Site{
		{Name: "hole at a box, its middle", Parts: b, Sigma: sigma, Points: at(5.5, 4.8), Readings: met("box", asbuilt.Center),
			Off: map[string][]float64{"r": {-0.5, -0.2}}}, // along east, across south
		{Name: "hole at a box, somewhere on it", Parts: b, Sigma: sigma, Points: at(5.5, 5.1), Readings: met("box", "")},
		{Name: "hole at a box, somewhere on it", Parts: b, Sigma: sigma, Points: at(5.5, 5.1), Readings: met("box", asbuilt.On)},
		{Name: "hole at a box, some side", Parts: b, Sigma: sigma, Points: at(5.5, 5.1), Readings: met("box", asbuilt.Edge)},
		{Name: "hole at a box, some corner", Parts: b, Sigma: sigma, Points: at(5.4, 5.5), Readings: met("box", asbuilt.Corner)},
		{Name: "hole at a box, the middle of a tank", Parts: tank, Sigma: sigma, Points: at(5.5, 9.3), Readings: met("tank", asbuilt.Center),
			Off: map[string][]float64{"r": {-0.5, -0.2}}},
		{Name: "hole at a box, some side of a tank", Parts: tank, Sigma: sigma, Points: at(5.5, 8.7), Readings: met("tank", asbuilt.Edge)},
	})
}
