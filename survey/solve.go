package survey

import (
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey/adjust"
	"asfound/survey/finding"
)

// component is one explanation fitted with one supposition of how badly the
// sheet was drawn: a Gaussian of all unknowns. A fit is a weighted set of them.
type component struct {
	explanation explanation
	network     *network
	solution    *adjust.Solution
	table       *table
	logWeight   float64
	weight      float64
}

// supposition is how badly a sheet was drawn: all of it, and the field as one
// block beyond that, as factors of the standard deviations of its trust, with
// its odds.
type supposition struct{ all, block, odds float64 }

// suppositions are a mixture over three scales each way, which stands in for
// the heavy tails of real drawings. The first is the one to start from.
// Judgement, checked by simulation; no published source.
var suppositions = func() (all []supposition) {
	for _, a := range [...][2]float64{{1, 0.45}, {0.6, 0.25}, {1.65, 0.30}} {
		for _, b := range [...][2]float64{{1.05, 0.35}, {0.65, 0.50}, {2, 0.15}} {
			all = append(all, supposition{a[0], b[0], a[1] * b[1]})
		}
	}
	return all
}()

const usual = 0 // index of the supposition to start from

// Solve fits a job: Prepare and Refit in one.
func Solve(job *Job) (*Fit, error) {
	p, err := Prepare(job.Sketch)
	if err != nil {
		return nil, err
	}
	return p.Refit(job)
}

// Refit fits a job whose sketch is the prepared one. It is an error where no
// fit could be computed; a fit that was computed but must not be trusted says
// so in Doubtful.
func (p *Prepared) Refit(job *Job) (*Fit, error) {
	b := newBook(job)
	plain, ambiguous, err := p.solve(b, explanation{fault: p.faults[0]}, nil)
	if err != nil {
		return nil, err
	}
	beam, written := p.branch(b, plain, ambiguous)
	beam, written, ambiguous = p.branchFaults(b, beam, written, ambiguous)
	all, err := p.spread(beam)
	if err != nil {
		return nil, err
	}
	f := newFit(b, all, &written, ambiguous)
	if f.loose, err = p.loosen(b, beam); err != nil {
		return nil, err
	}
	p.suspect(f, &written)
	return f, nil
}

// Glance fits a job as Refit does, but takes the sheet to be drawn as badly as
// such sheets usually are, and to have the fault, and the readings the slips, that
// the likeliest explanation of the fit before had, which must be of the same
// prepared sketch; nil: none. It is what can be shown while Refit is still at
// work. Where the last reading changes none of that the two differ little; where
// it does, only Refit says so.
func (p *Prepared) Glance(job *Job, before *Fit) (*Fit, error) {
	b := newBook(job)
	e := explanation{fault: p.faults[0]}
	if before != nil {
		e.fault, e.slips = before.components[0].explanation.fault, before.components[0].explanation.slips
	}
	plain, ambiguous, err := p.solve(b, e, nil)
	if err != nil {
		return nil, err
	}
	beam := p.branchTurned(b, p.branchMet(b, []component{plain}), ambiguous)
	written := beam[0]
	f := newFit(b, weigh(slices.Clone(beam)), &written, ambiguous)
	if f.loose, err = p.loosen(b, beam); err != nil {
		return nil, err
	}
	return f, nil
}

// solve fits one explanation under the usual supposition, from the unknowns
// start or, where that is nil, from scratch. ambiguous names the points that
// two tapes alone place, and the other crossing of those.
func (p *Prepared) solve(b *book, e explanation, start []float64) (best component, ambiguous map[string]geo.Vec, err error) {
	t, err := p.sheet(e.fault)
	if err != nil {
		return best, nil, err
	}
	scale := t.drawing.scale
	if start != nil {
		scale = math.Exp(start[b.layoutAt()+layScale])
	}
	// The standard deviations that are proportional to length are worked out
	// with the scale on the sheet; where that is far out, it is done again.
	for range 2 {
		tb, err := t.at(scale)
		if err != nil {
			return component{}, nil, err
		}
		best, ambiguous, err = p.lay(b, e, t, tb, start)
		if err != nil {
			return component{}, nil, err
		}
		scale = math.Exp(best.solution.Y[best.network.lay+layScale])
		if next, err := t.at(scale); err != nil || next == tb || len(b.readings) == 0 {
			break
		}
	}
	best.logWeight = best.evidence() + math.Log(suppositions[usual].odds)
	return best, ambiguous, nil
}

