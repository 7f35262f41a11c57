package folder_test

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/observe"
	"asfound/testdata/sites"
)

const sketch = `{"type": "FeatureCollection", "sketch": {"unit": "ft"}, "features": [
 {"type": "Feature", "id": "A", "geometry": {"type": "Point", "coordinates": [0, 0]}, "properties": {"part": "landmark"}},
 {"type": "Feature", "id": "B", "geometry": {"type": "Point", "coordinates": [40, 0]}, "properties": {"part": "landmark"}},
 {"type": "Feature", "id": "box", "geometry": {"type": "Point", "coordinates": [10, -30]}, "properties": {"part": "box"}},
 {"type": "Feature", "id": "L1", "geometry": {"type": "LineString", "coordinates": [[14, -30], [74, -30]]}, "properties": {"part": "lateral"}}]}`

func text(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }

func TestRead(t *testing.T) {
	j, problems := folder.Read(fstest.MapFS{
		folder.Sketch:   text(sketch),
		folder.Settings: text(`{"unit": "m", "title": "Invented lot 3"}`),
		folder.Log:      text("kind,from,to,value\ntape,A,B,12.2\n"),
		"lot.GPX":       text(`<gpx><wpt lat="-48.9" lon="-123.4"><name>A</name></wpt></gpx>`),
		"B.nmea":        text("$GPGGA,123519,4854.000,S,12324.010,W,1,08,0.9,5.4,M,46.9,M,,*41\n"),
		"notes.txt":     text("not read"),
	})
	require.NoError(t, problems.Err())
	require.Len(t, j.Readings, 3)
	assert.Equal(t, 12.2, j.Readings[0].Value.Metres, "bare numbers are in the job's unit")
	assert.Equal(t, "A", j.Readings[1].Point)
	assert.Equal(t, "B", j.Readings[2].Point)
	assert.Equal(t, "Invented lot 3", j.Settings.Title)
}

func TestProblemsOfAllFilesInOnePass(t *testing.T) {
	_, problems := folder.Read(fstest.MapFS{
		folder.Settings: text(`{"unit": "yd"}`),
		folder.Log:      text("kind,from,to,value\ntape,A,,12.2\n"),
	})
	all := problems.Error()
	assert.Contains(t, all, "sketch.geojson: found no such file; want the as-built sketch")
	assert.Contains(t, all, "job.json, unit")
	assert.Contains(t, all, "readings.csv, row 2, to")
}

// Problems between the files.
func TestCheck(t *testing.T) {
	for _, tt := range []struct{ name, log, settings, want string }{
		{"target", "kind,point,target\nfound,H1,L9\n", "{}", `readings.csv, row 2, target: found "L9"; want a part of the sketch (box, L1) or a kind (box, lateral, header)`},
		{"spot", "kind,point,target,spot\nfound,H1,box,end\n", "{}", `readings.csv, row 2, spot: found "end"; want on, center, edge, corner for a box`},
		{"hole named as part", "kind,point,target\nfound,box,L1\n", "{}", `readings.csv, row 2, point: found "box"; want the name of the hole`},
		{"line as point", "kind,from,to,value\ntape,A,L1,3\n", "{}", `readings.csv, row 2, to: found "L1"; want a landmark, a hole or a stake`},
		{"void", "kind,target\nvoid,r9\n", "{}", `readings.csv, row 2, target: found "r9"; want the id of a reading`},
		{"void of void", "kind,target\nvoid,r3\nvoid,r2\n", "{}", `not a void itself`},
		{"seek", "kind,point\n", `{"seek": "bxo"}`, `job.json, seek: found "bxo"; want`},
		{"far", "kind,point,lon,lat\ngnss,A,-79.9,37.2\ngnss,B,79.9,37.2\n", "{}", `km from the fix of A (r2); want a position on the lot`},
		{"condition", "kind,target,note\ncondition,pump,wet\n", "{}", `readings.csv, row 2, target: found "pump"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j, problems := folder.Read(fstest.MapFS{folder.Sketch: text(sketch), folder.Log: text(tt.log), folder.Settings: text(tt.settings)})
			assert.Nil(t, j)
			assert.Contains(t, problems.Error(), tt.want)
		})
	}
}

func TestScan(t *testing.T) {
	for _, scan := range []string{"missing.png", "../../etc/passwd", "/etc/passwd"} {
		s := `{"type": "FeatureCollection", "sketch": {"unit": "ft", "scan": "` + scan + `"}` + sketch[len(`{"type": "FeatureCollection", "sketch": {"unit": "ft"}`):]
		_, problems := folder.Read(fstest.MapFS{folder.Sketch: text(s)})
		assert.Contains(t, problems.Error(), "want the name of a file in the job's folder")
	}
}

func TestCautions(t *testing.T) {
	j, problems := folder.Read(fstest.MapFS{folder.Sketch: text(sketch), folder.Log: text("kind,point,target,from,to,value\nfound,H1,L1,,,\ntape,,,A,H2,12\n")})
	require.NoError(t, problems.Err())
	all := observe.Cautions(j)
	require.NotEmpty(t, all)
	assert.Equal(t, finding.HoleUnplaced, all[0].Code)
	assert.Equal(t, "H1", all[0].Words["hole"])
}

func TestInventedSites(t *testing.T) {
	for _, name := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		sub, err := fs.Sub(sites.Folders, name)
		require.NoError(t, err)
		j, problems := folder.Read(sub)
		require.NoError(t, problems.Err(), name)
		assert.NotEmpty(t, j.Sketch.Parts)
		_, err = fit.Prepare(j.Sketch)
		assert.NoError(t, err)
	}
}
