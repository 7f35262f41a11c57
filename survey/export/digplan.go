package export

import (
	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/answer"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

func newStep(l *locate.Location, s *probe.Step) *answer.TreeStep {
	if s == nil {
		return nil
	}
	out := &answer.TreeStep{Label: s.Label, Hole: newProposal(l, &s.Hole), Branches: []answer.Branch{}}
	unit := l.Job.Settings.Unit
	for i := range s.Branches {
		b := &s.Branches[i]
		out.Branches = append(out.Branches, answer.Branch{Met: answer.Met(b.Met), Says: b.Met.Finding(l.Job.Settings.Seek).Says(unit), Parts: b.Parts,
			Chance: answer.Number(b.Chance), Then: finding.Says(b.Then(), unit), Follow: newFollow(l, b.Follow), Next: newStep(l, b.Next)})
	}
	return out
}

// NewDigPlan returns the answer of digplan.
func NewDigPlan(l *locate.Location, p *probe.Plan) answer.DigPlan {
	unit := l.Job.Settings.Unit
	out := answer.DigPlan{Seek: p.Seek, ExpectedHoles: expected(p), ChanceNext: answer.Number(p.ChanceNext),
		Holes: []answer.Proposal{}, Cautions: finding.Sentences(p.Cautions, unit), Findings: NewFindings(p.Cautions, unit),
		Remark: together(p.Remark, unit), Remarks: NewFindings(p.Remark, unit), Doubtful: finding.Says(l.Fit.Doubtful, unit)}
	if f := newFollow(l, p.Follow); f != nil {
		out.Holes = append(out.Holes, *f)
	}
	if f := newPush(l, p.Push); f != nil {
		out.Holes = append(out.Holes, *f)
	}
	if r := newRod(l, p.Rod); r != nil {
		out.Holes = append(out.Holes, *r)
	}
	for i := range p.Holes {
		out.Holes = append(out.Holes, newProposal(l, &p.Holes[i]))
	}
	out.Tree = newStep(l, p.Tree)
	return out
}

func newFollow(l *locate.Location, f *probe.Follow) *answer.Proposal {
	if f == nil {
		return nil
	}
	unit := l.Job.Settings.Unit
	toward := newPlace(l.Frame, f.At.Add(f.Toward.Scale(f.Length)))
	return &answer.Proposal{Action: answer.ActFollow, Place: newPlace(l.Frame, f.At), Chance: answer.Number(f.Chance), Minutes: answer.Number(f.Minutes), Seeks: []string{f.Seek}, Ties: []answer.Tie{},
		From: f.Hole, Toward: &toward, Length: answer.Metres(f.Length),
		Way:      &answer.Way{Met: answer.Met(f.Met), Facing: f.Facing, Runs: answer.Number(f.Clock.Degrees()), LengthSigma: answer.Metres(f.Sigma)},
		Says:     f.Finding().Says(unit),
		Cautions: finding.Sentences(f.Cautions, unit), Findings: NewFindings(f.Cautions, unit)}
}

func newPush(l *locate.Location, p *probe.Push) *answer.Proposal {
	if p == nil {
		return nil
	}
	unit := l.Job.Settings.Unit
	action := answer.ActCable
	if p.Action == survey.PushSonde {
		action = answer.ActSonde
	}
	return &answer.Proposal{Action: action, Place: newPlace(l.Frame, p.At), Chance: answer.Number(p.Chance), Minutes: answer.Number(p.Minutes), Seeks: []string{p.Seek}, Ties: []answer.Tie{},
		From: p.From, Says: p.Finding().Says(unit), HolesAfter: answer.Number(p.Holes),
		Cautions: finding.Sentences(p.Cautions, unit), Findings: NewFindings(p.Cautions, unit)}
}

func newRod(l *locate.Location, r *probe.Rod) *answer.Proposal {
	if r == nil {
		return nil
	}
	unit := l.Job.Settings.Unit
	out := &answer.Proposal{Action: answer.ActRod, Place: newPlace(l.Frame, r.From), Chance: answer.Number(r.Chance), Minutes: answer.Number(r.Minutes), Seeks: []string{r.Seek},
		Depth: answer.Metres(r.Depth), StopDepth: answer.Metres(r.Depth), Tool: "rod", Ties: newTies(r.Ties), Side: r.Side.String(),
		To:       &answer.SlotEnd{Place: newPlace(l.Frame, r.To), Length: answer.Metres(r.To.Dist(r.From)), Ties: newTies(r.ToTies), Side: r.ToSide.String()},
		Grid:     &answer.StabGrid{Lines: r.Lines, Each: r.Each, Step: answer.Metres(r.Step)},
		Says:     r.Finding().Says(unit),
		Cautions: finding.Sentences(r.Cautions, unit), Findings: NewFindings(r.Cautions, unit)}
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

func newProposal(l *locate.Location, h *probe.Proposal) answer.Proposal {
	q := answer.Proposal{Rank: h.Rank, Action: answer.ActHole, Place: newPlace(l.Frame, h.At), Chance: answer.Number(h.Chance), Seeks: append([]string{}, h.Seeks...),
		Depth: answer.Metres(h.Depth.Mean), DepthSigma: answer.Metres(h.Depth.Sigma), DepthTo: string(h.Depth.Feature), DepthOf: h.Part, StopDepth: answer.Metres(h.StopDepth),
		Tool: h.Tool, Minutes: answer.Number(h.Minutes), Ties: newTies(h.Ties),
		Cautions: finding.Sentences(h.Cautions, l.Job.Settings.Unit), Findings: NewFindings(h.Cautions, l.Job.Settings.Unit)}
	for part, p := range h.Meets {
		if q.Meets == nil {
			q.Meets = map[string]answer.Number{}
		}
		q.Meets[part] = answer.Number(p)
	}
	q.Side = side(l, h)
	if h.Slot() {
		q.Action = answer.ActSlot
		q.To = &answer.SlotEnd{Place: newPlace(l.Frame, h.To), Length: answer.Metres(h.To.Dist(h.At)), Ties: newTies(h.ToTies), Side: h.ToSide.String()}
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
func side(l *locate.Location, h *probe.Proposal) string {
	if len(h.Ties) < 2 {
		return ""
	}
	a, b := l.Spot(h.Ties[0].From, asbuilt.Center), l.Spot(h.Ties[1].From, asbuilt.Center)
	if a == nil || b == nil {
		return ""
	}
	return setout.SideOf(a.Part, a.At, b.Part, b.At, h.At).String()
}
