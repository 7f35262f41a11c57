package export

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// LocateJSON writes the answer of locate in a language. The error is the writer's.
func LocateJSON(w io.Writer, l *locate.Location, in language.Tag) error {
	return write(w, NewLocation(l, in))
}

// DigplanJSON writes the answer of digplan in a language. The error is the writer's.
func DigplanJSON(w io.Writer, l *locate.Location, p *probe.Plan, in language.Tag) error {
	return write(w, NewDigPlan(l, p, in))
}

// FitJSON writes the answer of fit in a language. The error is the writer's.
func FitJSON(w io.Writer, f *fit.Fit, in language.Tag) error { return write(w, NewFitAnswer(f, in)) }

// CheckJSON writes the answer of check in a language. job may be nil where there are
// problems. The error is the writer's.
func CheckJSON(w io.Writer, job *survey.Job, problems asbuilt.Problems, cautions []finding.Finding, in language.Tag) error {
	return write(w, NewCheck(job, problems, cautions, in))
}

// NewProblems returns problems in a language. What would be right in a file that is
// malformed is in English: it goes to whoever mends the file.
func NewProblems(problems asbuilt.Problems, in language.Tag) []answer.Problem {
	out := []answer.Problem{}
	for _, p := range problems {
		out = append(out, answer.Problem{File: p.File, Place: p.Where(), Field: p.Field, Found: p.Found, Want: p.Want, Says: problemSays(p, in), Reading: p.Reading})
	}
	return out
}

// problemSays writes a problem in one line.
func problemSays(p asbuilt.Problem, in language.Tag) string {
	to, place := finding.Reader{Unit: geo.Metre, Language: in}, p.Place
	switch {
	case place != "":
	case p.Row > 0:
		place = finding.ProblemRow.New(finding.Number("row", float64(p.Row))).Says(to)
	case p.Reading != "":
		place = finding.ProblemReading.New(finding.Readings(strconv.Quote(p.Reading))).Says(to)
	}
	where := slices.DeleteFunc([]string{p.File, place, p.Field}, func(s string) bool { return s == "" })
	at, found, want := finding.Word("at", strings.Join(where, ", ")), finding.Word("found", p.Found), finding.Word("want", p.Want)
	if p.Wanted != nil {
		want = finding.Word("want", p.Wanted.In(in))
	}
	switch {
	case p.Found == "":
		return finding.ProblemWant.New(at, want).Says(to)
	case p.Want == "":
		return finding.ProblemFound.New(at, found).Says(to)
	}
	return finding.ProblemFoundWant.New(at, found, want).Says(to)
}

// NewCheck returns the answer of check in a language.
func NewCheck(job *survey.Job, problems asbuilt.Problems, cautions []finding.Finding, in language.Tag) answer.Check {
	to := finding.Reader{Unit: geo.Metre, Language: in}
	if job != nil {
		to.Unit = job.Settings.Unit
	}
	out := answer.Check{OK: len(problems) == 0, Cautions: finding.Sentences(cautions, to), Findings: NewFindings(cautions, to)}
	out.Problems = NewProblems(problems, in)
	if job != nil {
		out.Readings = len(job.Live())
		if job.Sketch != nil {
			out.Parts = len(job.Sketch.Parts)
		}
	}
	return out
}

// write writes v as JSON, indented so that people can read it, with < and &
// as they are. Nothing is written where it cannot be made.
func write(w io.Writer, v any) error {
	b, err := marshal(v)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", " "); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err = w.Write(out.Bytes())
	return err
}

// marshal returns v as JSON in one line.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}
