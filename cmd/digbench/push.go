package main

import (
	"fmt"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/probe"
)

// The planner with a crew that pushes a cable from the tank, or a camera with a sonde,
// and logs which way a pipe or trench runs.
const (
	cabled = "cable"
	camera = "camera"
)

// What comes of pushing. The referee has its own truth: see seesBox.
const (
	stopsShort  = 0.15 // chance that it stops anywhere on the way
	slack       = 0.04 // at most, of the length of the pipe: what a cable is longer
	sondeOff    = 0.10 // of its depth, per axis and of the depth
	outletFrom  = 1.2  // metres from the middle of the tank to its outlet
	inletBefore = 0.3  // metres before the middle of the box, where its wall is
	openTank    = 60   // minutes
	pushing     = 20   // minutes, a cable or a camera
)

// pushes returns what a crew has to push.
func pushes(player string) []survey.Pushing {
	name := map[string]string{cabled: survey.PushCable, camera: survey.PushSonde}[player]
	if p, ok := survey.PushingNamed(name); ok {
		return []survey.Pushing{p}
	}
	return nil
}

// outlet opens the tank where its pipe leaves it: one hole.
func (g *game) outlet() answer {
	pipe := g.lot.headers[0]
	e := pipe[1].Sub(pipe[0]).Unit()
	a := answer{at: pipe[0].Add(e.Scale(outletFrom)), met: asbuilt.Header, spot: asbuilt.On, top: g.lot.cover[2], runs: e}
	g.holes = append(g.holes, a)
	g.minutes += openTank
	return a
}

// push pushes from an outlet to the box, or until it stops: where it is then, and
// whether that is the box.
func (g *game) push(from answer) (at geo.Vec, there bool) {
	to := g.lot.box.Sub(from.runs.Scale(inletBefore))
	g.minutes += pushing
	if g.rng.Float64() < stopsShort {
		return from.at.Lerp(to, g.rng.Float64()), false
	}
	return to, true
}

// push does what a plan says of pushing, and logs it. With a cable alone a crew does
// not see where it has stopped, and takes it to be the box.
func (f *fitted) push(p *probe.Push) {
	g := f.game
	from := g.outlet()
	near := f.nearest(from.at)
	f.log(from, hole{from: [2]int{near[0], near[1]}, deep: from.top})
	at, there := g.push(from)
	if p.Action == survey.PushCable {
		v := from.at.Dist(at) * (1 + slack*g.rng.Float64())
		log(&f.job, survey.Reading{Kind: survey.Cable, From: p.From, To: "box", Value: &geo.Length{Metres: max(0.1, v), Unit: geo.Metre}})
		return
	}
	deep := from.top + 2*pipeReach
	name := fmt.Sprintf("S%d", len(g.holes))
	over := at.Add(geo.Vec{X: sondeOff * deep * g.rng.NormFloat64(), Y: sondeOff * deep * g.rng.NormFloat64()})
	for _, i := range f.nearest(over)[:3] {
		tape(f.rng, &f.job, mark(i), name, f.site.lot.corners[i], over)
	}
	r := survey.Reading{Kind: survey.Sonde, Point: name, Target: "box", Depth: &geo.Length{Metres: max(0.05, deep*(1+sondeOff*f.rng.NormFloat64())), Unit: geo.Metre}}
	if !there { // which a camera shows
		r.Target = survey.AnyPipe
	}
	log(&f.job, r)
}
