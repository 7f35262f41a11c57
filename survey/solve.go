package survey

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/adjust"
)

// component is one explanation fitted with one supposition of how badly the
// sheet was drawn: a Gaussian of all unknowns. A fit is a weighted set of them.
type component struct {
	explanation explanation
	network     *network
	solution    *adjust.Solution
	logWeight   float64
	weight      float64
}

// The suppositions of how badly a sheet was drawn: all of it, and the field as
// one block beyond that, as factors of the standard deviations of its trust,
// with their odds. A mixture over three scales stands in for the heavy tails
// of real drawings. Judgement, checked by simulation; no published source.
var (
	draftingFactors = [3]float64{0.6, 1, 1.65}
	draftingOdds    = [3]float64{0.25, 0.45, 0.30}
	blockFactors    = [3]float64{0.65, 1.05, 2}
	blockOdds       = [3]float64{0.50, 0.35, 0.15}
)

const (
	usualAll, usualBlock = 1, 1 // indices of the supposition to start from

	mirrorOdds        = 0.02 // of a mirrored sheet where nothing was said
	mirrorUnknownOdds = 0.3  // where the sketch says that it may be
	keptOdds          = 1e-3 // explanations below this are dropped
	keptExplanations  = 24
)

// sheet is a drawing with its priors worked out once for all fits.
type sheet struct {
	drawing     *drawing
	discrepancy *discrepancy
	info        [3][3][]float64
	logDet      [3][3]float64
}

// ErrNothing says that a sketch has nothing to fit.
var ErrNothing = errors.New("the sketch has no landmark, tank, box, lateral or header to locate")

func newSheet(s *asbuilt.Sketch, mirrored bool) (*sheet, error) {
	t := &sheet{drawing: newDrawing(s, mirrored)}
	if len(t.drawing.nodes) == 0 {
		return nil, ErrNothing
	}
	return t, t.rescale(t.drawing.scale)
}

// rescale works the priors out for a scale in metres per drawing unit: what is
// proportional to length depends on it.
func (t *sheet) rescale(scale float64) error {
	t.discrepancy = newDiscrepancy(t.drawing, scale)
	t.info = [3][3][]float64{}
	_, _, err := t.prior(usualAll, usualBlock)
	return err
}

// prior returns the information of the discrepancies under a supposition.
func (t *sheet) prior(all, block int) (info []float64, logDet float64, err error) {
	if t.info[all][block] == nil {
		info, logDet, ok := t.discrepancy.information(draftingFactors[all], blockFactors[block])
		if !ok {
			return nil, 0, fmt.Errorf("the sketch cannot be fitted: its parts are so far apart or so close that the numbers fail; check its unit (%s)", t.drawing.sketch.Unit)
		}
		t.info[all][block], t.logDet[all][block] = info, logDet
	}
	return t.info[all][block], t.logDet[all][block], nil
}

// Prepared is a sketch made ready to be fitted again and again, as holes come in.
type Prepared struct {
	sketch *asbuilt.Sketch
	sheets [2]*sheet // as drawn, mirrored
	solver adjust.Solver
}

// Prepare makes a sketch ready. It is an error for the sketch to hold nothing
// that can be located.
func Prepare(s *asbuilt.Sketch) (*Prepared, error) {
	t, err := newSheet(s, false)
	if err != nil {
		return nil, err
	}
	return &Prepared{sketch: s, sheets: [2]*sheet{t, nil}}, nil
}

func (p *Prepared) sheet(mirrored bool) (*sheet, error) {
	if !mirrored {
		return p.sheets[0], nil
	}
	if p.sheets[1] == nil {
		t, err := newSheet(p.sketch, true)
		if err != nil {
			return nil, err
		}
		p.sheets[1] = t
	}
	return p.sheets[1], nil
}

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
	best, ambiguous, err := p.solve(b, explanation{}, nil)
	if err != nil {
		return nil, err
	}
	beam := []component{best}
	beam = p.branchMet(b, beam)
	beam = p.branchTurned(b, beam, ambiguous)
	beam, err = p.branchMirrored(b, beam)
	if err != nil {
		return nil, err
	}
	all, err := p.spread(beam)
	if err != nil {
		return nil, err
	}
	return newFit(b, all, ambiguous), nil
}

// solve fits one explanation under the usual supposition, from the unknowns
// start or, where that is nil, from scratch.
func (p *Prepared) solve(b *book, e explanation, start []float64) (component, map[string]geo.Vec, error) {
	t, err := p.sheet(e.mirrored)
	if err != nil {
		return component{}, nil, err
	}
	var best component
	var ambiguous map[string]geo.Vec
	for round := range 2 {
		info, logDet, err := t.prior(usualAll, usualBlock)
		if err != nil {
			return component{}, nil, err
		}
		best = component{}
		for _, l := range b.layouts(t.drawing, e) {
			n := newNetwork(t.drawing, b.points, len(b.fixSigma), l.mean, l.sigma, info, logDet)
			b.priors(n)
			all := b.observations(t.drawing, e)
			// Where a hole starts matters: on which side of two tapes it lies
			// is read off landmarks whose drawn places, or whose scale, may be
			// far out. So other scales are tried where the first fits badly.
			for i, factor := range startScales {
				if i > 0 && (start != nil || best.fits() || len(b.points) == 0) {
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
					return component{}, nil, fmt.Errorf("the readings cannot be fitted: %w", err)
				}
				if best.solution == nil || sol.Cost < best.solution.Cost {
					best = component{explanation: e, network: n, solution: sol}
					ambiguous = amb
				}
			}
		}
		// The standard deviations that are proportional to length were worked
		// out with the scale on the sheet; where that was far out, do it again.
		scale := math.Exp(best.solution.Y[best.network.lay+layScale])
		if round > 0 || math.Abs(math.Log(scale/t.drawing.scale)) < 0.1 || len(b.readings) == 0 {
			break
		}
		if err := t.rescale(scale); err != nil {
			return component{}, nil, err
		}
	}
	best.logWeight = best.evidence() + math.Log(draftingOdds[usualAll]*blockOdds[usualBlock])
	return best, ambiguous, nil
}

