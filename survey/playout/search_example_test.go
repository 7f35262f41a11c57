package playout_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/survey/playout"
)

// Digging one hole in each of several cells, the likeliest first, takes Σ k p(k)
// holes: of ½, 0.3 and 0.2 that is 0.5 + 0.6 + 0.6 = 1.7, whatever their order,
// and whatever the weights sum to. Source: Stone, Theory of Optimal Search
// (1975), ch. 4.
func TestHolesToSearchByHand(t *testing.T) {
	assert.InDelta(t, 1.7, playout.HolesToSearch([]float64{0.2, 0.5, 0.3}), 1e-12)
	assert.InDelta(t, 1.7, playout.HolesToSearch([]float64{0, 2, 5, 0, 3}), 1e-12, "cells without weight are not dug")
	assert.InDelta(t, 1, playout.HolesToSearch([]float64{0.4}), 1e-12)
	assert.InDelta(t, 50.5, playout.HolesToSearch(even(100)), 1e-9, "100 cells alike: half of them and a half")
	assert.Zero(t, playout.HolesToSearch(nil))
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
		got := playout.HolesToSearch(p)
		assert.InDelta(t, tt.want, got, 1e-5)
		assert.InDelta(t, 2*math.Pi*tt.sx*tt.sy/0.64+1.1, got, 0.15)
	}
}

// slice returns the share of a Gaussian in cell k of 0.8 m.
func slice(k, sigma float64) float64 {
	cdf := func(x float64) float64 { return 0.5 * math.Erfc(-x/sigma/math.Sqrt2) }
	return cdf((k+0.5)*0.8) - cdf((k-0.5)*0.8)
}

// The cost to go: as many holes as a search in fixed order takes, up to 5, and
// from there 5 (1 + ln(v/5)): where one hole more shrinks the search to a share
// ρ, J(v) = 1 + J(ρ v), and J'(5) = 1 asks for 5 = 1/ln(1/ρ), ρ = 0.8187.
func TestCostToGoByHand(t *testing.T) {
	for _, tt := range []struct{ v, want float64 }{
		{1, 1}, {4.9, 4.9}, {5, 5}, {5 * math.E, 10}, {10, 5 * (1 + math.Ln2)}, {50, 5 * (1 + math.Log(10))},
	} {
		assert.InDelta(t, tt.want, playout.CostToGo(tt.v), 1e-12)
	}
	rho := math.Exp(-1. / 5)
	for _, v := range []float64{7, 20, 300} {
		assert.InDelta(t, 1+playout.CostToGo(rho*v), playout.CostToGo(v), 1e-9, "one hole more shrinks the search by a share")
	}
	assert.InDelta(t, 1, (playout.CostToGo(5.0001)-playout.CostToGo(4.9999))/0.0002, 1e-4, "no kink")
}
