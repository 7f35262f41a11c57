package export

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// LonLat is a position on WGS 84.
type LonLat struct {
	Lon Degrees `json:"lon"`
	Lat Degrees `json:"lat"`
}

// Place is a place in the field frame, and on the earth where the frame is
// tied to it; else Lon and Lat are left out.
type Place struct {
	East  Metres   `json:"east"`
	North Metres   `json:"north"`
	Lon   *Degrees `json:"lon,omitempty"`
	Lat   *Degrees `json:"lat,omitempty"`
}

func newPlace(f survey.Frame, v geo.Vec) Place {
	p := Place{East: Metres(v.X), North: Metres(v.Y)}
	if q, ok := f.LonLat(v); ok && v.Finite() {
		p.Lon, p.Lat = optional(Degrees(q.Lon.Degrees())), optional(Degrees(q.Lat.Degrees()))
	}
	return p
}

// Frame is the field frame: a plane in ground metres, east and north.
type Frame struct {
	Kind   string  `json:"kind"`             // geodetic or local
	Origin *LonLat `json:"origin,omitempty"` // of a geodetic frame
	Note   string  `json:"note"`             // how the frame is held, for people
}

func newFrame(f survey.Frame) Frame {
	out := Frame{Kind: string(f.Kind), Note: f.Note}
	if f.Site != nil {
		o := f.Site.Origin
		out.Origin = &LonLat{Degrees(o.Lon.Degrees()), Degrees(o.Lat.Degrees())}
	}
	return out
}

// Region is what holds a point with 95 %: an ellipse, or a circle about the
// same middle.
type Region struct {
	SemiMajor Metres `json:"semi_major"`
	SemiMinor Metres `json:"semi_minor"`
	Bearing   Turn   `json:"bearing"` // of the semi-major axis, clockwise from north
	Radius95  Metres `json:"radius95"`
}

func newRegion(e geo.Ellipse, radius float64) Region {
	return Region{Metres(e.SemiMajor), Metres(e.SemiMinor), Turn(e.Bearing.Degrees()), Metres(radius)}
}

// Spot is where one spot of a part lies. The members of Place and Region lie
// beside the others.
type Spot struct {
	Part  string `json:"part"`
	Kind  string `json:"kind"`
	Spot  string `json:"spot"`  // center, start or end
	State string `json:"state"` // seen, inferred or recorded
	Place
	Region                // as a position in the frame
	FromLandmarks Region  `json:"from_landmarks"`  // relative to the landmarks, as a crew with tapes finds it
	Lobes         []Lobe  `json:"lobes,omitempty"` // where it may lie in two places or more
	Old           Place   `json:"old"`             // where the old sketch, laid on the landmarks, has it
	Depth         *Metres `json:"depth"`           // null for a landmark, and where nothing is known
	DepthSigma    *Metres `json:"depth_sigma"`
	DepthTo       string  `json:"depth_to,omitempty"` // top, crown, invert or bottom
}

// Lobe is one of several separate places where a spot may lie, relative to the
// landmarks.
type Lobe struct {
	Share    Number      `json:"share"` // of the belief
	East     Metres      `json:"east"`
	North    Metres      `json:"north"`
	Radius95 Metres      `json:"radius95"` // holds 95 % of this lobe
	Outline  [][2]Metres `json:"outline"`  // east, north; not closed
}

// Corridor is the strip that holds a whole lateral or header with 95 %,
// relative to the landmarks.
type Corridor struct {
	Part  string   `json:"part"`
	Kind  string   `json:"kind"`
	State string   `json:"state"`
	Line  []Place  `json:"line"`  // expected centre line, in flow order
	Half  []Metres `json:"half"`  // half-width at each vertex, the trench's own included
	Width Metres   `json:"width"` // of the trench or pipe
	Depth []Metres `json:"depth"` // at each vertex
}

// Outline is a part's geometry as now believed and as the old sketch, laid on
// the landmarks, has it.
type Outline struct {
	Part      string  `json:"part"`
	Kind      string  `json:"kind"`
	Name      string  `json:"name,omitempty"`
	State     string  `json:"state"`
	Now       []Shape `json:"now"`
	Old       []Shape `json:"old"`
	Clearance Metres  `json:"clearance,omitempty"`
}

// Shape is one piece of an outline in the field frame.
type Shape struct {
	Form     string      `json:"form"`     // Point, LineString or Polygon, not closed
	Vertices [][2]Metres `json:"vertices"` // east, north
}

// Hole is a hole of the log.
type Hole struct {
	Name string `json:"name"`
	Place
	SemiMajor Metres  `json:"semi_major"` // 95 %, relative to the landmarks
	SemiMinor Metres  `json:"semi_minor"`
	Bearing   Turn    `json:"bearing"`
	Radius    Metres  `json:"radius"`
	Met       string  `json:"met,omitempty"` // what it met; left out: nothing
	Spot      string  `json:"spot,omitempty"`
	Depth     *Metres `json:"depth,omitempty"`
	DepthTo   string  `json:"depth_to,omitempty"`
}

