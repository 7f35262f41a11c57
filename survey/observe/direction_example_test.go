package observe_test

import (
	"testing"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

// Bearings, clockwise from north. Ghilani & Wolf, Adjustment Computations, ch.
// 15 (azimuths). A magnetic bearing is the true one less the declination, east
// positive (the rule of every compass manual: east is least): where the needle
// points 10° east of north, what lies at 45° is read as 35°. Places after the
// adjustment: testdata/reference/equations.py.
func TestBearings(t *testing.T) {
	a := []asbuilt.Part{testsite.Landmark("A", 0, 0)}
	points := map[string]little.Known{"P": {10, 10, 1}}
	sigma := map[string]float64{"A": 0.1}
	two := geo.Degrees(2)
	bearing := func(from, to string, degrees float64, n survey.North) []survey.Reading {
		return []survey.Reading{{ID: "r", Kind: survey.Bearing, From: from, To: to, Azimuth: geo.Degrees(degrees), North: n, SigmaA: &two}}
	}
	try(t, []little.Site{
		{
			// Read 2° more than computed: P turns clockwise about A, east and south.
			Name: "bearing, true", Parts: a, Sigma: sigma, Points: points, Readings: bearing("A", "P", 47, survey.TrueNorth),
			Off: map[string][]float64{"r": {2}},
		},
		{
			Name: "bearing, from the other end", Parts: a, Sigma: sigma, Points: points, Readings: bearing("P", "A", 224, survey.TrueNorth),
			Off: map[string][]float64{"r": {-1}},
		},
		{
			// 36° by the needle is 46° true. With the sign of the declination
			// wrong it would be 26°.
			Name: "bearing, declination 10° east", Parts: a, Sigma: sigma, Points: points, Declination: 10, Readings: bearing("A", "P", 36, survey.MagneticNorth),
			Off: map[string][]float64{"r": {1}},
		},
		{
			Name: "bearing, declination 12° west", Parts: a, Sigma: sigma, Points: points, Declination: -12, Readings: bearing("A", "P", 56, survey.MagneticNorth),
			Off: map[string][]float64{"r": {-1}},
		},
		{
			// Nothing is known of the declination but that it is 0 ± 8°.
			Name: "bearing, no declination given", Parts: a, Sigma: sigma, Points: points, Readings: bearing("A", "P", 48, survey.MagneticNorth),
			Off: map[string][]float64{"r": {3}},
		},
		{
			// 359° and 1° are 2° apart, not 358°.
			Name: "bearing, across north", Parts: a, Sigma: sigma, Points: map[string]little.Known{"P": {0.17455064928217585, 10, 1}}, Readings: bearing("A", "P", 359, survey.TrueNorth),
			Off: map[string][]float64{"r": {-2}},
		},
	})
}

// Station and offset on the line from A to B, + to the right. With A at the
// origin, B at (30, 40) and P at (24, 7): e = (0.6, 0.8), right of it (0.8,
// −0.6), so station 14.4 + 5.6 = 20 and offset 19.2 − 4.2 = 15. Ghilani & Wolf,
// Adjustment Computations, the line of known azimuth.
func TestBaseline(t *testing.T) {
	parts := []asbuilt.Part{testsite.Landmark("A", 0, 0), testsite.Landmark("B", 30, 40)}
	sigma := map[string]float64{"A": 0.1, "B": 0.2}
	read := func(station, offset float64) []survey.Reading {
		return []survey.Reading{{ID: "r", Kind: survey.Baseline, From: "A", To: "B", Point: "P", Value: testsite.Metres(station), Offset: testsite.Metres(offset), Sigma: testsite.Metres(0.1)}}
	}
	try(t, []little.Site{
		{
			Name: "baseline, to the right", Parts: parts, Sigma: sigma, Points: map[string]little.Known{"P": {24, 7, 0.5}}, Readings: read(20.5, 14.7),
			Off: map[string][]float64{"r": {0.5, -0.3}},
		},
		{
			// (0, 25): station 20, offset −15.
			Name: "baseline, to the left", Parts: parts, Sigma: sigma, Points: map[string]little.Known{"P": {0, 25, 0.5}}, Readings: read(19.8, -14.6),
			Off: map[string][]float64{"r": {-0.2, 0.4}},
		},
	})
}

// A cable is never shorter than the straight distance (σ = 0.15 m + 1 %), and
// that is 0.93 ± 0.07 of it (the engine's own figures, judgement). A and P are
// 12-16-20 apart.
func TestCable(t *testing.T) {
	a := []asbuilt.Part{testsite.Landmark("A", 0, 0)}
	read := func(d float64) []survey.Reading {
		return []survey.Reading{{ID: "r", Kind: survey.Cable, From: "A", To: "P", Value: testsite.Metres(d)}}
	}
	points := map[string]little.Known{"P": {12, 16, 1}}
	sigma := map[string]float64{"A": 0.1}
	try(t, []little.Site{
		{
			// Slack: the limit is silent, 0.93 × 25 = 23.25 draws P outward.
			Name: "cable, longer than the way", Parts: a, Sigma: sigma, Points: points, Readings: read(25),
			Off: map[string][]float64{"r": {0, 3.25}},
		},
		{
			// Two metres too short, and 0.93 × 18 = 16.74: P is drawn in.
			Name: "cable, shorter than the way", Parts: a, Sigma: sigma, Points: points, Readings: read(18),
			Off: map[string][]float64{"r": {-2, -3.26}},
		},
	})
}

// Satellite fixes: what one session errs by is common to its fixes. The first
// fix is the origin of the frame, so A, drawn at (1, 2), is read as (0, 0). An
// accuracy of 4.895 m at 95 % is a standard deviation of 2 m per axis (√χ² =
// 2.4477), of which 0.75 is each fix's own and 0.66 is common.
func TestFixes(t *testing.T) {
	frame := geo.Vec{X: 10.5, Y: 0.3}
	fix := func(id, point string, at geo.Vec) survey.Reading {
		return survey.Reading{ID: id, Kind: survey.GNSS, Point: point, Position: siteOf(t).LonLat(at), Accuracy: 2 * 2.4477468306808166}
	}
	try(t, []little.Site{
		{
			Name: "fixes, two of one session", Parts: []asbuilt.Part{testsite.Landmark("A", 1, 2), testsite.Landmark("B", 11, 2)}, Sigma: map[string]float64{"A": 0.5, "B": 1},
			Readings: []survey.Reading{fix("r1", "A", geo.Vec{}), fix("r2", "B", frame)},
			Off:      map[string][]float64{"r1": {-1, -2}, "r2": {-0.5, -1.7}},
		},
	})
}
