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

// What is drawn as the 95 % ellipse has the content 0.95 all around.
func TestContentAgreesWithEllipses(t *testing.T) {
	f, err := fit.Solve(testsite.Taped())
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
