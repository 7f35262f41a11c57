package adjust_test

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"asfound/survey/adjust"
)

// linear is observations of linear functions of the unknowns.
type linear struct {
	a        [][]float64
	b, sigma []float64 // sigma nil: all 1
}

func (m linear) Observe(y []float64, s *adjust.Rows) {
	for i, row := range m.a {
		v := m.b[i]
		for j, c := range row {
			if c != 0 {
				s.Add(j, c)
				v -= c * y[j]
			}
		}
		sigma := 1.0
		if m.sigma != nil {
			sigma = m.sigma[i]
		}
		s.End(v, sigma)
	}
}

// vague returns a prior that says next to nothing of n unknowns.
func vague(n int, wide float64) *adjust.Prior {
	p := &adjust.Prior{Mean: make([]float64, n), Blocks: []adjust.Block{{Size: n, Sigma: make([]float64, n)}}}
	for i := range n {
		p.Blocks[0].Sigma[i] = wide
	}
	return p
}

// Two unknowns with a correlated prior, mean (1, 2) and covariance
// P = [4 2; 2 3], whose sum is observed as 6 ± 1. Worked by hand with the
// Kalman gain K = P aᵀ/(a P aᵀ + σ²) = (6, 5)/12 and the misfit 6 − 3 = 3:
//
//	y = (1, 2) + 3·(6, 5)/12 = (2.5, 3.25)
//	covariance P − K Kᵀ·12 = [1 −0.5; −0.5 11/12]
//	Φ = ½·3²/12 = 0.375, and ln p = −0.375 − ½ ln 12, but for −½ ln 2π
//
// Source of the formulas: Koch, Parameter Estimation and Hypothesis Testing in
// Linear Models, ch. 3; MacKay, Information Theory, Inference, and Learning
// Algorithms, ch. 27 (exact where all is Gaussian).
func ExampleSolver_Solve() {
	prior := adjust.Prior{Mean: []float64{1, 2}, Blocks: []adjust.Block{{
		Size: 2, Info: []float64{3. / 8, -2. / 8, -2. / 8, 4. / 8}, LogDet: math.Log(8), // P⁻¹ and ln |P|
	}}}
	sum := linear{a: [][]float64{{1, 1}}, b: []float64{6}}
	var v adjust.Solver
	s, err := v.Solve(context.Background(), sum, &prior, []float64{0, 0}, adjust.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("y = %.2f %.2f\n", s.Y[0], s.Y[1])
	fmt.Printf("covariance %.4f %.4f %.4f\n", covariance(s, 0, 0), covariance(s, 0, 1), covariance(s, 1, 1))
	fmt.Printf("Φ = %.3f, ln p = %.4f, by hand %.4f\n", s.Cost, s.LogEvidence(&prior), -0.375-math.Log(12)/2)
	// Output:
	// y = 2.50 3.25
	// covariance 1.0000 -0.5000 0.9167
	// Φ = 0.375, ln p = -1.6175, by hand -1.6175
}

// The same with priors given by standard deviations, 2 and 1: K = (4, 1)/6,
// y = (1, 2) + 3·(4, 1)/6 = (3, 2.5), ln |P| = ln 4, ln p = −½·9/6 − ½ ln 6.
func TestPriorOfStandardDeviations(t *testing.T) {
	prior := adjust.Prior{Mean: []float64{1, 2}, Blocks: []adjust.Block{{Size: 2, Sigma: []float64{2, 1}}}}
	assert.InDelta(t, math.Log(4), prior.LogDet(), 1e-12)
	var v adjust.Solver
	s, err := v.Solve(t.Context(), linear{a: [][]float64{{1, 1}}, b: []float64{6}}, &prior, []float64{9, -9}, adjust.Options{})
	require.NoError(t, err)
	assert.InDelta(t, 3, s.Y[0], 1e-9)
	assert.InDelta(t, 2.5, s.Y[1], 1e-9)
	assert.InDelta(t, 9./12, s.Cost, 1e-9)
	assert.InDelta(t, 0.5*0.5, s.Misfit, 1e-9)
	assert.InDelta(t, -9./12-math.Log(6)/2, s.LogEvidence(&prior), 1e-9)
	assert.Equal(t, 2, s.Factor.Size())
}

// Ghilani & Wolf, Adjustment Computations, example 12.1 and its weighted form:
// seven differences of height between two bench marks, 100.00 and 107.50, and
// three new ones, all of one weight, then by the lengths of their lines.
// Inputs and answers from memory: they agree in every digit.
func TestGhilaniLevelNet(t *testing.T) {
	net := linear{
		a: [][]float64{{1, 0, 0}, {-1, 0, 0}, {0, 0, 1}, {0, 0, -1}, {-1, 1, 0}, {0, 1, 0}, {0, -1, 1}},
		b: []float64{100 + 5.10, 2.34 - 107.50, 107.50 - 1.25, -6.13 - 100, -0.68, 107.50 - 3.00, 1.70},
	}
	for _, tt := range []struct {
		lengths []float64
		want    [3]float64
	}{
		{[]float64{1, 1, 1, 1, 1, 1, 1}, [3]float64{105.141, 104.483, 106.188}},
		{[]float64{4, 3, 2, 3, 2, 2, 2}, [3]float64{105.150, 104.489, 106.197}},
	} {
		net.sigma = nil
		for _, l := range tt.lengths {
			net.sigma = append(net.sigma, math.Sqrt(l))
		}
		var v adjust.Solver
		p := vague(3, 1e9)
		s, err := v.Solve(t.Context(), net, p, p.Mean, adjust.Options{})
		require.NoError(t, err)
		for i, want := range tt.want {
			assert.InDelta(t, want, s.Y[i], 6e-4)
		}
	}
}

// NIST Statistical Reference Datasets, linear regression, by Solve, which is
// what the engine adjusts with. It works with normal equations scaled to a
// unit diagonal, which square the condition number: the digits below are what
// that leaves, and where it leaves none Solve has to say so.
func TestNISTSolve(t *testing.T) {
	var sets []struct {
		Name      string
		X, Y      json.RawMessage
		Certified struct {
			B, SD json.RawMessage
			SSR   float64
		}
	}
	reference(t, "nist_linear.json", &sets)
	least := map[string]float64{"Longley": 6.5, "Norris": 12, "Pontius": 11.5, "NoInt1": 13, "NoInt2": 13, "Wampler1": 8.5, "Wampler2": 12}
	require.Len(t, sets, len(least)+1)
	for _, set := range sets {
		t.Run(set.Name, func(t *testing.T) {
			a, y := design(t, set.Name, set.X, set.Y)
			b := floats(t, set.Certified.B)
			p := vague(len(b), 1e12)
			small := make([]float64, len(b))
			for i := range b {
				small[i] = 1e-14 * math.Abs(b[i])
			}
			var v adjust.Solver
			s, err := v.Solve(t.Context(), linear{a: a, b: y}, p, p.Mean, adjust.Options{Small: small})
			if set.Name == "Filip" {
				assert.ErrorIs(t, err, adjust.ErrIndefinite)
				return
			}
			require.NoError(t, err)
			worst := 16.0
			for i, want := range b {
				worst = math.Min(worst, digits(s.Y[i], want))
			}
			assert.GreaterOrEqual(t, worst, least[set.Name], "digits of the estimates")
			sd := 16.0
			if set.Certified.SSR > 1e-6 {
				s2 := s.Misfit / float64(len(y)-len(b))
				for i, want := range floats(t, set.Certified.SD) {
					sd = math.Min(sd, digits(math.Sqrt(s2*covariance(s, i, i)), want))
				}
				assert.GreaterOrEqual(t, sd, least[set.Name], "digits of the standard deviations")
			}
			t.Logf("%.1f digits, %.1f of the standard deviations, after %d iterations, %s", worst, sd, s.Iterations, s.Status)
		})
	}
}

// york is a straight line with errors in both coordinates: the unknowns are
// intercept, slope and the true abscissae, whose priors are the observed ones.
type york struct{ y, weight []float64 }

func (m york) Observe(u []float64, s *adjust.Rows) {
	for i, v := range m.y {
		x := u[2+i]
		s.Add(0, 1)
		s.Add(1, x)
		s.Add(2+i, u[1])
		s.End(v-u[0]-u[1]*x, 1/math.Sqrt(m.weight[i]))
	}
}

// Pearson's data with York's weights (Pearson 1901; York 1966, Canadian
// Journal of Physics 44): slope −0.4805334074, intercept 5.4799102240, χ²
// 11.866353, standard deviations 0.057985 and 0.294971 (from memory; an
// orthogonal distance regression with SciPy gives the same). Drawing and tapes
// both err, as these do.
func TestYorkLine(t *testing.T) {
	x := []float64{0, .9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4}
	wx := []float64{1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1}
	m := york{[]float64{5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5}, []float64{1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500}}
	p := adjust.Prior{Mean: append([]float64{0, 0}, x...), Blocks: []adjust.Block{{Size: 2, Sigma: []float64{1e6, 1e6}}, {At: 2, Size: 10}}}
	for _, w := range wx {
		p.Blocks[1].Sigma = append(p.Blocks[1].Sigma, 1/math.Sqrt(w))
	}
	small := make([]float64, 12)
	for i := range small {
		small[i] = 1e-9
	}
	var v adjust.Solver
	s, err := v.Solve(t.Context(), m, &p, append([]float64{6, -0.5}, x...), adjust.Options{Small: small})
	require.NoError(t, err)
	assert.Equal(t, adjust.Converged, s.Status)
	assert.InDelta(t, 5.4799102240, s.Y[0], 1e-8)
	assert.InDelta(t, -0.4805334074, s.Y[1], 1e-9)
	assert.InDelta(t, 11.866353, 2*s.Cost, 1e-6)
	// The published deviations leave out what the residuals add to the
	// curvature: they are those of a straight line through the fitted points.
	assert.InDelta(t, 0.294971, math.Sqrt(covariance(s, 0, 0)), 5e-3)
	assert.InDelta(t, 0.057985, math.Sqrt(covariance(s, 1, 1)), 1e-3)
}

// Isaaks & Srivastava, An Introduction to Applied Geostatistics (1989), ch. 12:
// seven samples, covariance 10 exp(−0.3 h), the value at (65, 137). Simple
// kriging about 604 is the adjustment of eight correlated unknowns of which
// seven are observed; its estimate 592.288 and variance 8.579 are from an
// independent script with the same data (from memory; ordinary kriging by that
// script gives the published 592.7 and 8.96):
//
//	C = 10*exp(-.3*cdist(p, p)); c = 10*exp(-.3*cdist(p, [[65, 137]])[:, 0])
//	604 + c @ solve(C, v - 604); 10 - c @ solve(C, c)
func TestIsaaksSrivastava(t *testing.T) {
	at := [][3]float64{{61, 139, 477}, {63, 140, 696}, {64, 129, 227}, {68, 128, 646}, {71, 140, 606}, {73, 141, 791}, {75, 128, 783}, {65, 137, 0}}
	n := len(at)
	c := mat.NewSymDense(n, nil)
	for i, a := range at {
		for j, b := range at[:i+1] {
			c.SetSym(i, j, 10*math.Exp(-0.3*math.Hypot(a[0]-b[0], a[1]-b[1])))
		}
	}
	var f mat.Cholesky
	require.True(t, f.Factorize(c))
	var inverse mat.SymDense
	require.NoError(t, f.InverseTo(&inverse))
	p := adjust.Prior{Mean: make([]float64, n), Blocks: []adjust.Block{{Size: n, LogDet: f.LogDet()}}}
	var m linear
	for i := range n {
		p.Mean[i] = 604
		for j := range n {
			p.Blocks[0].Info = append(p.Blocks[0].Info, inverse.At(i, j))
		}
		if i < n-1 {
			row := make([]float64, n)
			row[i] = 1
			m.a, m.b, m.sigma = append(m.a, row), append(m.b, at[i][2]), append(m.sigma, 1e-4)
		}
	}
	var v adjust.Solver
	s, err := v.Solve(t.Context(), m, &p, p.Mean, adjust.Options{})
	require.NoError(t, err)
	assert.InDelta(t, 592.288, s.Y[n-1], 5e-4)
	assert.InDelta(t, 8.579, covariance(s, n-1, n-1), 5e-4)
}

// The factorisation is that of gonum, which is tested against LAPACK: the same
// unknowns, covariances and determinant for sparse rows and priors drawn at
// random, whatever the order of the unknowns leaves zero.
func TestFactorIsThatOfGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "unknowns")
		m := linear{}
		p := vague(n, 0)
		h := mat.NewSymDense(n, nil)
		g := mat.NewVecDense(n, nil)
		for i := range n {
			p.Mean[i] = rapid.Float64Range(-5, 5).Draw(t, "mean")
			p.Blocks[0].Sigma[i] = rapid.Float64Range(0.5, 50).Draw(t, "sigma")
			w := 1 / (p.Blocks[0].Sigma[i] * p.Blocks[0].Sigma[i])
			h.SetSym(i, i, w)
			g.SetVec(i, w*p.Mean[i])
		}
		for range rapid.IntRange(0, 12).Draw(t, "rows") {
			row := make([]float64, n)
			for range rapid.IntRange(1, 3).Draw(t, "terms") {
				row[rapid.IntRange(0, n-1).Draw(t, "which")] = rapid.Float64Range(-3, 3).Draw(t, "coefficient")
			}
			b := rapid.Float64Range(-9, 9).Draw(t, "observed")
			m.a, m.b = append(m.a, row), append(m.b, b)
			for i := range n {
				g.SetVec(i, g.AtVec(i)+row[i]*b)
				for j := range i + 1 {
					h.SetSym(i, j, h.At(i, j)+row[i]*row[j])
				}
			}
		}
		var f mat.Cholesky
		require.True(t, f.Factorize(h))
		var want mat.VecDense
		require.NoError(t, f.SolveVecTo(&want, g))
		var inverse mat.SymDense
		require.NoError(t, f.InverseTo(&inverse))
		var v adjust.Solver
		s, err := v.Solve(t.Context(), m, p, make([]float64, n), adjust.Options{})
		require.NoError(t, err)
		assert.InDelta(t, f.LogDet(), s.Factor.LogDet(), 1e-8)
		root := mat.NewDense(n, n, nil) // columns L⁻ᵀ eᵢ, by Backward
		for i := range n {
			assert.InDelta(t, want.AtVec(i), s.Y[i], 1e-7)
			for j := range n {
				assert.InDelta(t, inverse.At(i, j), covariance(s, i, j), 1e-7)
			}
			e := make([]float64, n)
			e[i] = 1
			s.Factor.Backward(e)
			root.SetCol(i, e)
		}
		var product mat.Dense
		product.Mul(root, root.T())
		for i := range n {
			for j := range n {
				assert.InDelta(t, inverse.At(i, j), product.At(i, j), 1e-7, "draws have the covariance")
			}
		}
	})
}

