package fieldbook

import (
	"slices"

	"asfound/survey"
)

// columns says what a kind of reading must and may have. Adding a kind to the
// log begins with a line here.
type columns struct {
	must, may []string
}

// kinds is the registry of the kinds of reading.
var kinds = map[survey.Kind]columns{
	survey.GNSS:      {[]string{"point", "lon", "lat"}, []string{"accuracy"}},
	survey.Tape:      {[]string{"from", "to", "value"}, []string{"rise"}},
	survey.Baseline:  {[]string{"from", "to", "point", "value", "offset"}, nil},
	survey.Bearing:   {[]string{"from", "to", "value", "north"}, nil},
	survey.Cable:     {[]string{"from", "to", "value"}, nil},
	survey.Found:     {[]string{"point", "target"}, []string{"spot", "depth", "feature"}},
	survey.Empty:     {[]string{"point"}, []string{"depth"}},
	survey.Level:     {[]string{"point", "value"}, nil},
	survey.Condition: {[]string{"target", "note"}, nil},
	survey.Void:      {[]string{"target"}, nil},
}

// common are the columns of every row.
var common = []string{"kind", "id", "time", "by", "unit", "sigma", "radius", "note"}

// known lists every column, in the order in which they are written.
var known = []string{"id", "kind", "point", "from", "to", "target", "spot", "value", "offset", "rise", "north",
	"lon", "lat", "accuracy", "depth", "feature", "radius", "sigma", "unit", "time", "by", "note"}

// Columns returns the names of every column, in the order in which they are
// written.
func Columns() []string { return slices.Clone(known) }
