package geojson_test

import (
	"errors"
	"io"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
)

func first(t *testing.T, text string) string {
	t.Helper()
	_, problems := geojson.Decode(strings.NewReader(text), "s")
	require.NotEmpty(t, problems)
	return problems[0].String()
}

func TestForeignFiles(t *testing.T) {
	wide := utf16.Encode([]rune(sample))
	little, big := make([]byte, 0, 2*len(wide)), make([]byte, 0, 2*len(wide))
	for _, c := range wide {
		little = append(little, byte(c), byte(c>>8))
		big = append(big, byte(c>>8), byte(c))
	}
	const utf8Wanted = "; want GeoJSON text in UTF-8: save the file again in that encoding"
	for _, tt := range []struct{ name, text, want string }{
		{"UTF-16 LE with mark", "\xFF\xFE" + string(little), "s: found UTF-16 text" + utf8Wanted},
		{"UTF-16 BE with mark", "\xFE\xFF" + string(big), "s: found UTF-16 text" + utf8Wanted},
		{"UTF-16 LE", string(little), "s: found UTF-16 text" + utf8Wanted},
		{"UTF-16 BE", string(big), "s: found UTF-16 text" + utf8Wanted},
		{"UTF-32", "\xFF\xFE\x00\x00{\x00\x00\x00", "s: found UTF-32 text" + utf8Wanted},
		{"ZIP", "PK\x03\x04\x14\x00", "s: found a ZIP archive" + utf8Wanted},
		{"PDF", "%PDF-1.7\n", "s: found a PDF" + utf8Wanted},
		{"Latin-1", "{\n \"note\": \"caf\xE9\"}", "s, line 2, column 14: found byte 0xE9, which is not UTF-8; want text in UTF-8: save the file again in that encoding"},
		{"a zero byte", "{\"type\": \x00}", `s, line 1, column 10: found "\x00}"; want JSON text (RFC 8259): invalid character '\x00' looking for beginning of value`},
	} {
		t.Run(tt.name, func(t *testing.T) { assert.Equal(t, tt.want, first(t, tt.text)) })
	}
}

// endless is a reader that repeats text for ever.
type endless struct {
	text string
	read int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.text[e.read%len(e.text):])
	e.read += n
	return n, nil
}

func TestTooLarge(t *testing.T) {
	_, problems := geojson.Decode(&endless{text: " "}, "s")
	assert.EqualError(t, problems.Err(), "s: found more than 32 MB; want a sketch of one lot, at most 32 MB")
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("the card was pulled") }

func TestUnreadable(t *testing.T) {
	_, problems := geojson.Decode(io.MultiReader(strings.NewReader("{"), broken{}), "s")
	assert.EqualError(t, problems.Err(), "s: found an error while reading: the card was pulled; want a readable file")
}

func collection(features string) string {
	return `{"type":"FeatureCollection","sketch":{"unit":"ft"},"features":[` + features + `]}`
}