// arctan is one observation whose Gauss–Newton step overshoots: arc tangent
// of y, observed as 0. From |y| > 1.3917 undamped steps run away (Nocedal &
// Wright, Numerical Optimization, ch. 11, Newton's method on arctan).
type arctan struct{}

func (arctan) Observe(y []float64, s *adjust.Rows) {
	s.Add(0, 1/(1+y[0]*y[0]))
	s.End(-math.Atan(y[0]), 1)
}

func TestDampingHoldsWhatRunsAway(t *testing.T) {
	var v adjust.Solver
	p := vague(1, 1e9)
	s, err := v.Solve(t.Context(), arctan{}, p, []float64{3}, adjust.Options{Small: []float64{1e-9}})
	require.NoError(t, err)
	assert.Equal(t, adjust.Converged, s.Status)
	assert.InDelta(t, 0, s.Y[0], 1e-8)
	assert.InDelta(t, 1, covariance(s, 0, 0), 1e-8, "the factor at the end is undamped")

	s, err = v.Solve(t.Context(), arctan{}, p, []float64{3}, adjust.Options{MaxIterations: 1})
	require.NoError(t, err)
	assert.Equal(t, adjust.TooMany, s.Status)
	assert.Equal(t, 1, s.Iterations)
	assert.Less(t, math.Abs(s.Y[0]), 3.0, "the answer is the best so far")
	assert.InDelta(t, math.Pow(1+s.Y[0]*s.Y[0], 2), covariance(s, 0, 0), 1e-6*math.Pow(1+s.Y[0]*s.Y[0], 2), "the factor belongs to it, undamped")
}

