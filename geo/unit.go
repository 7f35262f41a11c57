package geo

import (
	"strconv"
	"strings"

	"asfound/geo/spelling"
)

// unitNames gives the unit of each spelling that a crew or an office writes. Keys
// are in lower case, without a full stop.
var unitNames = map[string]Unit{
	"ft": Foot, "foot": Foot, "feet": Foot, "'": Foot,
	"in": Inch, "inch": Inch, "inches": Inch, `"`: Inch,
	"m": Metre, "metre": Metre, "metres": Metre, "meter": Metre, "meters": Metre,
	"cm": Centimetre, "centimetre": Centimetre, "centimetres": Centimetre, "centimeter": Centimetre, "centimeters": Centimetre,
	"mm": Millimetre, "millimetre": Millimetre, "millimetres": Millimetre, "millimeter": Millimetre, "millimeters": Millimetre,
	"yd": Yard, "yard": Yard, "yards": Yard,
	"us-ft": SurveyFoot, "usft": SurveyFoot, "us ft": SurveyFoot, "ftus": SurveyFoot, "survey feet": SurveyFoot,
	"us survey foot": SurveyFoot, "us survey feet": SurveyFoot,
	"px": Pixel, "pixel": Pixel, "pixels": Pixel,
}

// spanishUnits gives that of each Spanish spelling, without an accent.
var spanishUnits = map[string]Unit{
	"pie": Foot, "pies": Foot, "pulg": Inch, "pulgada": Inch, "pulgadas": Inch, "metro": Metre, "metros": Metre,
	"centimetro": Centimetre, "centimetros": Centimetre, "milimetro": Millimetre, "milimetros": Millimetre, "yarda": Yard, "yardas": Yard,
}

const unitsWanted = "ft, m, us-ft, in, cm, mm, yd or px"

// ParseUnit returns the unit that text names, in any usual spelling and case:
// ft, feet, ', metres, US survey feet. The error is a *Misread and offers the
// nearest name.
func ParseUnit(text string) (Unit, error) {
	u, wrong := readUnit(text)
	if wrong != nil {
		wrong.Found = text
		return "", wrong
	}
	return u, nil
}

// readUnit does the work of ParseUnit; its errors lack Found.
func readUnit(text string) (Unit, *Misread) {
	name := strings.ToLower(strings.TrimSuffix(strings.TrimSpace(plainMarks(text)), "."))
	if u, ok := unitNames[name]; ok {
		return u, nil
	}
	if u, ok := spanishUnits[name]; ok {
		return u, nil
	}
	if name == "" {
		return "", &Misread{Wrong: "no unit", Want: unitsWanted}
	}
	best, near := 3, Unit("") // a name three or more edits away is not a misspelling
	if len(name) > 20 {       // longer than any unit's: hostile text costs nothing
		return "", &Misread{Wrong: "no unit " + strconv.Quote(name), Want: unitsWanted}
	}
	for known, u := range unitNames {
		d := spelling.Edits(name, known)
		alike := 2*d < max(len(name), len(known))
		if alike && (d < best || d == best && u < near) {
			best, near = d, u
		}
	}
	for known, u := range spanishUnits { // short words of another language: one letter off
		if near == "" && spelling.Edits(name, known) == 1 {
			near = u
		}
	}
	if near != "" {
		return "", &Misread{Wrong: "no unit " + strconv.Quote(name), Want: unitsWanted + "; did you mean " + string(near) + "?"}
	}
	return "", &Misread{Wrong: "no unit " + strconv.Quote(name), Want: unitsWanted}
}
