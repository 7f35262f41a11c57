package locate_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/pipeline"
	"asfound/survey/simulate"
)

// TestOneMeaning holds the ellipse and the radius of every spot to each other, on
// the earth and from the landmarks: both hold 95 % of the same belief about the
// same place. The circle of the major axis contains the ellipse and that of the
// minor axis lies within it, so the radius lies between the two; and a circle of
// the radius about the place holds as much as the ellipse does.
func TestOneMeaning(t *testing.T) {
	spots := 0
	between := func(name string, e geo.Ellipse, radius float64) {
		const rounding = 1e-4 // the radii are solved for to 1e-6, by sums over 16 directions
		assert.LessOrEqual(t, e.SemiMinor, e.SemiMajor, name)
		assert.GreaterOrEqual(t, radius, e.SemiMinor*(1-rounding), name)
		assert.LessOrEqual(t, radius, e.SemiMajor*(1+rounding), name)
	}
	for _, mix := range []simulate.Mix{simulate.Tapes, simulate.Fixes, simulate.Both, simulate.Compass} {
		for _, trust := range []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale} {
			for seed := range uint64(4) {
				for _, search := range []bool{false, true} {
					o := simulate.Order{Seed: 70 + seed, Mix: mix, Trust: trust, Holes: int(seed)}
					if search {
						o.Empty = 3
					}
					job := simulate.Invent(o).Job
					l, err := pipeline.Locate(t.Context(), job, nil)
					require.NoError(t, err)
					for _, s := range l.Spots {
						name := fmt.Sprintf("%+v %s %s", o, s.Part, s.Spot)
						between(name+", on the earth", s.Ellipse, s.Radius95)
						between(name+", from the landmarks", s.FromLandmarks, s.Landmarks95)
						spots++
					}
				}
			}
		}
	}
	assert.Greater(t, spots, 1000)
}
