package api

import (
	"context"
	"slices"

	"asfound/geo/language"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/survey/observe"
	"asfound/survey/question"
)

// BeliefRequest asks where everything is believed to lie. With names what to
// add to it: "history", "plan". Each costs time, and a phone that has just
// logged a hole needs the map first. Brief asks only for as much of the history
// as is ready soon: a phone asks again until the answer is complete.
type BeliefRequest struct {
	Job Job `json:"job"`
	// What to add to it.
	With []string `json:"with,omitempty" jsonschema:"enum=history,enum=plan"`
	// Only the history that is ready soon; an engine without a memory answers
	// completely.
	Brief bool `json:"brief,omitempty"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

func belief(ctx context.Context, m *Memory, q *BeliefRequest) (*answer.Belief, error) {
	for _, w := range q.With {
		if w != "history" && w != "plan" {
			return nil, refuse("with %q; want history or plan", w)
		}
	}
	s, err := m.locate(ctx, &q.Job, q.Language)
	if err != nil {
		return nil, err
	}
	l := s.location
	all := export.NewLocation(l, q.Language)
	cautions := append(observe.Cautions(s.job), question.Twice(l)...)
	to := finding.Reader{Unit: s.job.Settings.Unit, Language: q.Language}
	b := &answer.Belief{
		Title: s.job.Settings.Title, Permit: s.job.Settings.Permit, Unit: answer.Unit(to.Unit), Seek: all.Seek,
		Frame: all.Frame, Origin: all.Frame.Origin,
		Fit: newFit(s.job, l.Fit, q.Language), Spots: all.Spots, Corridors: newCorridors(all.Corridors), Outlines: newOutlines(l, all.Outlines),
		Holes: newHoles(l), Fill: all.Fill, Sought: sought(l), Whole: true,
		Levels: all.Levels, Problems: export.NewProblems(s.problems, q.Language),
		Cautions: finding.Sentences(cautions, to), Findings: export.NewFindings(cautions, to),
	}
	if slices.Contains(q.With, "history") {
		if b.History, b.Whole, err = m.history(ctx, &q.Job, s, q.Brief && !m.forgets); err != nil {
			return nil, err
		}
	}
	if slices.Contains(q.With, "plan") {
		p, err := s.plan(ctx, false, q.Language)
		if err != nil {
			return nil, err
		}
		dig := export.NewDigPlan(l, p, q.Language)
		b.Plan = &dig
	}
	return b, nil
}
