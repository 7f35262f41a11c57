package api

import (
	"context"
	"fmt"
	"slices"

	"asfound/geo/language"
	"asfound/survey/answer"
)

// WithoutRequest asks what would be believed without some readings: whether
// a suspect decides the answer.
type WithoutRequest struct {
	Job Job `json:"job"`
	// Ids of readings.
	Drop []string `json:"drop"`
	// Of the sentences of the answer; left out: English.
	Language language.Tag `json:"language,omitempty"`
}

// without withdraws the readings as a crew would, by voids.
func without(ctx context.Context, m *Memory, q *WithoutRequest) (*answer.Without, error) {
	rest := q.Job
	rest.Rows = q.Job.named()
	for i, id := range q.Drop {
		if !slices.ContainsFunc(rest.Rows, func(row map[string]string) bool { return row["id"] == id }) {
			return nil, refuse("drop %q; want the id of a reading", id)
		}
		rest.Rows = append(rest.Rows, map[string]string{"id": fmt.Sprintf("without %d", i+1), "kind": "void", "target": id})
	}
	aside := Memory{sketch: m.sketch, prepared: m.prepared} // the cache keeps the job itself
	s, err := aside.locate(ctx, &rest, q.Language)
	if err != nil {
		return nil, err
	}
	return &answer.Without{Sought: sought(s.location), Fit: newFit(s.job, s.location.Fit, q.Language)}, nil
}
