package export

import (
	"strings"

	"asfound/geo"
	"asfound/survey/answer"
	"asfound/survey/finding"
)

// NewFindings returns findings as an answer has them, lengths of their
// sentences in the given unit. Numbers that are not finite are left out.
func NewFindings(all []finding.Finding, u geo.Unit) []answer.Finding {
	list := make([]answer.Finding, 0, len(all))
	for _, f := range all {
		list = append(list, newFinding(f, u))
	}
	return list
}

func newFinding(f finding.Finding, u geo.Unit) answer.Finding {
	out := answer.Finding{Code: string(f.Code), Parts: f.Parts, Readings: f.Readings, Words: f.Words, Says: f.Says(u)}
	for name, v := range f.Numbers {
		if !answer.Finite(v) {
			continue
		}
		if out.Numbers == nil {
			out.Numbers = map[string]answer.Number{}
		}
		out.Numbers[name] = answer.Number(v)
	}
	return out
}

// together writes findings as one text, sentence after sentence.
func together(all []finding.Finding, u geo.Unit) string {
	return strings.Join(finding.Sentences(all, u), " ")
}
