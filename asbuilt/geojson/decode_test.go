package geojson_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
)

// sample is an invented sketch with every kind of part and every member.
const sample = `{"type": "FeatureCollection",
 "sketch": {"plane": "paper", "unit": "ft", "trust": "to-scale", "up": {"bearing": 350, "sigma": 5},
  "mirrored": "unknown", "drawn": 1987, "by": "the installer", "permit": "S-1987-014", "scan": "scan.jpg", "note": "two lines\nof <note>"},
 "features": [
  {"type": "Feature", "id": "house", "geometry": {"type": "Polygon", "coordinates": [[[0,0],[40,0],[40,28],[0,28],[0,0]]]}, "properties": {"part": "building"}},
  {"type": "Feature", "id": "A", "geometry": {"type": "Point", "coordinates": [0, 0]}, "properties": {"part": "landmark", "name": "SW corner of the house"}},
  {"type": "Feature", "id": 7, "geometry": {"type": "Point", "coordinates": [40, 0, 12.5]}, "properties": {"part": "landmark", "name": null}},
  {"type": "Feature", "id": "T", "geometry": {"type": "Polygon", "coordinates": [[[20,-20],[20,-15],[29,-15],[29,-20],[20,-20]]]}, "properties": {"part": "tank", "cover": "1 ft", "invert": -3.25,
    "ties": [{"from": "A", "distance": 31}, {"at": "corner", "from": "7", "distance": "22'4\""}]}},
  {"type": "Feature", "id": "H", "geometry": {"type": "LineString", "coordinates": [[25,-20],[25,-30],[25,-40]]}, "properties": {"part": "header", "length": "20 ft"}},
  {"type": "Feature", "id": "D", "geometry": {"type": "Point", "coordinates": [25, -40]}, "properties": {"part": "box", "outlets": 2, "size": "24 in"}},
  {"type": "Feature", "id": "D2", "geometry": {"type": "Point", "coordinates": [60, -60]}, "properties": {"part": "box", "kind": "drop"}},
  {"type": "Feature", "id": "L1", "geometry": {"type": "LineString", "coordinates": [[25,-40],[85,-40]]}, "properties": {"part": "lateral", "from": "D", "bed": "gravel", "width": "36 in", "length": 60, "cover": "18 in", "grade": "0.5 %",
    "ties": [{"at": "end", "from": "7", "distance": "60.21 ft"}]}},
  {"type": "Feature", "id": "L2", "geometry": {"type": "LineString", "coordinates": [[25,-50],[85,-50]]}, "properties": {"part": "lateral", "grade": 0.0025, "from": ""}},
  {"type": "Feature", "id": "P", "geometry": {"type": "Point", "coordinates": [85, -50]}, "properties": {"part": "port", "of": "L2"}},
  {"type": "Feature", "id": "W", "geometry": {"type": "Point", "coordinates": [140, 80]}, "properties": {"part": "well"}},
  {"type": "Feature", "id": "lot", "geometry": {"type": "MultiLineString", "coordinates": [[[-50,-100],[150,-100]],[[-50,-100],[-50,100]]]}, "properties": {"part": "boundary"}},
  {"type": "Feature", "id": "gas", "geometry": {"type": "GeometryCollection", "geometries": [{"type": "LineString", "coordinates": [[-50,90],[0,10]]}, {"type": "Point", "coordinates": [0, 10]}]}, "properties": {"part": "utility", "clearance": "24 in"}},
  {"type": "Feature", "id": "bed", "geometry": {"type": "MultiPolygon", "coordinates": [[[[-20,0],[-10,0],[-10,10],[-20,0]]]]}, "properties": {"part": "no-dig", "clearance": 0}}
 ]}`

func decode(t *testing.T, text string) *asbuilt.Sketch {
	t.Helper()
	s, problems := geojson.Decode(strings.NewReader(text), "sketch.geojson")
	require.NoError(t, problems.Err())
	return s
}

