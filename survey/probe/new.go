package probe

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
)

const (
	mostHoles  = 8    // of a plan: a crew thinks again after so many empty ones
	enough     = 0.97 // chance at which a plan ends
	boxMeets   = 0.98 // that a hole over a box meets it; judgement
	lineMeets  = 0.97 // that a hole over a trench meets it; judgement
	endReach   = 0.5  // metres: a hole this near to an end has found it
	digOff     = 0.05 // metres: standard deviation of where a hole is opened, beside its ties
	apart      = 0.25 // metres: nearer to an old hole is the same hole
	stopSigmas = 1.645
)

// planner is a plan in the making.
type planner struct {
	loc     *locate.Location
	draws   *survey.Draws
	sought  []target
	weights []float64 // of the draws, after every empty hole
	keepOut []keepOut
	radius  float64 // of a hole, metres
}

// New plans the digging for the part that the job seeks, from a location and
// draws of it. Where no hole may be proposed the plan is empty and its Remark
// says why.
func New(loc *locate.Location, draws *survey.Draws) (*Plan, error) {
	p := &planner{loc: loc, draws: draws, radius: loc.Job.Settings.Hole.Radius}
	plan := &Plan{Seek: loc.Job.Settings.Seek, Cautions: cautions(loc)}
	p.sought = p.targets(plan.Seek)
	if len(p.sought) == 0 || draws.N == 0 {
		plan.Remark = fmt.Sprintf("The sketch has no %s to look for", plan.Seek)
		return plan, nil
	}
	p.weights = make([]float64, draws.N)
	for i := range p.weights {
		p.weights[i] = 1
	}
	p.log()
	p.keepOut = keepOuts(loc)
	p.fill(plan)
	return plan, nil
}

// fill finds the holes of a plan, each the likeliest once those before it have
// come up empty.
func (p *planner) fill(plan *Plan) {
	left, reached := 1.0, 0.0
	var dug []geo.Vec
	for rank := 1; rank <= mostHoles && reached < enough; rank++ {
		at, chance, ok := p.best(dug)
		if !ok || chance < 1e-3 {
			break
		}
		h := p.propose(at)
		h.Rank, h.Chance = rank, chance
		plan.Holes = append(plan.Holes, h)
		plan.ExpectedHoles += float64(rank) * left * chance
		reached += left * chance
		left *= 1 - chance
		dug = append(dug, at)
		p.empty(at, p.radius, 1)
	}
	n := float64(len(plan.Holes))
	switch {
	case n == 0:
		plan.Remark = fmt.Sprintf("No place where the %s may lie can be dug: all lie within a clearance, under a building, or are dug already. "+
			"A camera with a sonde from the tank outlet, or opening a port, would tell more.", plan.Seek)
		return
	case reached < enough:
		plan.Remark = fmt.Sprintf("The chance that these %d holes meet the %s is %.0f %%. If all come up empty, log them and plan anew; "+
			"a hole on a lateral, a third tape, or a camera with a sonde from the tank outlet tells more than digging on.", len(plan.Holes), plan.Seek, 100*reached)
	}
	plan.ChanceNext = plan.Holes[0].Chance
	// Beyond the plan the search goes on at the rate of its last hole.
	last := max(plan.Holes[len(plan.Holes)-1].Chance, 0.02)
	plan.ExpectedHoles += left * (n + 1/last)
}

