package export

import (
	"math"
	"strconv"
	"strings"
)

// Metres is a length or a coordinate in metres. In JSON it has millimetres at
// most, and is null where it is no ordinary number.
type Metres float64

// Degrees is a longitude or a latitude in degrees. In JSON it has nine
// decimals at most: 0.1 mm on the ground, finer than anything told here. More
// would only pretend (RFC 7946, 11.2).
type Degrees float64

// Turn is a bearing or the standard deviation of one, in degrees. In JSON it
// has four decimals at most.
type Turn float64

// Number is a number without a unit: a chance, a ratio, a statistic. In JSON it
// has six decimals at most, and is null where it is no ordinary number.
type Number float64

// MarshalJSON writes the length to the millimetre.
func (m Metres) MarshalJSON() ([]byte, error) { return decimals(float64(m), 3) }

// MarshalJSON writes the angle to 1e-9 of a degree.
func (d Degrees) MarshalJSON() ([]byte, error) { return decimals(float64(d), 9) }

// MarshalJSON writes the angle to 0.0001 of a degree.
func (t Turn) MarshalJSON() ([]byte, error) { return decimals(float64(t), 4) }

// MarshalJSON writes the number to the sixth decimal.
func (n Number) MarshalJSON() ([]byte, error) { return decimals(float64(n), 6) }

func decimals(v float64, places int) ([]byte, error) {
	if !ordinary(v) {
		return []byte("null"), nil
	}
	return []byte(fixed(v, places)), nil
}

// fixed writes v with so many decimals at most, and never a minus before zero.
func fixed(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func ordinary(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// optional returns v, or nil where it is no ordinary number, so that the
// member is left out.
func optional[T ~float64](v T) *T {
	if !ordinary(float64(v)) {
		return nil
	}
	return &v
}
