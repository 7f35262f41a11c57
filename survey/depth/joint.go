package depth

import (
	"math"

	"asfound/geo"
)

// Correlation returns the correlations of how far the tops of parts (crowns of
// headers), each at its own plan place, lie off their expected depths: what a
// reading says of the depth of one part also bears on the others. It is a
// square of len(parts) rows; a part that has no depth is correlated with itself
// alone.
func (m *Model) Correlation(parts []string, at []geo.Vec) [][]float64 {
	n := len(parts)
	all := make([]*quantity, n)
	extra := make([]float64, n) // variance that is each part's own
	for i, part := range parts {
		b := m.named[part]
		if b == nil || i >= len(at) || !at[i].Finite() {
			continue
		}
		q := m.depth(b, at[i], b.feature(""))
		all[i] = &q
		if b.line != nil {
			extra[i] = unevenSigma * unevenSigma
		}
	}
	mean := make([]float64, n)
	square := matrix(n)
	for k := range m.beliefs {
		b := &m.beliefs[k]
		mu, c := b.joint(all)
		for i := range n {
			if all[i] == nil {
				continue
			}
			mean[i] += b.weight * mu[i]
			reach := m.places.Sigma(parts[i])
			square[i][i] += b.weight * (b.slope2*reach*reach + extra[i])
			for j := range n {
				square[i][j] += b.weight * (c[i][j] + mu[i]*mu[j])
			}
		}
	}
	out := matrix(n)
	for i := range n {
		out[i][i] = 1
		for j := range i {
			v := (square[i][i] - mean[i]*mean[i]) * (square[j][j] - mean[j]*mean[j])
			if all[i] == nil || all[j] == nil || !(v > 0) {
				continue
			}
			r := max(-1, min(1, (square[i][j]-mean[i]*mean[j])/math.Sqrt(v)))
			out[i][j], out[j][i] = r, r
		}
	}
	return out
}

// joint returns the means and covariances of quantities, m and m²; of one that
// is nil, zero.
func (b *belief) joint(all []*quantity) (mean []float64, cov [][]float64) {
	n := len(all)
	mean, cov = make([]float64, n), matrix(n)
	white := make([][]float64, n)
	for i, q := range all {
		if q != nil {
			mean[i] = b.expect(q)
			white[i] = make([]float64, len(b.obs))
			for k := range b.obs {
				white[i][k] = b.covariance(q, &b.obs[k].quantity)
				mean[i] += white[i][k] * b.weights[k]
			}
			b.whiten(white[i])
		}
		for j := range i + 1 {
			if q == nil || all[j] == nil {
				continue
			}
			c := b.covariance(q, all[j])
			for k, v := range white[i] {
				c -= v * white[j][k]
			}
			cov[i][j], cov[j][i] = c, c
		}
	}
	return mean, cov
}

// covariance returns the covariance of two quantities before any observation,
// m².
func (b *belief) covariance(p, q *quantity) float64 {
	c := b.ground.covariance(p, q)
	for _, t := range p.terms {
		for _, u := range q.terms {
			if t.unknown == u.unknown {
				c += t.coef * u.coef * b.prior[t.unknown]
			}
		}
	}
	return c
}

func matrix(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
	}
	return m
}
