package entry_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"slices"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/survey/fieldbook"
	"asfound/survey/folder"
	"asfound/survey/observe"
	"asfound/web/entry"
)

// One phone traced the sketch again while another logged holes on the old one:
// what does not fit is left out and named, the rest is the job.
func TestReadSetsAside(t *testing.T) {
	drawn := reading(id3, sketch[:len(sketch)-2]+"]}")
	drawn.Kind = entry.KindSketch
	add := func(n string, body string) entry.Entry { return reading(id1[:25]+n, body) }
	j := entry.Fold([]entry.Entry{drawn,
		add("1", `{"kind": "tape", "from": "A", "to": "B", "value": "40", "note": "two\nlines"}`),
		add("2", `{"kind": "found", "point": "H1", "target": "L9", "depth": "2"}`),
		add("3", `{"kind": "void", "target": "01JX4W8Z0K3V5T7Q9R2B4D6F82"}`),
		add("4", `{"kind": "found", "point": "H2", "target": "L1", "depth": "2"}`),
	})[job]
	got, aside := j.Read()
	require.NotNil(t, got)
	var ids []string
	for _, r := range got.Readings {
		ids = append(ids, r.ID)
	}
	assert.Equal(t, []string{id1[:25] + "1", id1[:25] + "4"}, ids)
	require.Len(t, aside, 2)
	assert.Equal(t, "01JX4W8Z0K3V5T7Q9R2B4D6F82", aside[0].Reading)
	assert.Equal(t, `reading "01JX4W8Z0K3V5T7Q9R2B4D6F82"`, aside[0].Where())
	assert.Contains(t, aside[0].String(), `found "L9"; want a part of the sketch`)
	assert.Equal(t, "01JX4W8Z0K3V5T7Q9R2B4D6F83", aside[1].Reading)
	assert.Equal(t, `reading "01JX4W8Z0K3V5T7Q9R2B4D6F83"`, aside[1].Where())
	assert.Len(t, j.Rows, 4, "nothing is taken from the job itself")
}

// The scan of a sketch may arrive after the sketch.
func TestReadWithoutScan(t *testing.T) {
	drawn := reading(id3, `{"type": "FeatureCollection", "sketch": {"scan": "scan.png", `+sketch[len(`{"type": "FeatureCollection", "sketch": {`):])
	drawn.Kind = entry.KindSketch
	got, aside := entry.Fold([]entry.Entry{drawn})[job].Read()
	require.NotNil(t, got)
	require.Len(t, aside, 1)
	assert.Contains(t, aside[0].String(), `sketch.scan: found "scan.png"`)
}

func TestReadWithoutSketch(t *testing.T) {
	got, problems := entry.Fold([]entry.Entry{reading(id1, `{"kind": "void", "target": "r1"}`)})[job].Read()
	assert.Nil(t, got)
	assert.ErrorContains(t, problems.Err(), "no such file")
}

// someRow draws a row out of few ids, names and places, so that rows share ids,
// withdraw one another, name what is not there, and lie far from one another.
var someRow = rapid.Custom(func(t *rapid.T) map[string]string {
	of := func(name string, values ...string) string { return rapid.SampledFrom(values).Draw(t, name) }
	id := func(name string) string { return of(name, "r2", "r3", "r4", "r5", "r6", "r7") }
	row := map[string]string{"id": id("id"), "note": of("note", "", "dry", "two\nlines, \"quoted\"")}
	switch row["kind"] = of("kind", "tape", "found", "gnss", "gnss", "condition", "void", "void", "tapes"); row["kind"] {
	case "tape":
		row["from"], row["to"], row["value"] = of("from", "A", "B", "H1", "L1"), of("to", "B", "H2", "box"), of("value", "12", "43'6\"", "-1", "long", "")
	case "found":
		row["point"], row["target"], row["spot"] = of("point", "H1", "box"), of("target", "L1", "box", "L9", "A"), of("spot", "", "start", "corner")
	case "gnss":
		row["point"], row["lon"], row["lat"] = of("point", "A", "H1", "L1"), "-123.4", of("lat", "-48.9", "-48.9", "-48.95", "-49", "x")
	case "condition":
		row["target"], row["note"] = of("target", "box", "L9"), of("note", "dry", "")
	case "void":
		row["target"] = id("target")
	}
	return row
})

