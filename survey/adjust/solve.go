package adjust

import (
	"context"
	"errors"
	"math"
)

// Model is a set of observations of unknowns.
type Model interface {
	// Observe adds a row to s for every observation, linearised at y. It must
	// add the same number of rows for every y.
	Observe(y []float64, s *Rows)
}

// Block is a Gaussian prior of consecutive unknowns.
type Block struct {
	At     int       // first unknown
	Size   int       // number of unknowns
	Info   []float64 // information matrix (inverse covariance), Size × Size row major, symmetric; nil: diagonal from Sigma
	Sigma  []float64 // standard deviations where Info is nil
	LogDet float64   // natural logarithm of the determinant of the covariance where Info is given
}

// Prior is the prior of all unknowns: their means, and blocks that together
// cover each of them once.
type Prior struct {
	Mean   []float64
	Blocks []Block
}

// LogDet returns the natural logarithm of the determinant of the prior covariance.
func (p *Prior) LogDet() float64 {
	var d float64
	for _, b := range p.Blocks {
		if b.Info != nil {
			d += b.LogDet
			continue
		}
		for _, s := range b.Sigma {
			d += 2 * math.Log(s)
		}
	}
	return d
}

// Options steer Solve. The zero value is the documented default.
type Options struct {
	MaxIterations int       // 0: 40
	Small         []float64 // a step whose every component stays below this ends the iteration; nil: 1e-4 for all (0.1 mm, where unknowns are metres)
}

// Status says why an iteration ended.
type Status string

// The ways an iteration ends.
const (
	Converged     Status = "converged"
	TooMany       Status = "too many iterations" // the answer is the best so far
	NotDescending Status = "no step descends"    // the answer is the best so far
)

// ErrIndefinite says that the information matrix was not positive definite:
// some unknown is held by neither an observation nor a prior, or a number was
// not finite.
var ErrIndefinite = errors.New("adjust: information matrix not positive definite")

// Solution is the outcome of Solve.
type Solution struct {
	Y          []float64
	Cost       float64 // Φ at Y
	Misfit     float64 // Σ r² of the observations alone
	Iterations int
	Status     Status
	Rows       *Rows   // linearised at Y
	Factor     *Factor // of the information matrix at Y
}

// LogEvidence returns the logarithm of the Laplace approximation of the
// probability of the observations, without the terms −½ m ln 2π − Σ ln σ that
// are equal for all explanations of the same readings.
// Source: MacKay, Information Theory, Inference, and Learning Algorithms, ch. 27.
func (s *Solution) LogEvidence(p *Prior) float64 {
	return -s.Cost - (p.LogDet()+s.Factor.LogDet())/2
}

// Solver holds the storage of a solution so that repeated solves of problems
// of one size allocate nothing. The zero value is ready.
type Solver struct {
	h, g, step, trial []float64
	spare             *Rows
}

// Solve minimises Φ from start. The returned Solution owns its storage. Where ctx is
// done it stops with its error, before the next step.
func (v *Solver) Solve(ctx context.Context, m Model, p *Prior, start []float64, o Options) (*Solution, error) {
	n := len(start)
	if o.MaxIterations == 0 {
		o.MaxIterations = 40
	}
	if len(v.h) != n*n {
		v.h, v.g, v.step, v.trial = make([]float64, n*n), make([]float64, n), make([]float64, n), make([]float64, n)
	}
	y := append([]float64(nil), start...)
	if v.spare == nil {
		v.spare = &Rows{}
	}
	spare := v.spare
	sol := &Solution{Y: y, Rows: spare.alike(), Factor: &Factor{}, Status: TooMany}
	evaluate := func(y []float64, s *Rows) float64 {
		Linearize(m, y, s)
		return s.halfSquares() + p.cost(y)
	}
	sol.Cost = evaluate(y, sol.Rows)
	if math.IsNaN(sol.Cost) || math.IsInf(sol.Cost, 0) {
		return nil, ErrIndefinite
	}
	mu, settled := 0.0, false
	for sol.Iterations < o.MaxIterations {
		v.assemble(sol.Rows, p, y)
		descended, done := false, false
		for range 14 {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if !sol.Factor.factorize(v.h, n, mu) {
				mu = max(4*mu, 1e-3)
				continue
			}
			copy(v.step, v.g)
			sol.Factor.Forward(v.step)
			sol.Factor.Backward(v.step)
			large := false
			for i, d := range v.step {
				v.trial[i] = y[i] + d
				small := 1e-4
				if o.Small != nil {
					small = o.Small[i]
				}
				large = large || !(math.Abs(d) <= small)
			}
			cost := evaluate(v.trial, spare)
			if cost <= sol.Cost*(1+1e-13)+1e-13 {
				done = !large && mu < 1e-6 && sol.Cost-cost <= 1e-8*(1+cost)
				copy(y, v.trial)
				sol.Cost, sol.Rows, spare = cost, spare, sol.Rows
				descended = true
				break
			}
			if !large { // at the bottom to rounding
				done, descended = true, true
				break
			}
			mu = max(4*mu, 1e-3)
		}
		sol.Iterations++
		damping := mu
		if !descended {
			sol.Status = NotDescending
			break
		}
		if mu /= 4; mu < 1e-6 {
			mu = 0
		}
		if done {
			sol.Status = Converged
			settled = damping == 0
			break
		}
	}
	v.spare = spare
	// Where the last step was too small to matter, so is what it would change
	// in the factor.
	if !settled {
		v.assemble(sol.Rows, p, y)
		if !sol.Factor.factorize(v.h, n, 0) {
			return nil, ErrIndefinite
		}
	}
	sol.Misfit = 2 * sol.Rows.halfSquares()
	return sol, nil
}

// assemble fills the information matrix H = AᵀA + P⁻¹ (lower triangle) and
// the right side g = Aᵀr − P⁻¹(y − y₀).
func (v *Solver) assemble(s *Rows, p *Prior, y []float64) {
	n := len(y)
	clear(v.h)
	clear(v.g)
	for _, b := range p.Blocks {
		for i := range b.Size {
			gi := b.At + i
			if b.Info == nil {
				w := 1 / (b.Sigma[i] * b.Sigma[i])
				v.h[gi*n+gi] += w
				v.g[gi] -= w * (y[gi] - p.Mean[gi])
				continue
			}
			row := b.Info[i*b.Size : (i+1)*b.Size]
			var t float64
			for j, c := range row {
				t += c * (y[b.At+j] - p.Mean[b.At+j])
			}
			v.g[gi] -= t
			copyAdd(v.h[gi*n+b.At:gi*n+gi+1], row[:i+1])
		}
	}
	for k := range s.r {
		index, coef := s.Row(k)
		for a, i := range index {
			ca := coef[a]
			v.g[i] += ca * s.r[k]
			for b, j := range index {
				if j <= i {
					v.h[i*n+j] += ca * coef[b]
				}
			}
		}
	}
}

// cost returns ½ (y−y₀)ᵀ P⁻¹ (y−y₀).
func (p *Prior) cost(y []float64) float64 {
	var q float64
	for _, b := range p.Blocks {
		for i := range b.Size {
			d := y[b.At+i] - p.Mean[b.At+i]
			if b.Info == nil {
				q += d * d / (b.Sigma[i] * b.Sigma[i])
				continue
			}
			var t float64
			for j, c := range b.Info[i*b.Size : (i+1)*b.Size] {
				t += c * (y[b.At+j] - p.Mean[b.At+j])
			}
			q += d * t
		}
	}
	return q / 2
}

func copyAdd(dst, src []float64) {
	for i, s := range src {
		dst[i] += s
	}
}
