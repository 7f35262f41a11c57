package export

import (
	"fmt"
	"io"

	"github.com/twpayne/go-geom"
	codec "github.com/twpayne/go-geom/encoding/geojson"

	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// Decimals of a coordinate: nine of a degree are 0.1 mm (RFC 7946, 11.2), three
// of a metre 1 mm.
const (
	degreeDecimals = 9
	metreDecimals  = 3
)

func newCollection(f survey.Frame) *answer.Collection {
	c := &answer.Collection{Type: "FeatureCollection", Frame: newFrame(f, language.English), Unit: answer.CoordinatesInDegrees, Features: []answer.Feature{}}
	if f.Site == nil {
		c.Unit = answer.CoordinatesInMetres
	}
	return c
}

// painter makes geometries of places in the field frame.
type painter struct{ frame survey.Frame }

// xy returns a place as a file has it; ok is false for one that is not finite.
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

// encode returns a geometry as a file has it; nil for nil.
func (p painter) encode(t geom.T) (*answer.Geometry, error) {
	if t == nil {
		return nil, nil
	}
	decimals := degreeDecimals
	if p.frame.Site == nil {
		decimals = metreDecimals
	}
	g, err := codec.Encode(t, codec.EncodeGeometryWithMaxDecimalDigits(decimals))
	if err != nil {
		return nil, err
	}
	return &answer.Geometry{Type: g.Type, Coordinates: *g.Coordinates}, nil
}

// feature makes a feature. A shape with a place that is not finite gets a
// geometry of null: an unlocated Feature (RFC 7946, 3.2).
func (p painter) feature(id string, t geom.T, properties any) (answer.Feature, error) {
	g, err := p.encode(t)
	if err != nil {
		return answer.Feature{}, fmt.Errorf("%s: %w", id, err)
	}
	return answer.Feature{Type: "Feature", ID: id, Geometry: g, Properties: properties}, nil
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

// newGrid returns v in the system of the settings; nil where there is none, or
// the frame has no tie to the earth.
func newGrid(f survey.Frame, v geo.Vec) *answer.Grid {
	xy, ok := f.Grid(v)
	if !ok {
		return nil
	}
	places := 3
	if f.CRS.Unit == geodesy.Degree {
		places = 9
	}
	write := func(v float64) answer.Decimal { return answer.Decimal(answer.Fixed(v, places)) }
	return &answer.Grid{X: write(xy.X), Y: write(xy.Y), CRS: fmt.Sprintf("EPSG:%d", f.CRS.Code)}
}

// PredictionsGeoJSON writes where everything is believed to lie: a Point for
// each spot, Polygons for its 95 % ellipses, a Polygon or MultiPolygon for each
// corridor. Where the frame is on the earth a spot has two ellipses, one as a
// position on the earth and one relative to the landmarks. The error is the
// writer's, or names what cannot be written.
func PredictionsGeoJSON(w io.Writer, l *locate.Location) error {
	c, p := newCollection(l.Frame), painter{l.Frame}
	add := func(id string, t geom.T, properties any) error {
		if _, point := properties.(answer.SpotProperties); t == nil && !point {
			return nil // a region without size
		}
		f, err := p.feature(id, t, properties)
		c.Features = append(c.Features, f)
		return err
	}
	for i := range l.Corridors {
		s := &l.Corridors[i]
		about := answer.RegionProperties{Role: "corridor", Part: s.Part, Kind: string(s.Kind), State: answer.State(s.State), Of: answer.OfLandmarks}
		if err := add(s.Part+"/corridor", p.region(strip(s.Line, s.Half)), about); err != nil {
			return err
		}
	}
	for i := range l.Spots {
		s := &l.Spots[i]
		id := s.Part + "/" + string(s.Spot)
		about := answer.RegionProperties{Role: "ellipse", Part: s.Part, Kind: string(s.Kind), Spot: string(s.Spot), State: answer.State(s.State), Of: answer.OfLandmarks}
		if err := add(id+"/ellipse", p.region(ellipse(s.At, s.FromLandmarks)), about); err != nil {
			return err
		}
		if about.Of = answer.OfEarth; l.Frame.Kind == survey.Geodetic {
			if err := add(id+"/ellipse-earth", p.region(ellipse(s.At, s.Ellipse)), about); err != nil {
				return err
			}
		}
		if err := add(id, p.point(s.At), answer.SpotProperties{Role: "spot", Spot: newSpot(l.Frame, s), Grid: newGrid(l.Frame, s.At)}); err != nil {
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

// PlanGeoJSON writes the holes of a plan as Points, and the tapes that set them
// out as LineStrings from the landmark to the hole. The error is the writer's,
// or names what cannot be written.
func PlanGeoJSON(w io.Writer, l *locate.Location, plan *probe.Plan) error {
	c, p := newCollection(l.Frame), painter{l.Frame}
	for i := range plan.Holes {
		h := &plan.Holes[i]
		step := newProposal(l, reader(l, language.English), h)
		f, err := p.feature(fmt.Sprintf("hole %d", h.Rank), p.point(h.At), answer.HoleProperties{Role: "hole", Proposal: step, Grid: newGrid(l.Frame, h.At)})
		if err != nil {
			return err
		}
		c.Features = append(c.Features, f)
		for k, t := range h.Ties {
			mark := l.Spot(t.From, "center")
			if mark == nil {
				continue
			}
			f, err := p.feature(fmt.Sprintf("hole %d/tie %s", h.Rank, t.From), p.lineString(mark.At, h.At), answer.TieProperties{Role: "tie", Rank: h.Rank, Tie: step.Ties[k]})
			if err != nil {
				return err
			}
			c.Features = append(c.Features, f)
		}
	}
	return write(w, c)
}
