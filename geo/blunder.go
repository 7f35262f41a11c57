package geo

import (
	"fmt"
	"regexp"
	"strconv"
)

var (
	withInches = regexp.MustCompile(`^(\d+) *(?:'|ft|feet|pies?)[ -]*(\d+) *(?:"|in|inches|pulg|pulgadas?)?\.?$`)
	withTenths = regexp.MustCompile(`^(\d+)[.,](\d{1,2}) *(?:'|ft|feet|pies?)?$`)
)

// TenthsForInches returns what a length in feet would be if its inches had been
// written as tenths (12'6" as 12.6), or its tenths as inches.
func TenthsForInches(written string, unit Unit) (all []Length) {
	if unit != Foot {
		return nil
	}
	text := ""
	if m := withTenths.FindStringSubmatch(written); m != nil {
		if in, err := strconv.Atoi(m[2]); err == nil && in < 12 {
			text = fmt.Sprintf(`%s' %d"`, m[1], in)
		}
	}
	if m := withInches.FindStringSubmatch(written); m != nil && len(m[2]) == 1 {
		text = m[1] + "." + m[2] + " ft"
	}
	if l, err := ParseLength(text, unit); text != "" && err == nil {
		all = append(all, l)
	}
	return all
}

// DigitsSwapped returns the lengths that result from swapping two neighbouring
// digits of a written one.
func DigitsSwapped(written string, unit Unit) (all []Length) {
	digit := func(c byte) bool { return c >= '0' && c <= '9' }
	last := -1
	for i := range len(written) {
		if !digit(written[i]) {
			// The point, or comma, between feet and tenths does not keep digits apart, a
			// mark between feet and inches does.
			if written[i] != '.' && written[i] != ',' {
				last = -1
			}
			continue
		}
		if last >= 0 && written[i] != written[last] {
			w := []byte(written)
			w[i], w[last] = w[last], w[i]
			if l, err := ParseLength(string(w), unit); err == nil {
				all = append(all, l)
			}
		}
		last = i
	}
	return all
}

// oneFigure is a single number, with a unit or without.
var oneFigure = regexp.MustCompile(`^(\d+(?:[.,]\d*)?|\.\d+) *(?:[a-z]+|'|")?\.?$`)

// OtherUnits returns what the figure of a written length would be in each of feet,
// inches, centimetres and metres other than the unit it was read in. A length of
// two figures, such as 3' 11", names its units and has none.
func OtherUnits(written string, unit Unit) (all []Length) {
	figure := oneFigure.FindStringSubmatch(written)
	if _, ok := unit.Metres(); !ok || figure == nil {
		return nil
	}
	for _, u := range []Unit{Foot, Inch, Centimetre, Metre} {
		if l, err := ParseLength(figure[1]+" "+string(u), u); err == nil && u != unit {
			all = append(all, l)
		}
	}
	return all
}
