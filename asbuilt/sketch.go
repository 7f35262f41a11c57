package asbuilt

import (
	"math"

	"asfound/geo"
	"asfound/geo/geodesy"
)

// Plane says what the coordinates of a sketch are.
type Plane string

// The planes of a sketch.
const (
	Paper Plane = "paper" // the drawing's own plane
	WGS84 Plane = "wgs84" // longitude and latitude, brought to metres about Sketch.Origin
)

// Trust says how well a drawing keeps scale and angle. It sets the priors of
// the fit.
type Trust string

// The trusts of a sketch.
const (
	ToScale    Trust = "to-scale"
	Roughly    Trust = "roughly"
	NotToScale Trust = "not-to-scale"
)

// Up is the true bearing of the drawing's +Y axis and its standard deviation.
type Up struct{ Bearing, Sigma geo.Angle }

// Sketch is an as-built sketch as it was read.
type Sketch struct {
	Plane         Plane
	Unit          geo.Unit // of one coordinate; Metre where Plane is WGS84
	Ratio         float64  // ground length over paper length; 1 where coordinates are ground lengths
	Trust         Trust
	Up            *Up             // nil: unknown
	MirrorUnknown bool            // the sheet may have been drawn from the other side
	Origin        *geodesy.LonLat // where the plane's origin lies; nil unless Plane is WGS84

	Drawn, By, Permit, Scan, Note string

	Known   *Known   // what a finished job knew of it; nil: it is a sheet like any other
	Learned *Learned // what finished jobs say of sheets like it; nil: it errs as usual. Not read from the sketch
	Parts   []Part
}

// Part returns the part with the given id, or nil.
func (s *Sketch) Part(id string) *Part {
	for i := range s.Parts {
		if s.Parts[i].ID == id {
			return &s.Parts[i]
		}
	}
	return nil
}

// KindOf returns the kind of part that a target names, by the id of a part or by
// the kind.
func (s *Sketch) KindOf(target string) Kind {
	if p := s.Part(target); p != nil {
		return p.Kind
	}
	return Kind(target)
}

// BoxOf returns the box that feeds lateral p: the one it names, else the one
// drawn nearest to its start. It is nil where p is no lateral or there is no
// such box.
func (s *Sketch) BoxOf(p *Part) *Part {
	if p == nil || p.Kind != Lateral {
		return nil
	}
	if p.From != "" {
		if b := s.Part(p.From); b != nil && b.Kind == Box {
			return b
		}
		return nil
	}
	start, ok := p.Point(Start)
	if !ok {
		return nil
	}
	var nearest *Part
	best := math.Inf(1)
	for i := range s.Parts {
		b := &s.Parts[i]
		if v, ok := b.Point(Center); ok && b.Kind == Box && v.Dist(start) < best {
			nearest, best = b, v.Dist(start)
		}
	}
	return nearest
}

// MetresPerUnit returns the ground metres of one drawing coordinate as the
// sheet states it; ok is false where it does not (unit px).
func (s *Sketch) MetresPerUnit() (m float64, ok bool) {
	m, ok = s.Unit.Metres()
	return m * s.Ratio, ok
}
