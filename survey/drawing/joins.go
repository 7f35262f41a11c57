package drawing

import (
	"asfound/asbuilt"
	"asfound/geo"
)

// reached is how near a drawn header passes to a thing that it is taken to join, as
// a share of the way from there to the box. Judgement: sheets are rough, and a tank
// is drawn by its middle, its outlet by an end of the pipe.
const reached = 0.4

// Join is a pipe that there must be and nobody drew, in flow order.
type Join struct {
	From, To asbuilt.SpotName
	Nodes    []int // of From and To
}

// Joins returns the pipes that there must be and nobody drew: from every box the
// straight way to the near end of each lateral that it feeds, and from each tank to
// it, where no header that is drawn passes there. They are worked out once, and only
// when a hole or a plan asks for them: a large sheet has many pairs.
func (d *Drawing) Joins() []Join { return d.joins() }

// missing works out what Joins returns.
func (d *Drawing) missing() (joins []Join) {
	join := func(from, to, end asbuilt.SpotName) {
		a, b := d.Spots[from], d.Spots[to]
		if !d.piped(d.Spots[end], reached*d.Nodes[a].At.Dist(d.Nodes[b].At)) {
			joins = append(joins, Join{from, to, []int{a, b}})
		}
	}
	for i := range d.Sketch.Parts {
		box := asbuilt.SpotName{Part: d.Sketch.Parts[i].ID, Spot: asbuilt.Center}
		if _, ok := d.Spots[box]; d.Sketch.Parts[i].Kind != asbuilt.Box || !ok {
			continue
		}
		for k := range d.Sketch.Parts {
			p := &d.Sketch.Parts[k]
			start := asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Start}
			if _, ok := d.Spots[start]; ok && d.Sketch.BoxOf(p) == &d.Sketch.Parts[i] {
				join(box, start, start)
			}
			tank := asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}
			if _, ok := d.Spots[tank]; p.Kind == asbuilt.Tank && ok {
				join(tank, box, tank)
			}
		}
	}
	return joins
}

// piped reports whether a drawn header passes within a distance of a node, drawing
// units.
func (d *Drawing) piped(node int, within float64) bool {
	for i := range d.Sketch.Parts {
		if d.Sketch.Parts[i].Kind != asbuilt.Header {
			continue
		}
		line := d.Lines[d.Sketch.Parts[i].ID]
		for k := 1; k < len(line); k++ {
			if far, _ := geo.SegmentDistance(d.Nodes[line[k-1]].At.v, d.Nodes[line[k]].At.v, d.Nodes[node].At.v); far <= within {
				return true
			}
		}
	}
	return false
}
