package api

import (
	"slices"

	"asfound/survey/export"
	"asfound/survey/observe"
)

// BeliefRequest asks where everything is believed to lie. With names what is
// wanted beside it: "history", "plan". Each costs time, and a phone that has
// just logged a hole wants the map first. Brief asks for as much of the history
// as can be told soon: a phone asks again until the answer is whole.
type BeliefRequest struct {
	Job   Job      `json:"job"`
	With  []string `json:"with,omitempty"`
	Brief bool     `json:"brief,omitempty"`
}

// Belief is all that a plan view shows.
type Belief struct {
	Title  string         `json:"title"`
	Permit string         `json:"permit"`
	Unit   string         `json:"unit"` // that people read: ft or m
	Seek   string         `json:"seek"`
	Frame  export.Frame   `json:"frame"`
	Origin *export.LonLat `json:"origin"` // of the frame; null: no tie to the earth

	Fit       Fit            `json:"fit"`
	Spots     []export.Spot  `json:"spots"`
	Corridors []Corridor     `json:"corridors"`
	Outlines  []Outline      `json:"outlines"`
	Holes     []Hole         `json:"holes"`
	Fill      *export.Metres `json:"fill"` // ground added since the record; null: the readings do not tell

	Sought  *Sought         `json:"sought"`            // null: nothing tells where what is sought lies
	History []Step          `json:"history,omitempty"` // the radius of what is sought as holes came in
	Whole   bool            `json:"whole"`             // false: there is more of the history to be asked for
	Plan    *export.DigPlan `json:"plan,omitempty"`

	Levels   []Level   `json:"levels"`   // depths and heights that do not fit the others
	Problems []Problem `json:"problems"` // rows that could not be read and were left out
	Cautions []string  `json:"cautions"` // what looks like a slip in the log
}

// Level is a depth or a height that does not fit the others, in metres.
type Level struct {
	Reading  string        `json:"reading"`
	What     string        `json:"what"`
	Observed export.Metres `json:"observed"`
	Fitted   export.Metres `json:"fitted"`
	W        export.Number `json:"w"` // residual over its own standard deviation
}

func belief(m *Memory, q *BeliefRequest) (*Belief, *Refusal) {
	for _, w := range q.With {
		if w != "history" && w != "plan" {
			return nil, refuse("with %q; want history or plan", w)
		}
	}
	s, refusal := m.locate(&q.Job)
	if refusal != nil {
		return nil, refusal
	}
	l := s.location
	all := export.NewLocation(l)
	b := &Belief{
		Title: s.job.Settings.Title, Permit: s.job.Settings.Permit, Unit: string(s.job.Settings.Unit), Seek: all.Seek,
		Frame: all.Frame, Origin: all.Frame.Origin,
		Fit: newFit(s.job, l.Fit), Spots: all.Spots, Corridors: newCorridors(all.Corridors), Outlines: newOutlines(l, all.Outlines),
		Holes: newHoles(l), Fill: all.Fill, Sought: sought(l), Whole: true,
		Levels: []Level{}, Problems: s.problems, Cautions: append([]string{}, observe.Cautions(s.job)...),
	}
	for _, r := range l.DepthSuspects {
		b.Levels = append(b.Levels, Level{r.Reading, r.What, export.Metres(r.Observed), export.Metres(r.Fitted), export.Number(r.Standardized)})
	}
	if slices.Contains(q.With, "history") {
		b.History, b.Whole = m.history(&q.Job, s, q.Brief && !m.forgets)
	}
	if slices.Contains(q.With, "plan") {
		p, refusal := s.plan(false)
		if refusal != nil {
			return nil, refusal
		}
		answer := export.NewDigPlan(l, p)
		b.Plan = &answer
	}
	return b, nil
}
