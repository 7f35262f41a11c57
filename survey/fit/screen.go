package fit

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"asfound/survey/adjust"
	"asfound/survey/observe"
)

// group is all observations of one reading, and the rows of the fit that are
// densities of them.
type group struct {
	observations []observe.Observation
	rows         []int
}

// groups returns the observations of a component reading by reading.
func (c *Component) groups() (all []group) {
	of := map[observe.Observation]int{}
	for i, o := range c.Network.Observations {
		if i == 0 || c.Network.Observations[i-1].ID() != o.ID() {
			all = append(all, group{})
		}
		g := &all[len(all)-1]
		g.observations = append(g.observations, o)
		of[o] = len(all) - 1
	}
	for i := range observe.Densities(c.Network.Rows, c.Solution.Rows) {
		g := &all[of[c.Network.Rows[i].Of]]
		g.rows = append(g.rows, i)
	}
	return all
}

const (
	standsOut = 2.0 // standard deviations beyond which a reading may hold a blunder
	standsFar = 5.0 // and beyond which it may have distorted the whole fit
	mostFar   = 6   // readings of one fit that are left out in turn
)

// screen estimates, for each reading that stands out in a component, how likely
// each of its blunders is. For an extreme reading the estimate comes from a fit
// without it, which is among those returned: no linear formula can undo the
// distortion that such a reading causes.
func (p *problem) screen(c *Component) (left []Component, all []candidate) {
	type stray struct {
		group group
		rest  leaveOneOut
	}
	var strays []stray
	for _, g := range c.groups() {
		if p.stopped() {
			return left, all
		}
		if c.Explanation.Blunders[g.observations[0].ID()] != nil {
			continue
		}
		if t, ok := c.leaveOut(g); ok && t.misfit >= standsOut*standsOut {
			strays = append(strays, stray{g, t})
		}
	}
	slices.SortStableFunc(strays, func(x, y stray) int { return cmp.Compare(y.rest.misfit, x.rest.misfit) })
	for i, x := range strays {
		base, from, far := c.logWeight-x.rest.was, c, i < mostFar && x.rest.misfit >= standsFar*standsFar
		blunders := p.log.Blunders(c.Network.Drawing, c.Explanation.Explanation, x.group.observations)
		if out := blunders[len(blunders)-1]; far {
			n, ok := p.fitWithout(c, out)
			if !ok {
				continue
			}
			left = append(left, n)
			from, base = &n, n.logWeight-math.Log(out.Odds)+out.Volume
			x.rest = leaveOneOut{c: from}
		}
		for _, b := range blunders {
			if p.stopped() {
				return left, all
			}
			density := -b.Volume
			if b.Out && far {
				continue
			}
			if !b.Out {
				changed := p.log.Changed(c.Network.Drawing, x.group.observations, b)
				if len(changed) == 0 {
					continue
				}
				density = x.rest.density(changed)
			}
			// A blunder is weighed against its not being one.
			if estimate := base + math.Log(b.Odds) + density; estimate > c.logWeight+math.Log(blunderOdds) {
				all = append(all, candidate{from, c.Explanation.blundered(b), estimate})
			}
		}
	}
	return left, all
}

// fitWithout fits a component's explanation without a reading: from where it is
// and, because that may be far off, from scratch.
func (p *problem) fitWithout(c *Component, out *observe.Blunder) (best Component, ok bool) {
	for _, start := range [][]float64{c.Solution.Y, nil} {
		n, _, err := p.solve(c.Explanation.blundered(out), start)
		if err == nil && (!ok || n.logWeight > best.logWeight) {
			best, ok = n, true
		}
	}
	return best, ok
}

// leaveOneOut is what all other observations predict for those of one reading.
type leaveOneOut struct {
	c       *Component
	w       [][]float64   // of each row: L⁻¹ aᵀ, so that products are covariances
	inverse *mat.SymDense // of S = I − A Q Aᵀ
	pull    []float64     // S⁻¹ r
	misfit  float64       // rᵀ S⁻¹ r: chi-square with as many degrees of freedom as rows
	was     float64       // logarithm of the density of the reading as it is
}

// leaveOut works out what all others predict for a reading; ok is false where
// nothing else checks it.
//
// With whitened rows A and misclosures r at the solution, Q its covariance and
// S = I − A Q Aᵀ, the reading misses what the rest predicts by S⁻¹ r, with
// covariance S⁻¹. Source: the leave-one-out formulas of linear estimation,
// e.g. Cook & Weisberg, Residuals and Influence in Regression (1982), ch. 2.
func (c *Component) leaveOut(g group) (t leaveOneOut, ok bool) {
	k := len(g.rows)
	if k == 0 {
		return t, false
	}
	t.c = c
	r := make([]float64, k)
	for i, row := range g.rows {
		t.w = append(t.w, c.forward(c.Solution.Rows, row))
		r[i] = c.Solution.Rows.Misclosure(row)
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
	t.was = -t.misfit/2 + f.LogDet()/2 - observe.LogSigma(observe.RowsOf(g.observations))
	return t, true
}

// forward returns L⁻¹ aᵀ of a row, H = L Lᵀ.
func (c *Component) forward(rows *adjust.Rows, row int) []float64 {
	w := make([]float64, c.Network.Size)
	index, coef := rows.Row(row)
	for j, u := range index {
		w[u] = coef[j]
	}
	c.Solution.Factor.Forward(w)
	return w
}

func dot(a, b []float64) (s float64) {
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// density returns the logarithm of the density of other observations in the
// reading's place, given all others, without another fit.
func (t leaveOneOut) density(all []observe.Observation) float64 {
	n := t.c.Network.With(all)
	var now adjust.Rows
	adjust.Linearize(n, t.c.Solution.Y, &now)
	var z [][]float64
	var s []float64
	for i := range observe.Densities(n.Rows, &now) {
		z, s = append(z, t.c.forward(&now, i)), append(s, now.Misclosure(i))
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
	return -q/2 - f.LogDet()/2 - observe.LogSigma(n.Rows)
}
