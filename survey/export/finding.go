package export

import (
	"asfound/geo"
	"asfound/survey/finding"
)

// Finding is something that a person should know, as data: a code, what it
// concerns, and its numbers in metres, degrees or shares of one.
type Finding struct {
	Code     string            `json:"code"`
	Parts    []string          `json:"parts,omitempty"`
	Readings []string          `json:"readings,omitempty"`
	Numbers  map[string]Number `json:"numbers,omitempty"`
	Words    map[string]string `json:"words,omitempty"` // holes, files, what is written on sheet or tape
	Says     string            `json:"says"`            // for people, in the job's unit
}

func newFinding(f finding.Finding, u geo.Unit) Finding {
	out := Finding{Code: string(f.Code), Parts: f.Parts, Readings: f.Readings, Words: f.Words, Says: f.Says(u)}
	for name, v := range f.Numbers {
		if out.Numbers == nil {
			out.Numbers = map[string]Number{}
		}
		out.Numbers[name] = Number(v)
	}
	return out
}

func newFindings(all []finding.Finding, u geo.Unit) []Finding {
	list := make([]Finding, 0, len(all))
	for _, f := range all {
		list = append(list, newFinding(f, u))
	}
	return list
}
