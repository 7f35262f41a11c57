package adjust_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/adjust"
)

// Ghilani & Wolf, the weighted affine transformation of ch. 18 (inputs from
// memory; they reproduce every printed digit).
func TestGhilaniAffine(t *testing.T) {
	src := [][2]float64{{0.764, 5.96}, {5.062, 10.541}, {9.663, 6.243}, {5.35, 1.654}}
	dst := [][2]float64{{-113, 0.003}, {0.001, 112.993}, {112.998, 0.003}, {0.001, -112.999}}
	sigma := [][2]float64{{0.026, 0.028}, {0.024, 0.03}, {0.028, 0.022}, {0.024, 0.026}}
	var a [][]float64
	var b, s []float64
	for i, p := range src {
		a = append(a, []float64{p[0], p[1], 1, 0, 0, 0}, []float64{0, 0, 0, p[0], p[1], 1})
		b = append(b, dst[i][0], dst[i][1])
		s = append(s, sigma[i][0], sigma[i][1])
	}
	p := vague(6, 1e6)
	var v adjust.Solver
	r, err := v.Solve(t.Context(), linear{a: a, b: b, sigma: s}, p, p.Mean, adjust.Options{})
	require.NoError(t, err)
	for i, v := range []struct{ want, tolerance float64 }{{25.37152, 5e-6}, {0.82220, 5e-6}, {-137.183, 5e-4}, {-0.80994, 5e-6}, {25.40166, 5e-6}, {-150.723, 5e-4}} {
		assert.InDelta(t, v.want, r.Y[i], v.tolerance)
	}
	s0 := math.Sqrt(r.Misfit / 2) // eight equations, six unknowns
	assert.InDelta(t, 0.02532, s0*math.Sqrt(covariance(r, 0, 0)), 5e-6)
	assert.InDelta(t, 0.02256, s0*math.Sqrt(covariance(r, 1, 1)), 5e-6)
	assert.InDelta(t, 0.203, s0*math.Sqrt(covariance(r, 2, 2)), 5e-4)
}

// distances is a point taped from stations.
type distances struct {
	at    [][2]float64
	d     []float64
	sigma float64
}

func (m distances) Observe(y []float64, s *adjust.Rows) {
	for i, p := range m.at {
		dx, dy := y[0]-p[0], y[1]-p[1]
		l := math.Hypot(dx, dy)
		s.Add(0, dx/l)
		s.Add(1, dy/l)
		s.End(m.d[i]-l, m.sigma)
	}
}

func solve(t *testing.T, m adjust.Model, start []float64, wide float64) *adjust.Solution {
	t.Helper()
	sigma := make([]float64, len(start))
	for i := range sigma {
		sigma[i] = wide
	}
	var v adjust.Solver
	p := adjust.Prior{Mean: start, Blocks: []adjust.Block{{Size: len(start), Sigma: sigma}}}
	s, err := v.Solve(t.Context(), m, &p, start, adjust.Options{Small: []float64{1e-9, 1e-9}})
	require.NoError(t, err)
	return s
}

// covariance returns element i, j of the covariance of a solution.
func covariance(s *adjust.Solution, i, j int) float64 {
	a, b := make([]float64, len(s.Y)), make([]float64, len(s.Y))
	a[i], b[j] = 1, 1
	s.Factor.Forward(a)
	s.Factor.Forward(b)
	c := 0.0
	for k := range a {
		c += a[k] * b[k]
	}
	return c
}

// Ghilani & Wolf, Adjustment Computations, example 14.2 (inputs read; the
// outputs were computed with SciPy and agree with the printed ones).
func TestGhilaniTrilateration(t *testing.T) {
	m := distances{[][2]float64{{865.40, 4527.15}, {2432.55, 2047.25}, {2865.22, 27.15}}, []float64{6049.00, 4736.83, 5446.49}, 1}
	s := solve(t, m, []float64{6800, 3700}, 1e7)
	assert.InDelta(t, 6861.317, s.Y[0], 5e-4)
	assert.InDelta(t, 3727.819, s.Y[1], 5e-4)
	for i, v := range []float64{0.0374, -0.0768, 0.0474} { // observed less computed
		assert.InDelta(t, v, s.Rows.Misclosure(i), 5e-5)
	}
	s0 := math.Sqrt(s.Misfit / 1)
	assert.InDelta(t, 0.0977, s0, 5e-5)
	assert.InDelta(t, 0.078, s0*math.Sqrt(covariance(s, 0, 0)), 5e-4)
	assert.InDelta(t, 0.154, s0*math.Sqrt(covariance(s, 1, 1)), 5e-4)
}

