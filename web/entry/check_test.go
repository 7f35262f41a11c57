package entry_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/web/entry"
)

const sketch = `{"type": "FeatureCollection", "sketch": {"unit": "ft", "foreign": [1.50]}, "features": [
 {"type": "Feature", "id": "A", "geometry": {"type": "Point", "coordinates": [0, 0]}, "properties": {"part": "landmark"}},
 {"type": "Feature", "id": "B", "geometry": {"type": "Point", "coordinates": [40, 0]}, "properties": {"part": "landmark"}},
 {"type": "Feature", "id": "box", "geometry": {"type": "Point", "coordinates": [10, -30]}, "properties": {"part": "box"}},
 {"type": "Feature", "id": "L1", "geometry": {"type": "LineString", "coordinates": [[14, -30], [74, -30]]}, "properties": {"part": "lateral"}}]}`

const sum = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855" // of no bytes: FIPS 180-4, test vector

func TestRightEntries(t *testing.T) {
	for _, tt := range []struct{ kind, body string }{
		{entry.KindSketch, sketch},
		{entry.KindSettings, `{"title": "Invented lot 3", "foreign": true}`},
		{entry.KindReading, `{"kind": "tape", "from": "A", "to": "H1", "value": "43'6\""}`},
		{entry.KindReading, `{"kind": "tape", "from": "A", "to": "H1", "value": "43'6\"", "id": "r7", "weather": "rain", "file": "x.gpx", "photo": "a.jpg", "note": "two\nlines"}`},
		{entry.KindReading, `{"kind": "void", "target": "r7", "note": ""}`},
		{entry.KindFile, `{"sha256": "` + sum + `", "name": "photos/box 1.jpg", "type": "image/jpeg", "size": 0, "for": "r7"}`},
		{"order", `{"what": "a kind of a later version"}`},
	} {
		e := reading(id1, tt.body)
		e.Kind = tt.kind
		assert.NoError(t, e.Check(), tt.body)
	}
}

func TestProblems(t *testing.T) {
	long := strings.Repeat("x", entry.MaxCell+1)
	for _, tt := range []struct{ name, kind, body, want string }{
		{"no object", entry.KindReading, `["tape"]`, `body: found "[\"tape\"]"; want a JSON object`},
		{"not JSON", "order", `{`, `want a JSON object`},
		{"numbers", entry.KindReading, `{"kind": "tape", "value": 43.5}`, `want an object of texts`},
		{"reading", entry.KindReading, `{"kind": "tape", "from": "A", "value": "long"}`, `to: found nothing; want a value`},
		{"kind of reading", entry.KindReading, `{"kind": "tap"}`, `did you mean tape?`},
		{"no kind of reading", entry.KindReading, `{"from": "A"}`, `kind: found ""; want one of baseline, bearing, `},
		{"misspelt column", entry.KindReading, `{"kind": "level", "point": "A", "vaule": "3"}`, `value, if that was meant`},
		{"case of column", entry.KindReading, `{"Kind": "void", "target": "r7"}`, `a column "Kind"; want kind`},
		{"column twice", entry.KindReading, `{"kind": "void", "target": "r7", "Sky": "a", "sky": "b"}`, `each column once`},
		{"column without name", entry.KindReading, `{"kind": "void", "target": "r7", "": "a"}`, `a name of at most`},
		{"long cell", entry.KindReading, `{"kind": "void", "target": "r7", "note": "` + long + `"}`, `at most 4096 bytes`},
		{"control", entry.KindReading, `{"kind": "void", "target": "r7", "note": "a\rb"}`, `without control characters`},
		{"sketch", entry.KindSketch, `{"type": "FeatureCollection"}`, `sketch.geojson, sketch: `},
		{"settings", entry.KindSettings, `{"unit": "yd"}`, `job.json, unit: found "yd"`},
		{"file outside", entry.KindFile, `{"sha256": "` + sum + `", "name": "../scan.png"}`, `name: found "../scan.png"; want the name of a file in the job's folder`},
		{"file of a drive", entry.KindFile, `{"sha256": "` + sum + `", "name": "C:scan.png"}`, `want the name of a file in the job's folder`},
		{"file of the job", entry.KindFile, `{"sha256": "` + sum + `", "name": "Readings.csv"}`, `is the job's own`},
		{"hidden file", entry.KindFile, `{"sha256": "` + sum + `", "name": "a/.htaccess"}`, `does not begin with a point`},
		{"sum", entry.KindFile, `{"sha256": "` + strings.ToUpper(sum) + `", "name": "scan.png"}`, `64 lower-case hexadecimal digits`},
		{"size", entry.KindFile, `{"sha256": "` + sum + `", "name": "scan.png", "size": -1}`, `size: found -1`},
		{"kind", "Reading", `{}`, `kind: found "Reading"; want sketch, settings, reading, file or aside`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			e := reading(id1, tt.body)
			e.Kind = tt.kind
			assert.ErrorContains(t, e.Check(), tt.want)
		})
	}
}

func TestAllProblemsInOnePass(t *testing.T) {
	e := entry.Entry{ID: "1", Job: "../2", Kind: entry.KindReading, By: "a\x00", Body: json.RawMessage(`{"kind": "tape", "from": "A", "to": "A", "value": "0"}`)}
	var problems asbuilt.Problems
	require.True(t, errors.As(e.Check(), &problems))
	var fields []string
	for _, p := range problems {
		assert.Equal(t, `entry "1"`, p.Place)
		fields = append(fields, p.Field)
	}
	assert.Equal(t, []string{"id", "job", "at", "by", "to", "value"}, fields)
}

func TestDecode(t *testing.T) {
	good, err := json.Marshal(reading(id1, `{"kind": "void", "target": "r7"}`))
	require.NoError(t, err)
	taken, refused, err := entry.Decode([]byte(`{"entries": [` + string(good) + `, {"id": "x"}, 7, {"id": "` + id2 + `", "at": 7}]}`))
	require.NoError(t, err)
	require.Len(t, taken, 1)
	assert.Equal(t, id1, taken[0].ID)
	require.Len(t, refused, 3, "one that is wrong keeps no other from being taken")
	assert.Equal(t, "x", refused[0].ID)
	assert.Contains(t, refused[0].Error, "body")
	assert.Equal(t, id2, refused[2].ID)

	for _, text := range []string{"", "null", "[]", "{}", `{"entries": {}}`, `{"entries": [}`} {
		_, _, err := entry.Decode([]byte(text))
		assert.Error(t, err, text)
	}
	taken, _, err = entry.Decode([]byte(`{"entries": [{"seq": 9, ` + string(good)[1:] + `]}`))
	require.NoError(t, err)
	assert.Zero(t, taken[0].Seq, "only the server numbers")
	assert.Equal(t, noon, taken[0].At.In(time.UTC))
}
