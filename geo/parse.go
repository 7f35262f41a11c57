package geo

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// A quantity is a sign and one or two figures with their marks:
//
//	43'6 1/2"   43 ft 6 in   43.5'   13.26 m   -6 1/2 in   3/4"   43.5
//	12 pies 3 pulgadas   3 pulg   3,5 m
//
// A figure is 43, 43.5, 4.35e1, 6 1/2, 6-1/2 or 1/2. Between feet and inches a
// hyphen may stand, as on plans: 12'-6".
const (
	figure = `(\d+[ -]\d+/\d+|\d+/\d+|(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d{1,4})?)`
	mark   = `([a-z][a-z -]*[a-z]|[a-z]|'|")?\.?`
)

var quantity = regexp.MustCompile(`^([+-]?) *` + figure + ` *` + mark + `(?: *-? *` + figure + ` *` + mark + `)?$`)

// longest bounds the text of a length; anything longer is not a length.
const longest = 80

const lengthWanted = `a length such as 43'6", 43.5 ft or 13.26 m`

// ParseLength reads a length as crews write it: 43'6", 43' 6 1/2", 43 ft 6 in,
// 43.5 ft, 18", 13.26 m, 12 pies 3 pulgadas, and a plain number, which is in unit
// bare. Straight and curly marks, ½ and its like, and either minus are understood; a
// minus holds for the whole length. A comma stands before decimals where it cannot
// stand between thousands: 3,5 m is read, 1,234 m is refused. Written is text without the space around it, and
// Unit the unit of the first figure.
//
// Where text is not a length the error is a *Misread. Twelve or more inches
// after feet are refused, because such a figure is more often a mistake than
// another whole foot.
func ParseLength(text string, bare Unit) (Length, error) {
	written := strings.TrimSpace(text)
	l, wrong := readLength(written, bare)
	if wrong != nil {
		wrong.Found = written
		if len(written) > longest {
			wrong.Found = strings.ToValidUTF8(written[:longest], "") + "…"
		}
		return Length{}, wrong
	}
	l.Written = written
	return l, nil
}

// Bare returns the length of a number without a unit, such as a number of
// JSON, taken in u. Written is the shortest text of the number. The error is a
// *Misread where value is not finite or u has no length on the ground.
func Bare(value float64, u Unit) (Length, error) {
	text := strconv.FormatFloat(value, 'g', -1, 64)
	per, ok := u.Metres()
	if !ok {
		return Length{}, &Misread{text, "a number alone is in " + strconv.Quote(string(u)) + " here, which has no length on the ground", lengthWanted}
	}
	m := value * per
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return Length{}, &Misread{text, "not a finite number", lengthWanted}
	}
	return Length{Metres: m, Written: text, Unit: u}, nil
}

// readLength does the work of ParseLength; its errors lack Found.
func readLength(written string, bare Unit) (Length, *Misread) {
	if len(written) > longest {
		return Length{}, &Misread{Wrong: "too long for a length", Want: lengthWanted}
	}
	// "12 pies y 3 pulgadas": the word between two figures says nothing.
	plain := strings.Replace(strings.ToLower(plainMarks(written)), " pies y ", " pies ", 1)
	found := quantity.FindStringSubmatch(decimalPoint(plain))
	if found == nil {
		return Length{}, notLength(written)
	}
	sign, first, firstMark, second, secondMark := found[1], found[2], found[3], found[4], found[5]

	unit, wrong := unitOr(firstMark, bare)
	if wrong != nil {
		return Length{}, wrong
	}
	value, wrong := readFigure(first)
	if wrong != nil {
		return Length{}, wrong
	}
	if second != "" {
		inches, wrong := inchesAfter(first, firstMark, unit, second, secondMark)
		if wrong != nil {
			return Length{}, wrong
		}
		value += inches / 12
	}
	if sign == "-" {
		value = -value
	}
	l, err := Bare(value, unit)
	if err != nil {
		return Length{}, err.(*Misread)
	}
	return l, nil
}

// unitOr returns the unit of a mark, or bare where there is none.
func unitOr(mark string, bare Unit) (Unit, *Misread) {
	if mark == "" {
		return bare, nil
	}
	return readUnit(mark)
}

