package geo_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
)

// The quantiles against the error function: P(|z| < k) = erf(k/√2), and in the
// plane 1 − exp(−k²/2), the Rayleigh distribution.
func TestQuantiles(t *testing.T) {
	assert.InDelta(t, 0.95, 1-math.Exp(-geo.Within95*geo.Within95/2), 1e-15)
	assert.InDelta(t, 0.95, math.Erf(geo.Between95/math.Sqrt2), 1e-5)
	assert.InDelta(t, 0.95, (1+math.Erf(geo.Below95/math.Sqrt2))/2, 2e-5)
}
