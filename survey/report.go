package survey

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey/finding"
)

// newFit sums a weighted set of components up. written is the likeliest fit of
// every reading as it was written: the residuals are its.
func newFit(b *book, all []component, written *component, ambiguous map[string]geo.Vec) *Fit {
	f := &Fit{Frame: b.frame, Unit: b.job.Settings.Unit, book: b, components: all, Iterations: written.solution.Iterations}
	f.Unknowns = written.network.size
	f.residuals(written)
	f.layout()
	f.explain(ambiguous)
	f.judge(written)
	return f
}

// residuals fills in what the fit did to each observed number. Source of the
// redundancy numbers and of w: Baarda, A Testing Procedure for Use in Geodetic
// Networks (1968); of the detectable blunder with 80 % power at the 0.1 %
// level, the same, δ₀ = 4.132.
func (f *Fit) residuals(c *component) {
	const delta = 4.132
	rows, n := c.solution.Rows, c.network
	row := 0
	w := make([]float64, n.size)
	n.place(c.solution.Y)
	for i := range n.observations {
		o := &n.observations[i]
		for k := range equations[o.kind].rows {
			index, coef := rows.Row(row)
			r := rows.Misclosure(row)
			row++
			if len(index) == 0 { // a limit that was not reached
				continue
			}
			clear(w)
			for j, u := range index {
				w[u] = coef[j]
			}
			c.solution.Factor.Forward(w)
			leverage := 0.0
			for _, v := range w {
				leverage += v * v
			}
			res := Residual{Reading: o.id, What: o.what, Sigma: o.sigma, Redundancy: min(1, max(0, 1-leverage))}
			value := o.value
			if k == 1 {
				res.Sigma, value = o.sigma2, o.value2
				res.What += ", second"
			}
			switch o.kind {
			case position:
				res.What = o.what + [2]string{", east", ", north"}[k]
			case coincide, onCorner:
				res.What = o.what + [2]string{", along", ", across"}[k]
				value = 0
			case onLine, besideLine:
				if value = o.value; k == 1 {
					value = 0
					res.What = o.what + ", beyond its end"
				} else {
					res.What = o.what + ", across"
				}
			case onEdge:
				value = 0
			case within:
				if k == 1 {
					continue
				}
				value = o.value
			}
			res.Observed, res.Fitted = value, value-r*res.Sigma
			scale := 1.0
			if o.kind == direction {
				res.Degrees, scale = true, 180/math.Pi
				res.Observed, res.Fitted, res.Sigma = res.Observed*scale, res.Fitted*scale, res.Sigma*scale
			}
			if res.Redundancy > 1e-6 {
				res.Standardized = r / math.Sqrt(res.Redundancy)
				res.Detectable = delta * res.Sigma / math.Sqrt(res.Redundancy)
			} else {
				res.Detectable = math.Inf(1)
			}
			f.Residuals = append(f.Residuals, res)
			f.Readings++
			f.Redundancy += res.Redundancy
		}
	}
	if f.Readings > 0 {
		f.VarianceFactor = 2 * c.solution.Cost / max(1, c.degrees())
		f.GlobalP = c.chance()
	} else {
		f.VarianceFactor, f.GlobalP = 1, 1
	}
}

// layout fills in scale and rotation, as moments of the mixture.
func (f *Fit) layout() {
	var turn0, ls, ls2, t, t2 float64
	for i := range f.components {
		c := &f.components[i]
		n := c.network
		if i == 0 {
			turn0 = c.solution.Y[n.lay+layTurn]
		}
		variance := func(u int) float64 {
			w := make([]float64, n.size)
			w[u] = 1
			c.solution.Factor.Forward(w)
			s := 0.0
			for _, v := range w {
				s += v * v
			}
			return s
		}
		l := c.solution.Y[n.lay+layScale]
		a := geo.Radians(c.solution.Y[n.lay+layTurn] - turn0).Signed().Radians()
		ls += c.weight * l
		ls2 += c.weight * (l*l + variance(n.lay+layScale))
		t += c.weight * a
		t2 += c.weight * (a*a + variance(n.lay+layTurn))
	}
	f.Scale = math.Exp(ls)
	f.ScaleSigma = f.Scale * math.Sqrt(max(0, ls2-ls*ls))
	f.Rotation = geo.Radians(-(turn0 + t)).Bearing()
	f.RotationSigma = geo.Radians(math.Sqrt(max(0, t2-t*t)))
	f.RotationKnown = f.Frame.Kind == Geodetic || f.book.north
	f.Mirrored = f.components[0].explanation.fault.kind == Mirrored
}

