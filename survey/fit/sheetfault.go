package fit

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// explainSheet says what may be wrong with the whole sheet.
func (f *Fit) explainSheet() {
	weight := map[drawing.Fault]float64{}
	likeliest := map[drawing.Fault]*Component{}
	for i := range f.components {
		c := &f.components[i]
		k := c.Explanation.Fault.Kind
		if weight[k] += c.Weight; likeliest[k] == nil {
			likeliest[k] = c
		}
	}
	for _, k := range slices.Sorted(maps.Keys(weight)) {
		if k == drawing.Sound || weight[k] < 0.02 {
			continue
		}
		f.Sheet = append(f.Sheet, SheetFault{Fault: k, Odds: weight[k], Finding: likeliest[k].faultFinding()})
	}
	slices.SortStableFunc(f.Sheet, func(a, b SheetFault) int { return cmp.Compare(b.Odds, a.Odds) })
	for _, s := range f.Sheet {
		f.warn(finding.SheetFault.New(finding.About(s.Finding), finding.Number("odds", s.Odds)))
	}
}

// faultFinding says what is wrong with a sheet, and what would settle it.
func (c *Component) faultFinding() finding.Finding {
	d, f := c.Network.Drawing, c.Explanation.Fault
	switch f.Kind {
	case drawing.Mirrored:
		return finding.SheetMirrored.New()
	case drawing.Turned:
		return finding.SheetTurned.New(finding.Number("turn", float64(90*f.Quarter)))
	case drawing.Walled:
		return finding.SheetWalled.New()
	case drawing.Named:
		crew, sheet := d.CornerNamed()
		return finding.SheetNamed.New(finding.Parts(crew, sheet))
	case drawing.Scaled:
		return scaleFinding(math.Exp(c.Solution.Y[c.Network.Lay+observe.LayScale])/d.Scale, d.Sketch.Unit)
	}
	return finding.SheetOther.New()
}

// scaleFinding names a factor by which a scale is wrong: by units taken for one
// another, else by the nearest ratio of common scales.
func scaleFinding(factor float64, unit geo.Unit) finding.Finding {
	const near = 0.08 // in the logarithm
	apart := func(v float64) float64 { return math.Abs(math.Log(factor / v)) }
	switch {
	case apart(1/foot) < near && unit == geo.Foot:
		return finding.SheetMetric.New()
	case apart(foot) < near && unit == geo.Metre:
		return finding.SheetImperial.New()
	}
	ratios := [][2]float64{{2, 1}, {1, 2}, {3, 2}, {2, 3}, {4, 3}, {3, 4}, {5, 4}, {4, 5}, {3, 1}, {1, 3}, {5, 2}, {2, 5}}
	r := slices.MinFunc(ratios, func(a, b [2]float64) int { return cmp.Compare(apart(a[0]/a[1]), apart(b[0]/b[1])) })
	if apart(r[0]/r[1]) < near {
		return finding.SheetRatio.New(finding.Number("factor", factor), finding.Number("noted", 100*r[1]), finding.Number("drawn", 100*r[0]))
	}
	return finding.SheetScaled.New(finding.Number("factor", factor))
}
