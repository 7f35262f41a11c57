package survey

import (
	"fmt"
	"slices"
	"strings"

	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey/finding"
)

// FrameKind says whether the field frame is tied to the earth.
type FrameKind string

// The kinds of frame.
const (
	Geodetic FrameKind = "geodetic" // local ground frame about a known origin, north up
	Local    FrameKind = "local"    // laid on the landmarks; no longitude, latitude or true north is claimed
)

// Frame is the field frame of a job: a plane in ground metres, X east, Y north.
type Frame struct {
	Kind  FrameKind
	Site  *geodesy.Site     // nil where Kind is Local
	CRS   *geodesy.CRS      // the system of Settings.EPSG; nil: none is set, or nothing ties the frame to the earth
	Notes []finding.Finding // how the frame is fixed
}

// Note says how the frame is fixed.
func (f Frame) Note(to finding.Reader) string {
	return strings.Join(finding.Sentences(f.Notes, to), "; ")
}

// LonLat returns the position of v on the earth; ok is false where the frame
// has no tie to it.
func (f Frame) LonLat(v geo.Vec) (p geodesy.LonLat, ok bool) {
	if f.Site == nil {
		return geodesy.LonLat{}, false
	}
	return f.Site.LonLat(v), true
}

// Grid returns the coordinates of v in f.CRS, in its unit; ok is false where
// there is no such system, or v has no coordinates in it.
func (f Frame) Grid(v geo.Vec) (xy geo.Vec, ok bool) {
	if f.CRS == nil || f.Site == nil {
		return geo.Vec{}, false
	}
	xy = f.CRS.Forward(f.Site.LonLat(v))
	return xy, xy.Finite()
}

// FromGrid returns the place in the field frame of coordinates in f.CRS, the
// inverse of Grid.
func (f Frame) FromGrid(xy geo.Vec) (v geo.Vec, ok bool) {
	if f.CRS == nil || f.Site == nil {
		return geo.Vec{}, false
	}
	p, err := f.CRS.Inverse(xy)
	if err != nil {
		return geo.Vec{}, false
	}
	v = f.Site.Vec(p)
	return v, v.Finite()
}

// In returns the frame with places also given in the system of an EPSG code, 0:
// none. Nothing is invented for a frame that is not tied to the earth.
func (f Frame) In(epsg int) Frame {
	if epsg == 0 {
		return f
	}
	note := func(n finding.Finding) { f.Notes = append(slices.Clone(f.Notes), n) }
	code := finding.Word("epsg", fmt.Sprintf("EPSG:%d", epsg))
	c, err := geodesy.ByEPSG(epsg)
	switch {
	case err != nil:
		note(finding.FrameError.New(finding.Word("why", err.Error())))
		return f
	case f.Site == nil:
		note(finding.FrameUntied.New(code))
		return f
	}
	f.CRS = &c
	note(finding.FrameGrid.New(code, finding.Word("name", c.Name)))
	if !strings.HasPrefix(c.Datum, "WGS 84") {
		note(finding.FrameDatum.New(finding.Word("datum", c.Datum)))
	}
	if !c.Covers(f.Site.Origin) {
		note(finding.FrameZone.New())
	}
	return f
}
