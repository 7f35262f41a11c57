package adjust

import (
	"math"

	"gonum.org/v1/gonum/blas/gonum"
)

var blas gonum.Implementation

// Factor is the Cholesky factorisation S H S = L Lᵀ of a positive definite
// matrix H, S being the diagonal matrix that gives S H S a unit diagonal, so
// that unknowns of very different size cause no trouble. Leading zeros of each
// row are skipped, which makes unknowns that touch few others cheap when they
// come first.
type Factor struct {
	n     int
	l     []float64 // row major, lower triangle of the scaled matrix
	first []int     // first column of each row that is not zero
	scale []float64 // 1/√H_ii
}

// factorize fills f from the lower triangle of h (n × n, row major), with
// mu·H_ii added to each diagonal element. ok is false where the matrix is not
// positive definite. h is not changed.
func (f *Factor) factorize(h []float64, n int, mu float64) (ok bool) {
	if f.n != n {
		*f = Factor{n: n, l: make([]float64, n*n), first: make([]int, n), scale: make([]float64, n)}
	}
	for i := range n {
		d := h[i*n+i]
		if !(d > 0) || math.IsInf(d, 1) {
			return false
		}
		f.scale[i] = 1 / math.Sqrt(d)
	}
	for i := range n {
		hi, li, si := h[i*n:i*n+i], f.l[i*n:i*n+i+1], f.scale[i]
		fi := 0
		for fi < i && hi[fi] == 0 {
			li[fi] = 0
			fi++
		}
		f.first[i] = fi
		for j := fi; j < i; j++ {
			lj := f.l[j*n : j*n+j+1]
			k := max(fi, f.first[j])
			v := hi[j] * si * f.scale[j]
			if k < j {
				v -= dot(j-k, li[k:], lj[k:])
			}
			li[j] = v / lj[j]
		}
		d := 1 + mu
		if fi < i {
			d -= dot(i-fi, li[fi:], li[fi:])
		}
		if !(d > 1e-15) {
			return false
		}
		li[i] = math.Sqrt(d)
	}
	return true
}

// Size returns the number of unknowns.
func (f *Factor) Size() int { return f.n }

// Forward overwrites b with w such that bᵀ H⁻¹ c = w_b · w_c: variances and
// covariances of linear functions of the unknowns are products of such w.
func (f *Factor) Forward(b []float64) {
	n := f.n
	lead := 0
	for lead < n && b[lead] == 0 {
		lead++
	}
	for i := lead; i < n; i++ {
		v := b[i] * f.scale[i]
		li := f.l[i*n : i*n+i+1]
		if k := max(f.first[i], lead); k < i {
			v -= dot(i-k, li[k:], b[k:])
		}
		b[i] = v / li[i]
	}
}

// Backward overwrites w with y such that the y of independent standard normal
// w has covariance H⁻¹. Backward after Forward solves H y = b.
func (f *Factor) Backward(w []float64) {
	n := f.n
	for i := n - 1; i >= 0; i-- {
		li := f.l[i*n : i*n+i+1]
		w[i] /= li[i]
		if k := f.first[i]; k < i {
			blas.Daxpy(i-k, -w[i], li[k:], 1, w[k:], 1)
		}
		w[i] *= f.scale[i]
	}
}

// LogDet returns the natural logarithm of the determinant of H.
func (f *Factor) LogDet() float64 {
	var s float64
	for i := range f.n {
		s += math.Log(f.l[i*f.n+i]) - math.Log(f.scale[i])
	}
	return 2 * s
}