// TestHostile gives Decode what no sketch looks like. Each must be refused
// soon, with a first line that names the fault, in memory of a few times the
// file.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("files of 32 MB")
	}
	million := func(s string) string { return strings.TrimSuffix(strings.Repeat(s+",", 1_000_000), ",") }
	point := `{"type":"Feature","geometry":{"type":"Point","coordinates":[1,2]}}`
	for _, tt := range []struct{ name, text, want string }{
		{"a million features", collection(million(`{"type":"Feature"}`)), "s, features: found more than 10000 features; want at most 10000: the sketch of one lot"},
		{"a million features over 32 MB", collection(million(point)), "s: found more than 32 MB; want a sketch of one lot, at most 32 MB"},
		{"a hundred thousand arrays within one another", strings.Repeat("[", 100_000), "s, line 1, column 65: found more than 64 arrays and objects within one another; want a GeoJSON FeatureCollection (RFC 7946)"},
		{"a hundred thousand objects within one another", strings.Repeat(`{"a":`, 100_000), "s, line 1, column 321: found more than 64 arrays and objects within one another; want a GeoJSON FeatureCollection (RFC 7946)"},
		{"a million positions", withBox(`{"type":"Feature","id":"L1","geometry":{"type":"LineString","coordinates":[` + million("[1,2]") + `]},"properties":{"part":"lateral"}}`),
			`s, feature 2 "L1", geometry: found more than 10000 positions and pieces; want at most 10000 in one part`},
		{"a million ordinates", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[` + million("1") + `]},"properties":{"part":"well"}}`),
			`s, feature 2 "X", geometry.coordinates: found [1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,…; want two numbers, or three with a height (RFC 7946, 3.1.1)`},
		{"a million geometries", withBox(`{"type":"Feature","id":"X","geometry":{"type":"GeometryCollection","geometries":[` + million("{}") + `]},"properties":{"part":"well"}}`),
			`s, feature 2 "X", geometry.geometries[0].type: found none; want Point, LineString, Polygon, MultiPoint, MultiLineString, MultiPolygon, GeometryCollection`},
		{"a million members", withBox(`{"type":"Feature","id":"X","geometry":null,"properties":{` + million(`"lenght":1`) + `}}`),
			`s, feature 2 "X", properties.lenght: found two members of this name; want one (RFC 8259, 4)`},
		{"a million ties", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well","ties":[` + million(`{}`) + `]}}`),
			`s, feature 2 "X", properties.ties[0].from: found none; want the id of a landmark`},
		{"a million landmarks missing", collection(strings.TrimSuffix(strings.Repeat(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"box","ties":[`+
			strings.TrimSuffix(strings.Repeat(`{"from":"Z","distance":1},`, 100), ",")+`]}},`, 10_000), ",")),
			`s, feature 1 "X", properties.ties[0].from: found "Z"; want the id of a landmark: the sketch has no landmark`},
		{"a number of a million digits", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[` + strings.Repeat("9", 1_000_000) + `,2]},"properties":{"part":"well"}}`),
			`s, feature 2 "X", geometry.coordinates[0]: found 999999999999999999999999999999999999999…; want a number that can be held, at most 1e+07`},
		{"a number of a million digits as id", withBox(`{"type":"Feature","id":` + strings.Repeat("9", 1_000_000) + `,"geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well"}}`),
			`s, feature 2, id: found 999999999999999999999999999999999999999…; want at most 80 characters`},
		{"a text of a million letters", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"well","cover":"` + strings.Repeat("é", 1_000_000) + `"}}`),
			`s, feature 2 "X", properties.cover: found "ééééééééééééééééééééééééééééééééééééééé…"; want a length such as 43'6", 43.5 ft or 13.26 m (too long for a length)`},
		{"a name that steers the terminal", withBox(`{"type":"Feature","id":"\u001b[2J","geometry":null,"properties":{"part":"\u202egreen"}}`),
			`s, feature 2, id: found "\x1b[2J"; want text without control characters`},
		{"a ring of ten thousand that crosses at its end", withBox(`{"type":"Feature","id":"X","geometry":{"type":"Polygon","coordinates":[[` + comb(9_990) + `]]},"properties":{"part":"building"}}`),
			`s, feature 2 "X", geometry.coordinates: found a ring that crosses or touches itself at or near [0, 0.25]; want an outline that goes round once and never crosses or touches itself`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			s, problems := geojson.Decode(strings.NewReader(tt.text), "s")
			runtime.ReadMemStats(&after)
			assert.Nil(t, s)
			require.NotEmpty(t, problems)
			assert.Equal(t, tt.want, problems[0].String())
			assert.LessOrEqual(t, len(problems), geojson.MaxProblems+1)
			for _, p := range problems {
				assert.LessOrEqual(t, len(p.String()), 600, "a line of words, not the file again")
				assert.True(t, utf8.ValidString(p.String()))
			}
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(64<<20+40*len(tt.text)), "bytes allocated, all in all")
		})
	}
}

// comb returns the positions of a ring of n up-and-down teeth whose closing
// side runs through the first tooth.
func comb(n int) string {
	var b strings.Builder
	b.WriteString("[0,0],[0,1]")
	for i := 1; i < n; i++ {
		if i%2 == 1 {
			b.WriteString(",[" + strconv.Itoa(i) + ",1],[" + strconv.Itoa(i) + ",0.5]")
			i++
			b.WriteString(",[" + strconv.Itoa(i) + ",0.5],[" + strconv.Itoa(i) + ",1]")
			i++
		}
	}
	b.WriteString(",[" + strconv.Itoa(n) + ",0.25],[-1,0.25],[0,0]")
	return b.String()
}

// TestTruncated cuts the sample at every byte: no cut is taken for a sketch,
// each is named for what it is, and none upsets the reader.
func TestTruncated(t *testing.T) {
	whole := strings.TrimRight(sample, " \n")
	for n := range len(whole) {
		s, problems := geojson.Decode(strings.NewReader(whole[:n]), "s")
		require.Nil(t, s, n)
		require.Len(t, problems, 1, n)
		if n > 0 && utf8.ValidString(whole[:n]) {
			require.Equal(t, "the rest of it: the file is cut short", problems[0].Want, n)
			require.Contains(t, problems[0].Place, "line ", n)
		}
	}
}

// TestProblemsAreBounded holds the last line that stands for those left out.
func TestProblemsAreBounded(t *testing.T) {
	_, problems := geojson.Decode(strings.NewReader(collection(strings.TrimSuffix(strings.Repeat("7,", 500), ","))), "s")
	require.Len(t, problems, geojson.MaxProblems+1)
	assert.Equal(t, asbuilt.Problem{File: "s", Found: "300 more problems", Want: "the ones above fixed first"}, problems[geojson.MaxProblems])
}