// lay fits one explanation with the priors of one scale, from every layout and
// starting scale that may be needed.
func (p *Prepared) lay(b *book, e explanation, t *sheet, tb *table, start []float64) (best component, ambiguous map[string]geo.Vec, err error) {
	info, logDet, err := tb.of(usual)
	if err != nil {
		return best, nil, err
	}
	scales := startScales
	if t.drawing.fault.scale > 0 {
		scales = anyScales
	}
	all := b.observations(t.drawing, e)
	for _, l := range b.layouts(t.drawing, e) {
		n := newNetwork(t.drawing, b.points, len(b.fixSigma), l.mean, l.sigma, info, logDet)
		b.priors(n)
		// Where a hole starts matters: on which side of two tapes it lies
		// is read off landmarks whose drawn places, or whose scale, may be
		// far out. So other scales are tried where the first fits badly.
		for i, factor := range scales {
			if i > 0 && (start != nil || best.fits(0.01) || len(b.points) == 0 && t.drawing.fault.scale == 0) {
				break
			}
			y := append([]float64(nil), n.prior.Mean...)
			y[n.lay+layScale] += math.Log(factor)
			amb := map[string]geo.Vec{}
			if start != nil {
				copy(y, start)
			} else {
				if i == 0 {
					p.landmarksFirst(n, all, y)
				}
				amb = b.startPoints(n, y, e)
			}
			copy(n.prior.Mean[:2*len(b.points)], y)
			n.observations = all
			sol, err := p.solver.Solve(n, &n.prior, y, adjust.Options{})
			if err != nil {
				return component{}, nil, finding.Refuse(finding.CannotFit.New(), err)
			}
			if best.solution == nil || sol.Cost < best.solution.Cost {
				best = component{explanation: e, network: n, solution: sol, table: tb}
				ambiguous = amb
			}
		}
	}
	return best, ambiguous, nil
}

// The factors of the scale on the sheet that a fit starts from, one after the
// other until it fits: of a sheet that may be believed, and of one whose scale
// or unit may be wrong.
var (
	startScales = []float64{1, 0.7, 1.4, 0.85, 1.2}
	anyScales   = []float64{1, 0.5, 2, 1 / foot, foot, 0.7, 1.4}
)

// landmarksFirst improves the starting layout y by what is known without any
// point of the log: tapes between landmarks, fixes of them, what is written.
func (p *Prepared) landmarksFirst(n *network, all []observation, y []float64) {
	n.observations = nil
	for _, o := range all {
		if o.p >= 0 && o.q >= 0 && o.r >= 0 {
			n.observations = append(n.observations, o)
		}
	}
	if len(n.observations) == 0 || len(n.observations) == len(all) {
		return
	}
	if sol, err := p.solver.Solve(n, &n.prior, y, adjust.Options{}); err == nil {
		copy(y, sol.Y)
	}
}

// degrees returns the degrees of freedom of twice the cost: one for each row
// that observes something, less what goes into placing the points of the log
// and, where fixes do that, the sheet as a whole, which no prior holds.
func (c *component) degrees() (n float64) {
	touched := make([]float64, len(c.network.points)+1) // the last: the sheet on the earth
	row := 0
	for i := range c.network.observations {
		o := &c.network.observations[i]
		for k := range equations[o.kind].rows {
			if index, _ := c.solution.Rows.Row(row); len(index) > 0 && !o.limit(k) {
				n++
				for _, p := range [3]place{o.p, o.q, o.r} {
					if p < 0 {
						touched[-p-1]++
					}
				}
				if o.kind == position && o.p >= 0 {
					touched[len(touched)-1]++
				}
			}
			row++
		}
	}
	for _, t := range touched {
		n -= min(t, 2)
	}
	return max(n, 0)
}

