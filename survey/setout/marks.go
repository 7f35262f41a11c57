package setout

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/locate"
)

// How a place is set out. The reach is that of a 100-ft tape; the rest is
// judgement, no published source.
const (
	reach    = 30.48 // metres of tape held in one go
	tooNear  = 0.5   // metres: a tape so short fixes no direction
	flattest = 5.0   // degrees: two tapes that cross at less fix nothing
	minApart = 0.6   // metres by which a third tape must tell two crossings apart
	wallSlip = 0.15  // metres by which a wall may lie off its drawing: a tape along it is clear
	corner   = 0.6   // metres by which a corner may, along the tape
)

// Flat is the angle in degrees below which two tapes cross badly enough for a
// caution: at 30° an error of the tapes counts 2.8 times (√2/sin of the angle).
const Flat = 30.0

// FixSigma is the standard deviation in metres per axis of a place set out by
// a phone's satellite fix: 4.9 m at 95 % under open sky (GPS.gov, from memory).
const FixSigma = 2.0

// TapeSigma returns the standard deviation in metres of a distance of d metres
// taped in the field: 0.1 ft in 50 ft held level by two people. Common
// practice, no published source.
func TapeSigma(d float64) float64 { return math.Hypot(0.03, 0.002*d) }

// Step returns what a stated tape distance is rounded to, in metres: a
// centimetre, or an inch.
func Step(u geo.Unit) float64 {
	if u == geo.Metre {
		return 0.01
	}
	return 0.0254
}

// mark is a landmark to tape from.
type mark struct {
	id  string
	at  geo.Vec
	cov geo.Cov // relative to the landmarks together, m²
}

// Marks are the landmarks of a site, and the buildings that stand in the way
// of their tapes.
type Marks struct {
	marks  []mark
	houses []geo.Outline
	step   float64 // metres that a printed tape is rounded to
}

// New returns the landmarks of a location.
func New(l *locate.Location) *Marks {
	m := &Marks{step: Step(l.Job.Settings.Unit)}
	for i := range l.Spots {
		if s := &l.Spots[i]; s.Kind == asbuilt.Landmark && s.At.Finite() {
			m.marks = append(m.marks, mark{s.Part, s.At, covariance(s.FromLandmarks)})
		}
	}
	for i := range l.Outlines {
		if o := &l.Outlines[i]; o.Kind == asbuilt.Building {
			for _, house := range o.Now {
				if house.Closed && len(house.Vertices) > 2 {
					m.houses = append(m.houses, house)
				}
			}
		}
	}
	return m
}

// covariance returns the covariance in m² of a point with the given 95 %
// ellipse.
func covariance(e geo.Ellipse) geo.Cov {
	s, c := math.Sincos(e.Bearing.Radians())
	a, b := e.SemiMajor/geo.Within95, e.SemiMinor/geo.Within95
	return geo.Outer(geo.Vec{X: s, Y: c}).Scale(a * a).Add(geo.Outer(geo.Vec{X: c, Y: -s}).Scale(b * b))
}

// BySatellite returns how a place is set out where tapes cannot: by a phone,
// where the frame is tied to the earth, to the standard deviation FixSigma.
func BySatellite(l *locate.Location, at geo.Vec) (f Fix, ok bool) {
	return Fix{At: at, Cov: geo.Cov{XX: FixSigma * FixSigma, YY: FixSigma * FixSigma}}, l.Frame.Kind == survey.Geodetic
}

// sees reports whether a tape from one place to another runs clear of
// buildings. A tape along a wall is clear, though the drawing may have it
// somewhat within.
func (m *Marks) sees(from, to geo.Vec) bool {
	for _, h := range m.houses {
		if through(h, from, to) {
			return false
		}
	}
	return true
}

// through reports whether the straight way from a to b runs deeper than
// wallSlip within the walls of a closed outline, and does not merely cut a
// corner of it.
func through(h geo.Outline, a, b geo.Vec) bool {
	cuts := []float64{0, 1}
	d := b.Sub(a)
	p := h.Vertices[len(h.Vertices)-1]
	for _, q := range h.Vertices {
		e := q.Sub(p)
		if det := d.Cross(e); det != 0 {
			u, v := p.Sub(a).Cross(e)/det, p.Sub(a).Cross(d)/det
			if u > 0 && u < 1 && v >= 0 && v <= 1 {
				cuts = append(cuts, u)
			}
		}
		p = q
	}
	slices.Sort(cuts)
	long := d.Norm()
	for i := 1; i < len(cuts); i++ {
		if long*(cuts[i]-cuts[i-1]) < corner {
			continue
		}
		for _, w := range []float64{0.2, 0.5, 0.8} {
			if v := a.Lerp(b, cuts[i-1]+w*(cuts[i]-cuts[i-1])); h.Contains(v) && wall(h, v) > wallSlip {
				return true
			}
		}
	}
	return false
}

// wall returns the distance in metres from a place to the nearest wall.
func wall(h geo.Outline, v geo.Vec) float64 {
	least := math.Inf(1)
	p := h.Vertices[len(h.Vertices)-1]
	for _, q := range h.Vertices {
		d, _ := geo.SegmentDistance(p, q, v)
		least = min(least, d)
		p = q
	}
	return least
}
