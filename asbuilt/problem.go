package asbuilt

import (
	"asfound/geo/language"
	"fmt"
	"strconv"
	"strings"
)

// Wording is what can be said in several languages.
type Wording interface {
	In(l language.Tag) string
}

// Problem is one thing wrong with an input, worded so that a tired person in a
// field can fix it.
type Problem struct {
	File    string  // "sketch.geojson"
	Place   string  // "feature 7 \"L2\"" or "line 4"; empty in a row of the log
	Row     int     // of a file of readings, the header being row 1; 0: in none
	Reading string  // id of the reading that it is in; empty: in none
	Field   string  // member or column: "properties.length"
	Found   string  // what stands there
	Want    string  // what would be right
	Wanted  Wording // the same in other languages; nil: in English alone
}

// Where says where in the file the problem is: its place, else its row, else
// its reading; "" where it concerns the file as a whole.
func (p Problem) Where() string {
	switch {
	case p.Place != "":
		return p.Place
	case p.Row > 0:
		return "row " + strconv.Itoa(p.Row)
	case p.Reading != "":
		return "reading " + strconv.Quote(p.Reading)
	}
	return ""
}

// String returns the problem in one line:
//
//	sketch.geojson, feature 7 "L2", properties.length: found "60 fathoms"; want a length such as 43'6" or 13.26 m
func (p Problem) String() string {
	at := make([]string, 0, 3)
	for _, s := range []string{p.File, p.Where(), p.Field} {
		if s != "" {
			at = append(at, s)
		}
	}
	s := strings.Join(at, ", ")
	if p.Found != "" {
		s += ": found " + p.Found
	}
	if p.Want != "" {
		s += "; want " + p.Want
	}
	return s
}

// Problems is everything wrong with an input, in the order of the input. It is
// an error where it is not empty; use Err.
type Problems []Problem

// Err returns ps as an error, nil where there is no problem.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// Error lists all problems, a line each.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// Addf adds a problem at file, place and field; want is formatted.
func (ps *Problems) Addf(file, place, field, found, want string, args ...any) {
	*ps = append(*ps, Problem{File: file, Place: place, Field: field, Found: found, Want: fmt.Sprintf(want, args...)})
}
