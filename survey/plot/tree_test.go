package plot

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/probe"
	"asfound/survey/setout"
)

// A slot from the box hole of TestDigPlanFigures 3 m north, 9' 10" by hand: its
// far end at (20.2, −8.8) m is 22.034 m from A at the origin, 72' 3", and 10.765
// m from B at (14, 0), 35' 4" (0.3048 m to the foot, 85 FR 62698). First page and
// cards give both ends, and each card says where to go.
func TestSlotAndCards(t *testing.T) {
	l := invent(invention{unit: geo.Foot, laterals: 3, holes: 2})
	p := inventPlan(l)
	h := &p.Holes[0]
	h.To = v(20.2, -8.8)
	for _, id := range []string{"A", "B"} {
		h.ToTies = append(h.ToTies, probe.SetOut{From: id, Distance: l.Spot(id, asbuilt.Center).At.Dist(h.To)})
	}
	h.ToSide = setout.Side{From: "A", To: "B"}
	h.Cautions = []finding.Finding{finding.SlotEndUnfixed.New(finding.Number("long", 3)), finding.SlotCut.New(finding.Number("step", 0.6096))}
	p.Tree = &probe.Step{Label: "1", Hole: *h, Branches: []probe.Branch{
		{Met: probe.MetSought, Parts: []string{"box"}, Chance: 0.6},
		{Met: probe.MetNone, Chance: 0.4, Next: &probe.Step{Label: "2A", Hole: p.Holes[1], Branches: []probe.Branch{{Met: probe.MetNone, Chance: 1}}}},
	}}
	d, err := DigPlan(l, p, MapOptions{Date: date})
	require.NoError(t, err)
	for i, more := range [][]string{
		{"NEXT SLOT: its first end, measure from", `FAR END, 9' 10" on:`, "The far end lies left of the line from A to B.", `NEXT SLOT, 9' 10" long`},
		{"1", "2A", `slot 9' 10" long, its far end`, "go to 2A", "Done. Log it.", "Met nothing down to the stop depth, 40 %", "log it and make a"},
	} {
		lines := words(t, svgOf(t, d.Pages[i]))
		for _, want := range append(more, `76' 9"`, `43' 9"`, `72' 3"`, `35' 4"`, "from A", "from B") {
			assert.Contains(t, lines, want, "page %d", i+1)
		}
	}
	assert.NotContains(t, said(t, d), "do not fix its far end", "the far end is set large, not said again")
}
