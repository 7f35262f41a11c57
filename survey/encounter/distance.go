package encounter

import "asfound/geo"

// Places is a part as numbers of places of a draw: its centre, or the vertices
// of its line.
type Places struct {
	Centre   int
	Vertices []int // nil: a disc about Centre
}

// Distance returns how far v lies from the centre or the line of a part, whose
// places are numbers of at, metres; from far on, anything that is no nearer. Past
// an end it is the distance from the end, all round, where Inside has a trench end
// square: the belief has always weighed its holes so, and what that changes has
// not been measured.
func (p *Places) Distance(at []geo.Vec, v geo.Vec, far float64) float64 {
	if p.Vertices == nil {
		d := v.Sub(at[p.Centre])
		if d.Dot(d) >= far*far { // most are far off, and a root costs time
			return far
		}
		return d.Norm()
	}
	best := far
	for k := 1; k < len(p.Vertices); k++ {
		a, b := at[p.Vertices[k-1]], at[p.Vertices[k]]
		along := b.Sub(a)
		// Off the line by more than the best so far, the whole segment is.
		if c := along.Cross(v.Sub(a)); c*c >= best*best*along.Dot(along) {
			continue
		}
		d, _ := geo.SegmentDistance(a, b, v)
		best = min(best, d)
	}
	return best
}
