package fit

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
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
		s := SheetFault{Fault: k, Odds: weight[k]}
		s.Says, s.Settles = likeliest[k].faultWords()
		f.Sheet = append(f.Sheet, s)
	}
	slices.SortStableFunc(f.Sheet, func(a, b SheetFault) int { return cmp.Compare(b.Odds, a.Odds) })
	for _, s := range f.Sheet {
		f.Warnings = append(f.Warnings, s.Says+": "+survey.Percent(s.Odds))
	}
}

// faultWords says what is wrong with a sheet, and what would settle it.
func (c *Component) faultWords() (says, settles string) {
	d, f := c.Network.Drawing, c.Explanation.Fault
	switch f.Kind {
	case drawing.Mirrored:
		return "the sheet looks drawn from the other side (mirrored)", "a baseline offset, a bearing or a third landmark would settle it"
	case drawing.Turned:
		return fmt.Sprintf("the sheet's north looks %d° off", 90*f.Quarter), "a bearing or a second satellite fix would settle it"
	case drawing.Walled:
		return "tank and field look drawn off another wall of the house", "a hole that meets any part would settle it"
	case drawing.Named:
		crew, sheet := d.CornerNamed()
		return fmt.Sprintf("the crew's corner %s looks to be the sheet's %s, and so on round the house", crew, sheet),
			"look at which corner is which; a tape along each wall would settle it"
	case drawing.Scaled:
		factor := math.Exp(c.Solution.Y[c.Network.Lay+observe.LayScale]) / d.Scale
		return "the sheet's scale looks wrong: " + scaleWords(factor, d.Sketch.Unit), "a tape between two landmarks would settle it"
	case drawing.Other:
		return "nothing on the sheet fits: it may show another lot or another design", "ask for the record of this lot; find the tank outlet and follow the pipe"
	}
	return "", ""
}

// scaleWords names a factor by which a scale is wrong.
func scaleWords(factor float64, unit geo.Unit) string {
	near := func(v float64) bool { return math.Abs(math.Log(factor/v)) < 0.08 }
	switch {
	case near(1/foot) && unit == geo.Foot:
		return "drawn in metres, though it says feet"
	case near(foot) && unit == geo.Metre:
		return "drawn in feet, though it says metres"
	}
	for _, r := range [][2]int{{2, 1}, {1, 2}, {3, 2}, {2, 3}, {4, 3}, {3, 4}, {5, 4}, {4, 5}, {3, 1}, {1, 3}, {5, 2}, {2, 5}} {
		if near(float64(r[0]) / float64(r[1])) {
			return fmt.Sprintf("things lie %.2f times as far apart as it says, as with a scale note of 1:%d00 for 1:%d00", factor, r[1], r[0])
		}
	}
	return fmt.Sprintf("things lie %.2f times as far apart as it says", factor)
}
