package fit

import (
	"cmp"
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

const (
	keptOdds         = 1e-3 // explanations below this are dropped
	keptExplanations = 24

	screenedOdds = 1e-4 // an explanation that a first estimate puts below this is not fitted
	blunderOdds  = 0.01 // a blunder that a first estimate puts below this is not fitted
	mostBlunders = 2    // in one job: more than this are not explained by blunders
	surprise     = 0.05 // a misfit less likely than this may be the sheet's
)

// branch keeps the explanations that a fitted sheet and the log leave open.
// written is the likeliest explanation that takes every reading as it was
// written.
func (p *problem) branch(c Component, ambiguous map[string]geo.Vec) (beam []Component, written Component) {
	beam = p.branchMet([]Component{c})
	beam = p.branchTied(beam)
	beam = p.branchTurned(beam, ambiguous)
	return p.branchBlunders(beam), beam[0]
}

// prune keeps at most so many of the components, and none whose odds to the
// likeliest fall below least; the likeliest comes first.
func prune(all []Component, most int, least float64) []Component {
	return heaviest(all, func(c *Component) float64 { return c.logWeight }, most, least)
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
	from        *Component
	explanation Explanation
	estimate    float64 // of its logarithm of weight
}

// likely returns the candidates that are worth a fit, the likeliest first.
func likely(all []candidate, most int, least float64) []candidate {
	return heaviest(all, func(a *candidate) float64 { return a.estimate }, most, least)
}

// branchMet keeps the parts that a hole may have met where the crew could not
// tell: one hole after the other; most parts that a fit without the hole makes
// impossible are dropped without a fit.
func (p *problem) branchMet(beam []Component) []Component {
	for i := range p.log.Readings {
		r := &p.log.Readings[i]
		if !p.log.Unnamed(r) || p.log.OnHeader(r) {
			continue
		}
		parts := p.log.MayBe(r)
		var all []candidate
		for k := range beam {
			c := &beam[k]
			if p.stopped() {
				return beam
			}
			for _, part := range parts {
				e := c.Explanation.with(r.ID, part, len(parts))
				if o := p.log.Observe(c.Network.Drawing, i, e.Explanation); o != nil {
					all = append(all, candidate{c, e, c.logWeight + (leaveOneOut{c: c}).density([]observe.Observation{o})})
				}
			}
		}
		var next []Component
		for _, a := range likely(all, keptExplanations, screenedOdds) {
			if n, _, err := p.solve(a.explanation, a.from.Solution.Y); err == nil {
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
func (p *problem) branchTurned(beam []Component, ambiguous map[string]geo.Vec) []Component {
	for _, name := range slices.Sorted(keys(ambiguous)) {
		if !p.log.Met(name) {
			continue
		}
		i, _ := p.log.Point(name)
		next := beam
		for _, c := range beam {
			far := ambiguous[name]
			// Too far from where it was met to be worth a fit.
			if far.Dist(c.Placed().Where(observe.HolePlace(i))) > 4*p.spreadOf(c)+3 {
				continue
			}
			y := slices.Clone(c.Solution.Y)
			c.Network.Set(y, i, far)
			if n, _, err := p.solve(c.Explanation.turn(name), y); err == nil && n.apartFrom(&c, i) {
				next = append(next, n)
			}
		}
		beam = prune(next, keptExplanations, keptOdds)
	}
	return beam
}

// spreadOf returns the standard deviation in metres of the field against the
// house before any reading.
func (p *problem) spreadOf(c Component) float64 {
	f := drawing.DraftingOf(p.sketch)
	d := c.Network.Drawing
	return math.Hypot(f.Shift+f.Box, (f.Drift+f.Scale+f.Turn)*d.Away(drawing.House, drawing.Field, d.Scale))
}

// branchBlunders adds the explanations that a reading which stands out holds a
// blunder, and then that a second one does.
func (p *problem) branchBlunders(beam []Component) []Component {
	from := beam
	for range mostBlunders {
		var all []candidate
		var next []Component
		for k := range from {
			c := &from[k]
			if c.logWeight < beam[0].logWeight+math.Log(0.05) {
				break
			}
			left, estimates := p.screen(c)
			next, all = append(next, left...), append(all, estimates...)
		}
		for _, a := range likely(all, keptExplanations/2, screenedOdds) {
			if n, _, err := p.solve(a.explanation, a.from.Solution.Y); err == nil {
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

// branchFaults adds the explanations that something is wrong with the whole
// sheet, where the sketch says that it may be mirrored or the readings and a
// sound sheet do not fit.
func (p *problem) branchFaults(beam []Component, written Component, ambiguous map[string]geo.Vec) ([]Component, Component, map[string]geo.Vec) {
	fits := len(p.log.Readings) == 0 || len(beam[0].Explanation.Blunders) == 0 && beam[0].fits(surprise)
	for _, f := range p.faults[1:] {
		if p.stopped() {
			break
		}
		if fits && !(f.Kind == drawing.Mirrored && p.sketch.MirrorUnknown) {
			continue
		}
		c, amb, err := p.solve(Explanation{Fault: f}, nil)
		if err != nil {
			continue
		}
		next := p.branchMet([]Component{c})
		if next[0].logWeight+next[0].slack() < beam[0].logWeight+math.Log(screenedOdds) {
			continue
		}
		next = p.branchTurned(p.branchTied(next), amb)
		if next[0].logWeight > written.logWeight {
			written, ambiguous = next[0], amb
		}
		if f.Widen == 0 {
			next = p.branchBlunders(next)
		}
		beam = prune(append(slices.Clone(beam), next...), keptExplanations, keptOdds)
	}
	return beam, written, ambiguous
}
