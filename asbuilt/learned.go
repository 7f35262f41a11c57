package asbuilt

import (
	"fmt"
	"regexp"
	"strconv"
)

// Factors say how far sheets of one kind err, against what is usual for their
// trust: factors of standard deviations, 1 where they err as usual.
type Factors struct {
	Scale  float64 // the scale of the sheet, and of one axis against the other
	Field  float64 // the field, and the tank, as one against the house: shift, turn and size
	Detail float64 // everything else that is drawn
}

// Learned is what finished jobs say of sheets like one sheet.
type Learned struct {
	Factors
	Jobs   int    // so many of them
	By     string // all of this drafter; empty: of any
	Decade string // all of this decade, "1990s"; empty: of any
}

// year is a year as it is written on a sheet.
var year = regexp.MustCompile(`\b(18|19|20)\d\d\b`)

// Decade returns the decade in which the sketch says that it was drawn, such as
// "1990s"; empty where it names no year.
func (s *Sketch) Decade() string {
	n, err := strconv.Atoi(year.FindString(s.Drawn))
	if err != nil {
		return ""
	}
	return fmt.Sprintf("%ds", n-n%10)
}
