package simulate

import (
	"fmt"
	"math"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
)

// search digs the empty holes of an order: where a crew that lays the sketch
// on the house would look for the box and the laterals. They truly met nothing:
// nothing lies there, or it lies deeper than the hole went.
func (s *Site) search() {
	lay := s.laid()
	sketch := s.Job.Sketch
	for h := 0; h < s.Order.Empty; {
		at, spread := geo.Vec{}, 0.8
		if box, ok := sketch.Part("box").Point(asbuilt.Center); ok && s.mess.Float64() < 0.6 {
			at = lay(box)
		} else {
			p := sketch.Part(lateral(s.mess.IntN(len(s.plan.start))))
			v := p.Shapes[0].Vertices
			at, spread = lay(v[0].Lerp(v[1], s.mess.Float64())), 0.6
		}
		at = at.Add(geo.Vec{X: spread * s.mess.NormFloat64(), Y: spread * s.mess.NormFloat64()})
		deep := between(s.mess, 0.3, 1.2)
		if s.meets(at, deep) {
			continue
		}
		name := fmt.Sprintf("E%d", h+1)
		s.Holes[name] = at
		s.log(survey.Reading{Kind: survey.Empty, Point: name, Depth: s.write(deep)})
		s.locate(name, h, s.session)
		h++
	}
}

// meets reports whether a hole of the usual radius meets a lateral or the box.
func (s *Site) meets(at geo.Vec, deep float64) bool {
	radius := s.Job.Settings.Hole.Radius
	p := s.plan
	for k := range p.start {
		d, u := geo.SegmentDistance(p.start[k], p.end[k], at)
		if d < p.width/2+radius && deep > s.down.depth(lateral(k), u)-gravelTop {
			return true
		}
	}
	x, y := at.Sub(p.box).Dot(p.along), at.Sub(p.box).Dot(p.right)
	const half = 0.3 // of a box
	return math.Hypot(max(0, math.Abs(x)-half), max(0, math.Abs(y)-half)) < radius && deep > s.down.depth("box", 0)
}

// laid returns where the crew takes drawn places to lie: the sketch laid on the
// corners of the house by shift, turn and scale (least squares in complex
// numbers; Ghilani & Wolf, Adjustment Computations, ch. 18).
func (s *Site) laid() func(asbuilt.Position) geo.Vec {
	var from, to []complex128
	var fc, tc complex128
	for i, v := range s.plan.corners {
		d, _ := s.Job.Sketch.Part(mark(i)).Point(asbuilt.Center)
		from, to = append(from, complex(d.X, d.Y)), append(to, complex(v.X, v.Y))
		fc, tc = fc+from[i]/4, tc+to[i]/4
	}
	var a complex128
	norm := 0.0
	for i := range from {
		w := from[i] - fc
		c := complex(real(w), -imag(w))
		a += c * (to[i] - tc)
		norm += real(c * w)
	}
	a /= complex(norm, 0)
	return func(v asbuilt.Position) geo.Vec {
		z := tc + a*(complex(v.X, v.Y)-fc)
		return geo.Vec{X: real(z), Y: imag(z)}
	}
}
