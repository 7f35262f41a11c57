package simulate

import (
	"fmt"
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// Site is an invented job and what is true of it, in a frame of its own: X
// east, Y north, metres.
type Site struct {
	Order Order
	Job   *survey.Job
	Truth map[asbuilt.SpotName]geo.Vec
	Holes map[string]geo.Vec
	Met   map[string]string // the true lateral of each hole that met one, by reading id

	Blundered Blundered // zero where none was ordered

	rng     *rand.Rand // of the lot and the crew
	mess    *rand.Rand // of what an order adds on top
	session geo.Vec    // common error of the satellite fixes
	plan    plan
	down    down
}

// Invent returns the site of an order.
func Invent(o Order) *Site {
	r := rand.New(rand.NewPCG(o.Seed, uint64(len(o.Trust))<<8|uint64(len(o.Mix))))
	p := build(r)
	down := bury(rand.New(rand.NewPCG(o.Seed, 3)), &p)
	s := &Site{Order: o, rng: r, mess: rand.New(rand.NewPCG(o.Seed, 2)), plan: p, down: down, Truth: map[asbuilt.SpotName]geo.Vec{},
		Holes: map[string]geo.Vec{}, Met: map[string]string{}}
	settings := survey.DefaultSettings()
	settings.Title = fmt.Sprintf("Invented lot %d", o.Seed)
	if o.Mix == Compass {
		settings.Declination = geo.Degrees(Declination)
	}
	sketch, turned := draw(r, p, o.Trust)
	if o.Up {
		sketch.Up = &asbuilt.Up{Bearing: geo.Radians(turned.Radians() + 5*math.Pi/180*flat(s.mess)).Bearing(), Sigma: geo.Degrees(5)}
	}
	s.Job = &survey.Job{Settings: settings, Sketch: sketch}
	for i, v := range p.corners {
		s.Truth[asbuilt.SpotName{Part: mark(i), Spot: asbuilt.Center}] = v
	}
	s.Truth[asbuilt.SpotName{Part: "tank", Spot: asbuilt.Center}] = p.tank
	s.Truth[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}] = p.box
	for k := range p.start {
		s.Truth[asbuilt.SpotName{Part: lateral(k), Spot: asbuilt.Start}] = p.start[k]
		s.Truth[asbuilt.SpotName{Part: lateral(k), Spot: asbuilt.End}] = p.end[k]
	}
	s.down.record(s.Job.Sketch)
	s.spoil(o.Wrong)
	s.measure()
	s.search()
	s.addBlunder()
	return s
}

func mark(i int) string    { return string(rune('A' + i)) }
func lateral(k int) string { return fmt.Sprintf("L%d", k+1) }
