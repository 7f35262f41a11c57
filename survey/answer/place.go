package answer

// Unit is the unit that people read lengths in.
type Unit string

// The units of people.
const (
	Feet       Unit = "ft"
	UnitMetres Unit = "m"
)

// LonLat is a position on WGS 84.
type LonLat struct {
	// Degrees east.
	Lon Degrees `json:"lon"`
	// Degrees north.
	Lat Degrees `json:"lat"`
}

// Vertex is a place in the field frame: metres east, metres north.
type Vertex [2]Metres

// Place is a place in the field frame, and on the earth where the frame is
// tied to it.
type Place struct {
	// Metres in the field frame.
	East Metres `json:"east"`
	// Metres in the field frame.
	North Metres `json:"north"`
	// Degrees on WGS 84. Left out where the job is not tied to the earth.
	Lon *Degrees `json:"lon,omitempty"`
	// Degrees on WGS 84. Left out where the job is not tied to the earth.
	Lat *Degrees `json:"lat,omitempty"`
}

// FrameKind says what a frame is tied to.
type FrameKind string

// The kinds of frame.
const (
	Geodetic FrameKind = "geodetic" // about a known origin, north up
	Local    FrameKind = "local"    // laid on the landmarks; no north is known
)

// Frame is the field frame: a plane in ground metres, east and north.
type Frame struct {
	Kind FrameKind `json:"kind"`
	// Of a geodetic frame; left out of a local one.
	Origin *LonLat `json:"origin,omitempty"`
	// How the frame is fixed, for people.
	Note string `json:"note"`
}

// Region is what holds a place with 95 %: an ellipse, or a circle about the
// same middle.
type Region struct {
	// Metres.
	SemiMajor Metres `json:"semi_major"`
	// Metres.
	SemiMinor Metres `json:"semi_minor"`
	// Of the semi-major axis, degrees clockwise from the frame's north.
	Bearing Turn `json:"bearing"`
	// Of the circle, metres.
	Radius95 Metres `json:"radius95"`
}
