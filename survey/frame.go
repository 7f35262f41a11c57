package survey

import (
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
