package plot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey/locate"
)

// A depth with its 95 % interval, which never reaches above the ground.
func TestDepthWords(t *testing.T) {
	in := func(l language.Tag) *siteMap { return &siteMap{opt: MapOptions{Unit: geo.Metre, Language: l}} }
	m := in(language.English)
	assert.Equal(t, "0.61 m ± 0.20 m", m.depth(locate.Depth{Mean: 0.61, Sigma: 0.1}))
	assert.Equal(t, "0.61 m, at most 1.30 m", m.depth(locate.Depth{Mean: 0.61, Sigma: 0.35}))
	assert.Equal(t, "not known", m.depth(locate.Depth{Mean: math.NaN()}))
	assert.Equal(t, "0.61 m, a lo más 1.30 m", in(language.Spanish).depth(locate.Depth{Mean: 0.61, Sigma: 0.35}))
}
