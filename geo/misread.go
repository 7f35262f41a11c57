package geo

import (
	"strconv"
	"strings"
	"unicode"
)

// Misread is the error of a text or number that cannot be read as a length or
// a unit. Its parts are apart so that an input's list of problems can show
// them in its own way.
type Misread struct {
	Found string // as it was written
	Wrong string // what is wrong with it: "14 inches make a foot or more"
	Want  string // what would be right: "0 to 11 inches after the feet"
}

// Error returns the whole in one line:
//
//	found 43'14": 14 inches make a foot or more; want 0 to 11 inches after the feet, or tenths as in 43.5'
func (m *Misread) Error() string {
	found := m.Found
	unprintable := func(r rune) bool { return !unicode.IsPrint(r) }
	if found == "" || strings.ContainsFunc(found, unprintable) {
		found = strconv.Quote(found)
	}
	return "found " + found + ": " + m.Wrong + "; want " + m.Want
}
