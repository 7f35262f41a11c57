package simulate

import (
	"fmt"
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// Mix is what a crew measures with.
type Mix string

// The mixes of readings.
const (
	Tapes Mix = "tapes" // every hole by two or three tapes from the house; no north, no satellite
	Fixes Mix = "fixes" // landmarks and holes by a phone's satellite fixes
	Both  Mix = "both"  // landmarks by fixes, holes by tapes, written ties to the box
)

// Mixes lists the mixes.
var Mixes = []Mix{Tapes, Fixes, Both}

// Order is what site to invent.
type Order struct {
	Seed  uint64
	Trust asbuilt.Trust
	Mix   Mix
	Holes int // that met a lateral somewhere, or an end
}

// lot is where invented lots lie: an open place of the South Pacific, so that
// no map shows a house there.
const lotLon, lotLat = -123.4, -48.9

// Invent returns the site of an order.
func Invent(o Order) Site {
	r := rand.New(rand.NewPCG(o.Seed, uint64(len(o.Trust))<<8|uint64(len(o.Mix))))
	p := build(r)
	s := Site{rng: r, plan: p, Truth: map[survey.SpotName]geo.Vec{}, Holes: map[string]geo.Vec{}}
	settings := survey.DefaultSettings()
	settings.Title = fmt.Sprintf("Invented lot %d", o.Seed)
	s.Job = &survey.Job{Settings: settings, Sketch: draw(r, p, o.Trust)}
	for i, v := range p.corners {
		s.Truth[survey.SpotName{Part: string(rune('A' + i)), Spot: asbuilt.Center}] = v
	}
	s.Truth[survey.SpotName{Part: "tank", Spot: asbuilt.Center}] = p.tank
	s.Truth[survey.SpotName{Part: "box", Spot: asbuilt.Center}] = p.box
	for k := range p.start {
		id := fmt.Sprintf("L%d", k+1)
		s.Truth[survey.SpotName{Part: id, Spot: asbuilt.Start}] = p.start[k]
		s.Truth[survey.SpotName{Part: id, Spot: asbuilt.End}] = p.end[k]
	}
	s.measure(o)
	return s
}

// tape logs a tape with the error of a crew.
func (s *Site) tape(from, to string, a, b geo.Vec) {
	d := a.Dist(b)
	d += math.Hypot(0.03, 0.002*d) * flat(s.rng)
	s.log(survey.Reading{Kind: survey.Tape, From: from, To: to, Value: &geo.Length{Metres: math.Max(0.01, d), Unit: geo.Metre}})
}

// fix logs a satellite fix: half of its error is that of the session.
func (s *Site) fix(name string, at, session geo.Vec, accuracy float64) {
	own := 0.75 * accuracy / 2.4477
	v := at.Add(session).Add(geo.Vec{X: own * s.rng.NormFloat64(), Y: own * s.rng.NormFloat64()})
	origin, _ := geodesy.New(lotLon, lotLat)
	s.log(survey.Reading{Kind: survey.GNSS, Point: name, Position: geodesy.NewSite(origin, 0).LonLat(v), Accuracy: accuracy})
}

func (s *Site) log(r survey.Reading) {
	r.ID = fmt.Sprintf("r%d", len(s.Job.Readings)+2)
	s.Job.Readings = append(s.Job.Readings, r)
}

// measure logs what the crew of an order measures.
func (s *Site) measure(o Order) {
	r, p := s.rng, s.plan
	accuracy := 4.0
	common := 0.65 * accuracy / 2.4477
	session := geo.Vec{X: common * r.NormFloat64(), Y: common * r.NormFloat64()}
	mark := func(i int) string { return string(rune('A' + i)) }
	if o.Mix != Tapes {
		for i := range p.corners {
			s.fix(mark(i), p.corners[i], session, accuracy)
		}
	}
	if o.Mix == Both {
		box := s.Job.Sketch.Part("box")
		for i := range 2 {
			d := p.box.Dist(p.corners[i])
			d += math.Hypot(0.15, 0.01*d) * flat(r)
			box.Ties = append(box.Ties, asbuilt.Tie{At: asbuilt.Center, From: mark(i), Distance: geo.Length{Metres: d, Unit: geo.Metre}})
		}
	}
	if o.Mix == Tapes {
		s.tape("A", "B", p.corners[0], p.corners[1])
		s.tape("A", "C", p.corners[0], p.corners[2])
		s.tape("B", "D", p.corners[1], p.corners[3])
	}
	for h := range o.Holes {
		name := fmt.Sprintf("H%d", h+1)
		k := r.IntN(len(p.start))
		u, spot := between(r, 0.1, 0.9), asbuilt.On
		off := (2*r.Float64() - 1) * (p.width/2 + 0.15)
		if h%4 == 3 {
			u, spot, off = 1, asbuilt.End, 0.12*flat(r)
		}
		at := p.start[k].Lerp(p.end[k], u).Add(p.right.Scale(off))
		s.Holes[name] = at
		s.log(survey.Reading{Kind: survey.Found, Point: name, Target: fmt.Sprintf("L%d", k+1), Spot: spot})
		if o.Mix == Fixes {
			s.fix(name, at, session, accuracy)
			continue
		}
		s.tape("A", name, p.corners[0], at)
		s.tape("B", name, p.corners[1], at)
		if h%2 == 0 {
			s.tape("D", name, p.corners[3], at)
		}
	}
}
