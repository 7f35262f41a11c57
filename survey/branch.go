package survey

import (
	"cmp"
	"math"
	"slices"

	"asfound/geo"
)

const (
	keptOdds         = 1e-3 // explanations below this are dropped
	keptExplanations = 24

	screenedOdds = 1e-4 // what a first estimate may give less is not fitted
	slipOdds     = 0.01 // a slip that a first estimate gives less is not fitted
	mostSlips    = 2    // in one job: beyond that it is not slips
	surprise     = 0.05 // a misfit less likely than this may be the sheet's
)

// branch carries along what a fitted sheet and the log leave open. written is
// the likeliest explanation that takes every reading as it was written.
func (p *Prepared) branch(b *book, c component, ambiguous map[string]geo.Vec) (beam []component, written component) {
	beam = p.branchMet(b, []component{c})
	beam = p.branchTurned(b, beam, ambiguous)
	return p.branchSlips(b, beam), beam[0]
}

// prune keeps at most so many of the components, and none whose odds to the
// likeliest fall below least; the likeliest comes first.
func prune(all []component, most int, least float64) []component {
	return heaviest(all, func(c *component) float64 { return c.logWeight }, most, least)
}

// heaviest sorts by the logarithm of a weight, the heaviest first, and keeps at
// most so many, and none whose weight is under least of the heaviest.
func heaviest[T any](all []T, logWeight func(*T) float64, most int, least float64) []T {
	slices.SortStableFunc(all, func(a, b T) int { return cmp.Compare(logWeight(&b), logWeight(&a)) })
	keep := 0
	for keep < len(all) && (keep == 0 || keep < most && logWeight(&all[keep]) > logWeight(&all[0])+math.Log(least)) {
		keep++
	}
	return all[:keep]
}

// candidate is an explanation that may be worth a fit.
type candidate struct {
	from        *component
	explanation explanation
	estimate    float64 // of its logarithm of weight
}

// likely returns the candidates that are worth a fit, the likeliest first.
func likely(all []candidate, most int, least float64) []candidate {
	return heaviest(all, func(a *candidate) float64 { return a.estimate }, most, least)
}

// branchMet carries along the parts that a hole may have met where the crew
// could not tell: one hole after the other, most of what a fit without it
// holds to be impossible being left out unfitted.
func (p *Prepared) branchMet(b *book, beam []component) []component {
	for i := range b.readings {
		r := &b.readings[i]
		if r.Kind != Found || b.job.Sketch.Part(r.Target) != nil || b.pipe(r) {
			continue
		}
		var parts []string
		for k := range b.job.Sketch.Parts {
			if part := &b.job.Sketch.Parts[k]; string(part.Kind) == r.Target {
				parts = append(parts, part.ID)
			}
		}
		var all []candidate
		for k := range beam {
			c := &beam[k]
			for _, part := range parts {
				e := c.explanation.with(r.ID, part, len(parts))
				if obs := b.observe(c.network.drawing, i, e); len(obs) > 0 {
					all = append(all, candidate{c, e, c.logWeight + (rest{c: c}).instead(obs)})
				}
			}
		}
		var next []component
		for _, a := range likely(all, keptExplanations, screenedOdds) {
			if n, _, err := p.solve(b, a.explanation, a.from.solution.Y); err == nil {
				next = append(next, n)
			}
		}
		if len(next) > 0 {
			beam = prune(next, keptExplanations, keptOdds)
		}
	}
	return beam
}

// branchTurned tries the other crossing of two tapes for every hole that met
// something, which is what can tell the sides apart.
func (p *Prepared) branchTurned(b *book, beam []component, ambiguous map[string]geo.Vec) []component {
	for _, name := range slices.Sorted(keys(ambiguous)) {
		if !b.met(name) {
			continue
		}
		next := beam
		for _, c := range beam {
			y := append([]float64(nil), c.solution.Y...)
			i := 2 * b.index[name]
			far := ambiguous[name]
			// Hopelessly far from where it was met: not worth a fit.
			if far.Dist(geo.Vec{X: y[i], Y: y[i+1]}) > 4*p.spreadOf(c)+3 {
				continue
			}
			y[i], y[i+1] = far.X, far.Y
			if n, _, err := p.solve(b, c.explanation.turn(name), y); err == nil && n.apartFrom(&c, i) {
				next = append(next, n)
			}
		}
		beam = prune(next, keptExplanations, keptOdds)
	}
	return beam
}

// apartFrom reports whether a fit ended at another place of point unknown i
// than another did.
func (c *component) apartFrom(o *component, i int) bool {
	return math.Hypot(c.solution.Y[i]-o.solution.Y[i], c.solution.Y[i+1]-o.solution.Y[i+1]) > 0.3
}

// spreadOf returns the standard deviation in metres of the field against the
// house before any reading.
func (p *Prepared) spreadOf(c component) float64 {
	f := draftingOf(p.sketch.Trust)
	d := c.network.drawing
	away := 0.0
	if h, ok := d.centroid(house); ok {
		if fc, ok := d.centroid(field); ok {
			away = h.Dist(fc) * d.scale
		}
	}
	return math.Hypot(f.shift+f.box, (f.drift+f.scale+f.turn)*away)
}

// met reports whether a reading says that the point met a part.
func (b *book) met(name string) bool {
	return slices.ContainsFunc(b.readings, func(r Reading) bool { return r.Kind == Found && r.Point == name })
}

