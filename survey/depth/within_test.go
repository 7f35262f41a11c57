package depth

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Nothing lies above the ground: an interval that would reach there has only a depth
// that is the most. 1.96 is the 97.5 % point of a standard Gaussian.
func TestWithin(t *testing.T) {
	half, shallow := Depth{Mean: 0.5, Sigma: 0.25}.Within()
	assert.InDelta(t, 0.49, half, 1e-3)
	assert.False(t, shallow)
	_, shallow = Depth{Mean: 0.48, Sigma: 0.25}.Within()
	assert.True(t, shallow)
}
