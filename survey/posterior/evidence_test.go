package posterior

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/fit"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

func taped(t *testing.T) *Posterior {
	t.Helper()
	f, err := fit.Solve(t.Context(), testsite.Taped())
	require.NoError(t, err)
	return Of(f)
}

// disc returns the chance that a hole of 0.15 m at v meets a box of 0.6 m at w.
func disc(v, w geo.Vec) float64 {
	inside := 0.6/math.Sqrt(math.Pi) + 0.15 - v.Dist(w)
	return 0.98 * max(0, min(1, 0.5+inside/0.16))
}

// moments returns mean and standard deviation of draws of a number.
func moments(v []float64) (mean, sd float64) {
	for _, x := range v {
		mean += x / float64(len(v))
	}
	for _, x := range v {
		sd += (x - mean) * (x - mean) / float64(len(v))
	}
	return mean, math.Sqrt(sd)
}

// A normal number cut off above 1 has the mean −φ(1)/Φ(1) and the variance
// 1 − φ(1)/Φ(1) − (φ(1)/Φ(1))² (Johnson, Kotz & Balakrishnan, Continuous
// Univariate Distributions 1, ch. 13, from memory; computed here from erf).
func TestCutOffNormal(t *testing.T) {
	p := taped(t)
	d, l, err := p.mix.after(t.Context(), 20000, Evidence{Shifts: 1, Items: []Item{func(_ []geo.Vec, s []float64) float64 {
		if s[0] > 1 {
			return -60
		}
		return 0
	}}})
	require.NoError(t, err)
	below := 0.5 * math.Erfc(-1/math.Sqrt2)
	k := math.Exp(-0.5) / math.Sqrt(2*math.Pi) / below
	mean, sd := moments(d.Shifts[0])
	assert.InDelta(t, below, l.Left, 0.01)
	assert.InDelta(t, -k, mean, 0.02)
	assert.InDelta(t, math.Sqrt(1-k-k*k), sd, 0.015)
}

// A Gaussian of standard deviations 1 and 0.6 m about a box, after a hole at
// (0.5, 0.2) that missed it: against numerical integration on a grid of 3001 ×
// 3001 points of ±7 standard deviations, NumPy:
//
//	L = 1 - .98*clip(.5 + (.6/sqrt(pi)+.15 - hypot(X-.5, Y-.2))/.16, 0, 1)
//	W = exp(-X**2/2 - Y**2/.72)*L
func TestGaussianWithADiscCutOut(t *testing.T) {
	p := taped(t)
	d, l, err := p.mix.after(t.Context(), 20000, Evidence{Shifts: 2, Items: []Item{func(_ []geo.Vec, s []float64) float64 {
		return math.Log1p(-disc(geo.Vec{X: 0.5, Y: 0.2}, geo.Vec{X: s[0], Y: 0.6 * s[1]}))
	}}})
	require.NoError(t, err)
	assert.InDelta(t, 0.8511085, l.Left, 0.005)
	mx, sx := moments(d.Shifts[0])
	my, sy := moments(d.Shifts[1])
	assert.InDelta(t, -0.0820878, mx, 0.015)
	assert.InDelta(t, -0.0294354, 0.6*my, 0.01)
	assert.InDelta(t, 1.0578136, sx, 0.015)
	assert.InDelta(t, 0.6381338, 0.6*sy, 0.01)
}