// chance returns the probability of a worse misfit than a component's if all
// is as it supposes.
func (c *component) chance() float64 {
	return chiSquareTail(2*c.solution.Cost, c.degrees())
}

// fits reports whether a component's misfit is no surprise at a level.
func (c *component) fits(level float64) bool {
	return c.solution != nil && c.chance() > level
}

// evidence returns the logarithm of the evidence for a component's explanation
// under its supposition.
func (c *component) evidence() float64 {
	e := &c.explanation
	sum := c.solution.LogEvidence(&c.network.prior) - c.network.logSigma() + math.Log(e.fault.odds) + e.prior
	for _, id := range slices.Sorted(keys(e.slips)) {
		sum += math.Log(e.slips[id].odds) - e.slips[id].volume
	}
	return sum
}

// priors sets the priors of the unknowns that the log brings: satellite
// sessions and the declination.
func (b *book) priors(n *network) {
	s := n.sigma()
	for k, v := range b.fixSigma {
		s[n.bias+2*k], s[n.bias+2*k+1] = v, v
	}
	s[n.compass] = heldSigma
	if b.compass {
		s[n.compass] = noDeclination
		if d := b.job.Settings.Declination.Radians(); d != 0 {
			n.prior.Mean[n.compass], s[n.compass] = d, declinationSigma
		}
	}
}

// spread fits the likely explanations under all suppositions of how badly the
// sheet was drawn, and weighs them.
func (p *Prepared) spread(beam []component) ([]component, error) {
	var all []component
	first := math.Log(suppositions[usual].odds)
	gain := -first // of an explanation under all suppositions over the usual one
	for i, c := range beam {
		// What hardly counts need not be worked out so many times: the likeliest
		// explanation tells what the other suppositions add.
		if i > 0 && c.logWeight < beam[0].logWeight-spreadBelow || c.explanation.fault.loose > 0 {
			if c.logWeight += gain; c.explanation.fault.loose > 0 {
				c.logWeight -= gain + first
			}
			all = append(all, c)
			continue
		}
		for k := range suppositions {
			if k == usual {
				all = append(all, c)
				continue
			}
			info, logDet, err := c.table.of(k)
			if err != nil {
				return nil, err
			}
			n := c.network.withDrafting(info, logDet)
			sol, err := p.solver.Solve(n, &n.prior, c.solution.Y, adjust.Options{MaxIterations: 15, Small: n.near()})
			if err != nil {
				continue
			}
			m := component{explanation: c.explanation, network: n, solution: sol, table: c.table}
			m.logWeight = m.evidence() + math.Log(suppositions[k].odds)
			all = append(all, m)
		}
		if i == 0 {
			sum := 0.0
			for _, m := range all {
				sum += math.Exp(m.logWeight - c.logWeight)
			}
			gain = math.Log(sum)
		}
	}
	return weigh(all), nil
}

// spreadBelow is how much smaller the logarithm of the weight of an explanation
// may be that is still worked out under all suppositions.
const spreadBelow = 2

// weigh drops what hardly counts and makes the weights add up to one.
func weigh(all []component) []component {
	all = prune(all, len(all), 2e-3)
	sum := 0.0
	for i := range all {
		all[i].weight = math.Exp(all[i].logWeight - all[0].logWeight)
		sum += all[i].weight
	}
	for i := range all {
		all[i].weight /= sum
	}
	return all
}

// near returns steps too small to matter to a component beside others: a
// millimetre, and the turn, scale and stretch that move nothing on a lot by more.
func (n *network) near() []float64 {
	small := make([]float64, n.size)
	for i := range small {
		small[i] = 1e-3
	}
	for _, k := range []int{layTurn, layScale, layStretch} {
		small[n.lay+k] = 2e-5
	}
	return small
}
