package export

import (
	"bytes"
	"encoding/json"
	"io"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// LocateJSON writes the answer of locate. The error is the writer's.
func LocateJSON(w io.Writer, l *locate.Location) error { return write(w, NewLocation(l)) }

// DigplanJSON writes the answer of digplan. The error is the writer's.
func DigplanJSON(w io.Writer, l *locate.Location, p *probe.Plan) error {
	return write(w, NewDigPlan(l, p))
}

// FitJSON writes the answer of fit. The error is the writer's.
func FitJSON(w io.Writer, f *fit.Fit) error { return write(w, NewFitAnswer(f)) }

// CheckJSON writes the answer of check. job may be nil where there are
// problems. The error is the writer's.
func CheckJSON(w io.Writer, job *survey.Job, problems asbuilt.Problems, cautions []string) error {
	return write(w, NewCheck(job, problems, cautions))
}

// Problem is one thing wrong with an input.
type Problem struct {
	File  string `json:"file"`
	Place string `json:"place,omitempty"` // feature or row
	Field string `json:"field,omitempty"` // member or column
	Found string `json:"found,omitempty"`
	Want  string `json:"want,omitempty"`
	Says  string `json:"says"` // all of it in one line
}

// Check is the answer of check.
type Check struct {
	OK       bool      `json:"ok"` // there are no problems
	Problems []Problem `json:"problems"`
	Cautions []string  `json:"cautions"` // allowed, but unusual
	Parts    int       `json:"parts"`
	Readings int       `json:"readings"` // that are not withdrawn
}

// NewCheck returns the answer of check.
func NewCheck(job *survey.Job, problems asbuilt.Problems, cautions []string) Check {
	out := Check{OK: len(problems) == 0, Problems: []Problem{}, Cautions: append([]string{}, cautions...)}
	for _, p := range problems {
		out.Problems = append(out.Problems, Problem{p.File, p.Place, p.Field, p.Found, p.Want, p.String()})
	}
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
