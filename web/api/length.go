package api

import (
	"context"

	"asfound/geo"
	"asfound/geo/spelling"
	"asfound/survey/answer"
)

// LengthRequest asks what a length that was typed means. Unit, ft or m, is that
// of a plain number and of what is shown.
type LengthRequest struct {
	Text string      `json:"text"`
	Unit answer.Unit `json:"unit"`
}

func length(_ context.Context, _ *Memory, q *LengthRequest) (*answer.Length, error) {
	u, err := geo.ParseUnit(string(q.Unit))
	if err != nil || u != geo.Foot && u != geo.Metre {
		return nil, refuse("unit %q; want %s", q.Unit, spelling.OneOf(string(q.Unit), []string{"ft", "m"}))
	}
	l, err := geo.ParseLength(q.Text, u)
	if err != nil {
		return nil, refuse("%v", err)
	}
	return &answer.Length{Metres: l.Metres, Shown: geo.FormatLength(l.Metres, u)}, nil
}
