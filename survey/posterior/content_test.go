package posterior

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/fit"
	"asfound/survey/testsite"
)

// Of one Gaussian, 1 − exp(−r²/2) lies within r standard deviations, along
// whichever axis (the Rayleigh distribution; Abramowitz & Stegun 26.3.27 with
// the offset at 0).
func TestContentOfOneGaussian(t *testing.T) {
	one := lobes{{1, geo.Cov{XX: 9, YY: 4}, geo.Vec{}}}
	g := Region{At: geo.Vec{X: 100, Y: 50}, abs: one, rel: one}
	for _, r := range []float64{0, 0.5, 1, 1.1774, 2.4477468, 4} {
		want := 1 - math.Exp(-r*r/2)
		assert.InDelta(t, want, g.Content(geo.Vec{X: 100 + 3*r, Y: 50}), 1e-9)
		assert.InDelta(t, want, g.ContentFromLandmarks(geo.Vec{X: 100, Y: 50 - 2*r}), 1e-9)
	}
}

// A density over the plane adds up to one, and that of one Gaussian at its middle is
// 1/2π√det.
func TestLogDensity(t *testing.T) {
	one := Region{rel: lobes{{1, geo.Cov{XX: 9, YY: 4, XY: 2}, geo.Vec{}}}}
	v, ok := one.LogDensityFromLandmarks(geo.Vec{})
	require.True(t, ok)
	assert.InDelta(t, -math.Log(2*math.Pi*math.Sqrt(32)), v, 1e-12)
	two := Region{At: geo.Vec{X: 3}, rel: lobes{{0.7, geo.Cov{XX: 1, YY: 0.5, XY: 0.3}, geo.Vec{X: -2}}, {0.3, geo.Cov{XX: 0.4, YY: 2}, geo.Vec{X: 4, Y: 1}}}}
	const step = 0.1
	sum := 0.0
	for x := -10.0; x < 16; x += step {
		for y := -10.0; y < 10; y += step {
			v, _ := two.LogDensityFromLandmarks(geo.Vec{X: x, Y: y})
			sum += math.Exp(v) * step * step
		}
	}
	assert.InDelta(t, 1, sum, 1e-6)
	_, ok = Region{rel: drawn{}}.LogDensityFromLandmarks(geo.Vec{})
	assert.False(t, ok)
}

// What is drawn as the 95 % ellipse has the content 0.95 all around.
func TestContentAgreesWithEllipses(t *testing.T) {
	f, err := fit.Solve(t.Context(), testsite.Taped())
	require.NoError(t, err)
	p := Of(f)
	for _, name := range []asbuilt.SpotName{{Part: "box", Spot: asbuilt.Center}, {Part: "L1", Spot: asbuilt.Start}, {Part: "L4", Spot: asbuilt.End}} {
		g, ok := p.Spot(name)
		require.True(t, ok)
		sin, cos := math.Sincos(g.Ellipse.Bearing.Radians())
		for k := range 8 {
			s, c := math.Sincos(float64(k) * math.Pi / 4)
			along, across := geo.Vec{X: sin, Y: cos}.Scale(c*g.Ellipse.SemiMajor), geo.Vec{X: cos, Y: -sin}.Scale(s*g.Ellipse.SemiMinor)
			assert.InDelta(t, 0.95, g.Content(g.At.Add(along).Add(across)), 1e-5, name)
		}
		assert.Zero(t, g.Content(g.At))
	}
}
