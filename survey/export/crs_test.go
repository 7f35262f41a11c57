package export_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/testdata/sites"
)

// projected has a program of PROJ or GDAL project positions, a line each.
func projected(t *testing.T, input []string, program string, args ...string) (xy [][2]float64) {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skip(program + " is not installed")
	}
	c := exec.Command(program, args...)
	c.Stdin = strings.NewReader(strings.Join(input, "\n") + "\n")
	out, err := c.Output()
	require.NoError(t, err)
	for line := range strings.Lines(string(out)) {
		f := strings.Fields(line)
		require.GreaterOrEqual(t, len(f), 2, line)
		x, err := strconv.ParseFloat(f[0], 64)
		require.NoError(t, err)
		y, err := strconv.ParseFloat(f[1], 64)
		require.NoError(t, err)
		xy = append(xy, [2]float64{x, y})
	}
	require.Len(t, xy, len(input))
	return xy
}

// office are locations with an office's system: a state plane zone in US survey
// feet, one in international feet, and UTM by the settings of an invented job.
// from is the geographic system of the same datum, since no shift is applied.
func office(t *testing.T) map[string]struct {
	l                *locate.Location
	from, code, unit string
} {
	with := func(code int) *locate.Location {
		l := small(true)
		c, err := geodesy.ByEPSG(code)
		require.NoError(t, err)
		l.Frame.CRS = &c
		return l
	}
	return map[string]struct {
		l                *locate.Location
		from, code, unit string
	}{
		"Wisconsin South, ftUS": {with(2289), "EPSG:4269", "EPSG:2289", "us_ft"},
		"Michigan South, ft":    {with(2253), "EPSG:4269", "EPSG:2253", "ft"},
		"UTM":                   {locatedSite(t, "metric-gnss"), "EPSG:4326", "EPSG:32710", "m"},
	}
}

// spots.csv has each spot in the office's system, as PROJ has its longitude and
// latitude there.
func TestSpotsInTheOfficesSystem(t *testing.T) {
	for name, o := range office(t) {
		t.Run(name, func(t *testing.T) {
			rows, err := csv.NewReader(strings.NewReader(text(t, func(w io.Writer) error { return export.SpotsCSV(w, o.l) }))).ReadAll()
			require.NoError(t, err)
			at := map[string]int{}
			for i, name := range rows[0] {
				at[name] = i
			}
			for _, name := range []string{"lon_deg", "lat_deg", "x_" + o.unit, "y_" + o.unit, "crs"} {
				require.Contains(t, rows[0], name)
			}
			var in []string
			for _, row := range rows[1:] {
				in = append(in, row[at["lat_deg"]]+" "+row[at["lon_deg"]])
				assert.Equal(t, o.code, row[at["crs"]])
			}
			for i, want := range projected(t, in, "cs2cs", "-f", "%.5f", o.from, o.code) {
				x, err := strconv.ParseFloat(rows[1+i][at["x_"+o.unit]], 64)
				require.NoError(t, err)
				y, err := strconv.ParseFloat(rows[1+i][at["y_"+o.unit]], 64)
				require.NoError(t, err)
				assert.InDelta(t, want[0], x, 0.001) // three decimals, of nine of a degree
				assert.InDelta(t, want[1], y, 0.001)
			}
		})
	}
}

// The geometry of predictions.geojson and plan.geojson stays on WGS 84 (RFC
// 7946, 4); x, y and crs stand beside it, as GDAL has the geometry there.
func TestFeaturesInTheOfficesSystem(t *testing.T) {
	for name, o := range office(t) {
		t.Run(name, func(t *testing.T) {
			var in []string
			var got [][2]float64
			for what, s := range map[string]string{
				"spot": text(t, func(w io.Writer) error { return export.PredictionsGeoJSON(w, o.l) }),
				"hole": text(t, func(w io.Writer) error { return export.PlanGeoJSON(w, o.l, plan()) }),
			} {
				var c struct {
					Features []struct {
						Geometry   struct{ Coordinates json.RawMessage }
						Properties struct {
							Role, CRS string
							X, Y      *float64
						}
					}
				}
				require.NoError(t, json.Unmarshal([]byte(s), &c))
				for _, f := range c.Features {
					if f.Properties.Role != what {
						assert.Nil(t, f.Properties.X, "a region has no one place")
						continue
					}
					var at [2]float64
					require.NoError(t, json.Unmarshal(f.Geometry.Coordinates, &at))
					require.NotNil(t, f.Properties.X)
					assert.Equal(t, o.code, f.Properties.CRS)
					in = append(in, fmt.Sprintf("%.9f %.9f", at[0], at[1]))
					got = append(got, [2]float64{*f.Properties.X, *f.Properties.Y})
				}
			}
			require.Greater(t, len(in), 5)
			for i, want := range projected(t, in, "gdaltransform", "-s_srs", o.from, "-t_srs", o.code) {
				assert.InDelta(t, want[0], got[i][0], 0.001)
				assert.InDelta(t, want[1], got[i][1], 0.001)
			}
		})
	}
}

// Without a tie to the earth nothing is invented, and the frame says why there
// is nothing.
func TestNoCoordinatesWithoutATie(t *testing.T) {
	fsys, err := fs.Sub(sites.Folders, "two-tapes")
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	job.Settings.EPSG = 2289
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	l, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	require.Equal(t, survey.Local, l.Frame.Kind)
	assert.Nil(t, l.Frame.CRS)
	assert.Contains(t, l.Frame.Note(finding.English(geo.Metre)), "; nothing ties it to the earth, so there are no coordinates in EPSG:2289")
	spots := text(t, func(w io.Writer) error { return export.SpotsCSV(w, l) })
	head, _, _ := strings.Cut(spots, "\r\n")
	for name := range strings.SplitSeq(head, ",") {
		assert.NotContains(t, []string{"crs", "x_us_ft", "y_us_ft", "lon_deg"}, name)
	}
	predictions := text(t, func(w io.Writer) error { return export.PredictionsGeoJSON(w, l) })
	assert.NotContains(t, predictions, `"crs"`)
	assert.Contains(t, predictions, "no coordinates in EPSG:2289")
}

// What a reader has to know of the system is said once, in the frame.
func TestFrameSaysWhatTheSystemIs(t *testing.T) {
	l := locatedSite(t, "metric-gnss")
	assert.True(t, strings.HasSuffix(l.Frame.Note(finding.English(geo.Metre)), "; x and y in EPSG:32710, WGS 84 / UTM zone 10S"), l.Frame.Note(finding.English(geo.Metre)))

	fsys, err := fs.Sub(sites.Folders, "metric-gnss")
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	job.Settings.EPSG = 2289
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	assert.Contains(t, solved.Frame.Note(finding.English(geo.Metre)), "with WGS 84 taken as NAD83 (in the United States they differ by 1 to 2 m)")
	assert.Contains(t, solved.Frame.Note(finding.English(geo.Metre)), "which is not meant for use here: is the zone right?", "the site is not in Wisconsin")
}
