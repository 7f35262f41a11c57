package browser

import (
	"archive/zip"
	"bytes"
	"encoding/base64"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// exported presses the button and returns the files of the archive that the
// app hands to the browser.
func (b *tab) exported() map[string]string {
	b.t.Helper()
	eval[bool](b, `(() => { const make = URL.createObjectURL.bind(URL); URL.createObjectURL = (x) => { if (x.type === "application/zip" || x.size > 0) window.handed = x; return make(x); }; window.handed = null; return true; })()`)
	b.press("Documents")
	b.press("Export the job folder")
	b.wait("window.handed")
	text := eval[string](b, `new Promise((done) => { const r = new FileReader(); r.onload = () => done(r.result.split(",")[1]); r.readAsDataURL(window.handed); })`)
	data, err := base64.StdEncoding.DecodeString(text)
	require.NoError(b.t, err)
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(b.t, err)
	files := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(b.t, err)
		text, err := io.ReadAll(r)
		require.NoError(b.t, err)
		files[f.Name] = string(text)
	}
	return files
}

// table reads a log as rows of column to text, without empty cells; a row
// without an id is called after its line, as the formats have it.
func table(t *testing.T, text string) []map[string]string {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	var rows []map[string]string
	for i, rec := range records[1:] {
		row := map[string]string{"id": "r" + strconv.Itoa(i+2)}
		for j, v := range rec {
			if v != "" {
				row[records[0][j]] = v
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// TestFolderKeepsAll brings a whole folder into the app and out again, and that
// into an empty app: foreign members, a void row, notes, an unknown column, the
// scan, a photo and an unknown file are all still there.
func TestFolderKeepsAll(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	scan, err := os.ReadFile("../../testdata/scans/permit.jpg")
	require.NoError(t, err)
	sketch, err := os.ReadFile("../../testdata/sites/demo/sketch.geojson")
	require.NoError(t, err)
	sketch = bytes.Replace(sketch, []byte(`"sketch": {`), []byte(`"survey:stranger": {"kept": [1, 2.50, null]}, "sketch": {"scan": "permit.jpg", "drawer": 7,`), 1)
	require.Contains(t, string(sketch), `"drawer"`)
	log, err := os.ReadFile("../../testdata/sites/demo/readings.csv")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(log)), "\n")
	lines[0] += ",Weather,photo"
	for i := range lines[1:] {
		lines[i+1] += []string{",,", ",\"rain, then \"\"sun\"\"\",", ",,lid.jpg"}[i%3]
	}
	lines = append(lines, "void,,,,,,r11,,,,,,,,\"held at the 1 ft mark\r\nsaid Jo\",,")
	in := map[string]string{
		"sketch.geojson": string(sketch), "readings.csv": strings.Join(lines, "\n") + "\n",
		"job.json":   `{"title": "Kept whole", "unit": "ft", "seek": "box", "office": {"drawer": [3, "left"]}, "site": {"lon": -123.4, "lat": -48.9, "accuracy": 50}}`,
		"permit.jpg": string(scan), "lid.jpg": string(scan[:len(scan)-9]), "notes/weather of the day.txt": "dry\r\nwind W\n",
	}
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for name, text := range in {
		w, err := z.Create("Lot 4/" + name)
		require.NoError(t, err)
		_, err = io.WriteString(w, text)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())

	s := newSite(t)
	b := open(t, desk)
	b.visit(s.url + "/")
	name := filepath.Join(t.TempDir(), "lot.zip")
	require.NoError(t, os.WriteFile(name, buf.Bytes(), 0o644))
	b.upload("A zip, or the files", name)
	b.settled()
	b.sees("withdrawn")
	out := b.exported()
	for name, text := range in {
		switch name {
		case "sketch.geojson", "job.json":
			assert.JSONEq(t, text, out[name], name)
		case "readings.csv":
			want := table(t, strings.ReplaceAll(text, "\r\n", "\n"))
			assert.Equal(t, want, table(t, out[name]), "row by row")
		default:
			assert.Equal(t, text, out[name], "%s, byte by byte", name)
		}
	}
	assert.Len(t, out, len(in), "and nothing else")

	// An empty app imports the archive, and exports the same again.
	eval[bool](b, `new Promise((done) => { const r = indexedDB.deleteDatabase("asfound"); r.onsuccess = () => done(true); })`)
	b.visit(s.url + "/#/jobs")
	b.do(reload)
	b.sees("No job on this device yet")
	buf.Reset()
	z = zip.NewWriter(&buf)
	for name, text := range out {
		w, err := z.Create(name)
		require.NoError(t, err)
		_, err = io.WriteString(w, text)
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	require.NoError(t, os.WriteFile(name, buf.Bytes(), 0o644))
	b.upload("A zip, or the files", name)
	b.settled()
	assert.Equal(t, out, b.exported(), "file by file, byte by byte")
	assert.Empty(t, b.log, "exceptions")
}
