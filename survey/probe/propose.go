package probe

import (
	"cmp"
	"slices"

	"asfound/survey/encounter"
	"asfound/survey/finding"
)

// propose turns a choice into a proposal.
func (b *belief) propose(c choice) (h Proposal) {
	h = Proposal{At: c.At, To: c.At.Add(c.Slot), Chance: c.chance, Radius: c.Radius, Tool: c.Tool.Name, StopDepth: c.Stop}
	h.Minutes = c.Minutes(c.Stop)
	f, ok := b.marks.Fix(c.At)
	if ok {
		h.Ties, h.Side = f.Ties, f.Side
	}
	if h.Slot() {
		if far, ok := b.marks.Fix(h.To); ok {
			h.ToTies, h.ToSide = far.Ties, far.Side
		}
	}
	b.expects(&h, &c.hole)
	b.cautions(&h, f)
	return h
}

// expects lists what the hole may meet, what is sought first, then other parts
// with more than 5 %, each the likeliest first; and how deep the likeliest is.
func (b *belief) expects(h *Proposal, c *hole) {
	type chance struct {
		n int
		p float64
	}
	var all []chance
	for n, p := range b.chances(c, b.support(1)) {
		if !b.Objects[n].Joins && (p > 0.05 || b.Objects[n].Sought && p > 0) {
			all = append(all, chance{n, p})
		}
	}
	slices.SortStableFunc(all, func(x, y chance) int {
		if sx, sy := b.Objects[x.n].Sought, b.Objects[y.n].Sought; sx != sy {
			if sx {
				return -1
			}
			return 1
		}
		return cmp.Compare(y.p, x.p)
	})
	best := -1.0
	for _, x := range all {
		o := &b.Objects[x.n]
		if h.Meets == nil {
			h.Meets = map[string]float64{}
		}
		if _, twice := h.Meets[o.Report]; !twice {
			h.Seeks = append(h.Seeks, o.Report)
		}
		h.Meets[o.Report] = min(1, h.Meets[o.Report]+x.p)
		p := x.p
		if o.Sought && p > 0.1 {
			p++ // what is sought comes first, if it may well be here
		}
		if d, ok := b.DepthAt(x.n, c.Middle()); ok && p > best {
			best, h.Part, h.Depth = p, o.Part, d
		}
	}
	if limit := b.loc.Job.Settings.Hole.DepthLimit; limit > 0 && c.Stop >= limit && encounter.StopDepth(h.Depth) > limit {
		h.Cautions = append(h.Cautions, finding.DepthLimited.New(finding.Number("limit", limit), finding.Parts(h.Part)))
	}
}
