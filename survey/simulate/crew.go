package simulate

import (
	"fmt"
	"math"
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
)

// lot is where invented lots lie: an open place of the South Pacific, so that
// no map shows a house there.
const lotLon, lotLat = -123.4, -48.9

// write returns a length as the crew of a site writes it: one crew in two in
// feet and tenths, the others in feet and whole inches.
func (s *Site) write(metres float64) *geo.Length {
	text := geo.FormatLength(metres, geo.Foot)
	if s.tenths() {
		text = strconv.FormatFloat(metres/0.3048, 'f', 1, 64)
	}
	return s.read(text)
}

// tenths reports whether the crew of a site has a tape in tenths of a foot.
func (s *Site) tenths() bool { return s.Order.Seed%2 == 0 }

// read returns the length that a crew's text means.
func (s *Site) read(text string) *geo.Length {
	l, err := geo.ParseLength(text, geo.Foot)
	if err != nil {
		return &geo.Length{}
	}
	return &l
}

// tape logs a tape with the error of a crew.
func (s *Site) tape(from, to string) { s.taped(from, to, s.place(from).Dist(s.place(to))) }

func (s *Site) taped(from, to string, d float64) {
	d += math.Hypot(0.03, 0.002*d) * flat(s.rng)
	s.log(survey.Reading{Kind: survey.Tape, From: from, To: to, Value: s.write(math.Max(0.1, d))})
}

// place returns where a corner or a hole truly lies.
func (s *Site) place(name string) geo.Vec {
	if v, ok := s.Holes[name]; ok {
		return v
	}
	return s.Truth[asbuilt.SpotName{Part: name, Spot: asbuilt.Center}]
}

// fix logs a satellite fix: half of its error is that of the session.
func (s *Site) fix(name string, session geo.Vec) {
	own := 0.75 * accuracy / geo.Within95
	v := s.place(name).Add(session).Add(geo.Vec{X: own * s.rng.NormFloat64(), Y: own * s.rng.NormFloat64()})
	origin, _ := geodesy.New(lotLon, lotLat)
	s.log(survey.Reading{Kind: survey.GNSS, Point: name, Position: geodesy.NewSite(origin, 0).LonLat(v), Accuracy: accuracy})
}

// accuracy is what the crew's phone says of its fixes: metres, 95 %.
const accuracy = 4.0

// station logs a hole by its station along and offset from the wall A to B: a
// right angle judged by eye.
func (s *Site) station(name string) {
	along, across := geo.AlongAcross(s.place("A"), s.place("B"), s.place(name))
	along += math.Hypot(math.Hypot(0.03, 0.002*along), math.Pi/180*across) * flat(s.rng)
	across += math.Hypot(math.Hypot(0.03, 0.002*across), 0.3*math.Pi/180*along) * flat(s.rng)
	s.log(survey.Reading{Kind: survey.Baseline, From: "A", To: "B", Point: name, Value: s.write(along), Offset: s.write(across)})
}

// bearing logs the true bearing of a hole from a corner.
func (s *Site) bearing(from, name string) {
	b := geo.Radians(geo.Bearing(s.place(from), s.place(name)).Radians() + 2*math.Pi/180*flat(s.rng))
	s.log(survey.Reading{Kind: survey.Bearing, From: from, To: name, Azimuth: b.Bearing(), North: survey.TrueNorth})
}

func (s *Site) log(r survey.Reading) string {
	r.ID = fmt.Sprintf("r%d", len(s.Job.Readings)+2)
	s.Job.Readings = append(s.Job.Readings, r)
	return r.ID
}

// measure logs what the crew measures: the house, and holes that met something.
func (s *Site) measure() {
	r, p, o := s.rng, s.plan, s.Order
	common := 0.65 * accuracy / geo.Within95
	session := geo.Vec{X: common * r.NormFloat64(), Y: common * r.NormFloat64()}
	if o.Mix == Fixes || o.Mix == Both || o.Mix == Compass {
		for i := range p.corners {
			s.fix(mark(i), session)
		}
	}
	switch o.Mix {
	case Both:
		box := s.Job.Sketch.Part("box")
		for i := range 2 {
			d := p.box.Dist(p.corners[i])
			d += math.Hypot(0.15, 0.01*d) * flat(r)
			if box != nil {
				box.Ties = append(box.Ties, asbuilt.Tie{At: asbuilt.Center, From: mark(i), Distance: *s.read(geo.FormatLength(d, geo.Foot))})
			}
		}
	case Tapes, Offsets:
		s.tape("A", "B")
		s.tape("A", "C")
		s.tape("B", "D")
	case Braced:
		for i := range p.corners {
			for j := range i {
				s.tape(mark(j), mark(i))
			}
		}
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
		found := survey.Reading{Kind: survey.Found, Point: name, Target: lateral(k), Spot: spot}
		if h < o.Unknown {
			found.Target = string(asbuilt.Lateral)
		}
		if o.Depths {
			d := s.down.depth(lateral(k), u) + s.down.surface(at) - s.down.surface(p.start[k].Lerp(p.end[k], u))
			found.Depth, found.Feature = s.write(math.Max(0.1, d+0.02*flat(s.mess))), survey.Crown
		}
		s.Met[s.log(found)] = lateral(k)
		s.locate(name, h, session)
		if o.Depths && h%2 == 1 {
			s.log(survey.Reading{Kind: survey.Level, Point: name, Value: s.write(s.down.surface(at) + 0.02*flat(s.mess))})
		}
	}
	s.session = session
}

// locate logs where hole number h lies.
func (s *Site) locate(name string, h int, session geo.Vec) {
	switch s.Order.Mix {
	case Fixes:
		s.fix(name, session)
	case Offsets:
		s.station(name)
	case Compass:
		s.tape("A", name)
		s.bearing("A", name)
		s.tape("B", name)
	case Braced:
		for i := range s.plan.corners {
			s.tape(mark(i), name)
		}
	default:
		s.tape("A", name)
		s.tape("B", name)
		if h%2 == 0 {
			s.tape("D", name)
		}
	}
}
