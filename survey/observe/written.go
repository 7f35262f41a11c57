package observe

import (
	"strings"

	"asfound/survey/drawing"
)

// writtenPrefix begins the id of what is written on the sheet, where a reading
// has the id of its row.
const writtenPrefix = "sketch:"

// Written reports whether an id is of what is written on the sheet.
func Written(id string) bool { return strings.HasPrefix(id, writtenPrefix) }

// written returns what is written on the sheet as observations of their own.
func written(d *drawing.Drawing) (all []Observation) {
	for i := range d.Sketch.Parts {
		p := &d.Sketch.Parts[i]
		if line := d.Lines[p.ID]; line != nil && p.Length != nil && p.Length.Metres > 0 {
			all = append(all, &length{source: source{-1, writtenPrefix + p.ID + ".length"}, part: p.ID, line: line,
				value: p.Length.Metres, sigma: writtenLengthSigma(p.Length.Metres), read: *p.Length})
		}
		for _, t := range p.Ties {
			if o := writtenTie(d, p, t); o != nil {
				all = append(all, o)
			}
		}
	}
	return all
}