// A constructed fix with the third distance a foot long: redundancy numbers
// and standardised residuals by Baarda's formulas, computed independently in
// Python.
func TestRedundancyAndStandardizedResiduals(t *testing.T) {
	m := distances{[][2]float64{{0, 0}, {30, 0}, {30, 20}, {0, 20}, {15, -5}}, []float64{13.057, 20.222, 23.344, 16.986, 12.668}, 0.05}
	s := solve(t, m, []float64{11, 7}, 1e6)
	assert.InDelta(t, 10.902226, s.Y[0], 5e-6)
	assert.InDelta(t, 6.932382, s.Y[1], 5e-6)
	assert.InDelta(t, 29.1935, s.Misfit, 5e-4)
	redundancy := []float64{.5823, .6495, .5785, .6155, .5742}
	w := []float64{3.601, -2.359, 5.348, -0.822, 1.362}
	for i := range redundancy {
		index, coef := s.Rows.Row(i)
		a := make([]float64, 2)
		for k, j := range index {
			a[j] = coef[k]
		}
		s.Factor.Forward(a)
		rho := 1 - a[0]*a[0] - a[1]*a[1]
		assert.InDelta(t, redundancy[i], rho, 5e-4)
		assert.InDelta(t, w[i], s.Rows.Misclosure(i)/math.Sqrt(rho), 5e-3)
	}
}

// circle is the geometric fit of a circle.
type circle [][2]float64

func (m circle) Observe(y []float64, s *adjust.Rows) {
	for _, p := range m {
		dx, dy := y[0]-p[0], y[1]-p[1]
		l := math.Hypot(dx, dy)
		s.Add(0, dx/l)
		s.Add(1, dy/l)
		s.Add(2, -1)
		s.End(y[2]-l, 1)
	}
}

// Gander, Golub & Strebel, Least-Squares Fitting of Circles and Ellipses, BIT
// 34 (1994): from a start as bad as their algebraic solution. From memory; the
// computed answer agrees in every digit remembered.
func TestGanderCircle(t *testing.T) {
	var v adjust.Solver
	m := circle{{1, 7}, {2, 6}, {5, 8}, {7, 7}, {9, 5}, {3, 7}}
	start := []float64{5.379413, 7.253198, 3.037041}
	p := adjust.Prior{Mean: start, Blocks: []adjust.Block{{Size: 3, Sigma: []float64{1e6, 1e6, 1e6}}}}
	s, err := v.Solve(t.Context(), m, &p, start, adjust.Options{MaxIterations: 200, Small: []float64{1e-8, 1e-8, 1e-8}})
	require.NoError(t, err)
	assert.Equal(t, adjust.Converged, s.Status)
	assert.InDelta(t, 4.739782, s.Y[0], 2e-6)
	assert.InDelta(t, 2.983533, s.Y[1], 2e-6)
	assert.InDelta(t, 4.714226, s.Y[2], 2e-6)
	assert.InDelta(t, 1.22759898, s.Misfit, 1e-7)
}

// misra is NIST StRD Misra1a: y = b1 (1 − exp(−b2 x)).
type misra struct{ x, y []float64 }

func (m misra) Observe(b []float64, s *adjust.Rows) {
	for i, x := range m.x {
		e := math.Exp(-b[1] * x)
		s.Add(0, 1-e)
		s.Add(1, b[0]*x*e)
		s.End(m.y[i]-b[0]*(1-e), 1)
	}
}

// NIST StRD, nonlinear regression, Misra1a, from both certified starts; data
// from memory, and both starts reach the certified digits.
func TestNISTMisra1a(t *testing.T) {
	m := misra{
		[]float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
		[]float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78},
	}
	for _, start := range [][]float64{{500, 1e-4}, {250, 5e-4}} {
		var v adjust.Solver
		p := adjust.Prior{Mean: start, Blocks: []adjust.Block{{Size: 2, Sigma: []float64{1e9, 1e4}}}}
		s, err := v.Solve(t.Context(), m, &p, start, adjust.Options{MaxIterations: 300, Small: []float64{1e-9, 1e-15}})
		require.NoError(t, err)
		assert.Equal(t, adjust.Converged, s.Status)
		assert.GreaterOrEqual(t, digits(s.Y[0], 238.94212918), 8.0)
		assert.GreaterOrEqual(t, digits(s.Y[1], 5.5015643181e-4), 8.0)
		assert.GreaterOrEqual(t, digits(s.Misfit, 0.12455138894), 8.0)
	}
}

func TestIndefiniteIsAnError(t *testing.T) {
	var v adjust.Solver
	p := adjust.Prior{Mean: []float64{0, 0}, Blocks: []adjust.Block{{Size: 2, Sigma: []float64{math.Inf(1), math.Inf(1)}}}}
	_, err := v.Solve(t.Context(), distances{[][2]float64{{3, 4}}, []float64{5}, 1}, &p, []float64{0, 0}, adjust.Options{})
	assert.ErrorIs(t, err, adjust.ErrIndefinite)
}
