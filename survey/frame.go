package survey

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
)

// FrameKind tells whether the field frame is tied to the earth.
type FrameKind string

// The kinds of frame.
const (
	Geodetic FrameKind = "geodetic" // local ground frame about a known origin, north up
	Local    FrameKind = "local"    // laid on the landmarks; no longitude, latitude or true north is claimed
)

// Frame is the field frame of a job: a plane in ground metres, X east, Y north.
type Frame struct {
	Kind FrameKind
	Site *geodesy.Site // nil where Kind is Local
	Note string        // how the frame is held, for people
}

// LonLat returns the position of v on the earth; ok is false where the frame
// has no tie to it.
func (f Frame) LonLat(v geo.Vec) (p geodesy.LonLat, ok bool) {
	if f.Site == nil {
		return geodesy.LonLat{}, false
	}
	return f.Site.LonLat(v), true
}

// newFrame chooses the field frame of a job: on the earth where a satellite
// fix or a georeferenced sketch ties it there, else on the landmarks. A rough
// position of the lot alone is no tie: longitudes made from it would be
// invented.
func newFrame(b *book) Frame {
	s := b.job.Sketch
	if s.Plane == asbuilt.WGS84 && s.Origin != nil {
		return Frame{Kind: Geodetic, Site: geodesy.NewSite(*s.Origin, 0), Note: "north up; origin of the georeferenced sketch"}
	}
	for i := range b.readings {
		if r := &b.readings[i]; r.Kind == GNSS {
			return Frame{Kind: Geodetic, Site: geodesy.NewSite(r.Position, 0), Note: "north up; origin at satellite fix " + r.ID}
		}
	}
	f := Frame{Kind: Local, Note: "laid on the landmarks; up is up on the sheet, not north"}
	if b.north {
		f.Note = "laid on the landmarks; up is north as the sheet or the bearings tell it"
	}
	return f
}
