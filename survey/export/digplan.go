package export

import (
	"asfound/asbuilt"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

// DigPlan is the answer of digplan. Holes[0] is the next hole to dig; the
// others are for the case that those before them come up empty.
type DigPlan struct {
	Seek          string     `json:"seek"`
	ExpectedHoles Number     `json:"expected_holes"` // null: more than the plan has
	ChanceNext    Number     `json:"chance_next"`
	Holes         []Proposal `json:"holes"`
	Cautions      []string   `json:"cautions"` // for the whole job
	Remark        string     `json:"remark,omitempty"`
	Doubtful      string     `json:"doubtful,omitempty"` // why the plan must not be trusted as it stands
}

// Proposal is one hole of a plan.
type Proposal struct {
	Rank int `json:"rank"`
	Place
	Chance     Number   `json:"chance"` // that it meets what is sought, all before it having come up empty
	Seeks      []string `json:"seeks"`  // parts that it may meet
	Depth      Metres   `json:"depth"`
	DepthSigma Metres   `json:"depth_sigma"`
	DepthTo    string   `json:"depth_to,omitempty"`
	StopDepth  Metres   `json:"stop_depth"` // call it empty here
	Ties       []Tie    `json:"ties"`
	Side       string   `json:"side,omitempty"` // on which side of the first two landmarks the hole lies
	Cautions   []string `json:"cautions"`
}

// Tie is a distance from a landmark.
type Tie struct {
	From     string `json:"from"`
	Distance Metres `json:"distance"`
	Sigma    Metres `json:"sigma"`
}

// NewDigPlan returns the answer of digplan.
func NewDigPlan(l *locate.Location, p *probe.Plan) DigPlan {
	out := DigPlan{Seek: p.Seek, ExpectedHoles: Number(p.ExpectedHoles), ChanceNext: Number(p.ChanceNext),
		Holes: []Proposal{}, Cautions: append([]string{}, p.Cautions...), Remark: p.Remark, Doubtful: l.Fit.Doubtful}
	for i := range p.Holes {
		h := &p.Holes[i]
		q := Proposal{Rank: h.Rank, Place: newPlace(l.Frame, h.At), Chance: Number(h.Chance), Seeks: append([]string{}, h.Seeks...),
			Depth: Metres(h.Depth.Mean), DepthSigma: Metres(h.Depth.Sigma), DepthTo: string(h.Depth.Feature), StopDepth: Metres(h.StopDepth),
			Ties: []Tie{}, Cautions: append([]string{}, h.Cautions...)}
		for _, t := range h.Ties {
			q.Ties = append(q.Ties, Tie{t.From, Metres(t.Distance), Metres(t.Sigma)})
		}
		q.Side = side(l, h)
		out.Holes = append(out.Holes, q)
	}
	return out
}

// side says on which side of its first two landmarks a hole lies.
func side(l *locate.Location, h *probe.Proposal) string {
	if len(h.Ties) < 2 {
		return ""
	}
	a, b := l.Spot(h.Ties[0].From, asbuilt.Center), l.Spot(h.Ties[1].From, asbuilt.Center)
	if a == nil || b == nil {
		return ""
	}
	return setout.Side(a.Part, a.At, b.Part, b.At, h.At)
}