// odds returns the weight of each value that a property of the explanations
// takes, the heaviest first.
func (f *Fit) odds(property func(e explanation) string) (values []string, weight map[string]float64) {
	weight = map[string]float64{}
	for i := range f.components {
		weight[property(f.components[i].explanation)] += f.components[i].weight
	}
	return heaviestFirst(weight), weight
}

func heaviestFirst(weight map[string]float64) []string {
	return slices.SortedFunc(keys(weight), func(a, b string) int {
		return cmp.Or(cmp.Compare(weight[b], weight[a]), cmp.Compare(a, b))
	})
}

// explain says what was left open and how it was settled.
func (f *Fit) explain(ambiguous map[string]geo.Vec) {
	for _, r := range f.book.job.Live() {
		if r.Kind != Found || f.book.job.Sketch.Part(r.Target) != nil {
			continue
		}
		weight := f.MetOdds(r.ID)
		parts := slices.DeleteFunc(heaviestFirst(weight), func(v string) bool { return v == "" || weight[v] < 0.02 })
		if len(parts) > 0 {
			f.warn(finding.MetOneOf.New(finding.Word("hole", r.Point), finding.Readings(r.ID), finding.Odds(parts, weight)))
		}
	}
	for _, name := range slices.Sorted(keys(ambiguous)) {
		_, weight := f.odds(func(e explanation) string { return fmt.Sprint(e.turned[name]) })
		switch {
		case !f.book.met(name) && !f.book.used(name):
			continue
		case !f.book.met(name):
			f.warn(finding.SideTaken.New(finding.Word("hole", name)))
		case min(weight["true"], weight["false"]) > 0.02:
			f.warn(finding.SideOpen.New(finding.Word("hole", name), finding.Number("odds", min(weight["true"], weight["false"]))))
		}
	}
	f.explainSheet()
	if f.Frame.Kind == Geodetic && f.RotationSigma.Degrees() > 20 {
		f.warn(finding.TurnUnknown.New())
	}
}

func (f *Fit) warn(w finding.Finding) { f.Warnings = append(f.Warnings, w) }

func (f *Fit) doubt(d finding.Finding) { f.Doubtful = &d }

// used reports whether the place of a point matters: an empty hole does.
func (b *book) used(name string) bool {
	return slices.ContainsFunc(b.readings, func(r Reading) bool { return r.Kind == Empty && r.Point == name })
}

// judge says whether the answer may be trusted.
func (f *Fit) judge(written *component) {
	switch {
	case f.GlobalP < 1e-9:
		f.doubt(finding.Impossible.New())
	case f.GlobalP < 1e-4:
		f.doubt(finding.Contradiction.New(finding.Number("chance", f.GlobalP)))
	case written.solution.Status != "converged":
		f.doubt(finding.NotConverged.New(finding.Word("status", string(written.solution.Status))))
	}
	for _, s := range f.Sheet {
		switch {
		case s.Fault == Other && s.Odds > 0.5:
			f.doubt(finding.AnotherLot.New(finding.Number("odds", s.Odds)))
		case f.Doubtful == nil && f.Readings > 0 && s.Odds > 0.1 && s.Odds < 0.9:
			f.doubt(finding.SheetOpen.New(finding.Number("odds", s.Odds), finding.About(s.Finding)))
		}
	}
}
