package geo

import "math"

// Angle is a plane angle. It is opaque so that degrees can never be taken for
// radians: make one with Degrees or Radians, read one the same way. The zero
// value is the zero angle.
type Angle struct{ rad float64 }

// Degrees returns the angle of d degrees.
func Degrees(d float64) Angle { return Angle{d * math.Pi / 180} }

// Radians returns the angle of r radians.
func Radians(r float64) Angle { return Angle{r} }

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return a.rad * 180 / math.Pi }

// Radians returns the angle in radians.
func (a Angle) Radians() float64 { return a.rad }

// Bearing returns the angle brought into [0°, 360°).
func (a Angle) Bearing() Angle {
	r := math.Mod(a.rad, 2*math.Pi)
	if r < 0 {
		r += 2 * math.Pi
	}
	if r >= 2*math.Pi { // a tiny negative angle rounds up to a full turn
		r = 0
	}
	return Angle{r}
}

// Signed returns the angle brought into (−180°, 180°].
func (a Angle) Signed() Angle {
	r := a.Bearing().rad
	if r > math.Pi {
		r -= 2 * math.Pi
	}
	return Angle{r}
}
