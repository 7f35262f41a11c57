package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/observe"
	"asfound/survey/testsite"
	"asfound/survey/testsite/little"
)

// Scale and rotation of several explanations are the moments of their mixture:
// the mean by weight, and the law of total variance, E[Var] + Var[E] (any
// handbook of statistics).
func TestScaleAndRotationOfAMixture(t *testing.T) {
	const p, q = 0.7, 0.3
	moments := func(weights []float64, scales, turns []float64) *Fit {
		f := &Fit{log: &observe.Log{}}
		for i, w := range weights {
			c := solved(t, felt())
			c.Weight = w
			c.Solution.Y[c.Network.Lay+observe.LayScale] = scales[i]
			c.Solution.Y[c.Network.Lay+observe.LayTurn] = turns[i]
			f.components = append(f.components, c)
		}
		f.layout()
		return f
	}
	one := moments([]float64{1}, []float64{0.2}, []float64{0.1})
	assert.InDelta(t, math.Exp(0.2), one.Scale, 1e-12)
	assert.InDelta(t, -0.1, one.Rotation.Signed().Radians(), 1e-12, "clockwise is the other way")
	scaleVar, turnVar := math.Pow(one.ScaleSigma/one.Scale, 2), math.Pow(one.RotationSigma.Radians(), 2)

	two := moments([]float64{p, q}, []float64{0.2, 0.5}, []float64{0.1, -0.3})
	assert.InDelta(t, math.Exp(p*0.2+q*0.5), two.Scale, 1e-12)
	assert.InDelta(t, math.Sqrt(scaleVar+p*q*0.3*0.3), two.ScaleSigma/two.Scale, 1e-9)
	assert.InDelta(t, -(p*0.1 - q*0.3), two.Rotation.Signed().Radians(), 1e-12)
	assert.InDelta(t, math.Sqrt(turnVar+p*q*0.4*0.4), two.RotationSigma.Radians(), 1e-9)
}

// A bearing's residual is told in degrees: read as 46° along a line of 45°, to 2°,
// where the ends are known to a hair.
func TestResidualOfABearing(t *testing.T) {
	two := geo.Degrees(2)
	c := solved(t, little.Site{Parts: []asbuilt.Part{testsite.Landmark("A", 0, 0), testsite.Landmark("B", 10, 10)}, Sigma: map[string]float64{"A": 1e-6, "B": 1e-6},
		Readings: []survey.Reading{{ID: "r", Kind: survey.Bearing, From: "A", To: "B", Azimuth: geo.Degrees(46), North: survey.TrueNorth, SigmaA: &two}}})
	r := c.residual(0)
	assert.True(t, r.Degrees)
	assert.InDelta(t, 46, r.Observed, 1e-9)
	assert.InDelta(t, 45, r.Fitted, 0.2)
	assert.InDelta(t, 2, r.Sigma, 1e-9)
	assert.InDelta(t, (r.Observed-r.Fitted)/r.Sigma/math.Sqrt(r.Redundancy), r.Standardized, 1e-9)
}

// What a better explanation may yet add is what the cost, half of chi-square,
// exceeds its mean by; not beyond 12, nor below nothing. Five tapes to a point have
// 3 degrees of freedom.
func TestSlackByHand(t *testing.T) {
	l := little.Site{Sigma: map[string]float64{}, Points: map[string]little.Known{"P": {11, 7, 1e4}}}
	for i, v := range []geo.Vec{{}, {X: 30}, {X: 30, Y: 20}, {Y: 20}, {X: 15, Y: -5}} {
		id := string(rune('A' + i))
		l.Parts, l.Sigma[id] = append(l.Parts, testsite.Landmark(id, v.X, v.Y)), 1e-6
		l.Readings = append(l.Readings, survey.Reading{ID: id, Kind: survey.Tape, From: id, To: "P", Value: testsite.Metres(v.Dist(geo.Vec{X: 11, Y: 7}))})
	}
	c := solved(t, l)
	for _, tt := range []struct{ cost, want float64 }{{1, 0}, {1.5, 0}, {6, 4.5}, {13.5, 12}, {50, 12}} {
		c.Solution.Cost = tt.cost
		assert.InDelta(t, tt.want, c.slack(), 1e-9)
	}
}

// Weights are in proportion to e^logWeight and add up to one; what is under a five
// hundredth of the heaviest is dropped.
func TestWeigh(t *testing.T) {
	all := weigh([]Component{{logWeight: -1000 + math.Log(0.25)}, {logWeight: -1000}, {logWeight: -1000 + math.Log(0.75)}, {logWeight: -1007}})
	require.Len(t, all, 3)
	for i, want := range []float64{0.5, 0.375, 0.125} {
		assert.InDelta(t, want, all[i].Weight, 1e-12)
	}
	assert.InDelta(t, 1, weigh([]Component{{logWeight: 3}})[0].Weight, 1e-12)
}

