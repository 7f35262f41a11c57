package depth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// TestKriging is the worked example of Isaaks & Srivastava, An Introduction to
// Applied Geostatistics (1989), ch. 12: seven samples, covariance 10·e^(−0.3 h),
// ordinary kriging at (65, 137) gives 592.7 with variance 8.96 (data and answer
// from memory; the answer was found again to all digits by a second program).
// Simple kriging with the mean of 604 of the same numbers: 592.288 and 8.579,
// computed with that program.
func TestKriging(t *testing.T) {
	samples := [][3]float64{{61, 139, 477}, {63, 140, 696}, {64, 129, 227}, {68, 128, 646}, {71, 140, 606}, {73, 141, 791}, {75, 128, 783}}
	for _, tt := range []struct {
		name                   string
		mean, sigma            float64 // of the unknown mean
		want, variance, within float64
	}{
		{"simple", 604, 0, 592.288, 8.579, 0.0005},
		{"ordinary", 0, 1e4, 592.73, 8.956, 0.005},
	} {
		t.Run(tt.name, func(t *testing.T) {
			at := func(x, y float64) quantity { q := one(0); q.relief, q.at = 1, geo.Vec{X: x, Y: y}; return q }
			b := belief{ground: ground{relief: math.Sqrt(10), reach: 1 / 0.3}, mean: []float64{tt.mean}, prior: []float64{tt.sigma * tt.sigma}}
			var obs []observation
			for _, s := range samples {
				obs = append(obs, observation{quantity: at(s[0], s[1]), value: s[2]})
			}
			require.NoError(t, b.condition(t.Context(), obs, 0))
			q := at(65, 137)
			mean, variance := b.predict(&q)
			assert.InDelta(t, tt.want, mean, tt.within)
			assert.InDelta(t, tt.variance, variance, 0.0005)
		})
	}
}

// TestNormalMean is the closed form of a normal mean with a normal prior:
// Gelman et al., Bayesian Data Analysis, 3rd ed., eqs. 2.11 and 2.12, and the
// predictive density of section 2.5 for the evidence.
func TestNormalMean(t *testing.T) {
	values := []float64{0.61, 0.55, 0.72, 0.58}
	const mu, tau, sigma = 0.5, 0.2, 0.05
	b := belief{ground: ground{reach: 1}, mean: []float64{mu}, prior: []float64{tau * tau}}
	var obs []observation
	for _, v := range values {
		obs = append(obs, observation{quantity: one(0), value: v, sigma: sigma})
	}
	require.NoError(t, b.condition(t.Context(), obs, 1))
	precision, sum := 1/(tau*tau), mu/(tau*tau)
	evidence := 0.0
	for i, v := range values {
		if i >= 1 { // the first belongs to what was known before
			spread := 1/precision + sigma*sigma
			off := v - sum/precision
			evidence -= 0.5*off*off/spread + 0.5*math.Log(spread)
		}
		precision, sum = precision+1/(sigma*sigma), sum+v/(sigma*sigma)
	}
	q := one(0)
	mean, variance := b.predict(&q)
	assert.InDelta(t, sum/precision, mean, 1e-12)
	assert.InDelta(t, 1/precision, variance, 1e-12)
	assert.InDelta(t, evidence, b.evidence, 1e-9)
}

// TestPlane fits the plane of the ground to levels without relief: least
// squares with a prior by normal equations (Koch, Parameter Estimation and
// Hypothesis Testing in Linear Models, 3.2.2), solved by Cramer's rule.
func TestPlane(t *testing.T) {
	shots := [][3]float64{{-10, -8, 30.21}, {12, -9, 29.84}, {11, 7, 29.52}, {-9, 10, 29.97}, {0, 1, 29.9}}
	const sigma = 0.02
	prior := [3]float64{10, 0.05, 0.05}
	var n [3][3]float64
	var r [3]float64
	b := belief{ground: ground{reach: 1}, mean: []float64{30, 0, 0}, prior: []float64{100, 0.0025, 0.0025}}
	var obs []observation
	for _, s := range shots {
		a := [3]float64{1, s[0], s[1]}
		for i := range 3 {
			for j := range 3 {
				n[i][j] += a[i] * a[j] / (sigma * sigma)
			}
			r[i] += a[i] * (s[2] - 30) / (sigma * sigma)
		}
		obs = append(obs, observation{quantity: quantity{terms: []term{{0, 1}, {1, s[0]}, {2, s[1]}}}, value: s[2], sigma: sigma})
	}
	for i := range 3 {
		n[i][i] += 1 / (prior[i] * prior[i])
	}
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	require.NoError(t, b.condition(t.Context(), obs, 0))
	for i := range 3 {
		m, c := n, n
		for j := range 3 {
			m[j][i] = r[j]
			c[j][i] = 0
		}
		c[i][i] = 1
		q := one(i)
		mean, variance := b.predict(&q)
		assert.InDelta(t, det(m)/det(n)+[3]float64{30}[i], mean, 1e-9)
		assert.InDelta(t, det(c)/det(n), variance, 1e-9)
	}
}

// TestReadingNeverWidens holds that within a belief no further observation
// makes any quantity less certain, whatever is observed.
func TestReadingNeverWidens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := func(name string) geo.Vec {
			return geo.Vec{X: rapid.Float64Range(-30, 30).Draw(t, name+" x"), Y: rapid.Float64Range(-30, 30).Draw(t, name+" y")}
		}
		some := func(name string) quantity {
			q := quantity{at: place(name), relief: 1, spread: float64(rapid.IntRange(0, 1).Draw(t, name+" spread"))}
			for u := range 3 {
				q.terms = append(q.terms, term{u, rapid.Float64Range(-20, 20).Draw(t, name)})
			}
			return q
		}
		ground := suppositions[rapid.IntRange(0, 1).Draw(t, "supposition")].ground
		fresh := func() belief {
			return belief{ground: ground, mean: make([]float64, 3), prior: []float64{100, 0.0025, 0.1}}
		}
		var obs []observation
		for range rapid.IntRange(0, 6).Draw(t, "observations") {
			obs = append(obs, observation{quantity: some("observed"), value: rapid.Float64Range(-5, 5).Draw(t, "value"), sigma: rapid.Float64Range(0.01, 0.2).Draw(t, "sigma")})
		}
		more := append(obs[:len(obs):len(obs)], observation{quantity: some("further"), value: 1, sigma: 0.02})
		few, many := fresh(), fresh()
		require.NoError(t, few.condition(t.Context(), obs, 0))
		require.NoError(t, many.condition(t.Context(), more, 0))
		q := some("asked")
		_, before := few.predict(&q)
		_, after := many.predict(&q)
		assert.LessOrEqual(t, after, before+1e-9*(1+few.variance(&q)))
	})
}