func TestDecode(t *testing.T) {
	s := decode(t, sample)
	assert.Equal(t, asbuilt.Paper, s.Plane)
	assert.Equal(t, geo.Foot, s.Unit)
	assert.Equal(t, 1.0, s.Ratio)
	assert.Equal(t, asbuilt.ToScale, s.Trust)
	require.NotNil(t, s.Up)
	assert.InDelta(t, 350, s.Up.Bearing.Degrees(), 1e-9)
	assert.InDelta(t, 5, s.Up.Sigma.Degrees(), 1e-9)
	assert.True(t, s.MirrorUnknown)
	assert.Nil(t, s.Origin)
	assert.Equal(t, []string{"1987", "the installer", "S-1987-014", "scan.jpg", "two lines\nof <note>"},
		[]string{s.Drawn, s.By, s.Permit, s.Scan, s.Note})
	require.Len(t, s.Parts, 14)

	house := s.Part("house").Shapes[0]
	assert.Equal(t, asbuilt.Polygon, house.Form)
	assert.Equal(t, []asbuilt.Position{{}, {X: 40}, {X: 40, Y: 28}, {Y: 28}}, house.Vertices, "the repeated vertex is gone")

	assert.Equal(t, "SW corner of the house", s.Part("A").Name)
	assert.Equal(t, []asbuilt.Position{{X: 40}}, s.Part("7").Shapes[0].Vertices, "a number as id, a third ordinate")

	tank := s.Part("T")
	assert.Equal(t, []asbuilt.Position{{X: 20, Y: -20}, {X: 29, Y: -20}, {X: 29, Y: -15}, {X: 20, Y: -15}}, tank.Shapes[0].Vertices,
		"a clockwise ring is turned (RFC 7946, 3.1.6)")
	// The international foot is 0.3048 m (85 FR 62698).
	assert.InDelta(t, 0.3048, tank.Cover.Metres, 1e-12)
	assert.InDelta(t, -3.25*0.3048, tank.Invert.Metres, 1e-12)
	require.Len(t, tank.Ties, 2)
	assert.Equal(t, asbuilt.Tie{At: asbuilt.Center, From: "A", Distance: geo.Length{Metres: 31 * 0.3048, Written: "31", Unit: geo.Foot}}, tank.Ties[0])
	assert.Equal(t, asbuilt.Corner, tank.Ties[1].At)
	assert.InDelta(t, (22+4.0/12)*0.3048, tank.Ties[1].Distance.Metres, 1e-12)

	box := s.Part("D")
	assert.Equal(t, asbuilt.Distribution, box.BoxKind)
	assert.Equal(t, 2, box.Outlets)
	assert.InDelta(t, 0.6096, box.Size.Metres, 1e-12)
	assert.Equal(t, asbuilt.Drop, s.Part("D2").BoxKind)

	l1 := s.Part("L1")
	assert.Equal(t, 8, l1.Feature)
	assert.Equal(t, asbuilt.Gravel, l1.Bed)
	assert.InDelta(t, 0.9144, l1.Width.Metres, 1e-12)
	assert.InDelta(t, 18.288, l1.Length.Metres, 1e-12)
	assert.InDelta(t, 0.4572, l1.Cover.Metres, 1e-12)
	assert.InDelta(t, 0.005, *l1.Grade, 1e-15)
	assert.Same(t, box, s.BoxOf(l1), "the box it names")
	assert.Same(t, box, s.BoxOf(s.Part("L2")), "the nearest box")
	assert.Equal(t, "L2", s.Part("P").Of)

	assert.Len(t, s.Part("lot").Shapes, 2)
	assert.Equal(t, []asbuilt.Form{asbuilt.Line, asbuilt.Point},
		[]asbuilt.Form{s.Part("gas").Shapes[0].Form, s.Part("gas").Shapes[1].Form})
	assert.InDelta(t, 0.6096, s.Part("gas").Clearance.Metres, 1e-12)
	assert.Zero(t, s.Part("bed").Clearance.Metres)
}

