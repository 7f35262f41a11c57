package posterior

import (
	"math"

	"asfound/geo"
)

// Region is the belief about one point: where it is expected, and the 95 %
// regions about it. Frame coordinates, metres.
type Region struct {
	At       geo.Vec
	Cov      geo.Cov     // as a position in the frame, m²
	Ellipse  geo.Ellipse // 95 %
	Radius95 float64

	Relative      geo.Cov     // relative to the landmarks, m²
	FromLandmarks geo.Ellipse // 95 %
	Landmarks95   float64

	abs, rel cloud // what the regions were made from: in the frame, and relative to the landmarks
}

// cloud is what is believed of a point about where it is expected.
type cloud interface {
	// content returns the probability within the ellipse, of the shape of the
	// covariance, that is centred on the mean and passes through off.
	content(off geo.Vec) float64
}

// Content returns how much of the belief lies within the smallest ellipse of
// the shape of Ellipse, about At, that reaches the place at (frame coordinates,
// metres): a probability, 0.95 on Ellipse itself. Where beliefs are honest, the
// content up to the truth is uniform from 0 to 1 over many sites, so that
// regions of any content are judged at once (probability integral transform;
// Dawid, J. R. Statist. Soc. A 147, 1984).
func (r Region) Content(at geo.Vec) float64 { return r.abs.content(at.Sub(r.At)) }

// ContentFromLandmarks returns the same probability for FromLandmarks: at is
// where the place lies once the true landmarks are laid on those believed.
func (r Region) ContentFromLandmarks(at geo.Vec) float64 { return r.rel.content(at.Sub(r.At)) }

// LogDensityFromLandmarks returns the natural logarithm of the density of the belief
// at a place, per square metre, in the axes of ContentFromLandmarks: what the
// logarithmic score of a forecast is made of (Gneiting & Raftery, J. Am. Statist.
// Assoc. 102, 2007). ok is false for a belief that is a sample.
func (r Region) LogDensityFromLandmarks(at geo.Vec) (v float64, ok bool) {
	all, ok := r.rel.(lobes)
	sum := 0.0
	for _, l := range all {
		d := at.Sub(r.At).Sub(l.off)
		det := l.cov.XX*l.cov.YY - l.cov.XY*l.cov.XY
		q := (l.cov.YY*d.X*d.X - 2*l.cov.XY*d.X*d.Y + l.cov.XX*d.Y*d.Y) / det
		sum += l.weight / (2 * math.Pi * math.Sqrt(det)) * math.Exp(-q/2)
	}
	return math.Log(max(sum, math.SmallestNonzeroFloat64)), ok
}

// Strip is a line of the drawing as believed, and the strip about it that
// holds the whole line with 95 % relative to the landmarks.
type Strip struct {
	At   []geo.Vec // of each vertex, frame coordinates
	Half []float64 // metres to either side at each vertex, the part's own width not included
}

// across returns the direction square to the line at vertex v.
func (s *Strip) across(v int) geo.Vec {
	dir := geo.Vec{}
	if v > 0 {
		dir = dir.Add(s.At[v].Sub(s.At[v-1]).Unit())
	}
	if v+1 < len(s.At) {
		dir = dir.Add(s.At[v+1].Sub(s.At[v]).Unit())
	}
	return dir.Unit().Right()
}
