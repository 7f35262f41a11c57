package entry_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/survey/folder"
	"asfound/testdata/sites"
	"asfound/web/entry"
)

func text(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }

// counter makes ids in descending order, so that nothing relies on their order.
func counter() func() string {
	n := uint16(0xFFFF)
	return func() string {
		n--
		return entry.NewID(noon, [10]byte{8: byte(n >> 8), 9: byte(n)})
	}
}

// bring imports a folder.
func bring(t require.TestingT, fsys fs.FS) (*entry.Job, []entry.Entry, map[string][]byte) {
	entries, files, err := entry.FromFolder(fsys, job, counter(), noon, "Office")
	require.NoError(t, err)
	for _, e := range entries {
		require.NoError(t, e.Check())
	}
	held := map[string][]byte{}
	for _, f := range files {
		data, err := fs.ReadFile(fsys, f.Name)
		require.NoError(t, err)
		require.Equal(t, int64(len(data)), f.Size)
		held[f.SHA256] = data
	}
	return entry.Fold(entries)[job], entries, held
}

// send exports a job and returns the archive.
func send(t require.TestingT, j *entry.Job, held map[string][]byte) *zip.Reader {
	var b bytes.Buffer
	missing, err := j.Export(&b, func(sum string) (io.ReadCloser, error) {
		data, ok := held[sum]
		if !ok {
			return nil, fs.ErrNotExist
		}
		return io.NopCloser(bytes.NewReader(data)), nil
	})
	require.NoError(t, err)
	require.Empty(t, missing)
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	require.NoError(t, err)
	return z
}

// cells returns the rows of a log without empty cells.
func cells(t require.TestingT, data []byte) (rows []map[string]string) {
	all, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	for _, fields := range all[1:] {
		row := map[string]string{}
		for i, f := range fields {
			if f != "" {
				row[all[0][i]] = f
			}
		}
		rows = append(rows, row)
	}
	return rows
}

func content(t require.TestingT, fsys fs.FS, name string) []byte {
	data, err := fs.ReadFile(fsys, name)
	require.NoError(t, err)
	return data
}

// Every invented site comes back as it went in, and reads as the same job.
func TestSitesComeBack(t *testing.T) {
	for _, name := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		t.Run(name, func(t *testing.T) {
			site, err := fs.Sub(sites.Folders, name)
			require.NoError(t, err)
			j, _, held := bring(t, site)
			back := send(t, j, held)
			files, err := fs.ReadDir(site, ".")
			require.NoError(t, err)
			for _, f := range files {
				was, is := content(t, site, f.Name()), content(t, back, f.Name())
				if f.Name() != folder.Log {
					assert.Equal(t, string(was), string(is), "%s, byte for byte", f.Name())
					continue
				}
				want := cells(t, was)
				for i := range want {
					if want[i]["id"] == "" {
						want[i]["id"] = fmt.Sprintf("r%d", i+2)
					}
				}
				assert.Equal(t, want, cells(t, is))
			}
			want, problems := folder.Read(site)
			require.NoError(t, problems.Err())
			got, problems := folder.Read(back)
			require.NoError(t, problems.Err())
			assert.Equal(t, want, got)
			got, problems = j.Read()
			require.NoError(t, problems.Err())
			assert.Equal(t, want, got)
		})
	}
}

