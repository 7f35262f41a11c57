package observe

import (
	"math"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/drawing"
)

var foundContactSigmas = []survey.Default{
	{Reading: "found on a box or tank", Sigma: "anywhere over its usual plan and the hole", Source: "geometry"},
	{Reading: "found an edge or corner", Sigma: "0.08 m", Source: survey.Judged},
}

// onSigma is how far the outline of a hole or a part may be out where a hole
// met it anywhere: uniform within ± 0.08 m, common practice, no published source.
const onSigma = 0.046

// Contact is a hole that met a box or tank somewhere on it, at an edge or at a
// corner, nobody saying which. The part may be turned any way: boxes are not set
// square to anything, and small ones are drawn as points.
//
// Where the middle of the part lies about such a hole is no Gaussian. In the fit
// stands one with the same second moment, which is never narrower than what is
// known; Density puts it right afterwards.
type Contact struct {
	Part       string  // that was met
	Long, Wide float64 // metres: sides of the part in plan
	Sigma      float64 // metres per axis: of the Gaussian of the fit

	spot  asbuilt.Spot
	grown float64 // metres: radius of the hole
	soft  float64 // metres: standard deviation of where its outline lies about the hole
}

// newContact returns the contact of a reading with a part; ok is false where
// the reading says more, so that a Gaussian about the middle is all there is.
func newContact(r *survey.Reading, part *asbuilt.Part, radius float64) (k Contact, ok bool) {
	k = Contact{Part: part.ID, spot: r.Spot}
	if part.Kind != asbuilt.Box && part.Kind != asbuilt.Tank || r.Spot == asbuilt.Center {
		return k, false
	}
	var out float64
	k.Long, k.Wide, out = drawing.Plan(part)
	var square float64 // mean of the squared distance from the middle
	switch r.Spot {
	case asbuilt.Edge:
		square = (k.Long*k.Long*(k.Long+3*k.Wide) + k.Wide*k.Wide*(k.Wide+3*k.Long)) / (12 * (k.Long + k.Wide))
		k.soft = math.Hypot(out, edgeSigma)
	case asbuilt.Corner:
		square = (k.Long*k.Long + k.Wide*k.Wide) / 4
		k.soft = math.Hypot(out, edgeSigma)
	default:
		if r.Sigma != nil { // the crew says how far the middle may be
			return k, false
		}
		k.spot, k.grown, k.soft = asbuilt.On, radius, math.Hypot(out, onSigma)
		square = k.polar() / k.area()
	}
	if r.Sigma != nil {
		k.soft = math.Hypot(out, r.Sigma.Metres)
	}
	k.Sigma = math.Sqrt(square/2 + k.soft*k.soft)
	return k, true
}

// area returns the area of the plan grown by the hole, m² (Steiner).
func (k *Contact) area() float64 {
	r := k.grown
	return k.Long*k.Wide + 2*r*(k.Long+k.Wide) + math.Pi*r*r
}

// polar returns the polar second moment of the plan grown by the hole about its
// middle, m⁴: the plan, a strip along each side, a quarter of a disc at each
// corner.
func (k *Contact) polar() float64 {
	a, b, r := k.Long, k.Wide, k.grown
	strip := func(long, half float64) float64 {
		return 2 * (long*(math.Pow(half+r, 3)-math.Pow(half, 3))/3 + r*long*long*long/12)
	}
	return a*b*(a*a+b*b)/12 + strip(a, b/2) + strip(b, a/2) +
		math.Pi*r*r*(a*a+b*b)/4 + 4*(a+b)*r*r*r/3 + math.Pi*math.Pow(r, 4)/2
}

// Density returns how dense it is that the hole lies so far from the middle of
// the part, along its long side and across, per m².
func (k *Contact) Density(along, across float64) float64 {
	x, y := math.Abs(along), math.Abs(across)
	a, b, s := k.Long/2, k.Wide/2, k.soft
	switch k.spot {
	case asbuilt.Corner:
		// Four Gaussians: each coordinate is about one side or the other.
		return 0.25 * (normal(x-a, s) + normal(x+a, s)) * (normal(y-b, s) + normal(y+b, s))
	case asbuilt.Edge:
		// A uniform place along all four sides, and a Gaussian about that.
		return ((normal(y-b, s)+normal(y+b, s))*between(x, a, s) + (normal(x-a, s)+normal(x+a, s))*between(y, b, s)) / (2 * (k.Long + k.Wide))
	}
	// The plan and a strip along each side, blurred; and a Gaussian of the same
	// area, middle and spread for the quarter of a disc at each corner.
	r := k.grown
	cross := between(x, a+r, s)*between(y, b, s) + between(x, a, s)*(between(y, b+r, s)-between(y, b, s))
	in := 4 * r / (3 * math.Pi)
	s = math.Hypot(s, r*math.Sqrt(0.25-16/(9*math.Pi*math.Pi)))
	round := (normal(x-a-in, s) + normal(x+a+in, s)) * (normal(y-b-in, s) + normal(y+b+in, s)) * math.Pi * r * r / 4
	return (cross + round) / k.area()
}

// Gaussian returns the density of the fit at a squared distance from the middle,
// per m².
func (k *Contact) Gaussian(square float64) float64 {
	return math.Exp(-square/(2*k.Sigma*k.Sigma)) / (2 * math.Pi * k.Sigma * k.Sigma)
}

// Most returns the largest ratio of the density to that of the fit, at any
// place.
func (k *Contact) Most() (most float64) {
	step := k.soft / 3
	for x := 0.0; x < k.Long/2+k.grown+3*k.soft; x += step {
		for y := 0.0; y < k.Wide/2+k.grown+3*k.soft; y += step {
			most = max(most, k.Density(x, y)/k.Gaussian(x*x+y*y))
		}
	}
	return 1.05 * most // between the steps
}

// Turns returns in how many steps a quarter turn of the part must be taken, so
// that no corner moves by more than its outline is known to.
func (k *Contact) Turns() int {
	return min(90, int(math.Ceil(math.Pi/4*math.Hypot(k.Long, k.Wide)/k.soft)))
}

// normal returns the density of a normal error of standard deviation s.
func normal(x, s float64) float64 {
	return math.Exp(-x*x/(2*s*s)) / (s * math.Sqrt(2*math.Pi))
}

// cumulative returns the standard normal distribution function.
func cumulative(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// between returns the chance that a place x off by a normal error of standard
// deviation s lies within ± half.
func between(x, half, s float64) float64 {
	return cumulative((x+half)/s) - cumulative((x-half)/s)
}

// Contact returns the contact of a reading with the part that its hole met, by
// the id that met returns; ok is false for any other reading.
func (l *Log) Contact(r *survey.Reading, met func(reading string) string) (k Contact, ok bool) {
	kind := l.kindOf(r)
	i, named := l.Point(r.Point)
	if r.Kind != survey.Found || kind != asbuilt.Box && kind != asbuilt.Tank || !named {
		return Contact{}, false
	}
	p := l.Job.Sketch.Part(met(r.ID))
	if p == nil {
		return Contact{}, false
	}
	return newContact(r, p, l.Points[i].Radius)
}
