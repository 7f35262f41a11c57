package probe

import (
	"cmp"
	"slices"

	"asfound/survey/finding"
)

// propose turns a choice into a proposal.
func (b *belief) propose(c choice) (h Proposal) {
	h = Proposal{At: c.at, To: c.at.Add(c.slot), Chance: c.chance, Radius: c.radius, Tool: c.tool.Name, StopDepth: c.stop}
	h.Minutes = c.minutes(c.stop)
	f, ok := b.marks.Fix(c.at)
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
		if !b.objects[n].joins && (p > 0.05 || b.objects[n].sought && p > 0) {
			all = append(all, chance{n, p})
		}
	}
	slices.SortStableFunc(all, func(x, y chance) int {
		if sx, sy := b.objects[x.n].sought, b.objects[y.n].sought; sx != sy {
			if sx {
				return -1
			}
			return 1
		}
		return cmp.Compare(y.p, x.p)
	})
	best := -1.0
	for _, x := range all {
		o := &b.objects[x.n]
		h.Seeks = append(h.Seeks, o.report)
		p := x.p
		if o.sought && p > 0.1 {
			p++ // what is sought comes first, if it may well be here
		}
		if d, ok := b.depthAt(x.n, c.middle()); ok && p > best {
			best, h.Part, h.Depth = p, o.name, d
		}
	}
	if limit := b.loc.Job.Settings.Hole.DepthLimit; limit > 0 && c.stop >= limit && stopDepth(h.Depth) > limit {
		h.Cautions = append(h.Cautions, finding.DepthLimited.New(finding.Number("limit", limit), finding.Parts(h.Part)))
	}
}