// What is left of a log matches the definition: each row with a problem in the
// file is dropped, until there is no such row.
func TestReadLeavesOutWhatTheFileWould(t *testing.T) {
	left, out := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		j := entry.Job{Sketch: json.RawMessage(sketch), Rows: rapid.SliceOfN(someRow, 0, 12).Draw(t, "rows")}
		if rapid.Bool().Draw(t, "a site") {
			j.Settings = json.RawMessage(`{"site": {"lon": -123.4, "lat": -48.9}}`)
		}
		wantKept, wantOut := dropUntilRight(t, &j)
		got, problems := j.Read()
		require.NotNil(t, got)
		var kept, wrong []string
		for _, r := range got.Readings {
			kept = append(kept, r.ID)
		}
		for _, p := range problems {
			require.Zero(t, p.Row, p)
			wrong = append(wrong, p.Reading)
		}
		slices.Sort(wrong)
		require.Equal(t, wantKept, kept)
		require.Equal(t, wantOut, slices.Compact(wrong))
		require.Empty(t, observe.Check(got), "nothing is wrong with what is left")
		left, out = left+len(kept), out+len(wantOut)
	})
	assert.Positive(t, left)
	assert.Positive(t, out)
}

// dropUntilRight writes the rows as readings.csv, has the folder read, and
// drops the rows that have problems, until none has. It returns the ids of the
// rows that are left in order, and the ids of the dropped ones sorted, each once.
func dropUntilRight(t *rapid.T, j *entry.Job) (kept, dropped []string) {
	for rows := j.Rows; ; {
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		require.NoError(t, w.Write(fieldbook.Columns()))
		line := map[int]int{} // rows by their lines in the file
		for i, row := range rows {
			var cells []string
			for _, name := range fieldbook.Columns() {
				cells = append(cells, row[name])
			}
			w.Flush()
			line[1+bytes.Count(b.Bytes(), []byte("\n"))] = i
			require.NoError(t, w.Write(cells))
		}
		w.Flush()
		site := fstest.MapFS{folder.Sketch: {Data: j.Sketch}, folder.Log: {Data: b.Bytes()}}
		if j.Settings != nil {
			site[folder.Settings] = &fstest.MapFile{Data: j.Settings}
		}
		_, problems := folder.Read(site)
		if len(problems) == 0 {
			for _, row := range rows {
				kept = append(kept, row["id"])
			}
			slices.Sort(dropped)
			return kept, slices.Compact(dropped)
		}
		wrong := map[int]bool{}
		for _, p := range problems {
			i, ok := line[p.Row]
			require.True(t, ok, "%s is of a row", p)
			if !wrong[i] {
				dropped = append(dropped, rows[i]["id"])
			}
			wrong[i] = true
		}
		var rest []map[string]string
		for i, row := range rows {
			if !wrong[i] {
				rest = append(rest, row)
			}
		}
		rows = rest
	}
}

// Far more problems than anybody would read: each row is named, and the rest is
// read.
func TestReadOfManyFaults(t *testing.T) {
	j := entry.Job{Sketch: json.RawMessage(sketch)}
	for i := range 3000 {
		j.Rows = append(j.Rows, map[string]string{"id": fmt.Sprint("id ", i), "kind": "tape", "from": "A", "to": "B", "value": "long"})
	}
	j.Rows = append(j.Rows, map[string]string{"id": "last", "kind": "tape", "from": "A", "to": "B", "value": "40"})
	got, problems := j.Read()
	require.Len(t, got.Readings, 1)
	assert.Len(t, problems, 3000)
}