// startScales are the factors of the scale on the sheet that a fit starts from,
// one after the other until it fits.
var startScales = [...]float64{1, 0.7, 1.4, 0.85, 1.2}

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

// fits reports whether a component's misfit is no surprise.
func (c *component) fits() bool {
	return c.solution != nil && chiSquareTail(2*c.solution.Cost, float64(c.solution.Rows.Len())) > 0.01
}

// evidence returns the logarithm of the evidence for a component's explanation
// under its supposition.
func (c *component) evidence() float64 {
	return c.solution.LogEvidence(&c.network.prior) - c.network.logSigma() + math.Log(mirrorPrior(c))
}

func mirrorPrior(c *component) float64 {
	odds := mirrorOdds
	if c.network.drawing.sketch.MirrorUnknown {
		odds = mirrorUnknownOdds
	}
	if c.explanation.mirrored {
		return odds
	}
	return 1 - odds
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

// branchMet carries along the parts that a hole may have met where the crew
// could not tell.
func (p *Prepared) branchMet(b *book, beam []component) []component {
	for i := range b.readings {
		r := &b.readings[i]
		if r.Kind != Found || b.job.Sketch.Part(r.Target) != nil {
			continue
		}
		var next []component
		for _, c := range beam {
			for _, part := range b.job.Sketch.Parts {
				if string(part.Kind) != r.Target {
					continue
				}
				e := c.explanation.with(r.ID, part.ID)
				if n, _, err := p.solve(b, e, c.solution.Y); err == nil {
					next = append(next, n)
				}
			}
		}
		if len(next) > 0 {
			beam = prune(next, keptExplanations, keptOdds)
		}
	}
	return beam
}

// with returns the explanation with one more hole's part settled.
func (e explanation) with(reading, part string) explanation {
	met := map[string]string{reading: part}
	maps.Copy(met, e.met)
	e.met = met
	return e
}

// turn returns the explanation with one more point on the other side of its tapes.
func (e explanation) turn(point string) explanation {
	turned := map[string]bool{point: true}
	for k := range e.turned {
		turned[k] = true
	}
	e.turned = turned
	return e
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
			if n, _, err := p.solve(b, c.explanation.turn(name), y); err == nil && n.apart(&c, i) {
				next = append(next, n)
			}
		}
		beam = prune(next, keptExplanations, keptOdds)
	}
	return beam
}

// apart reports whether a fit ended at another place of point unknown i than
// another did.
func (c *component) apart(o *component, i int) bool {
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

// branchMirrored adds the explanation that the sheet was drawn from the other
// side, where the sketch says that it may be or where nothing else fits.
func (p *Prepared) branchMirrored(b *book, beam []component) ([]component, error) {
	if len(b.readings) == 0 && len(p.sketch.Parts) == 0 {
		return beam, nil
	}
	best := beam[0]
	rows := float64(best.solution.Rows.Len())
	if !p.sketch.MirrorUnknown && (rows == 0 || chiSquareTail(2*best.solution.Cost, rows) > 0.01) {
		return beam, nil
	}
	e := best.explanation
	e.mirrored = true
	m, _, err := p.solve(b, e, nil)
	if err != nil {
		return nil, err
	}
	return prune(append(beam, m), keptExplanations, keptOdds), nil
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

// prune keeps at most so many of the components, and none whose odds to the
// likeliest fall below least; the likeliest comes first.
func prune(c []component, most int, least float64) []component {
	slices.SortStableFunc(c, func(a, b component) int { return cmp.Compare(b.logWeight, a.logWeight) })
	keep := 0
	for keep < len(c) && keep < most && c[keep].logWeight > c[0].logWeight+math.Log(least) {
		keep++
	}
	return c[:max(keep, 1)]
}

// spread fits every explanation under all suppositions of how badly the sheet
// was drawn, and weighs them.
func (p *Prepared) spread(beam []component) ([]component, error) {
	var all []component
	for _, c := range beam {
		t, err := p.sheet(c.explanation.mirrored)
		if err != nil {
			return nil, err
		}
		for a := range draftingFactors {
			for k := range blockFactors {
				if a == usualAll && k == usualBlock {
					all = append(all, c)
					continue
				}
				info, logDet, err := t.prior(a, k)
				if err != nil {
					return nil, err
				}
				n := c.network.withDrafting(info, logDet)
				sol, err := p.solver.Solve(n, &n.prior, c.solution.Y, adjust.Options{MaxIterations: 15, Small: n.near()})
				if err != nil {
					continue
				}
				m := component{explanation: c.explanation, network: n, solution: sol}
				m.logWeight = m.evidence() + math.Log(draftingOdds[a]*blockOdds[k])
				all = append(all, m)
			}
		}
	}
	all = prune(all, len(all), 2e-3)
	sum := 0.0
	for i := range all {
		all[i].weight = math.Exp(all[i].logWeight - all[0].logWeight)
		sum += all[i].weight
	}
	for i := range all {
		all[i].weight /= sum
	}
	return all, nil
}
