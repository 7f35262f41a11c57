package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// mix is what is measured before the first hole.
type mix string

// The mixes. Holes are taped from landmarks in all of them.
const (
	tapes mix = "tapes" // the landmarks taped to one another, nothing else
	fixes mix = "fixes" // the landmarks by a phone's satellite fixes
	ties  mix = "ties"  // as tapes, and two ties to the box on the sheet
)

var mixes = []mix{tapes, fixes, ties}

// site is a lot, and what is known of it before the first hole.
type site struct {
	seed  uint64
	trust asbuilt.Trust
	mix   mix
	lot   lot
	job   *survey.Job
}

// lotLon and lotLat are an open place of the South Pacific, where no map shows
// a house.
const lotLon, lotLat = -123.4, -48.9

func ground() *geodesy.Site {
	origin, _ := geodesy.New(lotLon, lotLat)
	return geodesy.NewSite(origin, 0)
}

// invent returns a site. The lots of one seed are the same in all qualities
// and mixes.
func invent(seed uint64, trust asbuilt.Trust, m mix) *site {
	return inventBy(seed, trust, m, hands[trust])
}

// inventBy is invent with a sheet that is drawn by another hand than its trust says.
func inventBy(seed uint64, trust asbuilt.Trust, m mix, h hand) *site {
	s := &site{seed: seed, trust: trust, mix: m, lot: build(rand.New(rand.NewPCG(seed, 1)))}
	s.job = &survey.Job{Settings: survey.DefaultSettings(), Sketch: draw(rand.New(rand.NewPCG(seed, 2)), &s.lot, trust, h)}
	r := rand.New(rand.NewPCG(seed, 3))
	c := s.lot.corners
	if m == fixes {
		const accuracy = 4.0 // metres at 95 %, as a phone states it
		one := accuracy / geo.Within95
		session := geo.Vec{X: 0.65 * one * r.NormFloat64(), Y: 0.65 * one * r.NormFloat64()}
		for i, v := range c {
			v = v.Add(session).Add(geo.Vec{X: 0.75 * one * r.NormFloat64(), Y: 0.75 * one * r.NormFloat64()})
			log(s.job, survey.Reading{Kind: survey.GNSS, Point: mark(i), Position: ground().LonLat(v), Accuracy: accuracy})
		}
		return s
	}
	for i := range c {
		for k := range i {
			tape(r, s.job, mark(k), mark(i), c[k], c[i])
		}
	}
	if m == ties { // from the two corners towards the field, in half feet
		box := s.job.Sketch.Part("box")
		for i := range 2 {
			d := s.lot.box.Dist(c[i])
			d = math.Round((d+math.Hypot(0.1, 0.01*d)*heavy(r))/foot*2) / 2 * foot
			box.Ties = append(box.Ties, asbuilt.Tie{At: asbuilt.Center, From: mark(i), Distance: geo.Length{Metres: d, Unit: geo.Foot}})
		}
	}
	return s
}

// log adds a reading to a job.
func log(job *survey.Job, r survey.Reading) {
	r.ID = fmt.Sprintf("r%d", len(job.Readings)+2)
	job.Readings = append(job.Readings, r)
}

// tape logs a tape from a to b, with a crew's error.
func tape(r *rand.Rand, job *survey.Job, from, to string, a, b geo.Vec) {
	d := a.Dist(b)
	d = max(0.01, d+math.Hypot(0.025, 0.002*d)*heavy(r))
	log(job, survey.Reading{Kind: survey.Tape, From: from, To: to, Value: &geo.Length{Metres: d, Unit: geo.Metre}})
}
