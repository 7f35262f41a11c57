package geo_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
)

// reference reads a file of testdata/reference by column name; the notes at
// its head say where its values come from.
func reference(t *testing.T, name string, atLeast int) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), atLeast)
	var records []map[string]string
	for _, row := range rows[1:] {
		record := map[string]string{}
		for i, column := range rows[0] {
			record[column] = row[i]
		}
		records = append(records, record)
	}
	return records
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// TestEllipse: axes and bearings by numpy.linalg.eigh of the reference file,
// among them the trilateration example 14.2 of Ghilani, Adjustment
// Computations.
func TestEllipse(t *testing.T) {
	for _, r := range reference(t, "error_ellipse.csv", 7) {
		t.Run(r["name"], func(t *testing.T) {
			c := geo.Cov{XX: number(t, r["cov_xx"]), XY: number(t, r["cov_xy"]), YY: number(t, r["cov_yy"])}
			e := c.Ellipse(1)
			assert.InEpsilon(t, number(t, r["semi_major_1sigma"]), e.SemiMajor, 1e-9)
			assert.InEpsilon(t, number(t, r["semi_minor_1sigma"]), e.SemiMinor, 1e-9)
			assert.InDelta(t, number(t, r["azimuth_from_north_cw_deg_0_180"]), e.Bearing.Degrees(), 1e-6)

			e = c.Ellipse(math.Sqrt(-2 * math.Log(0.05))) // √χ²(0.95, 2)
			assert.InEpsilon(t, number(t, r["semi_major_95"]), e.SemiMajor, 1e-9)
			assert.InEpsilon(t, number(t, r["semi_minor_95"]), e.SemiMinor, 1e-9)
		})
	}
}

// The standard deviation along the axes of the ellipse is its semi-axes, and
// nowhere larger or smaller.
func TestAlong(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64Range(0.01, 10).Draw(t, "a"), rapid.Float64Range(0.01, 10).Draw(t, "b")
		turn := geo.Degrees(rapid.Float64Range(0, 360).Draw(t, "turn"))
		u := geo.Vec{X: 1}.Rotate(turn)
		c := geo.Outer(u).Scale(a * a).Add(geo.Outer(u.Right()).Scale(b * b))
		e := c.Ellipse(1)
		assert.InDelta(t, max(a, b), e.SemiMajor, 1e-9)
		assert.InDelta(t, min(a, b), e.SemiMinor, 1e-6)
		major := geo.Vec{Y: 1}.Rotate(geo.Radians(-e.Bearing.Radians()))
		assert.InDelta(t, e.SemiMajor, c.Along(major), 1e-6)
		assert.InDelta(t, e.SemiMinor, c.Along(major.Right()), 1e-6)
		any := geo.Vec{X: 1}.Rotate(geo.Degrees(rapid.Float64Range(0, 360).Draw(t, "any")))
		assert.LessOrEqual(t, c.Along(any), e.SemiMajor+1e-9)
		assert.GreaterOrEqual(t, c.Along(any), e.SemiMinor-1e-6)
		assert.GreaterOrEqual(t, e.Bearing.Degrees(), 0.0)
		assert.Less(t, e.Bearing.Degrees(), 180.0)
	})
}

func TestUnits(t *testing.T) {
	exact := map[string]float64{}
	for _, r := range reference(t, "units.csv", 13) {
		exact[r["name"]] = number(t, r["value"])
	}
	foot, _ := geo.Foot.Metres()
	survey, _ := geo.SurveyFoot.Metres()
	inch, _ := geo.Inch.Metres()
	yard, _ := geo.Yard.Metres()
	assert.Equal(t, exact["international_foot_m"], foot)
	assert.InDelta(t, exact["us_survey_foot_m"], survey, 1e-16)
	assert.InDelta(t, exact["difference_ppm"], (survey/foot-1)*1e6, 1e-9)
	assert.Equal(t, exact["inch_m"], inch)
	assert.InDelta(t, 12*inch, foot, 1e-16)
	assert.InDelta(t, 3*foot, yard, 2e-16)
	for _, u := range []geo.Unit{geo.Pixel, "", "furlong"} {
		_, ok := u.Metres()
		assert.False(t, ok, u)
	}
}
