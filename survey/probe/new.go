package probe

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"asfound/asbuilt"
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
	rim        = 0.08 // metres by which the edge of an old hole may be out either way; judgement
	unlikely   = 0.05 // share of the belief left by empty holes that is a ground for doubt; judgement
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
	if loc == nil || loc.Job == nil || loc.Job.Sketch == nil || draws == nil {
		return nil, errors.New("a plan needs a location of a job and draws of it")
	}
	p := &planner{loc: loc, draws: draws, radius: loc.Job.Settings.Hole.Radius}
	plan := &Plan{Seek: loc.Job.Settings.Seek, Cautions: cautions(loc)}
	if draws.N == 0 {
		plan.Remark = "There are no draws of where the parts may lie to plan from."
		return plan, nil
	}
	p.sought = p.targets(plan.Seek)
	if len(p.sought) == 0 {
		plan.Remark = fmt.Sprintf("The sketch has no %s to look for.", plan.Seek)
		return plan, nil
	}
	var hole string
	p.sought = slices.DeleteFunc(p.sought, func(t target) bool {
		name, met := p.met(t)
		if met {
			hole = name
		}
		return met
	})
	if len(p.sought) == 0 {
		plan.Remark = fmt.Sprintf("Nothing to dig for: the %s has been met, last in hole %s.", plan.Seek, hole)
		return plan, nil
	}
	p.weights = make([]float64, draws.N)
	for i := range p.weights {
		p.weights[i] = 1
	}
	if left := p.log(); left < unlikely {
		plan.Cautions = append(plan.Cautions, fmt.Sprintf("The empty holes were dug where %.0f %% of the belief lay: "+
			"look for a wrong landmark or tape, or a drawing of something else, before digging on.", 100*(1-left)))
	}
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
		p.empty(at)
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

// empty weighs the draws by a hole at v that met nothing.
func (p *planner) empty(v geo.Vec) {
	for k := range p.sought {
		t := &p.sought[k]
		deep := p.shallow(*t, v)
		for i := range p.weights {
			if t.distance(i, v) < t.reach+p.radius {
				p.weights[i] *= 1 - t.meets*deep
			}
		}
	}
}

// chance returns the weighted share of draws in which a hole at v meets one of
// the targets.
func (p *planner) chance(v geo.Vec, targets []target) float64 {
	met, all := 0.0, 0.0
	meets := make([]float64, len(targets))
	for k, t := range targets {
		meets[k] = t.meets * p.shallow(t, v)
	}
	for i, w := range p.weights {
		all += w
		miss := 1.0
		for k := range targets {
			t := &targets[k]
			if t.distance(i, v) < t.reach+p.radius {
				miss *= 1 - meets[k]
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
		if v.Finite() && max(math.Abs(v.X), math.Abs(v.Y)) < asbuilt.MaxCoordinate {
			counts[[2]int{int(math.Round(v.X / step)), int(math.Round(v.Y / step))}] += w
		}
	}
	for k := range p.sought {
		t := &p.sought[k]
		for i, w := range p.weights {
			if t.lines == nil {
				note(t.spots[i], w)
				continue
			}
			stations(t.lines[i], func(v geo.Vec) { note(v, w) })
		}
	}
	// Cells without a draw count too: where the likeliest place is kept out
	// of, a hole beside it may still meet the edge of the part.
	near := make(map[[2]int]float64, 4*len(counts))
	for _, c := range slices.SortedFunc(maps.Keys(counts), func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }) {
		for dx := -2; dx <= 2; dx++ {
			for dy := -2; dy <= 2; dy++ {
				if dx*dx+dy*dy <= 4 {
					near[[2]int{c[0] + dx, c[1] + dy}] += counts[c]
				}
			}
		}
	}
	var cells []cell
	for c, n := range near {
		cells = append(cells, cell{round(geo.Vec{X: float64(c[0]) * step, Y: float64(c[1]) * step}), n})
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
			if v := round(at.Add(d)); p.allowed(v, dug) {
				if q := p.chance(v, p.sought); q > chance {
					at, chance = v, q
				}
			}
		}
	}
	return at, chance, true
}

// stations calls note with places along a line, near enough to each other to
// rank holes by and not at its very ends, which are the least sure of it.
func stations(line []geo.Vec, note func(geo.Vec)) {
	length := 0.0
	for k := 1; k < len(line); k++ {
		length += line[k].Dist(line[k-1])
	}
	const count = 12
	next, run := length/(2*count), 0.0
	for k := 1; k < len(line); k++ {
		d := line[k].Dist(line[k-1])
		for ; d > 0 && next <= run+d; next += length / count {
			note(line[k-1].Lerp(line[k], (next-run)/d))
		}
		run += d
	}
}

// round brings a place to whole centimetres, which is what is given out.
func round(v geo.Vec) geo.Vec {
	return geo.Vec{X: math.Round(v.X*100) / 100, Y: math.Round(v.Y*100) / 100}
}
