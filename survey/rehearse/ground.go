package rehearse

import (
	"math"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/setout"
)

// Chances of noticing what a hole lies over, and how sharp its rim is.
// Judgement, as in the plan.
const (
	boxMeets  = 0.98
	lineMeets = 0.97
	pipeMeets = 0.80
	digOff    = 0.05  // metres: standard deviation of where a hole is opened, beside its ties
	endReach  = 0.5   // metres: a hole this near to an end that is sought has found it
	stray     = 0.003 // chance of any answer whatever is believed: a belief must be able to be wrong
)

// thing is something that a hole may meet, as every draw has it.
type thing struct {
	kind   asbuilt.Kind
	sought bool
	reach  float64 // metres from spot or line, the hole's radius not included
	meets  float64 // chance of noticing it in a hole over it that goes deep enough, times that it does
	spots  []geo.Vec
	lines  [][]geo.Vec
}

// ground is the site that is rehearsed on.
type ground struct {
	loc    *locate.Location
	things []thing // what is sought first
	outs   []geo.Outline
	margin []float64 // metres that a hole's middle keeps from each of outs
	tool   survey.Tool
	stop   float64 // metres: usual depth of an empty hole
	rim    float64 // metres by which the rim of a hole may lie off, either way
}

// newGround returns the site of draws for holes set out as one at first is.
func newGround(loc *locate.Location, d *posterior.Draws, first geo.Vec) *ground {
	g := &ground{loc: loc}
	f, ok := setout.New(loc).Fix(first)
	if !ok {
		f, _ = setout.BySatellite(loc, first)
	}
	// A straight ramp this wide has the slope of the normal distribution
	// function at its middle, within a third.
	g.rim = 1.7 * max(0.05, math.Hypot(f.Sigma(), digOff))
	g.tool = loc.Job.Settings.Crew()[0]
	for _, t := range loc.Job.Settings.Crew() {
		if t.Opens && (!g.tool.Opens || t.Minutes(1) < g.tool.Minutes(1)) {
			g.tool = t
		}
	}
	id, spot := loc.Job.Settings.Seek, asbuilt.Spot("")
	for _, s := range []asbuilt.Spot{asbuilt.Start, asbuilt.End} {
		if cut, ok := strings.CutSuffix(id, "."+string(s)); ok {
			id, spot = cut, s
		}
	}
	var others []thing
	for i := range loc.Job.Sketch.Parts {
		p := &loc.Job.Sketch.Parts[i]
		if p.ID == id || string(p.Kind) == id {
			if t, ok := g.thing(p, spot, d); ok {
				t.sought = true
				g.things = append(g.things, t)
				if spot == "" {
					continue
				}
			}
		}
		if t, ok := g.thing(p, "", d); ok {
			others = append(others, t)
		}
	}
	g.things = append(g.things, others...)
	g.keepOuts()
	return g
}

// thing returns a part, or an end of it, as a thing.
func (g *ground) thing(p *asbuilt.Part, spot asbuilt.Spot, d *posterior.Draws) (t thing, ok bool) {
	t = thing{kind: p.Kind, meets: lineMeets}
	spots := func(s asbuilt.Spot) []geo.Vec { return d.Spots[asbuilt.SpotName{Part: p.ID, Spot: s}] }
	switch {
	case spot != "":
		t.spots, t.reach = spots(spot), endReach
	case p.Kind == asbuilt.Lateral:
		t.lines, t.reach = d.Lines[p.ID], practice.Width(p)/2
	case p.Kind == asbuilt.Header:
		t.lines, t.reach, t.meets = d.Lines[p.ID], practice.PipeOutside/2, pipeMeets
	case p.Kind == asbuilt.Box:
		t.spots, t.reach, t.meets = spots(asbuilt.Center), practice.BoxSide(p)/math.Sqrt(math.Pi), boxMeets
	case p.Kind == asbuilt.Tank:
		t.spots, t.meets = spots(asbuilt.Center), boxMeets
		t.reach = math.Sqrt(practice.TankLength * practice.TankWidth / math.Pi)
	default:
		return t, false
	}
	if len(t.spots) != d.N && len(t.lines) != d.N {
		return t, false
	}
	t.meets *= g.tool.Notices * g.deep(p, t)
	return t, true
}