// uphill has a gradient of the wrong sign, as a wrong derivative would: no
// step descends, and Solve must say so and stay where it was.
type uphill struct{}

func (uphill) Observe(y []float64, s *adjust.Rows) {
	s.Add(0, -1)
	s.End(5-y[0], 1)
}

func TestNoStepDescends(t *testing.T) {
	var v adjust.Solver
	s, err := v.Solve(t.Context(), uphill{}, vague(1, 1e9), []float64{2}, adjust.Options{})
	require.NoError(t, err)
	assert.Equal(t, adjust.NotDescending, s.Status)
	assert.Equal(t, 2.0, s.Y[0])
}

// What Solve does in bad cases: a step that is never small enough ends after 40
// iterations, and numbers that are not finite, or an infinite weight, give an
// error and no answer.
func TestLimitsOfSolve(t *testing.T) {
	var v adjust.Solver
	s, err := v.Solve(t.Context(), arctan{}, vague(1, 1e9), []float64{1}, adjust.Options{Small: []float64{-1}})
	require.NoError(t, err)
	assert.Equal(t, adjust.TooMany, s.Status)
	assert.Equal(t, 40, s.Iterations)
	for name, m := range map[string]linear{
		"no number":            {a: [][]float64{{1}}, b: []float64{math.NaN()}},
		"without end":          {a: [][]float64{{1}}, b: []float64{math.Inf(1)}},
		"a weight without end": {a: [][]float64{{math.Inf(1)}}, b: []float64{0}},
	} {
		_, err := v.Solve(t.Context(), m, vague(1, 1), []float64{0}, adjust.Options{})
		assert.ErrorIs(t, err, adjust.ErrIndefinite, name)
	}
	// One solver for problems of several sizes.
	for _, n := range []int{1, 3, 2} {
		p := vague(n, 1)
		s, err := v.Solve(t.Context(), linear{a: [][]float64{append(make([]float64, n-1), 1)}, b: []float64{2}}, p, p.Mean, adjust.Options{})
		require.NoError(t, err)
		assert.InDelta(t, 1, s.Y[n-1], 1e-9, "between the prior 0 ± 1 and the observed 2 ± 1")
	}
}
