package geo

import (
	"math"
	"strconv"
)

// FormatLength writes metres in the unit a crew works in, as finely as a tape
// across a yard can be trusted:
//
//	ft      43' 6"    to the nearest inch; under a foot the inches alone, 6"
//	m       13.26 m   to the nearest centimetre
//	us-ft   43.50 us-ft; yd 14.50 yd; in 18.0 in; cm 1326 cm; mm 13260 mm
//
// Halves are rounded away from zero. Any other unit is written in metres.
// ParseLength reads every result back, to within the rounding. A length that is
// not finite, or too large for such figures, is written as ?.
func FormatLength(metres float64, u Unit) string {
	switch u {
	case Foot:
		return feetInches(metres, 12)
	case Inch, SurveyFoot, Yard, Centimetre, Millimetre:
		decimals := map[Unit]int{Inch: 1, SurveyFoot: 2, Yard: 2}[u]
		return decimal(metres, u, decimals)
	}
	return decimal(metres, Metre, 2)
}

// FormatTenths writes metres in feet and tenths of a foot, 43.5 ft, for crews
// with an engineer's tape, rounded to the nearest tenth.
func FormatTenths(metres float64) string { return decimal(metres, Foot, 1) }

// FormatDepth writes a depth of metres below the ground: in feet, inches to
// the nearest one alone below 4 ft (26"), as covers are usually given, and feet
// and inches from there (4' 2"); in every other unit as FormatLength.
func FormatDepth(metres float64, u Unit) string {
	if u == Foot {
		return feetInches(metres, 48)
	}
	return FormatLength(metres, u)
}

// feetInches writes metres in feet and inches to the nearest inch. Below
// inchesAlone inches it writes no feet. The whole is rounded before it is
// split, so that 11.9 inches make a foot and never 12".
func feetInches(metres float64, inchesAlone float64) string {
	inches, negative := nearest(metres, 0.0254)
	if !ordinary(inches) {
		return "?"
	}
	sign := ""
	if negative {
		sign = "-"
	}
	if inches < inchesAlone {
		return sign + strconv.FormatFloat(inches, 'f', 0, 64) + `"`
	}
	feet := math.Floor(inches / 12)
	return sign + strconv.FormatFloat(feet, 'f', 0, 64) + "' " + strconv.FormatFloat(inches-12*feet, 'f', 0, 64) + `"`
}

// decimal writes metres in u with the given number of decimals.
func decimal(metres float64, u Unit, decimals int) string {
	per, _ := u.Metres()
	step := math.Pow10(-decimals)
	n, negative := nearest(metres, per*step)
	if !ordinary(n) {
		return "?"
	}
	if negative {
		n = -n
	}
	return strconv.FormatFloat(n*step, 'f', decimals, 64) + " " + string(u)
}

// nearest returns how many steps metres are, rounded to a whole number and
// without its sign, and whether that is below zero. A billionth of a step is
// added so that a half written in decimals, 6.5", counts as the half it is
// though its binary value lies just below.
func nearest(metres, step float64) (n float64, negative bool) {
	n = math.Round(math.Abs(metres)/step + 1e-9)
	return n, metres < 0 && n > 0
}

// ordinary reports whether n steps can be told apart from n+1, so that every
// figure written is significant.
func ordinary(n float64) bool { return n < 1<<53 }
