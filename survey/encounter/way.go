package encounter

import (
	"math"

	"asfound/geo"
)

// Way is the way along a pipe or trench that is followed.
type Way struct {
	Along  float64 // metres along the line
	Gap    float64 // metres from where the line comes nearest to what is sought
	Toward geo.Vec // unit vector along the line where the way begins; zero where it ends there
}

// Way returns the way along a line in draw i, from where the line passes nearest
// to v to where it comes nearest to w; ok is false for a disc, and where the draw
// has no such line.
func (o *Object) Way(i int, v, w geo.Vec) (y Way, ok bool) {
	from, first, _ := o.station(i, v)
	to, last, end := o.station(i, w)
	if first < 0 || last < 0 || !w.Finite() {
		return y, false
	}
	y.Along, y.Gap = math.Abs(to-from), end.Dist(w)
	switch {
	case math.Abs(to-from) < 1e-6: // it ends here, whatever the last digit says
	case to > from:
		y.Toward = o.pieces[first].u[i]
	default:
		y.Toward = o.pieces[first].u[i].Scale(-1)
	}
	return y, true
}

// station returns how far along the line in draw i the place nearest to v lies,
// metres, on which of its pieces, below 0 where the draw has no such line, and
// that place.
func (o *Object) station(i int, v geo.Vec) (s float64, piece int, at geo.Vec) {
	best, before := math.Inf(1), 0.0
	piece = -1
	for k := range o.pieces {
		p := &o.pieces[k]
		if p.long[i] < 0 {
			continue
		}
		along := min(max(0, p.u[i].Dot(v.Sub(p.a[i]))), p.long[i])
		place := p.a[i].Add(p.u[i].Scale(along))
		if d := place.Dist(v); d < best-1e-9 { // at a vertex both pieces are as near: the first, whatever the last digit says
			best, s, piece, at = d, before+along, k, place
		}
		before += p.long[i]
	}
	return s, piece, at
}
