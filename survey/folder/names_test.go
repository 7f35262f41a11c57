package folder_test

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey/folder"
)

// A log under a name that is not read would leave the job without readings, and
// nobody would notice.
func TestMisnamedFiles(t *testing.T) {
	for _, tt := range []struct{ name, want string }{
		{"reading.csv", "reading.csv: found a file of this name; want readings.csv, if that was meant: under this name it is not read"},
		{"Readings.CSV", "Readings.CSV: found a file of this name; want readings.csv, if that was meant: under this name it is not read"},
		{"readings.txt", "readings.txt: found a file of this name; want readings.csv, if that was meant: under this name it is not read"},
		{"Job.json", "Job.json: found a file of this name; want job.json, if that was meant: under this name it is not read"},
	} {
		_, problems := folder.Read(fstest.MapFS{folder.Sketch: text(sketch), tt.name: text("kind\n")})
		require.Len(t, problems, 1, tt.name)
		assert.Equal(t, tt.want, problems[0].String())
	}
	_, problems := folder.Read(fstest.MapFS{"sketch.json": text(sketch)})
	require.Len(t, problems, 2, "the sketch is absent, and the file that it is probably in")

	j, problems := folder.Read(fstest.MapFS{folder.Sketch: text(sketch), folder.Log: text("kind\n"),
		"reading.csv": text("an older copy"), "._lot.gpx": text("\x00\x05\x16\x07"), "notes.csv": text("x"), "sketch.pdf": text("x")})
	require.NoError(t, problems.Err(), "beside the file itself, and of other names, nothing is read")
	assert.Empty(t, j.Readings)
}

func TestFoldersInPlaceOfFiles(t *testing.T) {
	dir := &fstest.MapFile{Mode: fs.ModeDir}
	_, problems := folder.Read(fstest.MapFS{folder.Sketch: dir, folder.Log: dir, "lot.gpx": dir})
	var says []string
	for _, p := range problems {
		says = append(says, p.String())
	}
	assert.Equal(t, []string{"sketch.geojson: found a folder; want a readable file", "readings.csv: found a folder; want a readable file", "lot.gpx: found a folder; want a readable file"}, says)

	scanned := `{"type": "FeatureCollection", "sketch": {"unit": "ft", "scan": "."}` + sketch[len(`{"type": "FeatureCollection", "sketch": {"unit": "ft"}`):]
	_, problems = folder.Read(fstest.MapFS{folder.Sketch: text(scanned)})
	require.Len(t, problems, 1)
	assert.Contains(t, problems[0].String(), `sketch.geojson, sketch.scan: found "."; want the name of a file in the job's folder`)
}

// Rows of several files may not share an id, since a void row names one.
func TestIDsAcrossFiles(t *testing.T) {
	_, problems := folder.Read(fstest.MapFS{folder.Sketch: text(sketch),
		folder.Log: text("kind,id,point\nempty,lot.gpx:1,H1\n"),
		"lot.gpx":  text(`<gpx><wpt lat="-48.9" lon="-123.4"><name>A</name></wpt></gpx>`)})
	require.Len(t, problems, 1)
	assert.Equal(t, `lot.gpx, row 1, id: found "lot.gpx:1"; want an id of its own; row 2 of readings.csv has this one`, problems[0].String())
}
