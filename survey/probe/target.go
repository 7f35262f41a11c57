package probe

import (
	"math"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// target is something that a hole may meet: by a disc about a spot or a strip
// about a line.
type target struct {
	name   string // of the part
	spots  []geo.Vec
	lines  [][]geo.Vec
	reach  float64      // metres from spot or line, the hole's radius not included
	meets  float64      // chance of meeting it when over it
	spot   asbuilt.Spot // an end of the line, empty: any of it
	kind   asbuilt.Kind
	report string // as a plan names it: L2, L2.end
}

// targets returns what a name stands for: a part, a kind, or an end of a line.
func (p *planner) targets(seek string) (all []target) {
	id, spot := seek, asbuilt.Spot("")
	for _, s := range []asbuilt.Spot{asbuilt.Start, asbuilt.End} {
		if cut, ok := strings.CutSuffix(seek, "."+string(s)); ok {
			id, spot = cut, s
		}
	}
	for i := range p.loc.Job.Sketch.Parts {
		part := &p.loc.Job.Sketch.Parts[i]
		if part.ID != id && string(part.Kind) != id {
			continue
		}
		if t, ok := p.target(part, spot); ok {
			all = append(all, t)
		}
	}
	return all
}

// target returns a part as a target.
func (p *planner) target(part *asbuilt.Part, spot asbuilt.Spot) (t target, ok bool) {
	t = target{name: part.ID, spot: spot, kind: part.Kind, report: part.ID, meets: lineMeets}
	switch {
	case spot != "":
		t.spots = p.draws.Spots[survey.SpotName{Part: part.ID, Spot: spot}]
		t.reach, t.report = endReach, part.ID+"."+string(spot)
	case part.Kind == asbuilt.Lateral:
		t.lines, t.reach = p.draws.Lines[part.ID], practice.Width(part)/2
	case part.Kind == asbuilt.Header:
		t.lines, t.reach = p.draws.Lines[part.ID], practice.PipeOutside/2
	case part.Kind == asbuilt.Box:
		t.spots = p.draws.Spots[survey.SpotName{Part: part.ID, Spot: asbuilt.Center}]
		t.reach, t.meets = practice.BoxSide(part)/math.Sqrt(math.Pi), boxMeets // the disc of the box's area
	case part.Kind == asbuilt.Tank:
		t.spots = p.draws.Spots[survey.SpotName{Part: part.ID, Spot: asbuilt.Center}]
		t.reach, t.meets = math.Sqrt(practice.TankLength*practice.TankWidth/math.Pi), boxMeets
	case part.Kind == asbuilt.Port:
		t.spots, t.reach = p.draws.Spots[survey.SpotName{Part: part.ID, Spot: asbuilt.Center}], 0.1
	default:
		return t, false
	}
	return t, len(t.spots) == p.draws.N || len(t.lines) == p.draws.N
}

// distance returns how far v lies from the target in draw i, metres.
func (t *target) distance(i int, v geo.Vec) float64 {
	if t.lines == nil {
		return v.Dist(t.spots[i])
	}
	best := math.Inf(1)
	for k := 1; k < len(t.lines[i]); k++ {
		d, _ := geo.SegmentDistance(t.lines[i][k-1], t.lines[i][k], v)
		best = min(best, d)
	}
	return best
}
