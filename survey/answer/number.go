package answer

import (
	"math"
	"strconv"
	"strings"
)

// Metres is a length or a coordinate in metres. JSON has it to the millimetre.
type Metres float64

// Degrees is a longitude or a latitude in degrees. JSON has it to nine
// decimals: 0.1 mm on the ground, finer than any answer here. More would be
// false precision (RFC 7946, 11.2).
type Degrees float64

// Turn is a bearing or the standard deviation of one, in degrees. JSON has it
// to four decimals.
type Turn float64

// Number is a number without a unit: a chance, a ratio, a statistic. JSON has
// it to six decimals.
type Number float64

// Decimal is a number as it is written, with decimals of its own.
type Decimal string

// MarshalJSON writes the number.
func (d Decimal) MarshalJSON() ([]byte, error) { return []byte(d), nil }

// MarshalJSON writes the length to the millimetre.
func (m Metres) MarshalJSON() ([]byte, error) { return decimals(float64(m), 3) }

// MarshalJSON writes the angle to 1e-9 of a degree.
func (d Degrees) MarshalJSON() ([]byte, error) { return decimals(float64(d), 9) }

// MarshalJSON writes the angle to 0.0001 of a degree.
func (t Turn) MarshalJSON() ([]byte, error) { return decimals(float64(t), 4) }

// MarshalJSON writes the number to the sixth decimal.
func (n Number) MarshalJSON() ([]byte, error) { return decimals(float64(n), 6) }

// decimals writes null for NaN and infinity, which JSON does not have. The
// schemas allow it only where a member may be unknown.
func decimals(v float64, places int) ([]byte, error) {
	if !Finite(v) {
		return []byte("null"), nil
	}
	return []byte(Fixed(v, places)), nil
}

// Fixed writes a number with at most the given number of decimals, and never a minus
// before zero.
func Fixed(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// Finite reports whether a number is neither NaN nor infinite.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Optional returns v, or nil where it is not finite, so that the member is left
// out or null.
func Optional[T ~float64](v T) *T {
	if !Finite(float64(v)) {
		return nil
	}
	return &v
}
