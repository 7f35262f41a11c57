package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// newFit sums a weighted set of components up. written is the likeliest fit of
// every reading as it was written: the residuals are its.
func newFit(log *observe.Log, all []Component, written *Component, ambiguous map[string]geo.Vec) *Fit {
	f := &Fit{Frame: log.Frame, Unit: log.Job.Settings.Unit, log: log, components: all, Iterations: written.Solution.Iterations}
	f.Unknowns = written.Network.Size
	f.residuals(written)
	f.layout()
	f.explain(ambiguous)
	f.judge(written)
	return f
}

// residuals fills in what the fit did to each observed number.
func (f *Fit) residuals(c *Component) {
	for i := range c.Network.Rows {
		index, _ := c.Solution.Rows.Row(i)
		if len(index) == 0 || c.Network.Rows[i].Usual { // a limit that was not reached, or no number of the log
			continue
		}
		r := c.residual(i)
		f.Residuals = append(f.Residuals, r)
		f.Readings++
		f.Redundancy += r.Redundancy
	}
	if f.Readings > 0 {
		f.VarianceFactor = 2 * c.Solution.Cost / max(1, c.degrees())
		f.GlobalP = c.chance()
	} else {
		f.VarianceFactor, f.GlobalP = 1, 1
	}
}

// residual returns what the fit did to one row. Source of the redundancy numbers
// and of w: Baarda, A Testing Procedure for Use in Geodetic Networks (1968); of
// the detectable blunder with 80 % power at the 0.1 % level, the same,
// δ₀ = 4.132.
func (c *Component) residual(i int) Residual {
	const delta = 4.132
	row := &c.Network.Rows[i]
	misclosure := c.Solution.Rows.Misclosure(i)
	leverage := 0.0
	for _, v := range c.forward(c.Solution.Rows, i) {
		leverage += v * v
	}
	r := Residual{Reading: row.Of.ID(), What: row.Of.What() + row.Part, Observed: row.Value, Fitted: row.Value - misclosure*row.Sigma,
		Sigma: row.Sigma, Redundancy: min(1, max(0, 1-leverage)), Detectable: math.Inf(1), Degrees: row.Angle}
	if row.Angle {
		const scale = 180 / math.Pi
		r.Observed, r.Fitted, r.Sigma = r.Observed*scale, r.Fitted*scale, r.Sigma*scale
	}
	if r.Redundancy > 1e-6 {
		r.Standardized = misclosure / math.Sqrt(r.Redundancy)
		r.Detectable = delta * r.Sigma / math.Sqrt(r.Redundancy)
	}
	return r
}

// layout fills in scale and rotation, as moments of the mixture.
func (f *Fit) layout() {
	var turn0, ls, ls2, t, t2 float64
	for i := range f.components {
		c := &f.components[i]
		n := c.Network
		if i == 0 {
			turn0 = c.Solution.Y[n.Lay+observe.LayTurn]
		}
		variance := func(u int) float64 {
			w := make([]float64, n.Size)
			w[u] = 1
			c.Solution.Factor.Forward(w)
			s := 0.0
			for _, v := range w {
				s += v * v
			}
			return s
		}
		l := c.Solution.Y[n.Lay+observe.LayScale]
		a := geo.Radians(c.Solution.Y[n.Lay+observe.LayTurn] - turn0).Signed().Radians()
		ls += c.Weight * l
		ls2 += c.Weight * (l*l + variance(n.Lay+observe.LayScale))
		t += c.Weight * a
		t2 += c.Weight * (a*a + variance(n.Lay+observe.LayTurn))
	}
	f.Scale = math.Exp(ls)
	f.ScaleSigma = f.Scale * math.Sqrt(max(0, ls2-ls*ls))
	f.Rotation = geo.Radians(-(turn0 + t)).Bearing()
	f.RotationSigma = geo.Radians(math.Sqrt(max(0, t2-t*t)))
	f.RotationKnown = f.Frame.Kind == survey.Geodetic || f.log.North
	f.Mirrored = f.components[0].Explanation.Fault.Kind == drawing.Mirrored
}

func heaviestFirst(weight map[string]float64) []string {
	return slices.SortedFunc(keys(weight), func(a, b string) int {
		return cmp.Or(cmp.Compare(weight[b], weight[a]), cmp.Compare(a, b))
	})
}

