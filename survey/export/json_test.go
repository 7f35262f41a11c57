package export_test

import (
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo/language"
	"asfound/survey/export"
	"asfound/survey/finding"
)

var rewrite = flag.Bool("write", false, "rewrite the golden files: read them before you commit them")

// TestGolden holds the JSON of an invented location to files that a person has
// read.
func TestGolden(t *testing.T) {
	for _, geodetic := range []bool{false, true} {
		l, plan := quillback(t, geodetic)
		for name, write := range map[string]func(io.Writer) error{
			"locate":      func(w io.Writer) error { return export.LocateJSON(w, l, language.English) },
			"digplan":     func(w io.Writer) error { return export.DigplanJSON(w, l, plan, language.English) },
			"fit":         func(w io.Writer) error { return export.FitJSON(w, l.Fit, language.English) },
			"predictions": func(w io.Writer) error { return export.PredictionsGeoJSON(w, l) },
			"plan":        func(w io.Writer) error { return export.PlanGeoJSON(w, l, plan) },
			"asbuilt":     func(w io.Writer) error { return export.AsBuiltGeoJSON(t.Context(), w, l) },
			"spots":       func(w io.Writer) error { return export.SpotsCSV(w, l) },
			"holes":       func(w io.Writer) error { return export.HolesCSV(w, l, plan) },
			"residuals":   func(w io.Writer) error { return export.ResidualsCSV(w, l.Fit) },
		} {
			frame := map[bool]string{false: "local", true: "geodetic"}[geodetic]
			t.Run(name+"/"+frame, func(t *testing.T) {
				file := filepath.Join("testdata", name+"-"+frame+".golden")
				got := text(t, write)
				if *rewrite {
					require.NoError(t, os.MkdirAll("testdata", 0o755))
					require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
				}
				want, err := os.ReadFile(file)
				require.NoError(t, err)
				assert.Equal(t, string(want), got)
			})
		}
	}
}

// The members that the format lists are there for every spot of every invented
// job; longitude and latitude where the job is tied to the earth, and only there.
func TestLocateHasItsMembers(t *testing.T) {
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			l := locatedSite(t, name)
			m := parsed(t, text(t, func(w io.Writer) error { return export.LocateJSON(w, l, language.English) }))
			fit := m["fit"].(map[string]any)
			for _, k := range []string{"readings", "unknowns", "redundancy", "variance_factor", "scale", "scale_sigma", "rotation", "rotation_sigma", "mirrored", "suspects"} {
				assert.NotNil(t, fit[k], k)
			}
			frame := m["frame"].(map[string]any)
			assert.Equal(t, string(l.Frame.Kind), frame["kind"])
			assert.Equal(t, l.Frame.Site != nil, frame["origin"] != nil)
			assert.NotEmpty(t, frame["note"])
			has := map[string]bool{}
			for _, s := range m["spots"].([]any) {
				s := s.(map[string]any)
				has[s["part"].(string)+"."+s["spot"].(string)] = true
				for _, k := range []string{"kind", "state", "east", "north", "semi_major", "semi_minor", "bearing", "radius95"} {
					assert.NotNil(t, s[k], "%v %s", s["part"], k)
				}
				assert.Equal(t, l.Frame.Site != nil, s["lon"] != nil && s["lat"] != nil)
				assert.Equal(t, s["kind"] != "landmark", s["depth"] != nil && s["depth_sigma"] != nil, "%v", s["part"])
			}
			for _, p := range l.Job.Sketch.Parts { // the format: box, tank and landmark have a center, laterals and headers start and end
				switch p.Kind {
				case asbuilt.Box, asbuilt.Tank, asbuilt.Landmark:
					assert.True(t, has[p.ID+".center"], p.ID)
				case asbuilt.Lateral, asbuilt.Header:
					assert.True(t, has[p.ID+".start"] && has[p.ID+".end"], p.ID)
				}
			}
		})
	}
}

func TestCheckJSON(t *testing.T) {
	var problems asbuilt.Problems
	problems.Addf("sketch.geojson", `feature 7 "L2"`, "properties.length", `"60 fathoms"`, "a length such as 43'6\"")
	m := parsed(t, text(t, func(w io.Writer) error { return export.CheckJSON(w, nil, problems, nil, language.English) }))
	assert.Equal(t, false, m["ok"])
	assert.Equal(t, []any{}, m["cautions"])
	assert.Equal(t, map[string]any{"file": "sketch.geojson", "place": `feature 7 "L2"`, "field": "properties.length", "found": `"60 fathoms"`,
		"want": `a length such as 43'6"`, "says": problems[0].String()}, m["problems"].([]any)[0])
	l, _ := quillback(t, false)
	m = parsed(t, text(t, func(w io.Writer) error {
		return export.CheckJSON(w, l.Job, nil, []finding.Finding{finding.SheetMirrored.New()}, language.English)
	}))
	assert.Len(t, m["findings"], 1)
	assert.Len(t, m["cautions"], 1)
	assert.Equal(t, true, m["ok"])
	assert.Equal(t, 4.0, m["parts"])
	assert.Equal(t, 1.0, m["readings"])
	assert.Equal(t, []any{}, m["problems"])
}

// A problem is said as its own String says it, and in Spanish around the same names.
func TestProblemsInALanguage(t *testing.T) {
	problems := asbuilt.Problems{
		{File: "readings.csv", Row: 5, Reading: "r4", Field: "from", Found: `"K"`, Want: "a landmark, a hole or a stake"},
		{File: "readings.csv", Reading: "r4", Field: "from", Found: `"K"`, Want: "a landmark"},
		{File: "sketch.geojson", Place: `feature 7 "L2"`, Field: "properties.length", Found: `"60 fathoms"`, Want: "a length"},
		{File: "sketch.geojson", Found: "no such file"},
		{Field: "value", Want: "a length"},
	}
	for i, p := range export.NewProblems(problems, language.English) {
		assert.Equal(t, problems[i].String(), p.Says)
	}
	says := export.NewProblems(problems, language.Spanish)
	assert.Equal(t, `readings.csv, fila 5, from: dice "K"; se necesita: a landmark, a hole or a stake`, says[0].Says)
	assert.Equal(t, `readings.csv, lectura "r4", from: dice "K"; se necesita: a landmark`, says[1].Says)
	assert.Equal(t, "value; se necesita: a length", says[4].Says)
}
