package survey

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
)

// felt is a hole at (5.5, 4.8) ± 0.3 m that met the middle of a box at (5, 5) ±
// 0.4 m, felt to 0.1 m. Before it is seen, the difference of the two has the
// variance 0.09 + 0.16 + 0.01 = 0.26 on each axis, and it comes out as (0.5,
// −0.2): its log density is −½ (0.25 + 0.04)/0.26 − ln(2π · 0.26) = −1.0487.
func felt() little {
	return little{name: "felt", parts: []asbuilt.Part{box("box", 0.6, 5, 5)}, sigma: map[string]float64{"box": 0.4},
		points:   map[string]known{"P": {5.5, 4.8, 0.3}},
		readings: []Reading{{ID: "r", Kind: Found, Point: "P", Target: "box"}}}
}

var feltDensity = -0.5*0.29/0.26 - math.Log(2*math.Pi*0.26)

// The evidence of an explanation is the density of the readings under it, its
// odds, and the odds of what else it supposes. Source: MacKay, Information
// Theory, Inference, and Learning Algorithms, ch. 28; exact where all is
// Gaussian.
func TestEvidenceByHand(t *testing.T) {
	c := felt().solve(t)
	c.explanation.fault.odds = 1
	assert.InDelta(t, feltDensity, c.evidence(), 1e-6)

	// One of four laterals, a sheet that one in fifty is mirrored: both cost.
	c.explanation = explanation{fault: fault{kind: Mirrored, odds: 0.02}}.with("x", "L1", 4)
	assert.Equal(t, "L1", c.explanation.met["x"])
	assert.InDelta(t, feltDensity+math.Log(0.02)+math.Log(0.25), c.evidence(), 1e-6)

	// A reading that is left out for an error of any size within 75 m, once in
	// 250 readings.
	c.explanation = explanation{fault: fault{odds: 1}}.slipped(&slip{reading: "y", odds: 0.004, out: true, volume: math.Log(75)})
	assert.InDelta(t, feltDensity+math.Log(0.004)-math.Log(75), c.evidence(), 1e-6)
}

// What the rest says of a reading, by leave-one-out formulas, is what a fit
// without it predicts: here nothing else is known, so the density is that
// above, and the misfit 0.29/0.26.
func TestRestByHand(t *testing.T) {
	c := felt().solve(t)
	groups := c.groups()
	require.Len(t, groups, 1)
	r, ok := c.apart(groups[0])
	require.True(t, ok)
	assert.InDelta(t, feltDensity, r.density, 1e-6)
	assert.InDelta(t, 0.29/0.26, r.misfit, 1e-6)

	// Put back in its own place it is as likely as it was; in the place of one
	// that felt the box less surely, 0.3 m, the variance is 0.34.
	obs := groups[0].observations
	assert.InDelta(t, feltDensity, r.instead(obs), 1e-6)
	wide := append([]observation(nil), obs...)
	wide[0].sigma, wide[0].sigma2 = 0.3, 0.3
	assert.InDelta(t, -0.5*0.29/0.34-math.Log(2*math.Pi*0.34), r.instead(wide), 1e-6)

	// Beside the fit, as what a reading that is not in it would add: the same
	// hole felt again is predicted by what both fits leave, and costs what the
	// evidence of both less that of one does.
	again := felt()
	again.readings = append(again.readings, Reading{ID: "s", Kind: Found, Point: "P", Target: "box"})
	both := again.solve(t)
	both.explanation.fault.odds, c.explanation.fault.odds = 1, 1
	assert.InDelta(t, both.evidence()-c.evidence(), (rest{c: &c}).instead(obs), 1e-6)
	for _, g := range both.groups() {
		r, ok := both.apart(g)
		require.True(t, ok)
		assert.InDelta(t, both.evidence()-c.evidence(), r.density, 1e-6)
	}
}

// Where nothing else checks a reading, the rest says nothing of it: a point
// that one tape alone places.
func TestRestSaysNothing(t *testing.T) {
	c := little{parts: []asbuilt.Part{landmark("A", 0, 0)}, sigma: map[string]float64{"A": 0.01}, points: map[string]known{"P": {3, 4, 1000}},
		readings: []Reading{{ID: "r", Kind: Tape, From: "A", To: "P", Value: metres(5.1)}}}.solve(t)
	_, ok := c.apart(c.groups()[0])
	assert.False(t, ok)
}