// inchesAfter returns the inches that follow feet, once the pair is found to
// be feet and inches.
func inchesAfter(first, firstMark string, unit Unit, second, secondMark string) (float64, *Misread) {
	switch {
	case firstMark == "":
		return 0, &Misread{Wrong: "two numbers without a mark", Want: `43'6" for feet and inches, or 43.5 for feet and tenths`}
	case unit != Foot:
		return 0, &Misread{Wrong: "two figures are read as feet and inches only", Want: "one figure and one unit, as in 13.26 m"}
	case strings.ContainsAny(first, "./e"):
		return 0, &Misread{Wrong: "part of a foot, and inches besides", Want: `43'6" or 43.5'`}
	}
	u, wrong := unitOr(secondMark, Inch)
	if wrong != nil {
		return 0, wrong
	}
	if u != Inch {
		return 0, &Misread{Wrong: "after feet only inches may follow", Want: `43'6" or 43 ft 6 in`}
	}
	inches, wrong := readFigure(second)
	if wrong == nil && inches >= 12 {
		wrong = &Misread{Wrong: second + " inches make a foot or more", Want: "0 to 11 inches after the feet, or tenths as in 43.5'"}
	}
	return inches, wrong
}

// readFigure returns the number of 43.5, 6 1/2, 6-1/2 or 1/2.
func readFigure(s string) (float64, *Misread) {
	tooLarge := &Misread{Wrong: "too large a number", Want: lengthWanted}
	whole, part, mixed := 0.0, s, false
	if i := strings.IndexAny(s, " -"); i >= 0 && strings.Contains(s, "/") {
		w, err := strconv.ParseFloat(s[:i], 64)
		if err != nil {
			return 0, tooLarge
		}
		whole, part, mixed = w, s[i+1:], true
	}
	above, below, isFraction := strings.Cut(part, "/")
	a, err := strconv.ParseFloat(above, 64)
	if err != nil {
		return 0, tooLarge
	}
	if !isFraction {
		return a, nil
	}
	b, err := strconv.ParseFloat(below, 64)
	switch {
	case err != nil:
		return 0, tooLarge
	case b == 0:
		return 0, &Misread{Wrong: "nothing below the line of " + part, Want: `a fraction as in 6 1/2"`}
	case mixed && a >= b:
		return 0, &Misread{Wrong: "the fraction " + part + " makes one or more", Want: `less than one after a whole number, as in 6 1/2"`}
	}
	return whole + a/b, nil
}

// notLength says why written is not a length, and names the usual mistakes.
func notLength(written string) *Misread {
	s := strings.ToLower(written)
	wrong, want := "no length", lengthWanted
	switch {
	case s == "":
		wrong = "nothing written"
	case strings.Contains(s, "nan") || strings.Contains(s, "inf"):
		wrong = "not a finite number"
	case strings.Contains(s, ","):
		wrong, want = "a comma in a number", "a point before the decimals and none between thousands, as in 13.26 m"
		if thousands.MatchString(s) {
			want = strings.Replace(s, ",", ".", 1) + " or " + strings.Replace(s, ",", "", 1) + ": " + want
		}
	case strings.ContainsAny(s, "±~?") || strings.Contains(s, "+/-"):
		wrong, want = "a length and its uncertainty in one", "the length alone, as in 43.5 ft"
	case !strings.ContainsAny(s, "0123456789"):
		wrong = "no figure"
	}
	return &Misread{Wrong: wrong, Want: want}
}

// A comma that may stand between thousands has three digits behind it, and before it
// more than a zero.
var (
	comma     = regexp.MustCompile(`(^|[^\d.,])(\d+),(\d+)($|[^\d.,])`)
	thousands = regexp.MustCompile(`^[+-]? *[1-9]\d{0,2},\d{3}(\D*)$`)
)

// decimalPoint writes a comma before decimals as a point. One that may stand between
// thousands stays, as does one of several.
func decimalPoint(s string) string {
	return comma.ReplaceAllStringFunc(s, func(number string) string {
		m := comma.FindStringSubmatch(number)
		if len(m[3]) == 3 && m[2] != "0" {
			return number
		}
		return m[1] + m[2] + "." + m[3] + m[4]
	})
}

// plainMarks writes primes, curly quotes, fraction signs, minus signs and odd
// spaces as a keyboard does, and runs of space as one.
func plainMarks(s string) string {
	s = keyboard.Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

var keyboard = strings.NewReplacer(
	"′′", `"`, "’’", `"`, "''", `"`,
	"′", "'", "’", "'", "‘", "'", "ʹ", "'", "ʼ", "'", "´", "'", "`", "'",
	"″", `"`, "”", `"`, "“", `"`, "ʺ", `"`,
	"−", "-", "–", "-", "‐", "-", "‑", "-",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
	"⁄", "/",
	"í", "i", "Í", "i", "i\u0301", "i", "I\u0301", "i", // centímetros
)
