package probe

import (
	"asfound/survey/encounter"
	"asfound/survey/playout"
)

// usualPlays is how often a plan is played out to find how many holes to expect:
// enough that the mean is usually within a tenth of its value. A rehearsal plays
// more often.
const usualPlays = 150

// Script returns the first holes of a plan as they are played out on a site: its
// tree, else its next hole, after the line that is to be followed first; nil where
// it has none.
func (p *Plan) Script(s *encounter.Site) *playout.Step {
	var first *playout.Step
	switch {
	case p.Tree != nil:
		first = p.Tree.script(s)
	case len(p.Holes) > 0:
		first = &playout.Step{Hole: p.Holes[0].hole(s)}
	}
	if first != nil && p.Follow != nil {
		first.First = &playout.Try{Minutes: p.Follow.Minutes, Chance: p.Follow.Chance}
	}
	if first != nil && p.Push != nil {
		first.Push = &playout.Push{Opens: !p.Push.Opened, Minutes: p.Push.Minutes, Chance: p.Push.Chance, Holes: p.Push.Holes, Hole: p.Push.hole}
	}
	if first != nil && p.Rod != nil && s.Rod != nil {
		first.Stabs = &encounter.Stabs{At: p.Rod.Stabs(), Sigma: max(s.Ground.Sigma(p.Rod.From), s.Ground.Sigma(p.Rod.To)), Stop: p.Rod.Depth, Tool: s.Rod}
	}
	return first
}

// script returns a step of the tree as it is played out, and those after it.
func (s *Step) script(site *encounter.Site) *playout.Step {
	out := &playout.Step{Hole: s.Hole.hole(site)}
	for i := range s.Branches {
		b := &s.Branches[i]
		for m := range mets {
			if mets[m] == b.Met && b.Next != nil {
				out.Next[m] = b.Next.script(site)
			}
		}
	}
	return out
}

// hole returns a proposal as a hole of a site. Without a depth it is dug for what
// is sought; without a tool, with the one that exposes.
func (h *Proposal) hole(s *encounter.Site) hole {
	out := hole{At: h.At, Slot: h.To.Sub(h.At), Radius: h.Radius, Stop: h.StopDepth, Tool: playout.Opener(s.Tools)}
	for i := range s.Tools {
		if s.Tools[i].Name == h.Tool {
			out.Tool = &s.Tools[i]
		}
	}
	out.Sigma = s.Ground.Sigma(h.At)
	if h.Slot() {
		out.Sigma = max(out.Sigma, s.Ground.Sigma(h.To))
	}
	return out
}

// expect fills in the expected number of holes of the plan, by playing it out;
// it pauses between plays.
func (b *belief) expect(plan *Plan, o Options) {
	n := o.Plays
	if n == 0 {
		n = usualPlays
	}
	first := plan.Script(b.Site)
	if n < 0 || first == nil {
		return
	}
	rested := 0.0
	rest := func(share float64) bool {
		if share < rested+0.1 || share == 1 {
			return true
		}
		rested = share
		return b.rest()
	}
	if r, err := playout.Play(b.ctx, b.Site, first, playout.Options{Plays: n, Rest: rest}); err == nil && !b.leave {
		plan.ExpectedHoles = r.Mean()
	}
}
