package fit

import (
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// usualOdds is the logarithm of the odds of the supposition to start from.
var usualOdds = math.Log(drawing.Suppositions[drawing.Usual].Odds)

// solve fits one explanation under the usual supposition, from the unknowns
// start or, where that is nil, from scratch. ambiguous names the points that
// two tapes alone place, and the other crossing of those.
func (p *problem) solve(e Explanation, start []float64) (best Component, ambiguous map[string]geo.Vec, err error) {
	if p.stopped() {
		return best, nil, p.ctx.Err()
	}
	t, err := p.sheet(e.Fault)
	if err != nil {
		return best, nil, err
	}
	scale := t.Drawing.Scale
	if start != nil {
		scale = math.Exp(start[p.log.LayoutAt()+observe.LayScale])
	}
	// The standard deviations that are proportional to length are worked out
	// with the scale on the sheet; where that is far off, it is done again.
	for range 2 {
		tb, err := t.At(scale)
		if err != nil {
			return Component{}, nil, err
		}
		best, ambiguous, err = p.lay(e, t.Drawing, tb, start)
		if err != nil {
			return Component{}, nil, err
		}
		scale = math.Exp(best.Solution.Y[best.Network.Lay+observe.LayScale])
		if next, err := t.At(scale); err != nil || next == tb || len(p.log.Readings) == 0 {
			break
		}
	}
	best.logWeight = best.evidence() + usualOdds
	return best, ambiguous, nil
}

// lay fits one explanation with the priors of one scale, from every layout and
// starting scale that may be needed.
func (p *problem) lay(e Explanation, d *drawing.Drawing, tb *drawing.Table, start []float64) (best Component, ambiguous map[string]geo.Vec, err error) {
	info, logDet, err := tb.Of(drawing.Usual)
	if err != nil {
		return best, nil, err
	}
	scales := startScales
	if d.Fault.ScaleSigma > 0 {
		scales = anyScales
	}
	all := p.log.Observations(d, e.Explanation)
	for _, l := range p.layouts(d, e) {
		n := observe.NewNetwork(p.log, d, l, info, logDet).With(all)
		// Where a hole starts matters: on which side of two tapes it lies
		// is read off landmarks whose drawn places, or whose scale, may be far
		// off. So other scales are tried where the first fits badly.
		for i, factor := range scales {
			if i > 0 && (start != nil || best.fits(0.01) || len(p.log.Points) == 0 && d.Fault.ScaleSigma == 0) {
				break
			}
			y := slices.Clone(n.Prior.Mean)
			y[n.Lay+observe.LayScale] += math.Log(factor)
			amb := map[string]geo.Vec{}
			if start != nil {
				copy(y, start)
			} else {
				if i == 0 {
					p.landmarksFirst(n, y)
				}
				amb = p.startPoints(n, y, e)
			}
			copy(n.Prior.Mean[:2*len(p.log.Points)], y)
			sol, err := p.solver.Solve(p.ctx, n, &n.Prior, y, adjust.Options{})
			if p.stopped() {
				return Component{}, nil, p.ctx.Err()
			}
			if err != nil {
				return Component{}, nil, finding.Refuse(finding.CannotFit.New(), err)
			}
			if best.Solution == nil || sol.Cost < best.Solution.Cost {
				best = Component{Explanation: e, Network: n, Solution: sol, table: tb}
				ambiguous = amb
			}
		}
	}
	return best, ambiguous, nil
}

// The factors of the scale on the sheet that a fit starts from, one after the
// other until it fits: of a trustworthy sheet, and of one whose scale or unit
// may be wrong.
var (
	startScales = []float64{1, 0.7, 1.4, 0.85, 1.2}
	anyScales   = []float64{1, 0.5, 2, 1 / foot, foot, 0.7, 1.4}
)

const foot = 0.3048

// landmarksFirst improves the starting layout y by what is known without any
// point of the log: tapes between landmarks, fixes of them, what is written.
func (p *problem) landmarksFirst(n *observe.Network, y []float64) {
	var known []observe.Observation
	var places []observe.Place
	for _, o := range n.Observations {
		places = o.Touches(places[:0])
		if !slices.ContainsFunc(places, func(p observe.Place) bool { return p < 0 }) {
			known = append(known, o)
		}
	}
	if len(known) == 0 || len(known) == len(n.Observations) {
		return
	}
	if sol, err := p.solver.Solve(p.ctx, n.With(known), &n.Prior, y, adjust.Options{}); err == nil {
		copy(y, sol.Y)
	}
}

// spread fits the likely explanations under all suppositions of how badly the
// sheet was drawn, and weighs them.
func (p *problem) spread(beam []Component) ([]Component, error) {
	var all []Component
	gain := -usualOdds // of an explanation under all suppositions over the usual one
	for i, c := range beam {
		// Explanations of little weight need not be fitted so many times: the
		// likeliest one shows what the other suppositions add.
		if i > 0 && c.logWeight < beam[0].logWeight-spreadBelow || c.Explanation.Fault.Widen > 0 {
			if c.logWeight += gain; c.Explanation.Fault.Widen > 0 {
				c.logWeight -= gain + usualOdds
			}
			all = append(all, c)
			continue
		}
		for k := range drawing.Suppositions {
			if k == drawing.Usual {
				all = append(all, c)
				continue
			}
			if p.stopped() {
				return nil, p.ctx.Err()
			}
			info, logDet, err := c.table.Of(k)
			if err != nil {
				return nil, err
			}
			n := c.Network.WithDrafting(info, logDet)
			sol, err := p.solver.Solve(p.ctx, n, &n.Prior, c.Solution.Y, adjust.Options{MaxIterations: 15, Small: n.Near()})
			if err != nil {
				continue
			}
			m := Component{Explanation: c.Explanation, Network: n, Solution: sol, table: c.table}
			m.logWeight = m.evidence() + math.Log(drawing.Suppositions[k].Odds)
			all = append(all, m)
		}
		if i == 0 {
			// Where nothing fits, another supposition may weigh more by a factor that no
			// floating-point number holds: it is taken out of the sum.
			sum, out := 0.0, 0.0
			for _, m := range all {
				out = max(out, m.logWeight-c.logWeight-mostExponent)
			}
			for _, m := range all {
				sum += math.Exp(m.logWeight - c.logWeight - out)
			}
			gain = out + math.Log(sum)
		}
	}
	return weigh(all), nil
}

// mostExponent is an exponent whose power of e a float64 holds.
const mostExponent = 700

// spreadBelow is how much smaller the logarithm of the weight of an explanation
// may be that is still worked out under all suppositions.
const spreadBelow = 2

// weigh drops components of negligible weight and makes the weights add up to
// one.
func weigh(all []Component) []Component {
	all = prune(all, len(all), 2e-3)
	sum := 0.0
	for i := range all {
		all[i].Weight = math.Exp(all[i].logWeight - all[0].logWeight)
		sum += all[i].Weight
	}
	for i := range all {
		all[i].Weight /= sum
	}
	return all
}

// withoutLineHits fits the likely explanations without the holes that met a line
// between its ends, under all suppositions; nil where there are none. Holes that
// may hold a blunder stay as they are in the fit.
func (p *problem) withoutLineHits(beam []Component) ([]Component, error) {
	left := map[string]bool{}
	for i := range p.log.Readings {
		r := &p.log.Readings[i]
		if len(p.log.Lines(r)) == 0 || p.log.OnHeader(r) {
			continue
		}
		blunder := slices.ContainsFunc(beam, func(c Component) bool { return c.Explanation.Blunders[r.ID] != nil })
		if !blunder && unsettled(p.log, beam, r) {
			left[r.ID] = true
		}
	}
	if len(left) == 0 {
		return nil, nil
	}
	var all []Component
	seen := map[string]bool{}
	for _, c := range beam {
		e := c.Explanation.without(p.log, left)
		key := e.Key()
		if seen[key] {
			continue
		}
		seen[key] = true
		n, _, err := p.solve(e, c.Solution.Y)
		if err != nil {
			continue
		}
		all = append(all, n)
	}
	if len(all) == 0 {
		return nil, nil
	}
	return p.spread(prune(all, keptExplanations, keptOdds))
}

// unsettled reports whether it is left open which line the hole of a reading
// met, or whether an end of that line is held by it.
func unsettled(log *observe.Log, beam []Component, r *survey.Reading) bool {
	return log.Unnamed(r) || slices.ContainsFunc(beam, func(c Component) bool { return c.reached(r.ID) })
}
