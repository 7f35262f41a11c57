package depth

import (
	"context"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"asfound/survey/finding"
)

// belief is one supposition after all observations, and the blunders that it
// takes them to hold.
type belief struct {
	weight   float64         // of the mixture; they sum to 1
	evidence float64         // ln p(readings | record, supposition)
	blunders map[int]blunder // by the index of the observation
	odds     float64         // logarithm of those of the blunders

	structure
	ground  ground
	mean    []float64 // prior of the unknowns
	prior   []float64 // their variances
	obs     []observation
	root    blas64.Triangular // U of K = Uᵀ U, K the covariance of the observations
	weights []float64         // K⁻¹ (observed − expected)

	slope2 float64 // expected square of the ground's slope, per axis, summed
}

var errSingular error = finding.Refuse(finding.DepthsSingular.New(), nil)

// condition works a belief out from the observations. The first n are what the
// record says and what is usual: they belong to the supposition, and the
// evidence is of the rest. Source: Rasmussen & Williams, Gaussian Processes for
// Machine Learning, algorithm 2.1 and eq. 2.30.
func (b *belief) condition(ctx context.Context, obs []observation, n int) error {
	b.obs = obs
	k := mat.NewSymDense(max(len(obs), 1), nil)
	off := make([]float64, len(obs))
	full := make([]float64, len(b.prior))
	for i := range obs {
		if err := ctx.Err(); err != nil {
			return err
		}
		clear(full)
		for _, t := range obs[i].terms {
			full[t.unknown] += t.coef * b.prior[t.unknown]
		}
		for j := i; j < len(obs); j++ {
			c := b.ground.covariance(&obs[i].quantity, &obs[j].quantity)
			for _, t := range obs[j].terms {
				c += t.coef * full[t.unknown]
			}
			if a, b := obs[i].together, obs[j].together; a != nil && b != nil {
				c += a.errors[b.number]
			} else if i == j {
				c += obs[i].sigma * obs[i].sigma
			}
			k.SetSym(i, j, c)
		}
		off[i] = obs[i].value - b.expect(&obs[i].quantity)
	}
	if len(obs) == 0 {
		return nil
	}
	var chol mat.Cholesky
	if !chol.Factorize(k) {
		return errSingular
	}
	u := mat.NewTriDense(len(obs), mat.Upper, nil)
	chol.UTo(u)
	b.root = u.RawTriangular()
	b.whiten(off)
	for i := n; i < len(obs); i++ {
		b.evidence -= 0.5*off[i]*off[i] + math.Log(u.At(i, i))
	}
	blas64.Trsv(blas.NoTrans, b.root, blas64.Vector{N: len(off), Data: off, Inc: 1})
	b.weights = off
	for _, w := range off {
		if math.IsNaN(w) || math.IsInf(w, 0) {
			return errSingular
		}
	}
	return nil
}

// whiten overwrites c with U⁻ᵀ c.
func (b *belief) whiten(c []float64) {
	if len(c) > 0 {
		blas64.Trsv(blas.Trans, b.root, blas64.Vector{N: len(c), Data: c, Inc: 1})
	}
}

// expect returns the mean of a quantity before any observation.
func (b *belief) expect(q *quantity) float64 {
	v := q.constant
	for _, t := range q.terms {
		v += t.coef * b.mean[t.unknown]
	}
	return v
}

// variance returns the variance of a quantity before any observation.
func (b *belief) variance(q *quantity) float64 {
	v := b.ground.covariance(q, q)
	for _, t := range q.terms {
		for _, u := range q.terms {
			if t.unknown == u.unknown {
				v += t.coef * u.coef * b.prior[t.unknown]
			}
		}
	}
	return v
}

// predict returns mean and variance of a quantity.
func (b *belief) predict(q *quantity) (mean, variance float64) {
	full := make([]float64, len(b.prior))
	for _, t := range q.terms {
		full[t.unknown] += t.coef * b.prior[t.unknown]
	}
	mean, variance = b.expect(q), b.variance(q)
	c := make([]float64, len(b.obs))
	for i := range b.obs {
		v := b.ground.covariance(q, &b.obs[i].quantity)
		for _, t := range b.obs[i].terms {
			v += t.coef * full[t.unknown]
		}
		c[i] = v
		mean += v * b.weights[i]
	}
	b.whiten(c)
	for _, v := range c {
		variance -= v * v
	}
	return mean, max(variance, 0)
}

// weigh turns evidence into weights that sum to 1.
func weigh(all []belief) {
	most, sum := math.Inf(-1), 0.0
	for i := range all {
		most = max(most, all[i].total())
	}
	for i := range all {
		all[i].weight = math.Exp(all[i].total() - most)
		sum += all[i].weight
	}
	for i := range all {
		all[i].weight /= sum
	}
}