// Location is the answer of locate.
type Location struct {
	Seek      string     `json:"seek"`
	Frame     Frame      `json:"frame"`
	Fit       Fit        `json:"fit"`
	Spots     []Spot     `json:"spots"`
	Corridors []Corridor `json:"corridors"`
	Outlines  []Outline  `json:"outlines"`
	Holes     []Hole     `json:"holes"`
	Fill      *Metres    `json:"fill,omitempty"`   // ground added since the record, where the readings tell
	Learnt    []string   `json:"learnt,omitempty"` // what the holes that met nothing changed, for people
}

// NewLocation returns the answer of locate for a location.
func NewLocation(l *locate.Location) Location {
	out := Location{
		Seek: l.Job.Settings.Seek, Frame: newFrame(l.Frame), Fit: newFit(l.Fit),
		Learnt: finding.Sentences(l.Learnt, l.Job.Settings.Unit), Spots: []Spot{}, Corridors: []Corridor{}, Outlines: []Outline{}, Holes: []Hole{},
	}
	for i := range l.Spots {
		out.Spots = append(out.Spots, newSpot(l.Frame, &l.Spots[i]))
	}
	for i := range l.Corridors {
		out.Corridors = append(out.Corridors, newCorridor(l.Frame, &l.Corridors[i]))
	}
	for i := range l.Outlines {
		o := &l.Outlines[i]
		out.Outlines = append(out.Outlines, Outline{o.Part, string(o.Kind), o.Name, string(o.State), newShapes(o.Now), newShapes(o.Old), Metres(o.Clearance)})
	}
	for i := range l.Holes {
		out.Holes = append(out.Holes, newHole(l.Frame, &l.Holes[i]))
	}
	if l.Fill != nil {
		out.Fill = optional(Metres(*l.Fill))
	}
	return out
}

func newSpot(f survey.Frame, s *locate.Spot) Spot {
	out := Spot{
		Part: s.Part, Kind: string(s.Kind), Spot: string(s.Spot), State: string(s.State),
		Place: newPlace(f, s.At), Region: newRegion(s.Ellipse, s.Radius95),
		FromLandmarks: newRegion(s.FromLandmarks, s.Landmarks95), Old: newPlace(f, s.Old),
	}
	for _, l := range s.Lobes {
		lobe := Lobe{Share: Number(l.Share), East: Metres(l.At.X), North: Metres(l.At.Y), Radius95: Metres(l.Radius95), Outline: [][2]Metres{}}
		for _, v := range l.Region[0].Outer {
			lobe.Outline = append(lobe.Outline, [2]Metres{Metres(v.X), Metres(v.Y)})
		}
		out.Lobes = append(out.Lobes, lobe)
	}
	if d := s.Depth; d != nil && ordinary(d.Mean) {
		out.Depth, out.DepthSigma, out.DepthTo = optional(Metres(d.Mean)), optional(Metres(d.Sigma)), string(d.Feature)
	}
	return out
}

func newCorridor(f survey.Frame, c *locate.Corridor) Corridor {
	out := Corridor{Part: c.Part, Kind: string(c.Kind), State: string(c.State), Width: Metres(c.Width),
		Line: []Place{}, Half: []Metres{}, Depth: []Metres{}}
	for _, v := range c.Line {
		out.Line = append(out.Line, newPlace(f, v))
	}
	for _, h := range c.Half {
		out.Half = append(out.Half, Metres(h))
	}
	for _, d := range c.Depth {
		out.Depth = append(out.Depth, Metres(d.Mean))
	}
	return out
}

func newShapes(shapes []asbuilt.Shape) []Shape {
	out := []Shape{}
	for _, sh := range shapes {
		s := Shape{sh.Form.String(), [][2]Metres{}}
		for _, v := range sh.Vertices {
			s.Vertices = append(s.Vertices, [2]Metres{Metres(v.X), Metres(v.Y)})
		}
		out = append(out, s)
	}
	return out
}

func newHole(f survey.Frame, h *locate.Hole) Hole {
	out := Hole{Name: h.Name, Place: newPlace(f, h.At), Radius: Metres(h.Radius), Met: h.Met, Spot: string(h.Spot), DepthTo: string(h.Feature),
		SemiMajor: Metres(h.Ellipse.SemiMajor), SemiMinor: Metres(h.Ellipse.SemiMinor), Bearing: Turn(h.Ellipse.Bearing.Degrees())}
	if h.Depth != nil {
		out.Depth = optional(Metres(*h.Depth))
	}
	return out
}
