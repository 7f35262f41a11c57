package export

import (
	"math"

	"asfound/asbuilt"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

// DigPlan is the answer of digplan. Holes[0] is the next hole to dig; the
// others are for the case that those before them come up empty.
type DigPlan struct {
	Seek          string     `json:"seek"`
	ExpectedHoles Number     `json:"expected_holes"` // null: not yet known, or no hole is proposed
	ChanceNext    Number     `json:"chance_next"`
	Holes         []Proposal `json:"holes"`
	Tree          *Step      `json:"tree,omitempty"` // the first holes for every case
	Cautions      []string   `json:"cautions"`       // for the whole job
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
	DepthOf    string   `json:"depth_of,omitempty"` // the part that it is of
	StopDepth  Metres   `json:"stop_depth"`         // call it empty here
	Tool       string   `json:"tool,omitempty"`
	Minutes    Number   `json:"minutes,omitempty"` // that it takes if it meets nothing
	Ties       []Tie    `json:"ties"`
	Side       string   `json:"side,omitempty"` // on which side of the first two landmarks the hole lies
	To         *SlotEnd `json:"to,omitempty"`   // where a slot ends that begins here
	Cautions   []string `json:"cautions"`
}

// SlotEnd is the far end of a slot, and how it is set out.
type SlotEnd struct {
	Place
	Length Metres `json:"length"` // of the slot
	Ties   []Tie  `json:"ties"`
	Side   string `json:"side,omitempty"`
}

// Tie is a distance from a landmark.
type Tie struct {
	From     string `json:"from"`
	Distance Metres `json:"distance"`
	Sigma    Metres `json:"sigma"`
}

// Step is a hole of the tree and what to do after each thing that it may meet.
// The hole's chance is that of meeting what is sought once the dig has come
// there.
type Step struct {
	Label    string   `json:"label"` // 1; 2A; 3AB
	Hole     Proposal `json:"hole"`
	Branches []Branch `json:"branches"` // the likeliest first
}

// Branch is one thing that a hole may meet: sought, trench, start, end, header,
// other or empty.
type Branch struct {
	Met    string   `json:"met"`
	Says   string   `json:"says"`            // the same for people
	Parts  []string `json:"parts,omitempty"` // that it may be, the likeliest first
	Chance Number   `json:"chance"`          // once the dig has come there
	Then   string   `json:"then,omitempty"`  // what to do, where there is no next hole
	Next   *Step    `json:"next,omitempty"`
}

func newStep(l *locate.Location, s *probe.Step) *Step {
	if s == nil {
		return nil
	}
	out := &Step{Label: s.Label, Hole: newProposal(l, &s.Hole), Branches: []Branch{}}
	for _, b := range s.Branches {
		out.Branches = append(out.Branches, Branch{string(b.Met), b.Met.Says(l.Job.Settings.Seek), b.Parts, Number(b.Chance), b.Then, newStep(l, b.Next)})
	}
	return out
}

// NewDigPlan returns the answer of digplan.
func NewDigPlan(l *locate.Location, p *probe.Plan) DigPlan {
	out := DigPlan{Seek: p.Seek, ExpectedHoles: expected(p), ChanceNext: Number(p.ChanceNext),
		Holes: []Proposal{}, Cautions: append([]string{}, p.Cautions...), Remark: p.Remark, Doubtful: l.Fit.Doubtful}
	for i := range p.Holes {
		out.Holes = append(out.Holes, newProposal(l, &p.Holes[i]))
	}
	out.Tree = newStep(l, p.Tree)
	return out
}

// expected returns how many holes a plan leads to expect; no number where that is
// not known.
func expected(p *probe.Plan) Number {
	if !(p.ExpectedHoles > 0) {
		return Number(math.NaN())
	}
	return Number(p.ExpectedHoles)
}

func newProposal(l *locate.Location, h *probe.Proposal) Proposal {
	q := Proposal{Rank: h.Rank, Place: newPlace(l.Frame, h.At), Chance: Number(h.Chance), Seeks: append([]string{}, h.Seeks...),
		Depth: Metres(h.Depth.Mean), DepthSigma: Metres(h.Depth.Sigma), DepthTo: string(h.Depth.Feature), DepthOf: h.Part, StopDepth: Metres(h.StopDepth),
		Tool: h.Tool, Minutes: Number(h.Minutes), Ties: []Tie{}, Cautions: append([]string{}, h.Cautions...)}
	for _, t := range h.Ties {
		q.Ties = append(q.Ties, Tie{t.From, Metres(t.Distance), Metres(t.Sigma)})
	}
	q.Side = side(l, h)
	if h.Slot() {
		q.To = &SlotEnd{Place: newPlace(l.Frame, h.To), Length: Metres(h.To.Dist(h.At)), Ties: []Tie{}, Side: h.ToSide}
		for _, t := range h.ToTies {
			q.To.Ties = append(q.To.Ties, Tie{t.From, Metres(t.Distance), Metres(t.Sigma)})
		}
	}
	return q
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
