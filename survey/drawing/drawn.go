package drawing

import "asfound/geo"

// Drawn is a place or a displacement on the sheet, in drawing units about the
// middle of all nodes, mirrored where the sheet is. It is not a place on the
// ground: only a layout, which knows scale and rotation, turns it into one. Nor is
// it an asbuilt.Position, as the file has it: Drawing.Sheet and Drawing.Lay take
// one to the other, once.
type Drawn struct{ v geo.Vec }

// At returns the place of the sheet with the given coordinates in drawing
// units.
func At(v geo.Vec) Drawn { return Drawn{v} }

// Add returns d + e.
func (d Drawn) Add(e Drawn) Drawn { return Drawn{d.v.Add(e.v)} }

// Sub returns d − e.
func (d Drawn) Sub(e Drawn) Drawn { return Drawn{d.v.Sub(e.v)} }

// Scale returns d times a number k.
func (d Drawn) Scale(k float64) Drawn { return Drawn{d.v.Scale(k)} }

// Rotate returns d turned counter-clockwise by a.
func (d Drawn) Rotate(a geo.Angle) Drawn { return Drawn{d.v.Rotate(a)} }

// Right returns d turned a quarter clockwise.
func (d Drawn) Right() Drawn { return Drawn{d.v.Right()} }

// Lerp returns the place at fraction u of the way from d to e.
func (d Drawn) Lerp(e Drawn, u float64) Drawn { return Drawn{d.v.Lerp(e.v, u)} }

// Dist returns the distance between d and e in drawing units.
func (d Drawn) Dist(e Drawn) float64 { return d.v.Dist(e.v) }

// Metres returns d in metres in the axes of the sheet, at a scale in metres per
// drawing unit.
func (d Drawn) Metres(scale float64) geo.Vec { return d.v.Scale(scale) }

// Stretched returns d in metres in the axes of the sheet, where each of its
// axes has a scale of its own in metres per drawing unit.
func (d Drawn) Stretched(x, y float64) geo.Vec { return geo.Vec{X: x * d.v.X, Y: y * d.v.Y} }
