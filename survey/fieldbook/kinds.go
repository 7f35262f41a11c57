package fieldbook

import (
	"slices"

	"asfound/survey"
	"asfound/survey/observe"
)

// columns says what a kind of reading must and may have.
type columns struct {
	must, may []string
}

// kinds has the columns of each kind of reading, from the registry.
var kinds = func() map[survey.Kind]columns {
	m := map[survey.Kind]columns{}
	for _, k := range observe.Kinds {
		m[k.Name] = columns{k.Must, k.May}
	}
	return m
}()

// common are the columns of every row.
var common = []string{"kind", "id", "time", "by", "unit", "sigma", "radius", "note"}

// known lists every column, in the order in which they are written.
var known = []string{"id", "kind", "point", "from", "to", "target", "spot", "value", "offset", "rise", "north",
	"lon", "lat", "accuracy", "depth", "feature", "stopped", "runs", "facing", "flow", "radius", "sigma", "unit", "time", "by", "note"}

// Columns returns the names of every column, in the order in which they are
// written.
func Columns() []string { return slices.Clone(known) }
