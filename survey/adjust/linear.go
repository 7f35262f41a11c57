package adjust

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Regression is the outcome of Linear.
type Regression struct {
	X          []float64   // the unknowns
	Cofactor   [][]float64 // (AᵀPA)⁻¹: their covariance for a variance factor of 1
	Residual   []float64   // observed less fitted, not whitened
	SSR        float64     // sum of squares of the whitened residuals
	Redundancy int         // observations less unknowns
}

// ErrRank says that a linear problem does not determine all its unknowns.
var ErrRank = errors.New("adjust: the observations do not determine all unknowns")

// Linear solves A x = b by least squares, row i having standard deviation
// sigma[i] (nil: all 1), by Householder QR of the matrix with its columns
// scaled to unit length, and one step of refinement. Unlike normal equations,
// whose error grows with the square of the condition number, it keeps the
// digits that the problem allows. Source: Björck, Numerical Methods for Least
// Squares Problems, ch. 2. It is an error for A to have fewer rows than
// columns, or columns that depend on one another.
func Linear(a [][]float64, b, sigma []float64) (Regression, error) {
	m := len(a)
	if m == 0 || len(a[0]) > m {
		return Regression{}, ErrRank
	}
	n := len(a[0])
	w := mat.NewDense(m, n, nil)
	y := mat.NewVecDense(m, nil)
	scale := make([]float64, n)
	for i := range m {
		s := 1.0
		if sigma != nil {
			s = sigma[i]
		}
		y.SetVec(i, b[i]/s)
		for j := range n {
			w.Set(i, j, a[i][j]/s)
			scale[j] = math.Hypot(scale[j], a[i][j]/s)
		}
	}
	for j, s := range scale {
		if s == 0 || math.IsNaN(s) || math.IsInf(s, 0) {
			return Regression{}, ErrRank
		}
		for i := range m {
			w.Set(i, j, w.At(i, j)/s)
		}
	}
	var qr mat.QR
	qr.Factorize(w)
	if c := qr.Cond(); !(c < 1e15) {
		return Regression{}, ErrRank
	}
	// A matrix that is nearly singular is reported by a Condition error beside
	// an answer that is as good as the problem allows.
	solve := func(rhs *mat.VecDense) (*mat.VecDense, error) {
		var x mat.VecDense
		err := qr.SolveVecTo(&x, false, rhs)
		var c mat.Condition
		if err != nil && !errors.As(err, &c) {
			return nil, err
		}
		return &x, nil
	}
	x, err := solve(y)
	if err != nil {
		return Regression{}, err
	}
	r := mat.NewVecDense(m, nil)
	rest := func() {
		for i := range m {
			v := y.AtVec(i)
			for j := range n {
				v = math.FMA(-w.At(i, j), x.AtVec(j), v)
			}
			r.SetVec(i, v)
		}
	}
	rest()
	if d, err := solve(r); err == nil {
		x.AddVec(x, d)
		rest()
	}
	out := Regression{Redundancy: m - n}
	for i := range m {
		s := 1.0
		if sigma != nil {
			s = sigma[i]
		}
		out.Residual = append(out.Residual, r.AtVec(i)*s)
		out.SSR += r.AtVec(i) * r.AtVec(i)
	}
	var tri mat.Dense
	qr.RTo(&tri)
	for j := range n {
		out.X = append(out.X, x.AtVec(j)/scale[j])
	}
	out.Cofactor = cofactor(&tri, scale, n)
	return out, nil
}

// cofactor returns (RᵀR)⁻¹ with the scaling of the columns taken out again.
func cofactor(r *mat.Dense, scale []float64, n int) [][]float64 {
	inv := make([][]float64, n) // R⁻¹, upper triangular
	for i := range inv {
		inv[i] = make([]float64, n)
	}
	for j := range n {
		for i := j; i >= 0; i-- {
			v := 0.0
			if i == j {
				v = 1
			}
			for k := i + 1; k <= j; k++ {
				v -= r.At(i, k) * inv[k][j]
			}
			inv[i][j] = v / r.At(i, i)
		}
	}
	q := make([][]float64, n)
	for i := range q {
		q[i] = make([]float64, n)
		for j := range n {
			for k := max(i, j); k < n; k++ {
				q[i][j] += inv[i][k] * inv[j][k]
			}
			q[i][j] /= scale[i] * scale[j]
		}
	}
	return q
}