// Five tapes to a point that nothing else places, the third a foot long:
// redundancy numbers, Baarda's w and the detectable blunder 4.132 σ/√ρ.
// Source of the formulas: Baarda, A Testing Procedure for Use in Geodetic
// Networks (1968); Ghilani & Wolf, Adjustment Computations, ch. 21. The numbers
// were computed independently in Python with NumPy: the inverse of the 2 × 2
// normal equations at the solution (10.902226, 6.932382).
func TestResidualsOfFiveTapes(t *testing.T) {
	l := little{sigma: map[string]float64{}, points: map[string]known{"P": {11, 7, 1e4}}}
	for i, s := range []struct{ x, y, d float64 }{{0, 0, 13.057}, {30, 0, 20.222}, {30, 20, 23.344}, {0, 20, 16.986}, {15, -5, 12.668}} {
		id := string(rune('A' + i))
		l.parts = append(l.parts, landmark(id, s.x, s.y))
		l.sigma[id] = 1e-6
		l.readings = append(l.readings, Reading{ID: id, Kind: Tape, From: id, To: "P", Value: metres(s.d), Sigma: metres(0.05)})
	}
	c := l.solve(t)
	var f Fit
	f.residuals(&c)
	redundancy := []float64{.5823, .6495, .5785, .6155, .5742}
	w := []float64{3.601, -2.359, 5.348, -0.822, 1.362}
	require.Len(t, f.Residuals, len(w))
	for i, r := range f.Residuals {
		assert.InDelta(t, redundancy[i], r.Redundancy, 5e-4)
		assert.InDelta(t, w[i], r.Standardized, 5e-3)
		assert.InDelta(t, 4.132*0.05/math.Sqrt(redundancy[i]), r.Detectable, 2e-4)
		assert.InDelta(t, 0.05, r.Sigma, 1e-12)
		assert.InDelta(t, w[i]*0.05*math.Sqrt(redundancy[i]), r.Observed-r.Fitted, 5e-4)
	}
	assert.Equal(t, 5, f.Readings)
	assert.InDelta(t, 3, f.Redundancy, 1e-6, "five tapes less two coordinates")
	assert.InDelta(t, 29.1935/3, f.VarianceFactor, 1e-3)
	// χ² of 29.1935 with 3 degrees of freedom: scipy.stats.chi2.sf(29.1935, 3)
	assert.InEpsilon(t, 2.03926e-6, f.GlobalP, 1e-3)
}

// The half-widths and radii of regions against numerical integration with
// SciPy: R₉₅ of a Gaussian of two standard deviations is where
//
//	quad(lambda x: norm.pdf(x/a)/a*(2*norm.cdf(sqrt(r*r-x*x)/b)-1), -r, r) = 0.95
//
// The first is the root of χ²(0.95; 2), 2.4477.
func TestRegionsAgainstSciPy(t *testing.T) {
	for _, tt := range []struct{ a, b, want float64 }{{1, 1, 2.447746831}, {2, 1, 4.071717441}, {1, 0.5, 2.035858720}, {3, 1, 5.970878889}} {
		for _, turn := range []float64{0, 35, 90} { // the circle does not care how the ellipse is turned
			e := geo.Vec{X: 1}.Rotate(geo.Degrees(turn))
			c := geo.Outer(e).Scale(tt.a * tt.a).Add(geo.Outer(e.Right()).Scale(tt.b * tt.b))
			assert.InEpsilon(t, tt.want, radius95([]lobe{{1, c, geo.Vec{}}}), 2e-5)
			l := ellipse95([]lobe{{1, c, geo.Vec{}}})
			assert.InEpsilon(t, 2.447746831*tt.a, l.SemiMajor, 2e-5)
			assert.InEpsilon(t, 2.447746831*tt.b, l.SemiMinor, 2e-5)
		}
	}
	// Of 60 % with 1 and 0.5 m and 40 % with 2 and 1 m; and of a strip, 70 % with
	// 0.2 m and 30 % with 0.5 m: .7*chi2.cdf(r*r/.04, 2) + .3*chi2.cdf(r*r/.25, 2).
	two := []lobe{{0.6, geo.Cov{XX: 1, YY: 0.25}, geo.Vec{}}, {0.4, geo.Cov{XX: 4, YY: 1}, geo.Vec{}}}
	assert.InEpsilon(t, 3.281434954, radius95(two), 2e-5)
	assert.InEpsilon(t, 0.946559820, halfWidth95([]float64{0.7, 0.3}, []float64{0.04, 0.25}), 1e-5)
	assert.InDelta(t, 0, halfWidth95([]float64{1}, []float64{0}), 0)
	assert.InDelta(t, 0, radius95([]lobe{{1, geo.Cov{}, geo.Vec{}}}), 0)
	assert.Equal(t, geo.Ellipse{}, ellipse95([]lobe{{1, geo.Cov{}, geo.Vec{}}}))
	// What lies off the middle counts by its second moment: 0.75 at (1, 0) and
	// 0.25 at (−3, 0) have the variance 3 east.
	apart := []lobe{{0.75, geo.Cov{}, geo.Vec{X: 1}}, {0.25, geo.Cov{}, geo.Vec{X: -3}}}
	assert.InDelta(t, 3, total(apart).XX, 1e-12)
	assert.InDelta(t, 0, total(apart).YY, 1e-12)
}