// explain says what was left open and how it was settled.
func (f *Fit) explain(ambiguous map[string]geo.Vec) {
	for _, r := range f.log.Job.Live() {
		if !f.log.Unnamed(&r) {
			continue
		}
		weight := f.MetOdds(r.ID)
		parts := slices.DeleteFunc(heaviestFirst(weight), func(v string) bool { return v == "" || weight[v] < 0.02 })
		if len(parts) > 0 {
			f.warn(finding.MetOneOf.New(finding.Word("hole", r.Point), finding.Readings(r.ID), finding.Odds(parts, weight)))
		}
	}
	for _, name := range slices.Sorted(keys(ambiguous)) {
		weight := f.Odds(func(e *Explanation) string { return fmt.Sprint(e.turned[name]) })
		switch {
		case !f.log.Met(name) && !f.log.Empty(name):
			continue
		case !f.log.Met(name):
			f.warn(finding.SideTaken.New(finding.Word("hole", name)))
		case min(weight["true"], weight["false"]) > 0.02:
			f.warn(finding.SideOpen.New(finding.Word("hole", name), finding.Number("odds", min(weight["true"], weight["false"]))))
		}
	}
	for i := range f.log.Job.Sketch.Parts {
		part := &f.log.Job.Sketch.Parts[i]
		if len(part.Ties) < 2 { // nothing crosses
			continue
		}
		weight := f.Odds(func(e *Explanation) string { return fmt.Sprint(e.turned[part.ID]) })
		if odds := min(weight["true"], weight["false"]); odds > 0.02 {
			f.warn(finding.TiesOpen.New(finding.Parts(part.ID), finding.Number("odds", odds)))
		}
	}
	f.explainSheet()
	f.explainDrafting()
	if f.Frame.Kind == survey.Geodetic && f.RotationSigma.Degrees() > 20 {
		f.warn(finding.TurnUnknown.New())
	}
}

// explainDrafting says that finished jobs, not what is usual, set how far the sheet
// may err.
func (f *Fit) explainDrafting() {
	l := f.log.Job.Sketch.Learned
	if l == nil {
		return
	}
	factors := func(n *finding.Finding) {
		for name, v := range map[string]float64{"scale": l.Scale, "field": l.Field, "detail": l.Detail, "jobs": float64(l.Jobs)} {
			finding.Number(name, v)(n)
		}
	}
	switch {
	case l.By != "":
		f.warn(finding.DraftingBy.New(factors, finding.Word("by", l.By)))
	case l.Decade != "":
		f.warn(finding.DraftingDecade.New(factors, finding.Word("decade", l.Decade)))
	default:
		f.warn(finding.DraftingTrust.New(factors))
	}
}

func (f *Fit) warn(w finding.Finding) { f.Warnings = append(f.Warnings, w) }

func (f *Fit) doubt(d finding.Finding) { f.Doubtful = &d }

// judge says whether the answer may be trusted.
func (f *Fit) judge(written *Component) {
	switch {
	case f.GlobalP < 1e-9:
		f.doubt(finding.Impossible.New())
	case f.GlobalP < 1e-4:
		f.doubt(finding.Contradiction.New(finding.Number("chance", f.GlobalP)))
	case written.Solution.Status != "converged":
		f.doubt(f.unsettled(string(written.Solution.Status)))
	}
	for _, s := range f.Sheet {
		switch {
		case s.Fault == drawing.Other && s.Odds > 0.5:
			f.doubt(finding.AnotherLot.New(finding.Number("odds", s.Odds)))
		case f.Doubtful == nil && f.Readings > 0 && s.Odds > 0.1 && s.Odds < 0.9:
			f.doubt(finding.SheetOpen.New(finding.Number("odds", s.Odds), finding.About(s.Finding)))
		}
	}
}

// unsettled says that the iteration did not come to an end, and which reading lies
// worst in the best of it: that is what to look at.
func (f *Fit) unsettled(status string) finding.Finding {
	var worst Residual
	for _, r := range f.Residuals {
		if math.Abs(r.Standardized) > math.Abs(worst.Standardized) {
			worst = r
		}
	}
	if worst.Reading == "" {
		return finding.NotConverged.New(finding.Word("status", status))
	}
	return finding.NotConvergedBy.New(finding.Word("status", status), finding.Readings(worst.Reading), finding.About(offBy(f, worst.Reading)))
}