func TestForeignThingsComeBack(t *testing.T) {
	const gpx = `<gpx><wpt lat="-48.9" lon="-123.4"><name>A</name><hdop>2</hdop></wpt><wpt lat="-48.9001" lon="-123.4"><name>B</name></wpt></gpx>`
	site := fstest.MapFS{
		folder.Sketch:      text("\xEF\xBB\xBF" + strings.Replace(sketch, `"unit"`, `"scan": "plans/scan.png", "unit"`, 1)),
		folder.Settings:    text("{\"title\": \"Invented lot 3\",\n\t\"crew\": [1.50, \"ü\"]}\n"),
		folder.Log:         text("\xEF\xBB\xBFWeather ,KIND,,target,note,photo\r\nrain,condition,loose,box,\"two\r\nlines, \"\"quoted\"\"\",a.jpg\r\n\r\n,void,,lot.gpx:2,,\r\n,condition,,L1,dry,\r\n,void,,r2,,\r\n"),
		"plans/scan.png":   text("png"),
		"a.jpg":            text("jpeg"),
		"notes to self.md": text("call the office"),
		"lot.gpx":          text(gpx),
		"B.nmea":           text("$GPGGA,123519,4854.000,S,12324.010,W,1,08,0.9,5.4,M,46.9,M,,*41\n"),
		".hidden":          text("left by another program"),
		"__MACOSX/._a.jpg": text("left by another program"),
	}
	want, problems := folder.Read(site)
	require.NoError(t, problems.Err())
	j, _, held := bring(t, site)
	assert.Equal(t, []string{"a.jpg r2", "plans/scan.png scan"}, func() (s []string) {
		for _, f := range j.Files {
			if f.For != "" {
				s = append(s, f.Name+" "+f.For)
			}
		}
		return s
	}())
	got, problems := j.Read()
	require.NoError(t, problems.Err())
	require.Len(t, got.Readings, len(want.Readings))
	for i, r := range got.Readings {
		w := want.Readings[i]
		assert.Equal(t, w.ID, r.ID, "a void finds the reading it names")
		assert.InDelta(t, w.Position.Lat.Degrees(), r.Position.Lat.Degrees(), 1e-10)
		assert.Equal(t, w.Accuracy, r.Accuracy)
		assert.Equal(t, w.Target, r.Target)
	}
	back := send(t, j, held)
	var names []string
	for _, f := range back.File {
		names = append(names, f.Name)
	}
	slices.Sort(names)
	assert.Equal(t, []string{"B.nmea", "a.jpg", folder.Settings, "lot.gpx", "notes to self.md", "plans/scan.png", folder.Log, folder.Sketch}, names)
	for _, name := range []string{folder.Settings, "lot.gpx", "B.nmea", "a.jpg", "plans/scan.png", "notes to self.md"} {
		assert.Equal(t, string(site[name].Data), string(content(t, back, name)), name)
	}
	assert.Equal(t, string(site[folder.Sketch].Data[3:]), string(content(t, back, folder.Sketch)))
	assert.Equal(t, []map[string]string{
		{"id": "r2", "kind": "condition", "target": "box", "note": "two\nlines, \"quoted\"", "photo": "a.jpg", "Weather": "rain", "column 3": "loose"},
		{"id": "r5", "kind": "void", "target": "lot.gpx:2"},
		{"id": "r6", "kind": "condition", "target": "L1", "note": "dry"},
		{"id": "r7", "kind": "void", "target": "r2"},
	}, cells(t, content(t, back, folder.Log)), "fixes that a file brings stand in that file alone")
	again, problems := folder.Read(back)
	require.NoError(t, problems.Err())
	assert.Len(t, again.Readings, len(want.Readings))
}

// A photo taken on a phone is named in the row that it shows, and a second
// round trip changes nothing.
func TestPhotosComeBack(t *testing.T) {
	photo := reading(id2, `{"sha256": "`+sum+`", "name": "wet.jpg", "type": "application/octet-stream", "size": 0, "for": "`+id1+`"}`)
	photo.Kind = entry.KindFile
	drawn := reading(id3, sketch)
	drawn.Kind = entry.KindSketch
	j := entry.Fold([]entry.Entry{drawn, reading(id1, `{"kind": "condition", "target": "box", "note": "wet"}`), photo})[job]
	held := map[string][]byte{sum: {}}
	back := send(t, j, held)
	assert.Equal(t, "wet.jpg", cells(t, content(t, back, folder.Log))[0]["photo"])
	again, _, _ := bring(t, back)
	assert.Equal(t, j.Files, again.Files)
	assert.Equal(t, sketch, string(again.Sketch))
	assert.Equal(t, cells(t, content(t, back, folder.Log)), again.Rows)

	var b bytes.Buffer
	missing, err := j.Export(&b, func(string) (io.ReadCloser, error) { return nil, fs.ErrNotExist })
	require.NoError(t, err)
	assert.Equal(t, j.Files, missing, "what is not there yet is named")
}

// Any rows, then a folder, then rows again.
func TestRowsComeBack(t *testing.T) {
	value := rapid.StringMatching(`[ -~äß\n\t"',;]{0,12}`)
	rapid.Check(t, func(t *rapid.T) {
		var all []entry.Entry
		id := counter()
		for range rapid.IntRange(1, 8).Draw(t, "rows") {
			row := rapid.MapOfN(rapid.StringMatching(`[a-z]{9,12}[ÄÖ 1-9]?[x]`), value, 0, 4).Draw(t, "row")
			row["kind"], row["target"] = "void", "r7"
			body := new(bytes.Buffer)
			body.WriteByte('{')
			for i, k := range slices.Sorted(maps.Keys(row)) {
				if strings.TrimSpace(row[k]) == "" {
					row[k] = "x"
				}
				if i > 0 {
					body.WriteByte(',')
				}
				fmt.Fprintf(body, "%s:%s", quoted(k), quoted(row[k]))
			}
			body.WriteByte('}')
			e := reading(id(), body.String())
			if e.Check() == nil {
				all = append(all, e)
			}
		}
		if len(all) == 0 {
			t.Skip("nothing that would be taken")
		}
		j := entry.Fold(all)[job]
		again, _, _ := bring(t, send(t, j, nil))
		require.Equal(t, j.Rows, again.Rows)
	})
}