// Fifteen empty holes where the box was believed, through resampling and moves,
// against importance sampling with very many draws of the belief before them,
// which does neither.
func TestEmptyHolesAgainstBruteForce(t *testing.T) {
	p := taped(t)
	box, ok := p.Place(asbuilt.SpotName{Part: "box", Spot: asbuilt.Center})
	require.True(t, ok)
	mark, ok := p.Place(asbuilt.SpotName{Part: "A", Spot: asbuilt.Center})
	require.True(t, ok)
	h1, ok := p.PlaceOfPoint("H1")
	require.True(t, ok)
	middle, _ := p.Expected(asbuilt.SpotName{Part: "box", Spot: asbuilt.Center})
	hole, _ := p.ExpectedPoint("H1")
	require.Greater(t, hole.Norm(), 5.0, "the holes are set out from landmark A, the origin, and hole H1")
	var e Evidence
	for i := range 15 {
		dx, dy := 0.45*float64(i%5-2), 0.45*float64(i/5-1)
		want := middle.Add(geo.Vec{X: dx + 0.3, Y: dy - 0.2})
		e.Items = append(e.Items, func(at []geo.Vec, _ []float64) float64 {
			x := at[h1].Sub(at[mark])
			turn := math.Atan2(hole.Cross(x), hole.Dot(x))
			return math.Log1p(-disc(at[mark].Add(want.Rotate(geo.Radians(turn))), at[box]))
		})
	}
	brute := must.Have(newPopulation(t.Context(), p.mix, 60000, Evidence{}))
	var sum, left float64
	var middleOf geo.Vec
	anchors := fit.Pick(p.mix.members[0].at, p.mix.datum)
	var at []geo.Vec
	var weight []float64
	for _, one := range brute.each {
		x := 0.0
		for _, item := range e.Items {
			x += item(one.at, nil)
		}
		w := math.Exp(x)
		move := geo.Rigid(fit.Pick(one.at, p.mix.datum), anchors).Move
		v := move(one.at[box]).Add(p.shift)
		sum, middleOf = sum+w, middleOf.Add(v.Scale(w))
		at, weight = append(at, v), append(weight, w)
	}
	left, middleOf = sum/float64(len(brute.each)), middleOf.Scale(1/sum)
	var c geo.Cov
	for i, v := range at {
		c = c.Add(geo.Outer(v.Sub(middleOf)).Scale(weight[i] / sum))
	}

	d, l, err := p.mix.after(t.Context(), 5000, e)
	require.NoError(t, err)
	got := geo.Mean(d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}])
	m := moment(d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}], got)
	t.Logf("left %.3f (brute force %.3f), share %.3f, mean %v (%v)", l.Left, left, l.Share, got, middleOf)
	assert.Less(t, left, 0.5, "the holes matter")
	assert.InEpsilon(t, left, l.Left, 0.06)
	assert.Less(t, got.Dist(middleOf), 0.06*math.Sqrt(c.XX+c.YY))
	assert.InEpsilon(t, c.XX, m.XX, 0.08)
	assert.InEpsilon(t, c.YY, m.YY, 0.08)

	after, _, err := p.Learn(t.Context(), e)
	require.NoError(t, err)
	g, _ := after.Spot(asbuilt.SpotName{Part: "box", Spot: asbuilt.Center})
	assert.InDelta(t, 0.95, g.Content(g.At.Add(geo.Vec{X: g.Ellipse.SemiMajor * math.Sin(g.Ellipse.Bearing.Radians()), Y: g.Ellipse.SemiMajor * math.Cos(g.Ellipse.Bearing.Radians())})), 0.01)
	in := 0.0
	for i, v := range at {
		if v.Dist(g.At) <= g.Radius95 {
			in += weight[i] / sum
		}
	}
	assert.InDelta(t, 0.95, in, 0.03, "the circle holds 95 %% of what brute force believes")
}

// Evidence without information leaves every answer as it was, to the last
// digit.
func TestEvidenceWithoutNews(t *testing.T) {
	p := taped(t)
	q, l, err := p.Learn(t.Context(), Evidence{Shifts: 1, Items: []Item{func([]geo.Vec, []float64) float64 { return 0 }}})
	require.NoError(t, err)
	assert.False(t, l.Counts)
	assert.Equal(t, 1.0, l.Left)
	for name := range p.drawing().Spots {
		a, _ := p.Spot(name)
		b, _ := q.Spot(name)
		assert.Equal(t, a, b)
	}
	assert.Equal(t, must.Have(p.Draws(t.Context(), 200)), must.Have(q.Draws(t.Context(), 200)))
}