// target is something that a hole may meet: by a disc about a spot or a strip
// about a line.
type target struct {
	name   string // of the part
	spots  []geo.Vec
	lines  [][]geo.Vec
	reach  float64 // metres from spot or line, the hole's radius not included
	meets  float64 // chance of meeting it when over it
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
	t = target{name: part.ID, kind: part.Kind, report: part.ID, meets: lineMeets}
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

// log weighs the draws by the holes of the log that met nothing.
func (p *planner) log() {
	for _, h := range p.loc.Holes {
		if h.Met != "" {
			continue
		}
		at := p.draws.Holes[h.Name]
		for _, part := range []asbuilt.Kind{asbuilt.Box, asbuilt.Lateral, asbuilt.Tank} {
			for _, t := range p.targets(string(part)) {
				deep := p.deepEnough(t, h)
				for i := range p.weights {
					v := h.At
					if len(at) == p.draws.N {
						v = at[i]
					}
					if d := t.distance(i, v); d < t.reach+h.Radius {
						p.weights[i] *= 1 - t.meets*deep
					}
				}
			}
		}
	}
}

// deepEnough returns the chance that the top of a target lies above the bottom
// of a hole.
func (p *planner) deepEnough(t target, h locate.Hole) float64 {
	if h.Depth == nil {
		return 0.5
	}
	d, ok := p.loc.DepthAt(t.name, h.At)
	if !ok || !(d.Sigma > 0) {
		return 0.5
	}
	return 0.5 * math.Erfc((d.Mean-*h.Depth)/(d.Sigma*math.Sqrt2))
}

// empty weighs the draws by a hole at v that met nothing to a sufficient depth.
func (p *planner) empty(v geo.Vec, radius, deep float64) {
	for k := range p.sought {
		t := &p.sought[k]
		for i := range p.weights {
			if t.distance(i, v) < t.reach+radius {
				p.weights[i] *= 1 - t.meets*deep
			}
		}
	}
}

// chance returns the weighted share of draws in which a hole at v meets one of
// the targets.
func (p *planner) chance(v geo.Vec, targets []target) float64 {
	met, all := 0.0, 0.0
	for i, w := range p.weights {
		all += w
		miss := 1.0
		for k := range targets {
			t := &targets[k]
			if t.distance(i, v) < t.reach+p.radius {
				miss *= 1 - t.meets
			}
		}
		met += w * (1 - miss)
	}
	if all == 0 {
		return 0
	}
	return met / all
}

// best returns the place with the highest chance of meeting what is sought of
// those that may be dug, and the chance.
func (p *planner) best(dug []geo.Vec) (at geo.Vec, chance float64, ok bool) {
	type cell struct {
		v geo.Vec
		n float64
	}
	// Cells of half the reach, weighed by the draws in them, rank the places;
	// the likeliest few are then judged exactly.
	step := max(0.1, (p.sought[0].reach+p.radius)/2)
	counts := map[[2]int]float64{}
	note := func(v geo.Vec, w float64) {
		counts[[2]int{int(math.Round(v.X / step)), int(math.Round(v.Y / step))}] += w
	}
	for k := range p.sought {
		t := &p.sought[k]
		for i, w := range p.weights {
			if t.lines == nil {
				note(t.spots[i], w)
				continue
			}
			for _, u := range []float64{0.15, 0.3, 0.5, 0.7, 0.85} {
				a, b := t.lines[i][0], t.lines[i][len(t.lines[i])-1]
				note(a.Lerp(b, u), w)
			}
		}
	}
	var cells []cell
	for c, n := range counts {
		near := 0.0
		for dx := -2; dx <= 2; dx++ {
			for dy := -2; dy <= 2; dy++ {
				if dx*dx+dy*dy <= 4 {
					near += counts[[2]int{c[0] + dx, c[1] + dy}]
				}
			}
		}
		if n > 0 {
			cells = append(cells, cell{geo.Vec{X: float64(c[0]) * step, Y: float64(c[1]) * step}, near})
		}
	}
	slices.SortFunc(cells, func(a, b cell) int {
		return cmp.Or(cmp.Compare(b.n, a.n), cmp.Compare(a.v.X, b.v.X), cmp.Compare(a.v.Y, b.v.Y))
	})
	tried := 0
	for _, c := range cells {
		if tried >= 30 {
			break
		}
		if !p.allowed(c.v, dug) {
			continue
		}
		tried++
		if q := p.chance(c.v, p.sought); q > chance {
			at, chance, ok = c.v, q, true
		}
	}
	if !ok {
		return at, 0, false
	}
	for s := step / 2; s > 0.03; s /= 2 { // climb to the top
		for _, d := range []geo.Vec{{X: s}, {X: -s}, {Y: s}, {Y: -s}} {
			if v := at.Add(d); p.allowed(v, dug) {
				if q := p.chance(v, p.sought); q > chance {
					at, chance = v, q
				}
			}
		}
	}
	if v := round(at); p.allowed(v, dug) {
		at = v
	}
	return at, p.chance(at, p.sought), true
}

// round brings a place to whole centimetres, which is what is given out.
func round(v geo.Vec) geo.Vec {
	return geo.Vec{X: math.Round(v.X*100) / 100, Y: math.Round(v.Y*100) / 100}
}
