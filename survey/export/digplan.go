package export

import (
	"asfound/asbuilt"
	"asfound/geo/language"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

func newStep(l *locate.Location, to finding.Reader, s *probe.Step) *answer.TreeStep {
	if s == nil {
		return nil
	}
	out := &answer.TreeStep{Label: s.Label, Hole: newProposal(l, to, &s.Hole), Branches: []answer.Branch{}}
	for i := range s.Branches {
		b := &s.Branches[i]
		out.Branches = append(out.Branches, answer.Branch{Met: answer.Met(b.Met), Says: b.Met.Finding(l.Job.Settings.Seek).Says(to), Parts: b.Parts,
			Chance: answer.Number(b.Chance), Then: finding.Says(b.Then(), to), Follow: newFollow(l, to, b.Follow), Next: newStep(l, to, b.Next)})
	}
	return out
}

// NewDigPlan returns the answer of digplan in a language.
func NewDigPlan(l *locate.Location, p *probe.Plan, in language.Tag) answer.DigPlan {
	to := reader(l, in)
	out := answer.DigPlan{Seek: p.Seek, ExpectedHoles: expected(p), ChanceNext: answer.Number(p.ChanceNext),
		Holes: []answer.Proposal{}, Cautions: finding.Sentences(p.Cautions, to), Findings: NewFindings(p.Cautions, to),
		Remark: together(p.Remark, to), Remarks: NewFindings(p.Remark, to), Doubtful: finding.Says(l.Fit.Doubtful, to)}
	if f := newFollow(l, to, p.Follow); f != nil {
		out.Holes = append(out.Holes, *f)
	}
	if f := newPush(l, to, p.Push); f != nil {
		out.Holes = append(out.Holes, *f)
	}
	if r := newRod(l, to, p.Rod); r != nil {
		out.Holes = append(out.Holes, *r)
	}
	for i := range p.Holes {
		out.Holes = append(out.Holes, newProposal(l, to, &p.Holes[i]))
	}
	out.Tree = newStep(l, to, p.Tree)
	return out
}

func newFollow(l *locate.Location, to finding.Reader, f *probe.Follow) *answer.Proposal {
	if f == nil {
		return nil
	}
	toward := newPlace(l.Frame, f.At.Add(f.Toward.Scale(f.Length)))
	return &answer.Proposal{Action: answer.ActFollow, Place: newPlace(l.Frame, f.At), Chance: answer.Number(f.Chance), Minutes: answer.Number(f.Minutes), Seeks: []string{f.Seek}, Ties: []answer.Tie{},
		From: f.Hole, Toward: &toward, Length: answer.Metres(f.Length),
		Way:      &answer.Way{Met: answer.Met(f.Met), Facing: f.Facing, Runs: answer.Number(f.Clock.Degrees()), LengthSigma: answer.Metres(f.Sigma)},
		Says:     f.Finding().Says(to),
		Cautions: finding.Sentences(f.Cautions, to), Findings: NewFindings(f.Cautions, to)}
}

func newPush(l *locate.Location, to finding.Reader, p *probe.Push) *answer.Proposal {
	if p == nil {
		return nil
	}
	action := answer.ActCable
	if p.Action == survey.PushSonde {
		action = answer.ActSonde
	}
	return &answer.Proposal{Action: action, Place: newPlace(l.Frame, p.At), Chance: answer.Number(p.Chance), Minutes: answer.Number(p.Minutes), Seeks: []string{p.Seek}, Ties: []answer.Tie{},
		From: p.From, Says: p.Finding().Says(to), HolesAfter: answer.Number(p.Holes),
		Cautions: finding.Sentences(p.Cautions, to), Findings: NewFindings(p.Cautions, to)}
}

func newRod(l *locate.Location, to finding.Reader, r *probe.Rod) *answer.Proposal {
	if r == nil {
		return nil
	}
	out := &answer.Proposal{Action: answer.ActRod, Place: newPlace(l.Frame, r.From), Chance: answer.Number(r.Chance), Minutes: answer.Number(r.Minutes), Seeks: []string{r.Seek},
		Depth: answer.Metres(r.Depth), StopDepth: answer.Metres(r.Depth), Tool: "rod", Ties: newTies(r.Ties), Side: r.Side.Says(to),
		To:       &answer.SlotEnd{Place: newPlace(l.Frame, r.To), Length: answer.Metres(r.To.Dist(r.From)), Ties: newTies(r.ToTies), Side: r.ToSide.Says(to)},
		Grid:     &answer.StabGrid{Lines: r.Lines, Each: r.Each, Step: answer.Metres(r.Step)},
		Says:     r.Finding().Says(to),
		Cautions: finding.Sentences(r.Cautions, to), Findings: NewFindings(r.Cautions, to)}
	for _, v := range r.Stabs() {
		out.Stabs = append(out.Stabs, newPlace(l.Frame, v))
	}
	return out
}

// expected returns the expected number of holes of a plan; nil where it is not
// known.
func expected(p *probe.Plan) *answer.Number {
	if !(p.ExpectedHoles > 0) {
		return nil
	}
	return answer.Optional(answer.Number(p.ExpectedHoles))
}

func newProposal(l *locate.Location, to finding.Reader, h *probe.Proposal) answer.Proposal {
	q := answer.Proposal{Rank: h.Rank, Action: answer.ActHole, Place: newPlace(l.Frame, h.At), Chance: answer.Number(h.Chance), Seeks: append([]string{}, h.Seeks...),
		Depth: answer.Metres(h.Depth.Mean), DepthSigma: answer.Metres(h.Depth.Sigma), DepthTo: string(h.Depth.Feature), DepthOf: h.Part, StopDepth: answer.Metres(h.StopDepth),
		Tool: h.Tool, Minutes: answer.Number(h.Minutes), Ties: newTies(h.Ties),
		Cautions: finding.Sentences(h.Cautions, to), Findings: NewFindings(h.Cautions, to)}
	for part, p := range h.Meets {
		if q.Meets == nil {
			q.Meets = map[string]answer.Number{}
		}
		q.Meets[part] = answer.Number(p)
	}
	q.Side = side(l, to, h)
	if h.Slot() {
		q.Action = answer.ActSlot
		q.To = &answer.SlotEnd{Place: newPlace(l.Frame, h.To), Length: answer.Metres(h.To.Dist(h.At)), Ties: newTies(h.ToTies), Side: h.ToSide.Says(to)}
	}
	return q
}

func newTies(ties []setout.Tie) []answer.Tie {
	out := []answer.Tie{}
	for _, t := range ties {
		out = append(out, answer.Tie{From: t.From, Distance: answer.Metres(t.Distance), Sigma: answer.Metres(t.Sigma)})
	}
	return out
}

// side says on which side of its first two landmarks a hole lies.
func side(l *locate.Location, to finding.Reader, h *probe.Proposal) string {
	if len(h.Ties) < 2 {
		return ""
	}
	a, b := l.Spot(h.Ties[0].From, asbuilt.Center), l.Spot(h.Ties[1].From, asbuilt.Center)
	if a == nil || b == nil {
		return ""
	}
	return setout.SideOf(a.Part, a.At, b.Part, b.At, h.At).Says(to)
}
