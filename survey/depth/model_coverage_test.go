package depth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"asfound/survey"
)

// draw draws the quantities from one supposition given the record, by their
// joint covariance written out in full: nothing of belief is used.
func draw(m *Model, s int, rng *rand.Rand, qs []quantity) []float64 {
	sup := suppositions[s]
	all := append([]quantity{}, qs...)
	for i := range m.rows {
		all = append(all, m.obs[i].quantity)
	}
	n := len(qs)
	mean := make([]float64, len(all))
	k := mat.NewDense(len(all), len(all), nil)
	for i, a := range all {
		mean[i] = a.constant
		for _, t := range a.terms {
			mean[i] += t.coef * m.unknowns[t.unknown].mean[sup.structure]
		}
		for j, b := range all {
			c := 0.0
			for _, t := range a.terms {
				for _, u := range b.terms {
					if t.unknown == u.unknown {
						sd := m.unknowns[t.unknown].sigma[sup.structure]
						c += t.coef * u.coef * sd * sd
					}
				}
			}
			c += (a.relief*b.relief*sup.relief*sup.relief + a.spread*b.spread*sup.spread*sup.spread) * math.Exp(-a.at.Dist(b.at)/sup.reach)
			c += a.spread * b.spread * sup.smooth * sup.smooth * math.Exp(-a.at.Dist(b.at)*a.at.Dist(b.at)/(2*smoothReach*smoothReach))
			k.Set(i, j, c)
		}
	}
	noise := make([]float64, m.rows)
	off := mat.NewVecDense(max(m.rows, 1), nil)
	for i := range m.rows {
		noise[i] = m.obs[i].sigma * m.obs[i].sigma
		k.Set(n+i, n+i, k.At(n+i, n+i)+noise[i])
		off.SetVec(i, m.obs[i].value-mean[n+i])
	}
	var inv, gain, post mat.Dense
	if inv.Inverse(k.Slice(n, n+m.rows, n, n+m.rows)) != nil {
		panic("record without a covariance")
	}
	gain.Mul(k.Slice(0, n, n, n+m.rows), &inv)
	post.Mul(&gain, k.Slice(n, n+m.rows, 0, n))
	post.Sub(k.Slice(0, n, 0, n), &post)
	var shift mat.VecDense
	shift.MulVec(&gain, off)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, (post.At(i, j)+post.At(j, i))/2)
		}
		sym.SetSym(i, i, sym.At(i, i)+1e-9)
	}
	var chol mat.Cholesky
	if !chol.Factorize(sym) {
		panic("quantities without a covariance")
	}
	var l mat.TriDense
	chol.LTo(&l)
	z := mat.NewVecDense(n, nil)
	for i := range n {
		z.SetVec(i, rng.NormFloat64())
	}
	var x mat.VecDense
	x.MulVec(&l, z)
	out := make([]float64, n)
	for i := range n {
		out[i] = mean[i] + shift.AtVec(i) + x.AtVec(i)
	}
	return out
}

// TestCoverageOfModel draws sites and readings from the model itself: 95 % of
// the truth must lie within 95 %, up to what a mixture is less than normal.
func TestCoverageOfModel(t *testing.T) {
	const sites = 400
	var whole tally
	for _, holes := range []int{0, 1, 2, 4, 8} {
		rng := rand.New(rand.NewPCG(11, uint64(holes)))
		var all tally
		for range sites {
			cover := 0.3 + 0.6*rng.Float64()
			if rng.Float64() < 0.3 {
				cover = math.NaN()
			}
			f := newField(3+rng.IntN(4), 15+10*rng.Float64(), 2.4, cover)
			for range holes {
				id, u := fmt.Sprintf("L%d", 1+rng.IntN(len(f.lines))), rng.Float64()
				f.found(id, u, 0, survey.Crown)
				if rng.Float64() < 0.5 {
					f.level(f.spot(id, u), 0)
				}
			}
			m, err := Solve(t.Context(), f.job, f)
			require.NoError(t, err)
			parts := []string{"box", "L1", fmt.Sprintf("L%d", len(f.lines)), "L2"}
			places := []float64{0, rng.Float64(), 1, 0}
			var qs []quantity
			for _, o := range m.obs[m.rows:] {
				qs = append(qs, o.quantity)
			}
			for i, id := range parts {
				b := m.named[id]
				qs = append(qs, m.depth(b, f.spot(id, places[i]), b.feature("")))
			}
			s, r := 0, rng.Float64()
			for r > suppositions[s].weight {
				r -= suppositions[s].weight
				s++
			}
			truth := draw(m, s, rng, qs)
			for i, o := range m.obs[m.rows:] {
				value := metres(truth[i] + o.sigma*rng.NormFloat64())
				at := slices.IndexFunc(f.job.Readings, func(r survey.Reading) bool { return r.ID == o.id })
				if reading := &f.job.Readings[at]; reading.Kind == survey.Level {
					reading.Value = value
				} else {
					reading.Depth = value
				}
			}
			m, err = Solve(t.Context(), f.job, f)
			require.NoError(t, err)
			for i, id := range parts {
				d, ok := m.At(id, f.spot(id, places[i]), "")
				require.True(t, ok)
				v := truth[len(truth)-len(parts)+i]
				if id != "box" {
					v += unevenSigma * rng.NormFloat64()
				}
				all.add(d, v)
				whole.add(d, v)
			}
		}
		t.Logf("holes %d: %v", holes, &all)
		assert.InDelta(t, 0.95, all.rate(), 0.02, "holes %d", holes)
	}
	t.Logf("all: %v", &whole)
	assert.InDelta(t, 0.95, whole.rate(), 0.01)
}
