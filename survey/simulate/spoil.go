package simulate

import (
	"asfound/asbuilt"
	"asfound/geo"
)

// spoil makes the sheet as a whole wrong.
func (s *Site) spoil(w Wrong) {
	sketch := s.Job.Sketch
	every := func(f func(asbuilt.Position) asbuilt.Position) {
		for i := range sketch.Parts {
			for _, sh := range sketch.Parts[i].Shapes {
				for k, v := range sh.Vertices {
					sh.Vertices[k] = f(v)
				}
			}
		}
	}
	switch w {
	case Mirrored:
		every(func(v asbuilt.Position) asbuilt.Position { return asbuilt.Position{X: -v.X, Y: v.Y} })
	case Quarter, Half:
		if sketch.Up == nil {
			sketch.Up = &asbuilt.Up{Sigma: geo.Degrees(5)}
		}
		by := 180.0
		if w == Quarter {
			by = 90 - 180*float64(s.mess.IntN(2))
		}
		sketch.Up.Bearing = geo.Degrees(sketch.Up.Bearing.Degrees() + by).Bearing()
	case WrongScale:
		sketch.Ratio = [2]float64{2, 0.5}[s.mess.IntN(2)]
	case WrongUnit:
		every(func(v asbuilt.Position) asbuilt.Position { return v.Scale(0.3048) })
	case WrongWall:
		house := sketch.Part("house").Shapes[0].Vertices
		middle := house[0].Lerp(house[2], 0.5)
		by := geo.Degrees(90 - 180*float64(s.mess.IntN(2)))
		for i := range sketch.Parts {
			p := &sketch.Parts[i]
			if p.Kind == asbuilt.Building || p.Kind == asbuilt.Landmark {
				continue
			}
			v := p.Shapes[0].Vertices
			for k := range v {
				v[k] = v[k].Sub(middle).Rotate(by).Add(middle)
			}
		}
	case WrongCorners:
		step := 1 + 2*s.mess.IntN(2)
		var at [4][]asbuilt.Shape
		for i := range at {
			at[i] = sketch.Part(mark(i)).Shapes
		}
		for i := range at {
			sketch.Part(mark(i)).Shapes = at[(i+step)%4]
		}
	case Other:
		for { // with at least as many laterals, so that what was met is on it
			p := build(s.mess)
			if len(p.start) >= len(s.plan.start) {
				s.Job.Sketch, _ = draw(s.mess, p, s.Order.Trust)
				return
			}
		}
	}
}
