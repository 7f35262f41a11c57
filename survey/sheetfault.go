package survey

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"asfound/geo"
)

// explainSheet says what may be wrong with the whole sheet.
func (f *Fit) explainSheet() {
	weight := map[Fault]float64{}
	likeliest := map[Fault]*component{}
	for i := range f.components {
		c := &f.components[i]
		k := c.explanation.fault.kind
		if weight[k] += c.weight; likeliest[k] == nil {
			likeliest[k] = c
		}
	}
	for _, k := range slices.Sorted(maps.Keys(weight)) {
		if k == Sound || weight[k] < 0.02 {
			continue
		}
		s := SheetFault{Fault: k, Odds: weight[k]}
		s.Says, s.Settles = likeliest[k].faultWords()
		f.Sheet = append(f.Sheet, s)
	}
	slices.SortStableFunc(f.Sheet, func(a, b SheetFault) int { return cmp.Compare(b.Odds, a.Odds) })
	for _, s := range f.Sheet {
		f.Warnings = append(f.Warnings, s.Says+": "+Percent(s.Odds))
	}
}

// faultWords says what is wrong with a sheet, and what would settle it.
func (c *component) faultWords() (says, settles string) {
	d, f := c.network.drawing, c.explanation.fault
	switch f.kind {
	case Mirrored:
		return "the sheet looks drawn from the other side (mirrored)", "a baseline offset, a bearing or a third landmark would settle it"
	case Turned:
		return fmt.Sprintf("the sheet's north looks %d° off", 90*f.quarter), "a bearing or a second satellite fix would settle it"
	case Walled:
		return "tank and field look drawn off another wall of the house", "a hole that meets any part would settle it"
	case Named:
		corners := cornersOf(d.sketch)
		return fmt.Sprintf("the crew's corner %s looks to be the sheet's %s, and so on round the house", corners[0], d.names[corners[0]]),
			"look at which corner is which; a tape along each wall would settle it"
	case Scaled:
		factor := math.Exp(c.solution.Y[c.network.lay+layScale]) / d.scale
		return "the sheet's scale looks wrong: " + scaleWords(factor, d.sketch.Unit), "a tape between two landmarks would settle it"
	case Other:
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
