package plot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
	"asfound/survey/locate"
)

// A depth with its 95 % interval, which never reaches above the ground.
func TestDepthWords(t *testing.T) {
	assert.Equal(t, "0.61 m ± 0.20 m", depthWords(locate.Depth{Mean: 0.61, Sigma: 0.1}, geo.Metre))
	assert.Equal(t, "0.61 m, at most 1.30 m", depthWords(locate.Depth{Mean: 0.61, Sigma: 0.35}, geo.Metre))
	assert.Equal(t, "not known", depthWords(locate.Depth{Mean: math.NaN()}, geo.Metre))
}