func TestDecodeDefaults(t *testing.T) {
	s := decode(t, `{"type":"FeatureCollection","sketch":{"unit":"px","up":{"bearing":-10}},"features":[
		{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[1,2]},"properties":{"part":"box"}},
		{"type":"Feature","id":"L","geometry":{"type":"LineString","coordinates":[[1,2],[1,2],[300,2]]},"properties":{"part":"lateral"}}]}`)
	assert.Equal(t, asbuilt.Paper, s.Plane)
	assert.Equal(t, geo.Pixel, s.Unit)
	assert.Equal(t, 1.0, s.Ratio)
	assert.Equal(t, asbuilt.Roughly, s.Trust)
	assert.False(t, s.MirrorUnknown)
	assert.InDelta(t, 350, s.Up.Bearing.Degrees(), 1e-9)
	assert.InDelta(t, 10, s.Up.Sigma.Degrees(), 1e-9)
	assert.Equal(t, asbuilt.Distribution, s.Part("D").BoxKind)
	assert.Empty(t, s.Part("L").Bed)
	assert.Len(t, s.Part("L").Shapes[0].Vertices, 2, "a vertex drawn twice is one")
}

// TestDecodeWGS84 holds the frame against geodesics by GeographicLib 2.1.2
// (GeodSolve -i): from 37.2° N 79.9° W a ten-thousandth of a degree is
// 11.098140 m to the north and 8.877799 m to the west.
func TestDecodeWGS84(t *testing.T) {
	text := `{"type":"FeatureCollection","sketch":{"plane":"wgs84","unit":"ft"},
		"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"features":[
		{"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[-79.9001,37.2001]},"properties":{"part":"landmark"}},
		{"type":"Feature","id":"D","geometry":{"type":"Point","coordinates":[-79.8999,37.1999]},"properties":{"part":"box","cover":2}}]}`
	s := decode(t, text)
	assert.Equal(t, geo.Metre, s.Unit)
	assert.Equal(t, 1.0, s.Ratio)
	require.NotNil(t, s.Origin)
	assert.InDelta(t, -79.9, s.Origin.Lon.Degrees(), 1e-12)
	assert.InDelta(t, 37.2, s.Origin.Lat.Degrees(), 1e-12)
	a := s.Part("A").Shapes[0].Vertices[0]
	assert.InDelta(t, -8.8778, a.X, 0.002)
	assert.InDelta(t, 11.0981, a.Y, 0.002)
	assert.InDelta(t, 28.424217, a.Dist(s.Part("D").Shapes[0].Vertices[0]), 1e-5)
	assert.InDelta(t, 0.6096, s.Part("D").Cover.Metres, 1e-12, "a bare number is in sketch.unit, not in metres")

	// Across the 180th meridian a lot is still one lot.
	s = decode(t, strings.NewReplacer("-79.9001", "179.9999", "-79.8999", "-179.9999").Replace(text))
	a, b := s.Part("A").Shapes[0].Vertices[0], s.Part("D").Shapes[0].Vertices[0]
	assert.InDelta(t, 2*8.8778, b.X-a.X, 0.004)
}

// TestDecodeEncodings accepts a byte order mark (RFC 8259, 8.1 allows readers to).
func TestDecodeEncodings(t *testing.T) {
	assert.Equal(t, decode(t, sample), decode(t, "\xEF\xBB\xBF"+sample))
}

func TestEncodeRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		s    asbuilt.Sketch
		want string
	}{
		{"no origin", asbuilt.Sketch{Plane: asbuilt.WGS84}, "sketch: plane wgs84 without an origin"},
		{"no vertices", asbuilt.Sketch{Ratio: 1, Parts: []asbuilt.Part{{ID: "L1", Shapes: []asbuilt.Shape{{Form: asbuilt.Line}}}}}, `part 1 "L1": a LineString without vertices`},
		{"no form", asbuilt.Sketch{Ratio: 1, Parts: []asbuilt.Part{{ID: "L1", Shapes: []asbuilt.Shape{{Form: 9, Vertices: []asbuilt.Position{{}}}}}}}, `part 1 "L1": a shape of unknown form Form(9)`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var b bytes.Buffer
			assert.EqualError(t, geojson.Encode(&b, &tt.s), tt.want)
			assert.Zero(t, b.Len(), "nothing is half-written")
		})
	}
}