// taped returns the problem of the test site's job, changed.
func taped(t *testing.T, change func(*survey.Job)) *problem {
	t.Helper()
	j := testsite.Taped()
	if change != nil {
		change(j)
	}
	prepared, err := Prepare(j.Sketch)
	require.NoError(t, err)
	return &problem{prepared, observe.NewLog(j), t.Context()}
}

// An explanation that hardly counts keeps its odds to the likeliest, whose other
// suppositions stand in for its own; it is not worked out anew. Of another lot,
// which is as wide as all suppositions together, nothing is added.
func TestSpreadKeepsOdds(t *testing.T) {
	p := taped(t, nil)
	c, _, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	require.NoError(t, err)
	little, other := c, c
	little.logWeight -= 2.5
	little.Explanation = little.Explanation.with("x", "L1", 1)
	other.logWeight -= 1
	other.Explanation.Fault.Widen = 6
	second := c // hardly less likely: it is worked out in full
	second.logWeight--
	second.Explanation = second.Explanation.turn("H2")
	both, err := p.spread([]Component{c, second})
	require.NoError(t, err)
	turned := 0
	for _, m := range both {
		turned += len(m.Explanation.turned)
	}
	assert.Equal(t, len(both)-turned, turned, "as many suppositions as of the first")
	all, err := p.spread([]Component{c, little, other})
	require.NoError(t, err)
	var usual, whole, small, wide float64
	n := 0
	for _, m := range all {
		switch {
		case len(m.Explanation.Met) > 0:
			small += m.Weight
			n++
		case m.Explanation.Fault.Widen > 0:
			wide += m.Weight
			n++
		default:
			whole += m.Weight
			if m.logWeight == c.logWeight {
				usual = m.Weight
			}
		}
	}
	assert.Equal(t, 2, n, "one of each")
	assert.InDelta(t, math.Exp(-2.5), small/whole, 0.002, "and what little was dropped of the others")
	require.Positive(t, usual)
	assert.InDelta(t, math.Exp(-1)/drawing.Suppositions[drawing.Usual].Odds, wide/usual, 1e-9)
}

// A hole half way between two laterals, on one of which it was dug, is explained by
// either, as well as by those that lie farther off; without the holes on lines
// there is a fit too, and its weights add up to one.
func TestEitherLateral(t *testing.T) {
	p := taped(t, func(j *survey.Job) {
		j.Readings = append(j.Readings, survey.Reading{ID: "x", Kind: survey.Found, Point: "H3", Target: "lateral"})
		// 14.1 m east and 10.6 m south of A: half way from L2 to L3.
		for from, d := range map[string]float64{"A": 17.64, "B": 10.81} {
			j.Readings = append(j.Readings, survey.Reading{ID: "x" + from, Kind: survey.Tape, From: from, To: "H3", Value: testsite.Metres(d)})
		}
	})
	f, err := p.Refit(t.Context(), p.log.Job)
	require.NoError(t, err)
	met, sum := map[string]float64{}, 0.0
	for _, c := range f.Components() {
		met[c.Explanation.Met["x"]] += c.Weight
	}
	assert.Empty(t, met[""], "it met one of them in every explanation")
	assert.Greater(t, met["L2"], 0.05)
	assert.Greater(t, met["L3"], 0.05)
	require.NotEmpty(t, f.WithoutLineHits())
	for _, c := range f.WithoutLineHits() {
		assert.True(t, c.Explanation.Without["x"])
		sum += c.Weight
	}
	assert.InDelta(t, 1, sum, 1e-9)
}

// The first look at a job is a fit of it: the box lies where the whole fit has it
// within its uncertainty, or some tenths of a metre.
func TestPreview(t *testing.T) {
	p := taped(t, nil)
	whole, err := p.Refit(t.Context(), p.log.Job)
	require.NoError(t, err)
	for _, before := range []*Fit{nil, whole} {
		first, err := p.Preview(t.Context(), p.log.Job, before)
		require.NoError(t, err)
		require.NotEmpty(t, first.Components())
		box := observe.Place(first.Components()[0].Network.Drawing.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}])
		at, want := first.Components()[0].Placed().Where(box), whole.Components()[0].Placed().Where(box)
		assert.Less(t, at.Dist(want), 0.5)
	}
}
