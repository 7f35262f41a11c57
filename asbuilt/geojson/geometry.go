package geojson

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"github.com/peterstace/simplefeatures/geom"
	gogeom "github.com/twpayne/go-geom"
	codec "github.com/twpayne/go-geom/encoding/geojson"

	"asfound/asbuilt"
	"asfound/geo/geodesy"
	"asfound/geo/spelling"
)

// levels gives how deep the positions of each type of geometry lie in its
// coordinates (RFC 7946, 3.1.2 to 3.1.7).
var levels = map[string]int{"Point": 0, "MultiPoint": 1, "LineString": 1, "MultiLineString": 2, "Polygon": 2, "MultiPolygon": 3}

var typeNames = []string{"Point", "LineString", "Polygon", "MultiPoint", "MultiLineString", "MultiPolygon", "GeometryCollection"}

// geometry reads the geometry of a part as shapes in the coordinates of the
// file, none where any of it is wrong.
func (d *decoder) geometry(path string, v value, kind asbuilt.Kind) []asbuilt.Shape {
	g := geometry{decoder: d, good: true}
	if v.kind() != '{' {
		// A Feature may be without a place (RFC 7946, 3.2); a part may not.
		want := "a geometry"
		if forms, several := kind.Forms(); kind != "" && !several {
			want = "a " + forms[0].String()
		}
		d.addf(path, v.show(), "%s: a part that is not drawn cannot be found", want)
		return nil
	}
	g.read(path, v)
	if !g.good {
		return nil
	}
	return g.shapes
}

// geometry is the reading of one part's geometry.
type geometry struct {
	*decoder
	shapes    []asbuilt.Shape
	positions int
	size      int // ordinates of the first position
	good      bool
}

func (g *geometry) bad(field, found, want string, args ...any) {
	g.good = false
	g.addf(field, found, want, args...)
}

func (g *geometry) read(path string, v value) {
	m := g.object(path, v, "type", "coordinates", "geometries", "bbox")
	for _, name := range []string{"geometry", "properties", "features"} { // RFC 7946, 7.1
		if _, ok := m[name]; ok {
			g.bad(join(path, name), "a member "+quote(name), "no such member in a geometry (RFC 7946, 7.1)")
		}
	}
	name := m["type"].text()
	if name == "GeometryCollection" {
		if m["geometries"].kind() != '[' {
			g.bad(join(path, "geometries"), m["geometries"].show(), "an array of geometries (RFC 7946, 3.1.8)")
		}
		for i, v := range m["geometries"].items() {
			if g.over() {
				return
			}
			at := fmt.Sprintf("%s.geometries[%d]", path, i)
			if v.kind() != '{' {
				g.bad(at, v.show(), "a geometry")
				continue
			}
			g.read(at, v)
		}
		if g.good && len(g.shapes) == 0 {
			g.bad(join(path, "geometries"), "no geometry", "at least one")
		}
		return
	}
	level, ok := levels[name]
	if !ok {
		g.bad(join(path, "type"), m["type"].show(), "%s", spelling.OneOf(name, typeNames))
		return
	}
	field := join(path, "coordinates")
	if g.coordinates(field, m["coordinates"], level); !g.good {
		return
	}
	raw := json.RawMessage(m["coordinates"])
	t, err := (&codec.Geometry{Type: name, Coordinates: &raw}).Decode()
	if err != nil { // not reached by what coordinates lets pass, as far as is known
		g.bad(field, m["coordinates"].show(), "coordinates of a %s: %v", name, err)
		return
	}
	g.add(field, t)
}

// coordinates checks positions before they are handed on: the codec takes null
// for 0, any number of ordinates, and knows no range.
func (g *geometry) coordinates(field string, v value, level int) {
	if v.kind() != '[' {
		want := "a position [x, y]"
		if level > 0 {
			want = "an array of " + [...]string{"", "positions [x, y]", "arrays of positions", "polygons"}[level]
		}
		g.bad(field, v.show(), "%s", want)
		return
	}
	if level == 0 {
		g.position(field, v)
		return
	}
	n := 0
	for i, item := range v.items() {
		if g.positions > MaxPositions {
			return
		}
		g.coordinates(fmt.Sprintf("%s[%d]", field, i), item, level-1)
		n++
	}
	if n == 0 {
		g.bad(field, "[]", "positions: an empty geometry has no place")
	}
}

