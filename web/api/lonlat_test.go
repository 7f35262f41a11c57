package api

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/answer"
	"asfound/testdata/long"
)

// TestLonLatAgreesWithGDAL compares the stage with gdaltransform, in a UTM zone, in a
// state plane zone in feet, and in degrees.
func TestLonLatAgreesWithGDAL(t *testing.T) {
	program := long.Program(t, "gdaltransform")
	for _, tt := range []struct {
		crs    string
		places [][2]float64
	}{
		{"EPSG:32710", [][2]float64{{470700.5, 4583500.25}, {470812, 4583399}}},
		{"EPSG:2264", [][2]float64{{1312233.5, 580012.75}, {1312333.5, 579912.75}}},
		{"4269", [][2]float64{{-80.25, 36.5}}},
	} {
		places, err := json.Marshal(tt.places)
		require.NoError(t, err)
		data, err := Run(t.Context(), "lonlat", fmt.Appendf(nil, `{"crs": %q, "places": %s}`, tt.crs, places))
		require.NoError(t, err)
		var a answer.LonLats
		require.NoError(t, json.Unmarshal(data, &a))
		var in strings.Builder
		for _, p := range tt.places {
			fmt.Fprintf(&in, "%.9f %.9f\n", p[0], p[1])
		}
		code := strings.TrimPrefix(tt.crs, "EPSG:")
		// Of one datum, as the engine does: with a shift GDAL would look for a grid.
		to := map[string]string{"32710": "EPSG:4326", "2264": "EPSG:4269", "4269": "EPSG:4269"}[code]
		c := exec.Command(program, "-s_srs", "EPSG:"+code, "-t_srs", to, "-output_xy")
		c.Stdin = strings.NewReader(in.String())
		want, err := c.Output()
		require.NoError(t, err)
		lines := strings.Split(strings.TrimSpace(string(want)), "\n")
		require.Len(t, lines, len(a.Places))
		for i, line := range lines {
			var lon, lat float64
			_, err := fmt.Sscan(line, &lon, &lat)
			require.NoError(t, err)
			assert.InDelta(t, lon, float64(a.Places[i].Lon), 2e-9, "%s: %s", tt.crs, line) // 0.2 mm
			assert.InDelta(t, lat, float64(a.Places[i].Lat), 2e-9, "%s: %s", tt.crs, line)
		}
	}
}

// TestLonLatRefuses holds that what is no place of the system is refused by name.
func TestLonLatRefuses(t *testing.T) {
	for request, want := range map[string]string{
		`{"crs": "EPSG:27700", "places": []}`:                    "EPSG:27700 is not known here",
		`{"crs": "paper", "places": []}`:                         "want an EPSG code",
		`{"crs": "EPSG:32710", "places": [[4583500, 470700]]}`:   "EPSG:32710",
		`{"crs": "EPSG:4326", "places": [[48.9, -123.4]]}`:       "is not a position in EPSG:4326",
		`{"crs": "EPSG:32710", "places": [[470700, -12000000]]}`: "EPSG:32710",
	} {
		_, err := Run(t.Context(), "lonlat", []byte(request))
		require.Error(t, err, request)
		assert.Contains(t, err.Error(), want, request)
	}
}
