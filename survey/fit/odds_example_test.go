package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

// felt is a hole at (5.5, 4.8) ± 0.3 m that met the middle of a box at (5, 5) ±
// 0.4 m, felt to 0.1 m. Before it is seen, the difference of the two has the
// variance 0.09 + 0.16 + 0.01 = 0.26 on each axis, and it comes out as (0.5,
// −0.2): its log density is −½ (0.25 + 0.04)/0.26 − ln(2π · 0.26) = −1.0487.
func felt() little.Site {
	return little.Site{Name: "felt", Parts: []asbuilt.Part{testsite.Box("box", 0.6, 5, 5)}, Sigma: map[string]float64{"box": 0.4},
		Points:   map[string]little.Known{"P": {5.5, 4.8, 0.3}},
		Readings: []survey.Reading{{ID: "r", Kind: survey.Found, Point: "P", Target: "box", Spot: asbuilt.Center}}}
}

var feltDensity = -0.5*0.29/0.26 - math.Log(2*math.Pi*0.26)

// The evidence of an explanation is the density of the readings under it, its
// odds, and the odds of what else it supposes. Source: MacKay, Information
// Theory, Inference, and Learning Algorithms, ch. 28; exact where all is
// Gaussian.
func TestEvidenceByHand(t *testing.T) {
	c := solved(t, felt())
	c.Explanation.Fault.Odds = 1
	assert.InDelta(t, feltDensity, c.evidence(), 1e-6)

	// One of four laterals, a sheet that is mirrored once in fifty: both have
	// their price.
	c.Explanation = Explanation{Fault: drawing.Hypothesis{Kind: drawing.Mirrored, Odds: 0.02}}.with("x", "L1", 4)
	assert.Equal(t, "L1", c.Explanation.Met["x"])
	assert.InDelta(t, feltDensity+math.Log(0.02)+math.Log(0.25), c.evidence(), 1e-6)

	// A reading that is left out for an error of any size within 75 m, once in
	// 250 readings.
	c.Explanation = Explanation{Fault: drawing.Hypothesis{Odds: 1}}.blundered(&observe.Blunder{Reading: "y", Odds: 0.004, Out: true, Volume: math.Log(75)})
	assert.InDelta(t, feltDensity+math.Log(0.004)-math.Log(75), c.evidence(), 1e-6)
}

// What the rest says of a reading, by leave-one-out formulas, is what a fit
// without it predicts: here nothing else is known, so the density is that
// above, and the misfit 0.29/0.26.
func TestRestByHand(t *testing.T) {
	c := solved(t, felt())
	groups := c.groups()
	require.Len(t, groups, 1)
	r, ok := c.leaveOut(groups[0])
	require.True(t, ok)
	assert.InDelta(t, feltDensity, r.was, 1e-6)
	assert.InDelta(t, 0.29/0.26, r.misfit, 1e-6)

	// Put back in its own place it is as likely as it was; in the place of one
	// that felt the box less surely, 0.3 m, the variance is 0.34.
	obs := groups[0].observations
	assert.InDelta(t, feltDensity, r.density(obs), 1e-6)
	surely := felt()
	surely.Readings[0].Sigma = testsite.Metres(0.3)
	n, err := surely.Network()
	require.NoError(t, err)
	wide := n.Observations
	assert.InDelta(t, -0.5*0.29/0.34-math.Log(2*math.Pi*0.34), r.density(wide), 1e-6)

	// Beside the fit, as what a reading that is not in it would add: the same
	// hole felt again is predicted by what both fits leave, and costs what the
	// evidence of both less that of one does.
	again := felt()
	again.Readings = append(again.Readings, survey.Reading{ID: "s", Kind: survey.Found, Point: "P", Target: "box", Spot: asbuilt.Center})
	both := solved(t, again)
	both.Explanation.Fault.Odds, c.Explanation.Fault.Odds = 1, 1
	assert.InDelta(t, both.evidence()-c.evidence(), (leaveOneOut{c: &c}).density(obs), 1e-6)
	for _, g := range both.groups() {
		r, ok := both.leaveOut(g)
		require.True(t, ok)
		assert.InDelta(t, both.evidence()-c.evidence(), r.was, 1e-6)
	}
}

// Where nothing else checks a reading, the rest says nothing of it: a point
// that one tape alone places.
func TestRestSaysNothing(t *testing.T) {
	c := solved(t, little.Site{Parts: []asbuilt.Part{testsite.Landmark("A", 0, 0)}, Sigma: map[string]float64{"A": 0.01}, Points: map[string]little.Known{"P": {3, 4, 1000}},
		Readings: []survey.Reading{{ID: "r", Kind: survey.Tape, From: "A", To: "P", Value: testsite.Metres(5.1)}}})
	_, ok := c.leaveOut(c.groups()[0])
	assert.False(t, ok)
}

// Five tapes to a point that nothing else places, the third a foot long:
// redundancy numbers, Baarda's w and the detectable blunder 4.132 σ/√ρ.
// Source of the formulas: Baarda, A Testing Procedure for Use in Geodetic
// Networks (1968); Ghilani & Wolf, Adjustment Computations, ch. 21. The numbers
// were computed independently in Python with NumPy: the inverse of the 2 × 2
// normal equations at the solution (10.902226, 6.932382).
func TestResidualsOfFiveTapes(t *testing.T) {
	l := little.Site{Sigma: map[string]float64{}, Points: map[string]little.Known{"P": {11, 7, 1e4}}}
	for i, s := range []struct{ x, y, d float64 }{{0, 0, 13.057}, {30, 0, 20.222}, {30, 20, 23.344}, {0, 20, 16.986}, {15, -5, 12.668}} {
		id := string(rune('A' + i))
		l.Parts = append(l.Parts, testsite.Landmark(id, s.x, s.y))
		l.Sigma[id] = 1e-6
		l.Readings = append(l.Readings, survey.Reading{ID: id, Kind: survey.Tape, From: id, To: "P", Value: testsite.Metres(s.d), Sigma: testsite.Metres(0.05)})
	}
	c := solved(t, l)
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

// solved returns a little site as the only component of a fit.
func solved(t *testing.T, s little.Site) Component {
	t.Helper()
	n, sol, err := s.Solve()
	require.NoError(t, err)
	return Component{Network: n, Solution: sol}
}
