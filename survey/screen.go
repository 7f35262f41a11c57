package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"asfound/survey/adjust"
)

// groupRows is all observations of one reading, and the rows that are theirs.
type groupRows struct {
	observations []observation
	rows         []int
}

// groups returns the observations of a component reading by reading, without
// the rows that are limits not reached.
func (c *component) groups() (all []groupRows) {
	row := 0
	for i := range c.network.observations {
		o := &c.network.observations[i]
		if i == 0 || c.network.observations[i-1].id != o.id {
			all = append(all, groupRows{})
		}
		g := &all[len(all)-1]
		g.observations = append(g.observations, *o)
		for k := range equations[o.kind].rows {
			if index, _ := c.solution.Rows.Row(row); len(index) > 0 && !o.limit(k) {
				g.rows = append(g.rows, row)
			}
			row++
		}
	}
	return all
}

// limit reports whether row k of an observation only keeps it within bounds:
// such a row is no density of anything observed.
func (o *observation) limit(k int) bool {
	switch o.kind {
	case onLine, besideLine:
		return k == 1
	case within:
		return k == 0
	}
	return false
}

// rest is what all other observations say of those of one reading.
type rest struct {
	c       *component
	w       [][]float64   // of each row: L⁻¹ aᵀ, so that products are covariances
	inverse *mat.SymDense // of S = I − A Q Aᵀ
	pull    []float64     // S⁻¹ r
	misfit  float64       // rᵀ S⁻¹ r: chi-square with as many degrees of freedom as rows
	density float64       // logarithm of the density of the reading as it is
}

// apart works out what the rest says of a reading; ok is false where nothing
// else checks it.
//
// With whitened rows A and misclosures r at the solution, Q its covariance and
// S = I − A Q Aᵀ, the reading misses what the rest predicts by S⁻¹ r, with
// covariance S⁻¹. Source: the leave-one-out formulas of linear estimation,
// e.g. Cook & Weisberg, Residuals and Influence in Regression (1982), ch. 2.
func (c *component) apart(g groupRows) (t rest, ok bool) {
	k := len(g.rows)
	if k == 0 {
		return t, false
	}
	t.c = c
	r := make([]float64, k)
	for i, row := range g.rows {
		t.w = append(t.w, c.forward(c.solution.Rows, row))
		r[i] = c.solution.Rows.Misclosure(row)
	}
	s := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			v := -dot(t.w[i], t.w[j])
			if i == j {
				v++
			}
			s.SetSym(i, j, v)
		}
	}
	for i := range k {
		if s.At(i, i) < 1e-3 {
			return t, false
		}
	}
	var f mat.Cholesky
	if !f.Factorize(s) {
		return t, false
	}
	t.inverse = mat.NewSymDense(k, nil)
	if f.InverseTo(t.inverse) != nil {
		return t, false
	}
	t.pull = make([]float64, k)
	for i := range k {
		for j := range k {
			t.pull[i] += t.inverse.At(i, j) * r[j]
		}
		t.misfit += t.pull[i] * r[i]
	}
	t.density = -t.misfit/2 + f.LogDet()/2 - g.logSigma()
	return t, true
}

// logSigma returns the sum of ln σ + ½ ln 2π over the rows that are densities.
func (g groupRows) logSigma() (sum float64) {
	for i := range g.observations {
		sum += g.observations[i].logSigma()
	}
	return sum
}

func (o *observation) logSigma() (sum float64) {
	half := math.Log(2*math.Pi) / 2
	if !o.limit(0) {
		sum += math.Log(o.sigma) + half
	}
	if equations[o.kind].rows == 2 && !o.limit(1) {
		sum += math.Log(o.sigma2) + half
	}
	return sum
}

// forward returns L⁻¹ aᵀ of a row, H = L Lᵀ.
func (c *component) forward(rows *adjust.Rows, row int) []float64 {
	w := make([]float64, c.network.size)
	index, coef := rows.Row(row)
	for j, u := range index {
		w[u] = coef[j]
	}
	c.solution.Factor.Forward(w)
	return w
}

func dot(a, b []float64) (s float64) {
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// instead returns the logarithm of the density of other observations in the
// reading's place, given the rest, without fitting anew.
func (t rest) instead(obs []observation) float64 {
	n := *t.c.network
	n.observations = obs
	var rows adjust.Rows
	adjust.Linearize(&n, t.c.solution.Y, &rows)
	var z [][]float64
	var s []float64
	g := groupRows{observations: obs}
	row := 0
	for i := range obs {
		for k := range equations[obs[i].kind].rows {
			if index, _ := rows.Row(row); len(index) > 0 && !obs[i].limit(k) {
				z, s = append(z, t.c.forward(&rows, row)), append(s, rows.Misclosure(row))
			}
			row++
		}
	}
	k, m := len(z), len(t.w)
	if k == 0 {
		return math.Inf(-1)
	}
	cross := make([][]float64, k) // Z Aᵀ
	for i := range k {
		cross[i] = make([]float64, m)
		for j := range m {
			cross[i][j] = dot(z[i], t.w[j])
			s[i] += cross[i][j] * t.pull[j]
		}
	}
	v := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			q := dot(z[i], z[j])
			for a := range m {
				for b := range m {
					q += cross[i][a] * t.inverse.At(a, b) * cross[j][b]
				}
			}
			if i == j {
				q++
			}
			v.SetSym(i, j, q)
		}
	}
	var f mat.Cholesky
	if !f.Factorize(v) {
		return math.Inf(-1)
	}
	x := mat.NewVecDense(k, nil)
	if f.SolveVecTo(x, mat.NewVecDense(k, s)) != nil {
		return math.Inf(-1)
	}
	q := 0.0
	for i := range k {
		q += s[i] * x.AtVec(i)
	}
	return -q/2 - f.LogDet()/2 - g.logSigma()
}
