package posterior

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
)

// The half-widths and radii of regions against numerical integration with
// SciPy: R₉₅ of a Gaussian of two standard deviations is where
//
//	quad(lambda x: norm.pdf(x/a)/a*(2*norm.cdf(sqrt(r*r-x*x)/b)-1), -r, r) = 0.95
//
// The first is the root of χ²(0.95; 2), 2.4477.
func TestRegionsAgainstSciPy(t *testing.T) {
	for _, tt := range []struct{ a, b, want float64 }{{1, 1, 2.447746831}, {2, 1, 4.071717441}, {1, 0.5, 2.035858720}, {3, 1, 5.970878889}} {
		for _, turn := range []float64{0, 35, 90} { // the circle does not care how the ellipse is turned
			e := geo.Vec{X: 1}.Rotate(geo.Degrees(turn))
			c := geo.Outer(e).Scale(tt.a * tt.a).Add(geo.Outer(e.Right()).Scale(tt.b * tt.b))
			assert.InEpsilon(t, tt.want, radius95(lobes{{1, c, geo.Vec{}}}), 2e-5)
			l := ellipse95(lobes{{1, c, geo.Vec{}}})
			assert.InEpsilon(t, 2.447746831*tt.a, l.SemiMajor, 2e-5)
			assert.InEpsilon(t, 2.447746831*tt.b, l.SemiMinor, 2e-5)
		}
	}
	// Of 60 % with 1 and 0.5 m and 40 % with 2 and 1 m; and of a strip, 70 % with
	// 0.2 m and 30 % with 0.5 m: .7*chi2.cdf(r*r/.04, 2) + .3*chi2.cdf(r*r/.25, 2).
	two := lobes{{0.6, geo.Cov{XX: 1, YY: 0.25}, geo.Vec{}}, {0.4, geo.Cov{XX: 4, YY: 1}, geo.Vec{}}}
	assert.InEpsilon(t, 3.281434954, radius95(two), 2e-5)
	assert.InEpsilon(t, 0.946559820, halfWidth95([]float64{0.7, 0.3}, []float64{0.04, 0.25}), 1e-5)
	assert.InDelta(t, 0, halfWidth95([]float64{1}, []float64{0}), 0)
	assert.InDelta(t, 0, radius95(lobes{{1, geo.Cov{}, geo.Vec{}}}), 0)
	assert.Equal(t, geo.Ellipse{}, ellipse95(lobes{{1, geo.Cov{}, geo.Vec{}}}))
	// What lies off the middle counts by its second moment: 0.75 at (1, 0) and
	// 0.25 at (−3, 0) have the variance 3 east.
	apart := lobes{{0.75, geo.Cov{}, geo.Vec{X: 1}}, {0.25, geo.Cov{}, geo.Vec{X: -3}}}
	assert.InDelta(t, 3, total(apart).XX, 1e-12)
	assert.InDelta(t, 0, total(apart).YY, 1e-12)
}