// deep returns the chance that a hole for a part goes deep enough for it, and
// notes how deep that is.
func (g *ground) deep(p *asbuilt.Part, t thing) float64 {
	v := geo.Vec{}
	switch {
	case len(t.spots) > 0:
		v = t.spots[0]
	case len(t.lines) > 0 && len(t.lines[0]) > 0:
		v = t.lines[0][0]
	}
	d, ok := g.loc.DepthAt(p.ID, v)
	if !ok || !(d.Sigma > 0) {
		return 1
	}
	stop := d.Mean + 1.645*d.Sigma
	for _, limit := range []float64{g.tool.Limit, g.loc.Job.Settings.Hole.DepthLimit} {
		if limit > 0 {
			stop = min(stop, limit)
		}
	}
	if g.stop == 0 || t.kind == asbuilt.Box {
		g.stop = max(0.1, stop)
	}
	return 0.5 * math.Erfc((d.Mean-stop)/(d.Sigma*math.Sqrt2))
}

// keepOuts notes where nobody digs.
func (g *ground) keepOuts() {
	for i := range g.loc.Outlines {
		o := &g.loc.Outlines[i]
		margin := g.tool.Radius
		switch o.Kind {
		case asbuilt.Utility, asbuilt.NoDig:
			margin += o.Clearance + 3*math.Hypot(0.1, o.Sigma)
		case asbuilt.Building, asbuilt.Well:
		default:
			continue
		}
		for _, s := range o.Now {
			g.outs = append(g.outs, geo.Outline{Vertices: s.Vertices, Closed: s.Form == asbuilt.Polygon})
			g.margin = append(g.margin, margin)
		}
	}
}

// allowed reports whether a hole may be dug at v.
func (g *ground) allowed(v geo.Vec) bool {
	if !v.Finite() || max(math.Abs(v.X), math.Abs(v.Y)) > asbuilt.MaxCoordinate {
		return false
	}
	for i := range g.outs {
		if d := g.outs[i].Distance(v); d == 0 || !(d >= g.margin[i]) {
			return false
		}
	}
	return true
}

// What a hole may come upon, in the order in which it is asked.
const (
	sought = iota
	trench
	start
	end
	header
	other
	none
	answers
)

var metOf = map[string]int{"sought": sought, "trench": trench, "start": start, "end": end, "header": header, "other": other, "empty": none}

// chances returns the chance of each answer of a hole of radius r metres at v
// in draw i.
func (g *ground) chances(i int, v geo.Vec, r float64) (c [answers]float64) {
	left := 1.0
	for k := range g.things {
		t := &g.things[k]
		in, met := t.inside(i, v, r, g.rim)
		if in <= -g.rim {
			continue
		}
		if t.sought {
			met = sought
		}
		p := left * t.meets * min(1, 0.5+in/(2*g.rim))
		c[met] += p
		left -= p
	}
	c[none] += left
	return c
}

// inside returns by how many metres a hole at v reaches into the thing, below
// −rim where it misses, and what the crew would call it.
func (t *thing) inside(i int, v geo.Vec, r, rim float64) (in float64, met int) {
	reach := t.reach + r
	if t.lines == nil {
		return reach - v.Dist(t.spots[i]), other
	}
	in = -rim - 1
	line := t.lines[i]
	met = trench
	if t.kind == asbuilt.Header {
		met = header
	}
	for k := 1; k < len(line); k++ {
		a, b := line[k-1], line[k]
		u := b.Sub(a)
		long := u.Norm()
		if long == 0 {
			continue
		}
		w := v.Sub(a)
		off := reach - math.Abs(u.Cross(w))/long
		if off <= -rim || off <= in {
			continue
		}
		s := u.Dot(w) / long
		d := min(off, s+r, long-s+r)
		if d <= in {
			continue
		}
		in = d
		if t.kind == asbuilt.Lateral {
			switch {
			case k == len(line)-1 && long-s < r:
				met = end
			case k == 1 && s < r:
				met = start
			default:
				met = trench
			}
		}
	}
	return in, met
}

// place returns a place of the thing in draw i: its spot, or the share u of
// the way along its line.
func (t *thing) place(i int, u float64) geo.Vec {
	if t.lines == nil {
		return t.spots[i]
	}
	line := t.lines[i]
	if len(line) == 0 {
		return geo.Vec{X: math.NaN()}
	}
	all := 0.0
	for k := 1; k < len(line); k++ {
		all += line[k].Dist(line[k-1])
	}
	s := u * all
	for k := 1; k < len(line); k++ {
		d := line[k].Dist(line[k-1])
		if d > 0 && s <= d {
			return line[k-1].Lerp(line[k], s/d)
		}
		s -= d
	}
	return line[len(line)-1]
}
