package main

import (
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
)

// deepest is how deep in metres a hole is that ends a line which was lost: it follows
// the line down, and nobody states a depth for it.
const deepest = 1.5

// most is how many holes are dug before a dig is abandoned.
const most = 150

// Odds that a crew notices what a hole cuts. The referee has its own truth and
// does not ask survey/encounter what a hole meets, so that a planner that is
// wrong about it is found out.
const (
	seesBox    = 1.0 // a lid cannot be overlooked in an open hole
	seesTrench = 0.97
	seesPipe   = 0.85
)

// hole is a hole as proposed: by tapes from two landmarks, to the right or left
// of the line from the first to the second, down to a depth.
type hole struct {
	from  [2]int // landmarks
	tape  [2]float64
	right bool
	deep  float64
}

// answer is what a hole met, and where it truly is.
type answer struct {
	at   geo.Vec
	met  asbuilt.Kind // empty: nothing
	spot asbuilt.Spot
	top  float64 // metres to what was met
	part int     // which lateral or header, for the diary alone: players do not know it
	runs geo.Vec // unit vector along the line that was met, the way water flows; zero where none was
}

// game is one dig by one player.
type game struct {
	lot   *lot
	rng   *rand.Rand
	holes []answer
	found bool // the box

	stabs, grids int     // of a rod
	minutes      float64 // by the table of tools
}

func newGame(s *site) *game {
	return &game{lot: &s.lot, rng: rand.New(rand.NewPCG(s.seed, 4))}
}

// over reports whether there is nothing more to dig.
func (g *game) over() bool { return g.found || len(g.holes) >= most }

// dig sets a hole out and opens it.
func (g *game) dig(h hole) answer { return g.open(g.setOut(h), h.deep) }

// open opens a hole where it truly is.
func (g *game) open(v geo.Vec, deep float64) answer {
	a := g.meet(v, deep)
	g.holes = append(g.holes, a)
	if a.met != "" {
		deep = a.top
	}
	g.minutes += tool("shovel").Minutes(min(deep, deepest))
	g.found = g.found || a.met == asbuilt.Box
	return a
}

// setOut swings two tapes from where the landmarks truly are, and opens the
// hole a little beside.
func (g *game) setOut(h hole) geo.Vec {
	a, b := g.lot.corners[h.from[0]], g.lot.corners[h.from[1]]
	ra := max(0, h.tape[0]+0.03*g.rng.NormFloat64())
	rb := max(0, h.tape[1]+0.03*g.rng.NormFloat64())
	return swing(a, b, ra, rb, h.right).Add(geo.Vec{X: 0.05 * g.rng.NormFloat64(), Y: 0.05 * g.rng.NormFloat64()})
}

// swing returns where two tapes meet, or come nearest to meeting.
func swing(a, b geo.Vec, ra, rb float64, right bool) geo.Vec {
	d := a.Dist(b)
	e := b.Sub(a).Unit()
	x := (d*d + ra*ra - rb*rb) / (2 * d)
	h := math.Sqrt(max(0, ra*ra-x*x))
	if !right {
		h = -h
	}
	return a.Add(e.Scale(x)).Add(e.Right().Scale(h))
}

// meet says what a hole at v meets.
func (g *game) meet(v geo.Vec, deep float64) answer {
	l := g.lot
	sees := func(odds, top float64) bool { return g.rng.Float64() < odds && deep >= top }
	if l.boxDistance(v) <= holeReach && sees(seesBox, l.cover[0]) {
		return answer{at: v, met: asbuilt.Box, spot: asbuilt.On, top: l.cover[0]}
	}
	for k, line := range l.laterals {
		if spot, ok := l.cuts(line, v); ok && sees(seesTrench, l.cover[1]) {
			return answer{v, asbuilt.Lateral, spot, l.cover[1], k, course(line, v)}
		}
	}
	for k, line := range l.headers {
		if d, _ := geo.SegmentDistance(line[0], line[1], v); d <= holeReach+pipeReach && sees(seesPipe, l.cover[2]) {
			return answer{v, asbuilt.Header, asbuilt.On, l.cover[2], k, course(line, v)}
		}
	}
	return answer{at: v}
}

// course returns the direction of a line where it passes nearest to v.
func course(line []geo.Vec, v geo.Vec) (along geo.Vec) {
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		if d, _ := geo.SegmentDistance(line[i-1], line[i], v); d < best {
			best, along = d, line[i].Sub(line[i-1]).Unit()
		}
	}
	return along
}

// boxDistance returns how far v lies outside the box.
func (l *lot) boxDistance(v geo.Vec) float64 {
	w := v.Sub(l.box)
	x := max(0, math.Abs(w.Dot(l.boxAxis))-boxSide/2)
	y := max(0, math.Abs(w.Dot(l.boxAxis.Right()))-boxSide/2)
	return math.Hypot(x, y)
}

// cuts reports whether a hole at v cuts the trench along a line, and where: a
// trench ends square, and a hole over its end shows it.
func (l *lot) cuts(line []geo.Vec, v geo.Vec) (spot asbuilt.Spot, ok bool) {
	best, at, u := math.Inf(1), 1, 0.0
	for i := 1; i < len(line); i++ {
		if d, w := geo.SegmentDistance(line[i-1], line[i], v); d < best {
			best, at, u = d, i, w
		}
	}
	station, offset := geo.AlongAcross(line[at-1], line[at], v)
	past := -1.0 // metres beyond an end
	spot = asbuilt.On
	switch long := line[at].Dist(line[at-1]); {
	case at == 1 && station < holeReach:
		past, spot = -station, asbuilt.Start
	case at == len(line)-1 && station > long-holeReach:
		past, spot = station-long, asbuilt.End
	case u > 0 && u < 1:
	default: // at a bend
		offset = best
	}
	return spot, math.Abs(offset) <= l.width/2+holeReach && past <= holeReach
}
