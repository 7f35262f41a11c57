package belief

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
)

func cloud(r *rand.Rand, n int, at geo.Vec, sx, sy float64) (v []geo.Vec) {
	for range n {
		v = append(v, at.Add(geo.Vec{X: sx * r.NormFloat64(), Y: sy * r.NormFloat64()}))
	}
	return v
}

// The region of highest density of a Gaussian is its error ellipse, whose area
// is −2 ln(1−p) π σ₁ σ₂ (Ghilani & Wolf, Adjustment Computations, on error
// ellipses; from memory).
func TestGaussianHasOneLobe(t *testing.T) {
	r, ok := HighestDensity(cloud(rand.New(rand.NewPCG(1, 1)), 4000, geo.Vec{X: 7, Y: -3}, 1.5, 0.4))
	require.True(t, ok)
	require.Len(t, r.Lobes, 1)
	assert.InEpsilon(t, -2*math.Log(0.05)*math.Pi*1.5*0.4, r.Most.Area(), 0.08)
	assert.InEpsilon(t, -2*math.Log(0.5)*math.Pi*1.5*0.4, r.Half.Area(), 0.12)
	assert.InDelta(t, 0.95, r.Lobes[0].Share, 0.01)
	assert.InDelta(t, 7, r.Lobes[0].At.X, 0.1)
}

// Two clouds far apart are two lobes with the shares of their draws.
func TestTwoLobes(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 1))
	both := append(cloud(rng, 650, geo.Vec{X: -4}, 0.5, 0.5), cloud(rng, 350, geo.Vec{X: 4, Y: 2}, 0.5, 0.5)...)
	r, ok := HighestDensity(both)
	require.True(t, ok)
	require.Len(t, r.Lobes, 2)
	assert.InDelta(t, 0.65*0.95, r.Lobes[0].Share, 0.03)
	assert.InDelta(t, 0.35*0.95, r.Lobes[1].Share, 0.03)
	assert.Less(t, r.Lobes[0].At.Dist(geo.Vec{X: -4}), 0.1)
	assert.Less(t, r.Lobes[1].At.Dist(geo.Vec{X: 4, Y: 2}), 0.1)
}

// A ring is one lobe with a hole in it.
func TestRing(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	var ring []geo.Vec
	for range 3000 {
		a, d := 2*math.Pi*rng.Float64(), 3+0.2*rng.NormFloat64()
		ring = append(ring, geo.Vec{X: d * math.Cos(a), Y: d * math.Sin(a)})
	}
	r, ok := HighestDensity(ring)
	require.True(t, ok)
	require.Len(t, r.Lobes, 1)
	assert.NotEmpty(t, r.Lobes[0].Region[0].Holes)
	assert.False(t, r.Most.Contains(geo.Vec{}))
}

func TestNoRegion(t *testing.T) {
	_, ok := HighestDensity(nil)
	assert.False(t, ok)
	_, ok = HighestDensity(make([]geo.Vec, 500))
	assert.False(t, ok, "no spread")
	many := cloud(rand.New(rand.NewPCG(1, 1)), 200, geo.Vec{}, 1, 1)
	many[3].X = math.NaN()
	_, ok = HighestDensity(many)
	assert.False(t, ok)
}
