package probe_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// A hole that is set out from landmarks which are themselves only known to a
// metre, or by satellite alone, keeps three times that from a clearance: the
// crossing of two tapes is no better than its worse landmark (error
// propagation, Ghilani & Wolf, Adjustment Computations).
func TestUnsureLandmarksKeepFurther(t *testing.T) {
	gas := locate.Outline{Part: "gas", Kind: asbuilt.Utility, Clearance: 0.5,
		Now: []geo.Outline{{Vertices: []geo.Vec{{X: -30}, {X: 30}}}}}
	for _, tt := range []struct {
		name  string
		sigma float64 // metres, of a landmark, each axis
		marks int
		keeps float64 // metres from the line, at least
	}{
		{"sure", 0, 2, 0.65},
		{"a metre", 1, 2, 0.65 + 3},
		{"by satellite", 0, 0, 0.65 + 3*2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			loc, draws := lot(cloud(2000, geo.Vec{Y: -2}, 4), gas)
			loc.Spots = loc.Spots[:tt.marks]
			loc.Frame.Kind = survey.Geodetic
			for i := range loc.Spots {
				loc.Spots[i].FromLandmarks = geo.Cov{XX: tt.sigma * tt.sigma, YY: tt.sigma * tt.sigma}.Ellipse(2.4477)
			}
			p, err := probe.New(t.Context(), loc, draws)
			require.NoError(t, err)
			require.NotEmpty(t, p.Holes)
			for _, h := range p.Holes {
				assert.Greater(t, geo.Outline{Vertices: gas.Now[0].Vertices}.Distance(h.At), tt.keeps)
			}
		})
	}
}
