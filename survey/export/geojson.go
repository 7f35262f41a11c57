package export

import (
	"fmt"
	"io"

	"github.com/twpayne/go-geom"
	codec "github.com/twpayne/go-geom/encoding/geojson"

	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// Decimals of a coordinate: nine of a degree are 0.1 mm (RFC 7946, 11.2), three
// of a metre 1 mm.
const (
	degreeDecimals = 9
	metreDecimals  = 3
)

// Feature is a Feature of a collection (RFC 7946, 3.2).
type Feature struct {
	Type       string          `json:"type"`
	ID         string          `json:"id"`
	Geometry   *codec.Geometry `json:"geometry"`
	Properties any             `json:"properties"`
}

// Collection is a FeatureCollection (RFC 7946, 3.3) with the foreign member
// frame (6.1). Where the frame is geodetic its positions are longitude,
// latitude on WGS 84 (4). Where it is local they are metres of the field frame:
// section 4 allows another reference system by prior arrangement, and frame is
// that arrangement; no longitude or latitude is made up.
type Collection struct {
	Type     string    `json:"type"`
	Frame    Frame     `json:"frame"`
	Unit     string    `json:"unit"` // of a coordinate: deg or m
	Features []Feature `json:"features"`
}

func newCollection(f survey.Frame) *Collection {
	c := &Collection{Type: "FeatureCollection", Frame: newFrame(f), Unit: "deg", Features: []Feature{}}
	if f.Site == nil {
		c.Unit = "m"
	}
	return c
}

// painter makes geometries of places in the field frame.
type painter struct{ frame survey.Frame }

// xy returns a place as a file has it; ok is false for one that is none.
func (p painter) xy(v geo.Vec) (flat []float64, ok bool) {
	if q, on := p.frame.LonLat(v); on {
		v = geo.Vec{X: q.Lon.Degrees(), Y: q.Lat.Degrees()}
	}
	return []float64{v.X, v.Y}, v.Finite()
}

func (p painter) line(vs []geo.Vec) (flat []float64, ok bool) {
	for _, v := range vs {
		at, ok := p.xy(v)
		if !ok {
			return nil, false
		}
		flat = append(flat, at...)
	}
	return flat, true
}

func (p painter) encode(t geom.T) (*codec.Geometry, error) {
	decimals := degreeDecimals
	if p.frame.Site == nil {
		decimals = metreDecimals
	}
	return codec.Encode(t, codec.EncodeGeometryWithMaxDecimalDigits(decimals))
}

// feature makes a feature. A shape of which any place is none gets a geometry
// of null: an unlocated Feature (RFC 7946, 3.2).
func (p painter) feature(id string, t geom.T, properties any) (Feature, error) {
	f := Feature{Type: "Feature", ID: id, Properties: properties}
	if t == nil {
		return f, nil
	}
	g, err := p.encode(t)
	if err != nil {
		return f, fmt.Errorf("%s: %w", id, err)
	}
	f.Geometry = g
	return f, nil
}

func (p painter) point(v geo.Vec) geom.T {
	flat, ok := p.xy(v)
	if !ok {
		return nil
	}
	return geom.NewPointFlat(geom.XY, flat)
}

func (p painter) lineString(vs ...geo.Vec) geom.T {
	flat, ok := p.line(vs)
	if !ok || len(vs) < 2 {
		return nil
	}
	return geom.NewLineStringFlat(geom.XY, flat)
}

// region returns a region as a Polygon, or a MultiPolygon where it has several
// patches. Rings are closed; exterior ones turn counter-clockwise, holes
// clockwise (RFC 7946, 3.1.6), which a geo.Region has them do already and a
// frame with north up keeps.
func (p painter) region(r geo.Region) geom.T {
	var all []*geom.Polygon
	for _, patch := range r {
		var flat []float64
		var ends []int
		for _, ring := range append([][]geo.Vec{patch.Outer}, patch.Holes...) {
			if len(ring) < 3 {
				return nil
			}
			xy, ok := p.line(append(append([]geo.Vec{}, ring...), ring[0]))
			if !ok {
				return nil
			}
			flat = append(flat, xy...)
			ends = append(ends, len(flat))
		}
		all = append(all, geom.NewPolygonFlat(geom.XY, flat, ends))
	}
	switch len(all) {
	case 0:
		return nil
	case 1:
		return all[0]
	}
	m := geom.NewMultiPolygon(geom.XY)
	for _, q := range all {
		if err := m.Push(q); err != nil { // all are of one layout: cannot be
			return nil
		}
	}
	return m
}

// Grid is a place in the coordinate system that the settings name: x east and
// y north in the system's own unit. Geometry stays on WGS 84 (RFC 7946, 4).
type Grid struct {
	X   coordinate `json:"x"`
	Y   coordinate `json:"y"`
	CRS string     `json:"crs"` // EPSG:2264
}

// coordinate is a number of a coordinate system, written to the millimetre, or
// to nine decimals of a degree.
type coordinate struct {
	value  float64
	places int
}

func (c coordinate) String() string { return fixed(c.value, c.places) }

// MarshalJSON writes the coordinate as a number.
func (c coordinate) MarshalJSON() ([]byte, error) { return []byte(c.String()), nil }

// newGrid returns v in the system of the settings; nil where there is none, or
// the frame has no tie to the earth.
func newGrid(f survey.Frame, v geo.Vec) *Grid {
	xy, ok := f.Grid(v)
	if !ok {
		return nil
	}
	places := metreDecimals
	if f.CRS.Unit == geodesy.Degree {
		places = degreeDecimals
	}
	return &Grid{coordinate{xy.X, places}, coordinate{xy.Y, places}, fmt.Sprintf("EPSG:%d", f.CRS.Code)}
}

// SpotFeature is what a spot's Feature says: the spot, and its role.
type SpotFeature struct {
	Role string `json:"role"` // spot
	Spot
	*Grid
}

// RegionFeature is what the Feature of an ellipse or a corridor says: what lies
// within it with 95 %, and relative to what.
type RegionFeature struct {
	Role  string `json:"role"` // ellipse or corridor
	Part  string `json:"part"`
	Kind  string `json:"kind"`
	Spot  string `json:"spot,omitempty"`
	State string `json:"state"`
	Of    string `json:"relative_to"` // earth: as a position in the frame; landmarks: as a crew with tapes finds it
}

// PredictionsGeoJSON writes where everything is believed to lie: a Point for
// each spot, Polygons for its 95 % ellipses, a Polygon or MultiPolygon for each
// corridor. Where the frame is on the earth a spot has two ellipses, one as a
// position on the earth and one relative to the landmarks. The error is the
// writer's, or names what cannot be written.
func PredictionsGeoJSON(w io.Writer, l *locate.Location) error {
	c, p := newCollection(l.Frame), painter{l.Frame}
	add := func(id string, t geom.T, properties any) error {
		if _, point := properties.(SpotFeature); t == nil && !point {
			return nil // a region without size
		}
		f, err := p.feature(id, t, properties)
		c.Features = append(c.Features, f)
		return err
	}
	for i := range l.Corridors {
		s := &l.Corridors[i]
		about := RegionFeature{"corridor", s.Part, string(s.Kind), "", string(s.State), "landmarks"}
		if err := add(s.Part+"/corridor", p.region(strip(s.Line, s.Half)), about); err != nil {
			return err
		}
	}
	for i := range l.Spots {
		s := &l.Spots[i]
		id := s.Part + "/" + string(s.Spot)
		about := RegionFeature{"ellipse", s.Part, string(s.Kind), string(s.Spot), string(s.State), "landmarks"}
		if err := add(id+"/ellipse", p.region(ellipse(s.At, s.FromLandmarks)), about); err != nil {
			return err
		}
		if about.Of = "earth"; l.Frame.Kind == survey.Geodetic {
			if err := add(id+"/ellipse-earth", p.region(ellipse(s.At, s.Ellipse)), about); err != nil {
				return err
			}
		}
		if err := add(id, p.point(s.At), SpotFeature{"spot", newSpot(l.Frame, s), newGrid(l.Frame, s.At)}); err != nil {
			return err
		}
	}
	return write(w, c)
}

// ellipse returns the polygon round an ellipse, none where it has no size.
func ellipse(at geo.Vec, e geo.Ellipse) geo.Region {
	if !(e.SemiMajor >= 1e-4) || !(e.SemiMinor >= 1e-4) {
		return nil
	}
	return geo.Region{{Outer: e.Ring(at)}}
}

// HoleFeature is what a planned hole's Feature says.
type HoleFeature struct {
	Role string `json:"role"` // hole
	Proposal
	*Grid
}

// TieFeature is what the Feature of a tape to a planned hole says.
type TieFeature struct {
	Role string `json:"role"` // tie
	Rank int    `json:"rank"`
	Tie
}

// PlanGeoJSON writes the holes of a plan as Points, and the tapes that set them
// out as LineStrings from the landmark to the hole. The error is the writer's,
// or names what cannot be written.
func PlanGeoJSON(w io.Writer, l *locate.Location, plan *probe.Plan) error {
	c, p := newCollection(l.Frame), painter{l.Frame}
	answer := NewDigPlan(l, plan)
	for i := range plan.Holes {
		h := &plan.Holes[i]
		f, err := p.feature(fmt.Sprintf("hole %d", h.Rank), p.point(h.At), HoleFeature{"hole", answer.Holes[i], newGrid(l.Frame, h.At)})
		if err != nil {
			return err
		}
		c.Features = append(c.Features, f)
		for k, t := range h.Ties {
			mark := l.Spot(t.From, "center")
			if mark == nil {
				continue
			}
			f, err := p.feature(fmt.Sprintf("hole %d/tie %s", h.Rank, t.From), p.lineString(mark.At, h.At), TieFeature{"tie", h.Rank, answer.Holes[i].Ties[k]})
			if err != nil {
				return err
			}
			c.Features = append(c.Features, f)
		}
	}
	return write(w, c)
}
