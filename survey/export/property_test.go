package export_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey/export"
)

// Whatever numbers a location holds, what is written is JSON (RFC 8259, 6: no
// NaN, no infinity) and a table of equal rows, or an error and no panic.
func TestNoNumberSpoilsTheOutput(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		number := rapid.OneOf(rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), 1e300, 5e-324}), rapid.Float64())
		l, plan := quillback(t, rapid.Bool().Draw(r, "geodetic"))
		spoil := func(v *float64) {
			if rapid.IntRange(0, 3).Draw(r, "spoil") == 0 {
				*v = number.Draw(r, "number")
			}
		}
		for i := range l.Spots {
			s := &l.Spots[i]
			for _, v := range []*float64{&s.At.X, &s.At.Y, &s.Old.X, &s.Radius95, &s.Landmarks95, &s.Ellipse.SemiMajor, &s.FromLandmarks.SemiMinor} {
				spoil(v)
			}
			if s.Depth != nil {
				spoil(&s.Depth.Mean)
				spoil(&s.Depth.Sigma)
			}
			s.Ellipse.Bearing = geo.Radians(number.Draw(r, "bearing"))
		}
		f, c, h := l.Fit, &l.Corridors[0], &plan.Holes[0]
		for _, v := range []*float64{&f.Redundancy, &f.VarianceFactor, &f.Scale, &f.ScaleSigma, &f.Residuals[0].Fitted, &f.Residuals[0].Standardized,
			&c.Half[0], &c.Line[1].X, &c.Width, &h.At.X, &h.Depth.Mean, &h.Depth.Sigma, &h.StopDepth, &h.Chance, &h.Ties[0].Distance,
			&plan.ExpectedHoles, &plan.ChanceNext, &l.Outlines[2].Now[0].Vertices[0].X} {
			spoil(v)
		}
		f.Rotation = geo.Radians(number.Draw(r, "rotation"))
		for name, write := range map[string]func(io.Writer) error{
			"locate":      func(w io.Writer) error { return export.LocateJSON(w, l, language.English) },
			"digplan":     func(w io.Writer) error { return export.DigplanJSON(w, l, plan, language.English) },
			"fit":         func(w io.Writer) error { return export.FitJSON(w, l.Fit, language.English) },
			"predictions": func(w io.Writer) error { return export.PredictionsGeoJSON(w, l) },
			"plan":        func(w io.Writer) error { return export.PlanGeoJSON(w, l, plan) },
		} {
			var b bytes.Buffer
			require.NoError(t, write(&b), name)
			require.True(t, json.Valid(b.Bytes()), name)
		}
		var b bytes.Buffer
		if err := export.AsBuiltGeoJSON(r.Context(), &b, l); err != nil {
			assert.Empty(t, b.Bytes(), "nothing half written")
		} else {
			require.True(t, json.Valid(b.Bytes()))
		}
		for name, write := range map[string]func(io.Writer) error{
			"spots": func(w io.Writer) error { return export.SpotsCSV(w, l) },
			"holes": func(w io.Writer) error { return export.HolesCSV(w, l, plan) },
			"fit":   func(w io.Writer) error { return export.ResidualsCSV(w, l.Fit) },
		} {
			var b bytes.Buffer
			require.NoError(t, write(&b), name)
			rows, err := csv.NewReader(&b).ReadAll() // refuses rows of unequal length
			require.NoError(t, err, name)
			for _, row := range rows {
				for _, cell := range row {
					require.NotContains(t, []string{"NaN", "+Inf", "-Inf", "-0"}, cell, name)
				}
			}
		}
	})
}

// Tables as RFC 4180 has them: a header, rows of equal length, CR LF, quotes
// where needed. The foot is 0.3048 m (85 FR 62698).
func TestTables(t *testing.T) {
	l, plan := quillback(t, true)
	s := text(t, func(w io.Writer) error { return export.SpotsCSV(w, l) })
	assert.Equal(t, strings.Count(s, "\n"), strings.Count(s, "\r\n"))
	rows, err := csv.NewReader(strings.NewReader(s)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+len(l.Spots))
	column := map[string]int{}
	for i, h := range rows[0] {
		column[h] = i
	}
	assert.Equal(t, "12.192", rows[2][column["east_m"]])
	assert.Equal(t, "40", rows[2][column["east_ft"]], "12.192 m / 0.3048")
	assert.Equal(t, "", rows[1][column["depth_m"]], "a landmark has no depth")
	assert.Equal(t, "2.01", rows[3][column["depth_ft"]], "0.61234 m / 0.3048")

	l.Job.Settings.Unit = geo.Metre
	assert.NotContains(t, text(t, func(w io.Writer) error { return export.SpotsCSV(w, l) }), "_ft")
	plan.Holes = nil
	assert.Equal(t, "rank,chance,seeks\r\n", text(t, func(w io.Writer) error { return export.HolesCSV(w, l, plan) }))
	plan.Seek = "box"
	m := parsed(t, text(t, func(w io.Writer) error { return export.DigplanJSON(w, l, plan, language.English) }))
	assert.Equal(t, []any{}, m["holes"], "an empty array, not null")
}
