package api

import (
	"asfound/geo"
	"asfound/geo/spelling"
)

// LengthRequest asks what a length that was typed means. Unit, ft or m, is that
// of a plain number and of what is shown.
type LengthRequest struct {
	Text string `json:"text"`
	Unit string `json:"unit"`
}

// Length is a length that was understood.
type Length struct {
	Metres float64 `json:"metres"`
	Shown  string  `json:"shown"` // in the unit asked for, as answers print it
}

func length(_ *Memory, q *LengthRequest) (*Length, *Refusal) {
	u, err := geo.ParseUnit(q.Unit)
	if err != nil || u != geo.Foot && u != geo.Metre {
		return nil, refuse("unit %q; want %s", q.Unit, spelling.OneOf(q.Unit, []string{"ft", "m"}))
	}
	l, err := geo.ParseLength(q.Text, u)
	if err != nil {
		return nil, refuse("%v", err)
	}
	return &Length{l.Metres, geo.FormatLength(l.Metres, u)}, nil
}
