package export_test

import (
	"encoding/json"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
	"asfound/survey/export"
	"asfound/survey/locate"
	"asfound/testdata/long"
)

// collections are the GeoJSON files of the invented jobs.
func collections(t *testing.T, l *locate.Location) map[string]string {
	_, plan := quillback(t, l.Frame.Site != nil)
	return map[string]string{
		"predictions": text(t, func(w io.Writer) error { return export.PredictionsGeoJSON(w, l) }),
		"asbuilt":     text(t, func(w io.Writer) error { return export.AsBuiltGeoJSON(t.Context(), w, l) }),
		"plan":        text(t, func(w io.Writer) error { return export.PlanGeoJSON(w, l, plan) }),
	}
}

type collection struct {
	Type     string
	Crs      any
	Features []struct {
		Type     string
		ID       string
		Geometry *struct {
			Type        string
			Coordinates json.RawMessage
		}
		Properties map[string]any
	}
}

// TestRFC7946 holds the files to the rules of RFC 7946 that are named below.
func TestRFC7946(t *testing.T) {
	for _, name := range names {
		l := locatedSite(t, name)
		for what, s := range collections(t, l) {
			t.Run(name+"/"+what, func(t *testing.T) {
				var c collection
				require.NoError(t, json.Unmarshal([]byte(s), &c))
				assert.Equal(t, "FeatureCollection", c.Type, "3.3")
				assert.Nil(t, c.Crs, "4: no crs member")
				require.NotEmpty(t, c.Features)
				ids := map[string]bool{}
				for _, f := range c.Features {
					assert.Equal(t, "Feature", f.Type, "3.2")
					assert.NotNil(t, f.Properties, "3.2")
					assert.False(t, ids[f.ID], "%s: id used twice", f.ID)
					ids[f.ID] = true
					if f.Geometry == nil {
						continue
					}
					for _, polygon := range polygons(t, f.Geometry.Type, f.Geometry.Coordinates) {
						for k, ring := range polygon {
							require.GreaterOrEqual(t, len(ring), 4, "3.1.6: four positions or more")
							assert.Equal(t, ring[0], ring[len(ring)-1], "3.1.6: closed")
							assert.Equal(t, k == 0, area(ring) > 0, "3.1.6: right-hand rule: %s", f.ID)
						}
					}
				}
				decimals := 9 // 11.2: no more digits than the data have
				if l.Frame.Site == nil {
					decimals = 3
				}
				coordinates := regexp.MustCompile(`"coordinates": \[[^"]*`).FindAllString(s, -1)
				require.NotEmpty(t, coordinates)
				for _, c := range coordinates {
					for _, number := range regexp.MustCompile(`-?\d+(\.\d+)?([eE]\S+)?`).FindAllStringSubmatch(c, -1) {
						assert.LessOrEqual(t, len(number[1]), decimals+1, "11.2: %s", number[0])
						assert.Empty(t, number[2])
					}
				}
			})
		}
	}
}

// Longitude comes first, latitude second (RFC 7946, 3.1.1). The invented jobs
// lie about 123.4° west, 48.9° south.
func TestLongitudeFirst(t *testing.T) {
	for _, s := range collections(t, locatedSite(t, "demo")) {
		var c collection
		require.NoError(t, json.Unmarshal([]byte(s), &c))
		points := 0
		for _, f := range c.Features {
			if f.Geometry == nil || f.Geometry.Type != "Point" {
				continue
			}
			var at [2]float64
			require.NoError(t, json.Unmarshal(f.Geometry.Coordinates, &at))
			assert.InDelta(t, -123.4, at[0], 0.01)
			assert.InDelta(t, -48.9, at[1], 0.01)
			points++
		}
		assert.NotZero(t, points)
	}
}

func polygons(t *testing.T, kind string, raw json.RawMessage) (all [][][][2]float64) {
	switch kind {
	case "Polygon":
		all = make([][][][2]float64, 1)
		require.NoError(t, json.Unmarshal(raw, &all[0]))
	case "MultiPolygon":
		require.NoError(t, json.Unmarshal(raw, &all))
	}
	return all
}

// area is the area of a ring by the shoelace formula, above zero where it
// turns counter-clockwise.
func area(ring [][2]float64) (a float64) {
	for i := 1; i < len(ring); i++ {
		p, q, o := ring[i-1], ring[i], ring[0]
		a += (p[0]-o[0])*(q[1]-o[1]) - (q[0]-o[0])*(p[1]-o[1])
	}
	return a / 2
}

// The corrected as-built is a sketch that can be read again: everything is
// where it is now believed to lie, to the millimetre, with its landmarks.
func TestAsBuiltReadsBack(t *testing.T) {
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			l := locatedSite(t, name)
			s := text(t, func(w io.Writer) error { return export.AsBuiltGeoJSON(t.Context(), w, l) })
			sketch, problems := geojson.Decode(strings.NewReader(s), "asbuilt.geojson")
			require.NoError(t, problems.Err())
			require.Len(t, sketch.Parts, len(l.Job.Sketch.Parts))
			assert.Equal(t, l.Frame.Site != nil, sketch.Plane == asbuilt.WGS84)
			a := l.Outlines[0].Now[0].Vertices[0]
			b := sketch.Parts[0].Shapes[0].Vertices[0]
			for i, o := range l.Outlines {
				p := sketch.Parts[i]
				assert.Equal(t, o.Part, p.ID)
				for k, sh := range o.Now {
					for _, v := range sh.Vertices { // a polygon may have been turned round
						least := math.Inf(1)
						for _, w := range p.Shapes[k].Vertices {
							least = min(least, v.Sub(a).Dist(geo.Vec(w.Sub(b))))
						}
						assert.Less(t, least, 0.002, "%s", o.Part)
					}
				}
			}
			var c struct{ Readings []map[string]string }
			require.NoError(t, json.Unmarshal([]byte(s), &c))
			assert.Len(t, c.Readings, len(l.Job.Readings), "the log is inside")
		})
	}
}

// GDAL reads every file, and finds as many features as there are.
func TestGDALReads(t *testing.T) {
	ogrinfo := long.Program(t, "ogrinfo") // of GDAL
	for _, name := range []string{"demo", "two-tapes"} {
		for what, s := range collections(t, locatedSite(t, name)) {
			file := filepath.Join(t.TempDir(), what+".geojson")
			require.NoError(t, os.WriteFile(file, []byte(s), 0o644))
			out, err := exec.Command(ogrinfo, "-ro", "-al", "-so", file).CombinedOutput()
			require.NoError(t, err, string(out))
			var c collection
			require.NoError(t, json.Unmarshal([]byte(s), &c))
			assert.Contains(t, string(out), "Feature Count: "+jsonNumber(len(c.Features)), "%s", what)
			assert.NotContains(t, strings.ToLower(string(out)), "warning")
		}
	}
}

func jsonNumber(n int) string { b, _ := json.Marshal(n); return string(b) }
