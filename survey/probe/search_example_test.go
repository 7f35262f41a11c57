package probe

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Digging one hole in each of several cells, the likeliest first, takes Σ k p(k)
// holes: of ½, 0.3 and 0.2 that is 0.5 + 0.6 + 0.6 = 1.7, whatever their order,
// and whatever the weights sum to. Source: Stone, Theory of Optimal Search
// (1975), ch. 4.
func TestHolesToSearchByHand(t *testing.T) {
	assert.InDelta(t, 1.7, holesToSearch([]float64{0.2, 0.5, 0.3}), 1e-12)
	assert.InDelta(t, 1.7, holesToSearch([]float64{0, 2, 5, 0, 3}), 1e-12, "cells without weight are not dug")
	assert.InDelta(t, 1, holesToSearch([]float64{0.4}), 1e-12)
	assert.InDelta(t, 50.5, holesToSearch(even(100)), 1e-9, "100 cells alike: half of them and a half")
	assert.Zero(t, holesToSearch(nil))
}

func even(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 0.01
	}
	return w
}

// A Gaussian in square cells of 0.8 m about its mean, against SciPy:
//
//	g = lambda s: [norm.cdf((k+.5)*.8/s) - norm.cdf((k-.5)*.8/s) for k in range(-60, 61)]
//	p = sorted(outer(g(sx), g(sy)).ravel(), reverse=True); sum(k*p for k, p in enumerate(p, 1))
//
// It is about 2π σ₁σ₂/A + 1.1 (fitted to these).
func TestHolesToSearchAGaussian(t *testing.T) {
	for _, tt := range []struct{ sx, sy, want float64 }{
		{1, 1, 10.990958}, {2, 2, 40.381722}, {2, 1, 20.863704}, {0.5, 0.5, 3.678915},
	} {
		var p []float64
		for i := -60; i <= 60; i++ {
			for j := -60; j <= 60; j++ {
				p = append(p, slice(float64(i), tt.sx)*slice(float64(j), tt.sy))
			}
		}
		got := holesToSearch(p)
		assert.InDelta(t, tt.want, got, 1e-5)
		assert.InDelta(t, 2*math.Pi*tt.sx*tt.sy/0.64+1.1, got, 0.15)
	}
}

// slice returns the share of a Gaussian in cell k of 0.8 m.
func slice(k, sigma float64) float64 {
	cdf := func(x float64) float64 { return 0.5 * math.Erfc(-x/sigma/math.Sqrt2) }
	return cdf((k+0.5)*0.8) - cdf((k-0.5)*0.8)
}

// The cost to go: as many holes as a blind search takes, up to 5, and from there
// 5 (1 + ln(v/5)): where one hole more shrinks the search to a share ρ, J(v) = 1
// + J(ρ v), and J'(5) = 1 asks for 5 = 1/ln(1/ρ), ρ = 0.8187.
func TestCostToGoByHand(t *testing.T) {
	for _, tt := range []struct{ v, want float64 }{
		{1, 1}, {4.9, 4.9}, {5, 5}, {5 * math.E, 10}, {10, 5 * (1 + math.Ln2)}, {50, 5 * (1 + math.Log(10))},
	} {
		assert.InDelta(t, tt.want, toGo(tt.v), 1e-12)
	}
	rho := math.Exp(-1. / 5)
	for _, v := range []float64{7, 20, 300} {
		assert.InDelta(t, 1+toGo(rho*v), toGo(v), 1e-9, "one hole more shrinks the search by a share")
	}
	assert.InDelta(t, 1, (toGo(5.0001)-toGo(4.9999))/0.0002, 1e-4, "no kink")
}

// A belief of ten draws in four cells, of 4, 3, 2 and 1: blindly 0.4 + 0.6 + 0.6
// + 0.4 = 2 holes. A hole that tells the first two cells from the others leaves
// 4 and 3 in two cells, (4 + 6)/7 holes, or 2 and 1, (2 + 2)/3: with the hole
// itself 1 + 0.7 · 10/7 + 0.3 · 4/3 = 2.4.
func TestSearchOfDrawsByHand(t *testing.T) {
	cell := []int32{0, 0, 0, 0, 1, 1, 1, 2, 2, 3}
	tells := []uint8{trench, trench, trench, trench, trench, trench, trench, none, none, none}
	a, every := played(cell, tells)
	assert.InDelta(t, 2, a.blindly(every), 1e-12)
	assert.InDelta(t, 1+0.7*10/7+0.3*4/3, a.after(every, tells, 1), 1e-12)
	// One that meets what is sought in the first cell, and nothing in the rest:
	// 1 + 0.6 · (3 + 4 + 3)/6.
	finds := []uint8{sought, sought, sought, sought, none, none, none, none, none, none}
	assert.InDelta(t, 1+0.6*10./6, a.after(every, finds, 1), 1e-12)
}

// A straight line stands for the normal distribution function: it is ½ at the
// rim, 0 and 1 at 1.7 standard deviations, and never off by more than 0.06.
func TestRamp(t *testing.T) {
	assert.InDelta(t, 0.5, ramp(0, 0.1), 1e-12)
	assert.InDelta(t, 0, ramp(-0.17, 0.1), 1e-12)
	assert.InDelta(t, 1, ramp(0.17, 0.1), 1e-12)
	for x := -0.3; x <= 0.3; x += 0.01 {
		assert.InDelta(t, 0.5*math.Erfc(-x/0.1/math.Sqrt2), ramp(x, 0.1), 0.06, "%v", x)
	}
}