func TestImportProblemsInOnePass(t *testing.T) {
	_, _, err := entry.FromFolder(fstest.MapFS{
		folder.Sketch:   text(`{"type": "Feature"`),
		folder.Settings: text(`{"unit": "yd"}`),
		folder.Log:      text("id,kind,from,to,value\n,tape,A,,12.2\nr4,void,,,\nr2,tape,A,B,1\n"),
		"Job.JSON":      text("{}"),
		"C:x":           text(""),
		"lot.gpx":       text("<kml>"),
	}, job, counter(), noon, "Office")
	for _, want := range []string{
		"sketch.geojson, line 1", "job.json, unit", "readings.csv, row 2, to: found nothing", "readings.csv, row 3, target: found nothing",
		`readings.csv, row 4, id: found "r2"; want an id of its own; row 2 has this one`, "Job.JSON: found", "C:x: found", "lot.gpx: found <kml>",
	} {
		assert.ErrorContains(t, err, want)
	}
	_, _, err = entry.FromFolder(fstest.MapFS{}, job, counter(), noon, "Office")
	assert.ErrorContains(t, err, "no such file")
}

func TestRoot(t *testing.T) {
	inner := fstest.MapFS{"lot 3/" + folder.Sketch: text(sketch), "__MACOSX/x": text(""), ".x": text("")}
	_, err := fs.Stat(entry.Root(inner), folder.Sketch)
	assert.NoError(t, err, "somebody packed the folder")
	two := fstest.MapFS{"a/" + folder.Sketch: text(sketch), "b/" + folder.Sketch: text(sketch)}
	_, err = fs.Stat(entry.Root(two), folder.Sketch)
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

// FuzzFromFolder: no folder causes a panic, and whatever is accepted comes back
// equal.
func FuzzFromFolder(f *testing.F) {
	f.Add(sketch, `{"unit": "m"}`, "kind,target\nvoid,r7\n", `<gpx><wpt lat="1" lon="2"><name>A</name></wpt></gpx>`)
	f.Add(sketch, "\xEF\xBB\xBF{}", "Sky,kind,target,\nblue,void,\"a\r\nb\",x", "<gpx/>")
	f.Add("{}", "null", "kind\r\rvoid", "")
	f.Fuzz(func(t *testing.T, sketch, settings, log, gpx string) {
		site := fstest.MapFS{folder.Sketch: text(sketch), folder.Settings: text(settings), folder.Log: text(log), "lot.gpx": text(gpx)}
		entries, files, err := entry.FromFolder(site, job, counter(), noon, "Office")
		if err != nil {
			return
		}
		for _, e := range entries {
			require.NoError(t, e.Check())
		}
		j := entry.Fold(entries)[job]
		back := send(t, j, map[string][]byte{files[0].SHA256: []byte(gpx)})
		again, _, _ := bring(t, back)
		require.Equal(t, j.Sketch, again.Sketch)
		require.Equal(t, j.Settings, again.Settings)
		require.ElementsMatch(t, j.Rows, again.Rows)
		require.Equal(t, j.Files, again.Files)
		_, _ = j.Read()
	})
}

// FuzzDecode: no text causes a panic, and what is accepted is valid and is
// written back unchanged.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"entries": [{"id": "` + id1 + `", "job": "` + job + `", "kind": "reading", "at": "2026-05-04T12:00:00.000Z", "by": "", "body": {"kind": "void", "target": "r7"}}]}`))
	f.Add([]byte(`{"entries": [{"id": "` + id1 + `", "job": "` + job + `", "kind": "file", "at": "2026-05-04T12:00:00+09:00", "body": {"sha256": "` + sum + `", "name": "a"}}, 7, null]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		good, _, err := entry.Decode(data)
		if err != nil {
			return
		}
		for _, e := range good {
			require.NoError(t, e.Check())
			once, err := e.MarshalJSON()
			require.NoError(t, err)
			var back entry.Entry
			require.NoError(t, back.UnmarshalJSON(once))
			require.NoError(t, back.Check())
		}
		for _, j := range entry.Fold(good) {
			_, _ = j.Read()
		}
	})
}
