package geojson

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	gogeom "github.com/twpayne/go-geom"
	codec "github.com/twpayne/go-geom/encoding/geojson"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
)

// lonLatDigits are the decimals of a degree that are written: 1e-10 is 0.01 mm.
const lonLatDigits = 10

// Encode writes a sketch as sketch.geojson, one feature a line. Decode reads
// it back the same, except that
//
//   - in wgs84 coordinates come back about the mean of all positions, to 0.01 mm;
//   - a length without a text of its own is written in metres, and one whose
//     text is a bare number in a unit other than the sketch's gets its unit.
//
// It is an error for a sketch in wgs84 to have no Origin, for a coordinate not
// to be finite, for a shape to have no vertices, and for w to fail; w may then
// hold a part.
func Encode(w io.Writer, s *asbuilt.Sketch) error {
	e := encoder{sketch: s, bare: s.Unit}
	if s.Plane == asbuilt.WGS84 {
		if s.Origin == nil {
			return fmt.Errorf("sketch: plane wgs84 without an origin")
		}
		e.site, e.bare = geodesy.NewSite(*s.Origin, 0), geo.Metre
	}
	if s.Ratio != 1 && (s.Unit == geo.Inch || s.Unit == geo.Centimetre || s.Unit == geo.Millimetre) {
		e.bare = geo.Pixel
	}
	head, err := plain(e.header())
	if err != nil {
		return fmt.Errorf("sketch: %w", err)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\"type\":\"FeatureCollection\",\n\"sketch\":%s,\n\"features\":[", head)
	for i := range s.Parts {
		f, err := e.feature(&s.Parts[i])
		if err != nil {
			return fmt.Errorf("part %d %q: %w", i+1, s.Parts[i].ID, err)
		}
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "\n%s", f)
	}
	b.WriteString("\n]}\n")
	_, err = w.Write(b.Bytes())
	return err
}

type encoder struct {
	sketch *asbuilt.Sketch
	bare   geo.Unit      // of bare numbers; Pixel: none
	site   *geodesy.Site // nil on paper
}

type upJSON struct {
	Bearing float64 `json:"bearing"`
	Sigma   float64 `json:"sigma"`
}

type headerJSON struct {
	Plane    string     `json:"plane"`
	Unit     string     `json:"unit,omitempty"`
	Ratio    float64    `json:"ratio,omitempty"`
	Trust    string     `json:"trust,omitempty"`
	Up       *upJSON    `json:"up,omitempty"`
	Mirrored string     `json:"mirrored,omitempty"`
	Drawn    string     `json:"drawn,omitempty"`
	By       string     `json:"by,omitempty"`
	Permit   string     `json:"permit,omitempty"`
	Scan     string     `json:"scan,omitempty"`
	Note     string     `json:"note,omitempty"`
	Known    *knownJSON `json:"known,omitempty"`
}

type tieJSON struct {
	At       string `json:"at,omitempty"`
	From     string `json:"from"`
	Distance any    `json:"distance"`
}

type propertiesJSON struct {
	Part      string    `json:"part"`
	Name      string    `json:"name,omitempty"`
	Kind      string    `json:"kind,omitempty"`
	Outlets   int       `json:"outlets,omitempty"`
	Size      any       `json:"size,omitempty"`
	From      string    `json:"from,omitempty"`
	Of        string    `json:"of,omitempty"`
	Bed       string    `json:"bed,omitempty"`
	Width     any       `json:"width,omitempty"`
	Length    any       `json:"length,omitempty"`
	Cover     any       `json:"cover,omitempty"`
	Invert    any       `json:"invert,omitempty"`
	Grade     *float64  `json:"grade,omitempty"`
	Clearance any       `json:"clearance,omitempty"`
	Ties      []tieJSON `json:"ties,omitempty"`
}

type featureJSON struct {
	Type       string         `json:"type"`
	ID         string         `json:"id"`
	Geometry   any            `json:"geometry"`
	Properties propertiesJSON `json:"properties"`
}

func (e *encoder) header() headerJSON {
	s := e.sketch
	h := headerJSON{
		Plane: string(s.Plane), Unit: string(s.Unit), Trust: string(s.Trust),
		Drawn: s.Drawn, By: s.By, Permit: s.Permit, Scan: s.Scan, Note: s.Note,
	}
	if s.Ratio != 1 && e.site == nil {
		h.Ratio = s.Ratio
	}
	if s.Up != nil {
		h.Up = &upJSON{s.Up.Bearing.Degrees(), s.Up.Sigma.Degrees()}
	}
	if s.MirrorUnknown {
		h.Mirrored = "unknown"
	}
	if s.Known != nil {
		h.Known = newKnown(s.Known)
	}
	return h
}