// position checks one position (RFC 7946, 3.1.1): two or three numbers, as
// many as the first of the geometry has.
func (g *geometry) position(field string, v value) {
	if g.over() {
		return
	}
	var x [3]float64
	n := 0
	for i, item := range v.items() {
		if n = i + 1; n > 3 {
			break
		}
		var ok bool
		x[i], ok = item.number()
		switch {
		case item.kind() == '0' && !ok:
			g.bad(fmt.Sprintf("%s[%d]", field, i), item.show(), "a number that can be held, at most %.0e", float64(asbuilt.MaxCoordinate))
			return
		case item.kind() == '"':
			g.bad(fmt.Sprintf("%s[%d]", field, i), item.show(), "a number without quotes")
			return
		case !ok:
			g.bad(fmt.Sprintf("%s[%d]", field, i), item.show(), "a number")
			return
		}
	}
	switch {
	case n < 2 || n > 3:
		g.bad(field, v.show(), "two numbers, or three with a height (RFC 7946, 3.1.1)")
		return
	case g.size == 0:
		g.size = n
	case g.size != n:
		g.bad(field, v.show(), "%d numbers, as in the first position of this part", g.size)
		return
	}
	if g.sketch.Plane == asbuilt.WGS84 {
		g.lonLat(field, v, x[0], x[1])
	} else if math.Abs(x[0]) > asbuilt.MaxCoordinate || math.Abs(x[1]) > asbuilt.MaxCoordinate {
		g.bad(field, v.show(), "coordinates between -%.0e and %.0e", float64(asbuilt.MaxCoordinate), float64(asbuilt.MaxCoordinate))
	}
}

// over counts a position or a piece, and reports whether they are too many.
func (g *geometry) over() bool {
	g.positions++
	if g.positions == MaxPositions+1 {
		g.bad("geometry", fmt.Sprintf("more than %d positions and pieces", MaxPositions), "at most %d in one part", MaxPositions)
	}
	return g.positions > MaxPositions
}

// lonLat checks a longitude and a latitude, in this order (RFC 7946, 3.1.1).
func (g *geometry) lonLat(field string, v value, lon, lat float64) {
	const want = "longitude, latitude in degrees: -180 to 180, -90 to 90"
	_, err := geodesy.New(lon, lat)
	_, other := geodesy.New(lat, lon)
	switch {
	case err != nil && other == nil, err == nil && math.Abs(lat) > maxLatitude && math.Abs(lon) <= maxLatitude:
		g.bad(field, v.show(), "%s; they look swapped (RFC 7946, 3.1.1: longitude first)", want)
	case err != nil:
		g.bad(field, v.show(), "%s; for a drawing's own coordinates, sketch.plane paper", want)
	}
}

// add takes over the pieces of a geometry.
func (g *geometry) add(field string, t gogeom.T) {
	switch t := t.(type) {
	case *gogeom.Point:
		g.shapes = append(g.shapes, asbuilt.Shape{Form: asbuilt.Point, Vertices: vertices(t.FlatCoords(), t.Stride())})
	case *gogeom.LineString:
		g.line(field, t)
	case *gogeom.Polygon:
		g.polygon(field, t)
	case *gogeom.MultiPoint:
		for i := range t.NumPoints() {
			g.add(fmt.Sprintf("%s[%d]", field, i), t.Point(i))
		}
	case *gogeom.MultiLineString:
		for i := range t.NumLineStrings() {
			g.add(fmt.Sprintf("%s[%d]", field, i), t.LineString(i))
		}
	case *gogeom.MultiPolygon:
		for i := range t.NumPolygons() {
			g.add(fmt.Sprintf("%s[%d]", field, i), t.Polygon(i))
		}
	}
}

