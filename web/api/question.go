package api

import (
	"context"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/fieldbook"
	"asfound/survey/finding"
	"asfound/survey/question"
)

// QuestionRequest asks what is odd about rows that are about to be logged.
type QuestionRequest struct {
	// The job without them, and without what they replace.
	Job Job `json:"job"`
	// The rows, by column.
	Rows []map[string]string `json:"rows"`
	// Where the plan proposes to dig, in the field frame, where a new hole is logged.
	Proposed []answer.Place `json:"proposed,omitempty"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

func ask(ctx context.Context, m *Memory, q *QuestionRequest) (*answer.Questions, error) {
	s := m.known(&q.Job)
	if s == nil { // a plan that is still worked out stays in the memory
		aside := Memory{sketch: m.sketch, prepared: m.prepared}
		var err error
		if s, err = aside.locate(ctx, &q.Job, q.Language); err != nil {
			return nil, err
		}
	}
	unit := s.job.Settings.Unit
	var problems asbuilt.Problems
	var entry question.Entry
	for _, cells := range q.Rows {
		r, wrong := fieldbook.DecodeRow(cells, unit)
		problems = append(problems, wrong...)
		if len(wrong) == 0 && r.Kind != survey.Void {
			entry.Rows = append(entry.Rows, r)
		}
	}
	for _, p := range q.Proposed {
		entry.Proposed = append(entry.Proposed, geo.Vec{X: float64(p.East), Y: float64(p.North)})
	}
	return &answer.Questions{Problems: export.NewProblems(problems, q.Language), Findings: export.NewFindings(question.Of(s.location, entry), finding.Reader{Unit: unit, Language: q.Language})}, nil
}
