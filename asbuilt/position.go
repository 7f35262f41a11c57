package asbuilt

import "asfound/geo"

// Position is a place or a displacement on the sketch, in the coordinates that
// the sheet is drawn in: X to the right and Y up, in units of Sketch.Unit. It is
// no place on the ground: where it lies there is what the fit finds out.
type Position struct{ X, Y float64 }

// Positions returns where places of the ground are drawn on a sheet in metres
// along the axes of the ground, as a corrected as-built is.
func Positions(places ...geo.Vec) []Position {
	drawn := make([]Position, len(places))
	for i, v := range places {
		drawn[i] = Position(v)
	}
	return drawn
}

// Add returns p + q.
func (p Position) Add(q Position) Position { return Position(geo.Vec(p).Add(geo.Vec(q))) }

// Sub returns p − q.
func (p Position) Sub(q Position) Position { return Position(geo.Vec(p).Sub(geo.Vec(q))) }

// Scale returns p times a number k.
func (p Position) Scale(k float64) Position { return Position(geo.Vec(p).Scale(k)) }

// Rotate returns p turned counter-clockwise by a.
func (p Position) Rotate(a geo.Angle) Position { return Position(geo.Vec(p).Rotate(a)) }

// Lerp returns the position at fraction u of the way from p to q.
func (p Position) Lerp(q Position, u float64) Position {
	return Position(geo.Vec(p).Lerp(geo.Vec(q), u))
}

// Dist returns the distance between p and q in drawing units.
func (p Position) Dist(q Position) float64 { return geo.Vec(p).Dist(geo.Vec(q)) }

// FromSegment returns the distance from p to the segment a–b in drawing units.
func (p Position) FromSegment(a, b Position) float64 {
	d, _ := geo.SegmentDistance(geo.Vec(a), geo.Vec(b), geo.Vec(p))
	return d
}

// Finite reports whether both coordinates are ordinary numbers.
func (p Position) Finite() bool { return geo.Vec(p).Finite() }
