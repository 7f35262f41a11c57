package export

import (
	"strings"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// NewFindings returns findings as an answer has them, their sentences for a
// reader. Numbers that are not finite are left out.
func NewFindings(all []finding.Finding, to finding.Reader) []answer.Finding {
	list := make([]answer.Finding, 0, len(all))
	for _, f := range all {
		list = append(list, newFinding(f, to))
	}
	return list
}

func newFinding(f finding.Finding, to finding.Reader) answer.Finding {
	out := answer.Finding{Code: string(f.Code), Parts: f.Parts, Readings: f.Readings, Words: f.Words, Says: f.Says(to)}
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

// reader returns the reader of a job's answer in a language.
func reader(l *locate.Location, in language.Tag) finding.Reader {
	return finding.Reader{Unit: l.Job.Settings.Unit, Language: in}
}

// together writes findings as one text, sentence after sentence.
func together(all []finding.Finding, to finding.Reader) string {
	return strings.Join(finding.Sentences(all, to), " ")
}
