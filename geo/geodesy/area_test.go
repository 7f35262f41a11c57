package geodesy

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// UTM zone 17 north reaches from 84° to 78° west and from the equator to 84°
// north (NGA.SIG.0012); zone 60 of the south ends at the date line; degrees on
// WGS 84 are good anywhere, and Web Mercator between 85.06° south and north (the
// area of use in the EPSG dataset; the map is square at atan(sinh π) = 85.0511°).
func TestAreaOfASystem(t *testing.T) {
	for _, tt := range []struct {
		code     int
		lon, lat float64
		want     bool
	}{
		{32617, -81, 40, true}, {32617, -84, 0, true}, {32617, -78, 84, true},
		{32617, -85, 40, false}, {32617, -77, 40, false}, {32617, -81, -1, false}, {32617, -81, 85, false},
		{32760, 179, -40, true}, {32760, -179, -40, false}, {32760, 179, 40, false},
		{4326, -179.5, -89.5, true}, {4326, 179.5, 89.5, true}, {4326, 0, 0, true},
		{3857, -179.5, 85.0511, true}, {3857, 179.5, -85.0511, true}, {3857, 0, 85.07, false}, {3857, 0, -85.07, false},
	} {
		c, err := ByEPSG(tt.code)
		require.NoError(t, err)
		p, err := New(tt.lon, tt.lat)
		require.NoError(t, err)
		assert.Equal(t, tt.want, c.Covers(p), "EPSG:%d at %v, %v", tt.code, tt.lon, tt.lat)
	}
}
