package main

import (
	"fmt"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
	"asfound/survey/probe"
)

// How a rod errs, by the referee: stabs over a part that feel nothing, stabs
// elsewhere that feel a stone, and metres by which a stab is off its place.
const (
	rodMisses = 0.15
	rodStones = 0.02
	stabOff   = 0.03
)

// stab pushes a rod down, and says whether it feels something hard.
func (g *game) stab(v geo.Vec, deep float64) bool {
	l := g.lot
	over := l.boxDistance(v) == 0 && deep >= l.cover[0]
	for _, line := range l.laterals {
		over = over || onLine(line, v) <= l.width/2 && deep >= l.cover[1]
	}
	for _, line := range l.headers {
		over = over || onLine(line, v) <= pipeReach && deep >= l.cover[2]
	}
	g.stabs++
	g.minutes += tool("rod").Minutes(deep)
	return g.rng.Float64() < rodStones || over && g.rng.Float64() >= rodMisses
}

// onLine returns how far v lies from a line.
func onLine(line []geo.Vec, v geo.Vec) float64 {
	best, _ := geo.SegmentDistance(line[0], line[1], v)
	for i := 2; i < len(line); i++ {
		d, _ := geo.SegmentDistance(line[i-1], line[i], v)
		best = min(best, d)
	}
	return best
}

// tool returns a tool of the table.
func tool(name string) survey.Tool {
	t, _ := survey.ToolNamed(name)
	return t
}

// rods does what a plan says of a rod, and logs it: both ends of the base line staked
// and taped, the other places by station and offset from it.
func (f *fitted) rods(loc *locate.Location, p *probe.Rod) error {
	f.game.grids++
	f.game.minutes += tool("rod").Layout
	var ends [2]geo.Vec
	var names [2]string
	for i, end := range []probe.Proposal{{At: p.From, Ties: p.Ties}, {At: p.To, Ties: p.ToTies}} {
		h, ok := fromPlan(loc, &end)
		if !ok {
			return fmt.Errorf("lot %d: a base line has no two ties", f.site.seed)
		}
		ends[i], names[i] = f.game.setOut(h), f.stake()
		f.tapes(names[i], ends[i], h)
	}
	along := ends[1].Sub(ends[0]).Unit()
	point := func(line, k int) (name string) {
		if line == 0 && k == 0 {
			return names[0]
		}
		if line == 0 && k == p.Each-1 {
			return names[1]
		}
		name = f.stake()
		length := func(n int) *geo.Length { return &geo.Length{Metres: p.Step * float64(n), Unit: geo.Metre} }
		log(&f.job, survey.Reading{Kind: survey.Baseline, From: names[0], To: names[1], Point: name, Value: length(k), Offset: length(line)})
		return name
	}
	depth := &geo.Length{Metres: p.Depth, Unit: geo.Metre}
	for line := range p.Lines {
		felt := make([]bool, p.Each)
		for k := range felt {
			at := ends[0].Add(along.Scale(p.Step * float64(k))).Add(along.Right().Scale(p.Step * float64(line)))
			felt[k] = f.game.stab(at.Add(geo.Vec{X: stabOff * f.rng.NormFloat64(), Y: stabOff * f.rng.NormFloat64()}), p.Depth)
		}
		for k := 0; k < p.Each; { // stabs side by side with the same result are a row
			n := 1
			for k+n < p.Each && felt[k+n] == felt[k] {
				n++
			}
			r := survey.Reading{Kind: survey.Rod, Depth: depth, Target: survey.RodNone}
			if felt[k] {
				r.Target = survey.RodContact
			}
			if n == 1 {
				r.Point = point(line, k)
			} else {
				r.From, r.To, r.Stabs = point(line, k), point(line, k+n-1), n
			}
			log(&f.job, r)
			k += n
		}
	}
	return nil
}

// stake returns the name of a new stake.
func (f *fitted) stake() string {
	f.stakes++
	return fmt.Sprintf("S%d", f.stakes)
}

// follows returns the minutes of following a line for so many metres.
func follows(kind asbuilt.Kind, metres float64) float64 {
	rates := survey.DefaultSettings().Following()
	if kind == asbuilt.Lateral {
		return rates.Minutes(metres, 0)
	}
	return rates.Minutes(0, metres)
}