// branchSlips adds the explanations that a reading which stands out holds a
// slip, and then that a second one does.
func (p *Prepared) branchSlips(b *book, beam []component) []component {
	from := beam
	for range mostSlips {
		var all []candidate
		var next []component
		for k := range from {
			c := &from[k]
			if c.logWeight < beam[0].logWeight+math.Log(0.05) {
				break
			}
			left, estimates := p.screen(b, c)
			next, all = append(next, left...), append(all, estimates...)
		}
		for _, a := range likely(all, keptExplanations/2, screenedOdds) {
			if n, _, err := p.solve(b, a.explanation, a.from.solution.Y); err == nil {
				next = append(next, n)
			}
		}
		if len(next) == 0 {
			break
		}
		next = prune(next, keptExplanations/2, keptOdds)
		beam = prune(append(slices.Clone(beam), next...), keptExplanations, keptOdds)
		from = next
	}
	return beam
}

const (
	standsOut = 2.0 // standard deviations from which a reading may hold a slip
	standsFar = 5.0 // and from which it may have bent the whole fit
	mostFar   = 6   // readings of one fit that are tried without
)

// screen estimates how likely each slip of each reading that stands out of a
// component is. Of a reading that stands far out, it is estimated from a fit
// without it, which is among those returned: what such a reading has bent, no
// linear formula straightens.
func (p *Prepared) screen(b *book, c *component) (left []component, all []candidate) {
	type stray struct {
		group groupRows
		rest  rest
	}
	var strays []stray
	for _, g := range c.groups() {
		if c.explanation.slips[g.observations[0].id] != nil {
			continue
		}
		if t, ok := c.apart(g); ok && t.misfit >= standsOut*standsOut {
			strays = append(strays, stray{g, t})
		}
	}
	slices.SortStableFunc(strays, func(x, y stray) int { return cmp.Compare(y.rest.misfit, x.rest.misfit) })
	for i, x := range strays {
		base, from, far := c.logWeight-x.rest.density, c, i < mostFar && x.rest.misfit >= standsFar*standsFar
		slips := b.slips(c.network.drawing, c.explanation, x.group.observations)
		if out := slips[len(slips)-1]; far {
			n, ok := p.leaveOut(b, c, out)
			if !ok {
				continue
			}
			left = append(left, n)
			from, base = &n, n.logWeight-math.Log(out.odds)+out.volume
			x.rest = rest{c: from}
		}
		for _, s := range slips {
			density := -s.volume
			if s.out && far {
				continue
			}
			if !s.out {
				obs := b.changed(c.network.drawing, x.group.observations, s)
				if len(obs) == 0 {
					continue
				}
				density = x.rest.instead(obs)
			}
			// A slip is weighed against its not being one.
			if estimate := base + math.Log(s.odds) + density; estimate > c.logWeight+math.Log(slipOdds) {
				all = append(all, candidate{from, c.explanation.slipped(s), estimate})
			}
		}
	}
	return left, all
}

// leaveOut fits a component's explanation without a reading: from where it is
// and, because that may be far off, from scratch.
func (p *Prepared) leaveOut(b *book, c *component, out *slip) (best component, ok bool) {
	for _, start := range [][]float64{c.solution.Y, nil} {
		n, _, err := p.solve(b, c.explanation.slipped(out), start)
		if err == nil && (!ok || n.logWeight > best.logWeight) {
			best, ok = n, true
		}
	}
	return best, ok
}

// changed returns the observations of a reading as they would be without a slip.
func (b *book) changed(d *drawing, group []observation, s *slip) []observation {
	if s.met != "" {
		return b.observe(d, group[0].reading, explanation{met: map[string]string{s.reading: s.met}})
	}
	obs := slices.Clone(group)
	for i := range obs {
		s.change(&obs[i])
	}
	return obs
}

// branchFaults adds the explanations that something is wrong with the whole
// sheet, where the sketch says that it may be mirrored or the readings and a
// sound sheet do not fit.
func (p *Prepared) branchFaults(b *book, beam []component, written component, ambiguous map[string]geo.Vec) ([]component, component, map[string]geo.Vec) {
	fits := len(b.readings) == 0 || len(beam[0].explanation.slips) == 0 && beam[0].fits(surprise)
	for _, f := range p.faults[1:] {
		if fits && !(f.kind == Mirrored && p.sketch.MirrorUnknown) {
			continue
		}
		c, amb, err := p.solve(b, explanation{fault: f}, nil)
		if err != nil {
			continue
		}
		next := p.branchMet(b, []component{c})
		if next[0].logWeight+slack(&next[0]) < beam[0].logWeight+math.Log(screenedOdds) {
			continue
		}
		next = p.branchTurned(b, next, amb)
		if next[0].logWeight > written.logWeight {
			written, ambiguous = next[0], amb
		}
		if f.loose == 0 {
			next = p.branchSlips(b, next)
		}
		beam = prune(append(slices.Clone(beam), next...), keptExplanations, keptOdds)
	}
	return beam, written, ambiguous
}

// slack returns what a slip or another crossing may still add to the logarithm
// of the weight of a fit: what its misfit is too large by, within reason.
func slack(c *component) float64 {
	const most = 12
	return min(most, max(0, c.solution.Cost-c.degrees()/2))
}
