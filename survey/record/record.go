package record

import (
	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/setout"
)

// Record is the corrected as-built of a job. Lengths are metres; places are of
// the field frame.
type Record struct {
	Title, Permit string
	Drawn         string // when the old sketch was drawn, as it says
	Unit          geo.Unit
	North         bool // up in the frame is north

	Parts      []Part // of the system, in the order of the sketch
	Landmarks  []Landmark
	Fill       *float64 // metres of ground added since the old record, nil: the readings do not say
	Rests      Evidence
	Conditions []Condition
	Setbacks   []Setback

	Doubts   []finding.Finding // what must be known before the record is used
	Settled  []finding.Finding // what the fit has settled beyond doubt, such as which trench a hole met
	Doubtful *finding.Finding  // not nil: the record must not be used as it stands, and why

	Method   string            // how it was worked out
	Accuracy []finding.Finding // how accurate it is
	Limits   []finding.Finding // what it is not
}

// Part is one part of the system.
type Part struct {
	Part  string
	Kind  asbuilt.Kind
	Name  string
	State locate.State
	Spots []Spot
	Long  float64 // metres along a lateral or header, else 0
}

// Spot is one spot of a part.
type Spot struct {
	Spot     asbuilt.Spot
	State    locate.State
	At       geo.Vec
	Radius95 float64       // metres: holds it with 95 % relative to the landmarks
	Cover    *locate.Depth // ground of today to crown or lid; nil: not known
	Ties     []Tie         // the two that fix it best, and a third that checks them; none where there are no two landmarks
	Side     setout.Side   // of the first two ties
	Crossing geo.Angle     // at which the first two cross, at most 90°
	Moved    float64       // metres from where the old sketch has it
	Toward   string        // the direction of that, in words
}

// Tie is a new tie: the level distance from a landmark and its standard
// deviation, metres.
type Tie = setout.Tie

// Landmark is a landmark that ties run from.
type Landmark struct {
	ID, Name string
	At       geo.Vec
	Radius95 float64 // metres, relative to the other landmarks
}

// Condition is what was seen of a part.
type Condition struct {
	Part, Note, By string
	Day            string // 2026-05-04, empty: not given
}

// New works out the record of a location.
func New(l *locate.Location) *Record {
	s := l.Job.Settings
	r := &Record{Title: s.Title, Permit: s.Permit, Drawn: l.Job.Sketch.Drawn, Unit: s.Unit,
		North:    l.Frame.Kind == survey.Geodetic || l.Fit.RotationKnown,
		Doubtful: l.Fit.Doubtful, Fill: l.Fill,
	}
	if r.Permit == "" {
		r.Permit = l.Job.Sketch.Permit
	}
	for i := range l.Spots {
		if m := &l.Spots[i]; m.Kind == asbuilt.Landmark {
			r.Landmarks = append(r.Landmarks, Landmark{m.Part, nameOf(l, m.Part), m.At, m.Landmarks95})
		}
	}
	marks := setout.New(l)
	for i := range l.Outlines {
		if o := &l.Outlines[i]; buried(o.Kind) {
			r.Parts = append(r.Parts, r.part(l, o, marks))
		}
	}
	r.Rests = rests(l)
	for _, c := range l.Job.Live() {
		if c.Kind == survey.Condition {
			r.Conditions = append(r.Conditions, Condition{c.Target, c.Note, c.By, day(c.Time)})
		}
	}
	r.Setbacks = setbacks(l)
	r.doubts(l)
	r.method(l)
	return r
}

// Part returns the record of a part, or nil.
func (r *Record) Part(id string) *Part {
	for i := range r.Parts {
		if r.Parts[i].Part == id {
			return &r.Parts[i]
		}
	}
	return nil
}

// Spot returns the record of a spot of the part, or nil.
func (p *Part) Spot(spot asbuilt.Spot) *Spot {
	for i := range p.Spots {
		if p.Spots[i].Spot == spot {
			return &p.Spots[i]
		}
	}
	return nil
}

func buried(k asbuilt.Kind) bool {
	switch k {
	case asbuilt.Tank, asbuilt.Box, asbuilt.Header, asbuilt.Lateral, asbuilt.Port:
		return true
	}
	return false
}

func nameOf(l *locate.Location, id string) string {
	if p := l.Job.Sketch.Part(id); p != nil {
		return p.Name
	}
	return ""
}

// part records one part.
func (r *Record) part(l *locate.Location, o *locate.Outline, marks *setout.Marks) Part {
	p := Part{Part: o.Part, Kind: o.Kind, Name: o.Name, State: o.State}
	if len(o.Now) > 0 && !o.Now[0].Closed {
		p.Long = o.Now[0].Length()
	}
	for _, name := range []asbuilt.Spot{asbuilt.Center, asbuilt.Start, asbuilt.End} {
		s := l.Spot(o.Part, name)
		if s == nil {
			continue
		}
		spot := Spot{Spot: name, State: s.State, At: s.At, Radius95: s.Landmarks95, Cover: cover(l, s), Moved: s.At.Dist(s.Old)}
		spot.Toward = toward(s.Old, s.At, r.North)
		spot.tied(l, s, marks)
		p.Spots = append(p.Spots, spot)
	}
	return p
}

// cover returns the ground of today above the crown of a pipe, or above the
// lid of anything else.
func cover(l *locate.Location, s *locate.Spot) *locate.Depth {
	if s.Kind == asbuilt.Lateral || s.Kind == asbuilt.Header {
		if d, ok := l.DepthTo(s.Part, s.At, survey.Crown); ok {
			return &d
		}
	}
	return s.Depth
}