// line takes over a line: two positions or more (RFC 7946, 3.1.4) in at least
// two places.
func (g *geometry) line(field string, t *gogeom.LineString) {
	all := vertices(t.FlatCoords(), t.Stride())
	v := slices.Compact(slices.Clone(all))
	switch {
	case len(all) < 2:
		g.bad(field, "1 position", "at least two (RFC 7946, 3.1.4)")
	case len(v) < 2:
		g.bad(field, fmt.Sprintf("%d positions, all at %s", len(all), at(v[0])), "a line with length")
	default:
		g.shapes = append(g.shapes, asbuilt.Shape{Form: asbuilt.Line, Vertices: v})
	}
}

// polygon takes over the exterior ring of a polygon, and checks all rings: each
// closed, of four positions or more (RFC 7946, 3.1.6), not crossing itself or
// the others (OGC 06-103r4, 6.1.11).
func (g *geometry) polygon(field string, t *gogeom.Polygon) {
	var rings []geom.LineString
	for i := range t.NumLinearRings() {
		field := fmt.Sprintf("%s[%d]", field, i)
		v := vertices(t.LinearRing(i).FlatCoords(), t.Stride())
		if g.sketch.Plane == asbuilt.WGS84 {
			v = oneSide(v)
		}
		first, last := v[0], v[len(v)-1]
		switch {
		case len(v) < 3 || first == last && len(v) < 4:
			g.bad(field, fmt.Sprintf("a ring of %d positions", len(v)), "at least four, the last the same as the first (RFC 7946, 3.1.6)")
		case first != last:
			g.bad(field, fmt.Sprintf("a ring that starts at %s and ends at %s", at(first), at(last)), "the first position once more at the end (RFC 7946, 3.1.6)")
		default:
			v = slices.Compact(v)
			var flat []float64
			for _, w := range v {
				flat = append(flat, w.X, w.Y)
			}
			rings = append(rings, geom.NewLineString(geom.NewSequence(flat, geom.DimXY)))
			if i == 0 {
				g.shapes = append(g.shapes, asbuilt.Shape{Form: asbuilt.Polygon, Vertices: counterClockwise(v[:len(v)-1])})
			}
		}
	}
	if !g.good {
		return
	}
	if err := geom.NewPolygon(rings).Validate(); err != nil {
		g.bad(field, crossing(rings, err), "an outline that goes round once and never crosses or touches itself")
	}
}

// vertices returns X and Y of flat coordinates.
func vertices(flat []float64, stride int) []asbuilt.Position {
	v := make([]asbuilt.Position, 0, len(flat)/stride)
	for i := 0; i+1 < len(flat); i += stride {
		v = append(v, asbuilt.Position{X: flat[i], Y: flat[i+1]})
	}
	return v
}

// oneSide brings longitudes that lie beyond the 180th meridian from the first
// to its side, so that a ring across it is still a ring.
func oneSide(v []asbuilt.Position) []asbuilt.Position {
	for i := range v {
		if math.Abs(v[i].X-v[0].X) > 180 {
			v[i].X = v[0].X + turn(v[i].X-v[0].X)
		}
	}
	return v
}

// counterClockwise returns the ring in the direction that RFC 7946, 3.1.6 asks
// of exterior rings, from the same first vertex. Readers must not refuse the
// other one, so it is turned.
func counterClockwise(ring []asbuilt.Position) []asbuilt.Position {
	area := 0.0
	for i, v := range ring {
		a, b := v.Sub(ring[0]), ring[(i+1)%len(ring)].Sub(ring[0])
		area += a.X*b.Y - a.Y*b.X
	}
	if area < 0 {
		slices.Reverse(ring[1:])
	}
	return ring
}

func at(v asbuilt.Position) string { return fmt.Sprintf("[%v, %v]", v.X, v.Y) }