func (e *encoder) feature(p *asbuilt.Part) (string, error) {
	g, err := e.geometry(p.Shapes)
	if err != nil {
		return "", err
	}
	props := propertiesJSON{
		Part: string(p.Kind), Name: p.Name, Kind: string(p.BoxKind), Outlets: p.Outlets,
		From: p.From, Of: p.Of, Bed: string(p.Bed), Grade: p.Grade,
		Size: e.length(p.Size), Width: e.length(p.Width), Length: e.length(p.Length),
		Cover: e.length(p.Cover), Invert: e.length(p.Invert), Clearance: e.length(p.Clearance),
	}
	for _, t := range p.Ties {
		props.Ties = append(props.Ties, tieJSON{string(t.At), t.From, e.length(&t.Distance)})
	}
	return plain(featureJSON{"Feature", p.ID, g, props})
}

// length returns what is written of a length: the number or text that Decode
// reads back the same, else the nearest to it; nil where there is none.
func (e *encoder) length(l *geo.Length) any {
	if l == nil {
		return nil
	}
	if back, err := geo.ParseLength(l.Written, e.bare); err == nil && back == *l {
		if x, err := strconv.ParseFloat(l.Written, 64); err == nil {
			if same, err := geo.Bare(x, e.bare); err == nil && same == *l {
				return x
			}
		}
		return l.Written
	}
	if _, err := strconv.ParseFloat(l.Written, 64); err == nil {
		text := l.Written + " " + string(l.Unit)
		if back, err := geo.ParseLength(text, e.bare); err == nil && back.Metres == l.Metres {
			return text
		}
	}
	return strconv.FormatFloat(l.Metres, 'f', -1, 64) + " m"
}

// geometry returns the geometry of the shapes: one plain, several of one form
// as a Multi, others as a GeometryCollection (RFC 7946, 3.1.8).
func (e *encoder) geometry(shapes []asbuilt.Shape) (*codec.Geometry, error) {
	var all []gogeom.T
	same := true
	for _, sh := range shapes {
		if len(sh.Vertices) == 0 {
			return nil, fmt.Errorf("a %s without vertices", sh.Form)
		}
		same = same && sh.Form == shapes[0].Form
		all = append(all, gogeom.T(nil))
		flat, err := e.flat(sh)
		if err != nil {
			return nil, err
		}
		switch sh.Form {
		case asbuilt.Point:
			all[len(all)-1] = gogeom.NewPointFlat(gogeom.XY, flat[:2])
		case asbuilt.Line:
			all[len(all)-1] = gogeom.NewLineStringFlat(gogeom.XY, flat)
		case asbuilt.Polygon:
			all[len(all)-1] = gogeom.NewPolygonFlat(gogeom.XY, flat, []int{len(flat)})
		default:
			return nil, fmt.Errorf("a shape of unknown form %v", sh.Form)
		}
	}
	var t gogeom.T
	switch {
	case len(all) == 0:
		return nil, nil
	case len(all) == 1:
		t = all[0]
	case same && shapes[0].Form == asbuilt.Point:
		m := gogeom.NewMultiPoint(gogeom.XY)
		for _, g := range all {
			if err := m.Push(g.(*gogeom.Point)); err != nil {
				return nil, err
			}
		}
		t = m
	case same && shapes[0].Form == asbuilt.Line:
		m := gogeom.NewMultiLineString(gogeom.XY)
		for _, g := range all {
			if err := m.Push(g.(*gogeom.LineString)); err != nil {
				return nil, err
			}
		}
		t = m
	case same:
		m := gogeom.NewMultiPolygon(gogeom.XY)
		for _, g := range all {
			if err := m.Push(g.(*gogeom.Polygon)); err != nil {
				return nil, err
			}
		}
		t = m
	default:
		m := gogeom.NewGeometryCollection()
		if err := m.Push(all...); err != nil {
			return nil, err
		}
		t = m
	}
	if e.site != nil {
		return codec.Encode(t, codec.EncodeGeometryWithMaxDecimalDigits(lonLatDigits))
	}
	return codec.Encode(t)
}

// flat returns the coordinates of a shape as the file has them; rings are
// closed, and counter-clockwise (RFC 7946, 3.1.6).
func (e *encoder) flat(sh asbuilt.Shape) ([]float64, error) {
	v := sh.Vertices
	if sh.Form == asbuilt.Polygon {
		v = counterClockwise(append([]asbuilt.Position(nil), v...))
		v = append(v, v[0])
	}
	flat := make([]float64, 0, 2*len(v))
	for _, w := range v {
		if !w.Finite() {
			return nil, fmt.Errorf("a coordinate that is no number: [%v, %v]", w.X, w.Y)
		}
		if e.site != nil {
			q := e.site.LonLat(geo.Vec(w))
			w = asbuilt.Position{X: q.Lon.Degrees(), Y: q.Lat.Degrees()}
		}
		flat = append(flat, w.X, w.Y)
	}
	return flat, nil
}

// plain returns v as JSON with < and & as they are, so that notes stay readable.
func plain(v any) (string, error) {
	var b strings.Builder
	j := json.NewEncoder(&b)
	j.SetEscapeHTML(false)
	err := j.Encode(v)
	return strings.TrimSuffix(b.String(), "\n"), err
}
