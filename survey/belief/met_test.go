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
	"asfound/testdata/must"
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

// off returns the middle of a part as it truly lies about where it is believed,
// the frames being laid on one another by the corners of the house.
func (d *dug) off(l *locate.Location, part string) geo.Vec {
	lies := func(id string) geo.Vec { return d.Truth[asbuilt.SpotName{Part: id, Spot: asbuilt.Center}] }
	a, b := lies("A"), lies("B")
	p, q := l.Spot("A", asbuilt.Center).At, l.Spot("B", asbuilt.Center).At
	along, across := geo.AlongAcross(a, b, lies(part))
	e := q.Sub(p).Unit()
	return p.Lerp(q, 0.5).Add(e.Scale(along - a.Dist(b)/2)).Add(e.Right().Scale(across)).Sub(l.Spot(part, asbuilt.Center).At)
}

// middle is where the middle of the box is believed.
func middle(t require.TestingT, d *dug) *locate.Spot {
	return where(t, d.job).Spot("box", asbuilt.Center)
}

// A box met at one hole, on sheets of every trust: every fit can be trusted, the
// 95 % regions hold its middle as often as they say within three standard
// errors, and they are not much larger than the box: where the sheet does not
// say which corner lies open, half the diagonal of the box, the hole, and what the
// tapes add.
func TestBoxMetIsWhereItWasMet(t *testing.T) {
	trusts := []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale}
	const lots = 30
	for _, spot := range []asbuilt.Spot{asbuilt.On, asbuilt.Edge, asbuilt.Corner, asbuilt.Center} {
		inside := 0.0
		for _, trust := range trusts {
			off, within, in := 0.0, 0.0, 0
			for seed := range uint64(lots) {
				d := newDug(seed+1, trust, 0)
				d.met("X", spot)
				solved, err := fit.Solve(t.Context(), d.job)
				require.NoError(t, err)
				require.Nil(t, solved.Doubtful, "%s, %s, lot %d", spot, trust, seed+1)
				l, err := locate.Locate(t.Context(), d.job, solved)
				require.NoError(t, err)
				s := l.Spot("box", asbuilt.Center)
				require.Equal(t, locate.Seen, s.State)
				far := d.off(l, "box").Norm()
				off, within = off+far/lots, within+s.Landmarks95/lots
				if far < s.Landmarks95 {
					in++
				}
			}
			inside += float64(in)
			t.Logf("%s, %s: off %.2f m, within %.2f m, inside %d of %d", spot, trust, off, within, in, lots)
			assert.Less(t, within, 0.8, "%s, %s: half the diagonal of the box is 0.42 m, the hole 0.15 m", spot, trust)
		}
		n := float64(lots * len(trusts))
		assert.Greater(t, inside/n, 0.95-3*math.Sqrt(0.95*0.05/n), "%s", spot)
	}
}

// Holes at the box, one or two: where its middle is believed, against weighing
// very many draws of the belief before by how dense such holes are, all sides,
// all corners and all turns of the box gone through step by step.
func TestBoxMetAgainstBruteForce(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spots []asbuilt.Spot
		at    [][2]float64 // of the holes, in halves of the side
	}{
		{"on", []asbuilt.Spot{asbuilt.On}, [][2]float64{{0.9, 0.3}}},
		{"an edge", []asbuilt.Spot{asbuilt.Edge}, [][2]float64{{1, 0.3}}},
		{"a corner", []asbuilt.Spot{asbuilt.Corner}, [][2]float64{{1, 1}}},
		{"two edges", []asbuilt.Spot{asbuilt.Edge, asbuilt.Edge}, [][2]float64{{1, 0}, {0.2, 1}}},
		{"an edge and a corner", []asbuilt.Spot{asbuilt.Edge, asbuilt.Corner}, [][2]float64{{1, -0.2}, {-1, 1}}},
	} {
		before := newDug(4, asbuilt.ToScale, 4)
		after := newDug(4, asbuilt.ToScale, 4)
		names := []string{"X", "Y"}[:len(tt.spots)]
		for i, name := range names {
			v := before.on(tt.at[i][0], tt.at[i][1])
			before.hole(name, v, tt.spots[i])
			after.hole(name, v, tt.spots[i])
			// Only the tapes are read before.
			before.job.Readings = before.job.Readings[:len(before.job.Readings)-1]
		}
		draws := must.Have(where(t, before.job).Posterior.Draws(t.Context(), 80000))
		var mean, square geo.Vec
		sum := 0.0
		for i, b := range draws.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}] {
			w := 0.0
			const turns = 18
			for k := range turns {
				sin, cos := math.Sincos(math.Pi / 2 * float64(k) / turns)
				one := 1.0
				for h, name := range names {
					off := draws.Holes[name][i].Sub(b)
					one *= dense(tt.spots[h], cos*off.X+sin*off.Y, cos*off.Y-sin*off.X)
				}
				w += one
			}
			b = b.Sub(draws.Holes["X"][i])
			sum, mean = sum+w, mean.Add(b.Scale(w))
			square = square.Add(geo.Vec{X: b.X * b.X, Y: b.Y * b.Y}.Scale(w))
		}
		mean, square = mean.Scale(1/sum), square.Scale(1/sum)
		spread := math.Sqrt(square.X + square.Y - mean.Dot(mean))

		d := must.Have(where(t, after.job).Posterior.Draws(t.Context(), 4000))
		var gotMean geo.Vec
		got := 0.0
		box := d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		for i, b := range box {
			b = b.Sub(d.Holes["X"][i])
			gotMean, got = gotMean.Add(b.Scale(1/float64(len(box)))), got+b.Dot(b)/float64(len(box))
		}
		got = math.Sqrt(got - gotMean.Dot(gotMean))
		t.Logf("%s: %v ± %.3f, want %v ± %.3f", tt.name, gotMean, got, mean, spread)
		assert.InDelta(t, 0, gotMean.Sub(mean).Norm(), 0.08*spread, tt.name)
		assert.InEpsilon(t, spread, got, 0.08, tt.name)
	}
}

// dense is how dense it is that a hole lies at x, y from the middle of a box,
// along its sides, but for a factor: the side is not known to 0.05 m, the crew
// sees it to 0.08 m, and what it strikes to 0.046 m.
func dense(spot asbuilt.Spot, x, y float64) (sum float64) {
	const half, steps = side / 2, 24
	soft := math.Hypot(0.05, 0.08)
	about := func(a, b float64) float64 { return math.Exp(-((x-a)*(x-a) + (y-b)*(y-b)) / (2 * soft * soft)) }
	switch spot {
	case asbuilt.Corner:
		return about(half, half) + about(half, -half) + about(-half, half) + about(-half, -half)
	case asbuilt.Edge:
		for k := range steps {
			u := side * ((float64(k)+0.5)/steps - 0.5)
			sum += about(u, half) + about(u, -half) + about(half, u) + about(-half, u)
		}
		return sum
	}
	x, y = math.Abs(x), math.Abs(y)
	past := math.Hypot(max(0, x-half), max(0, y-half)) + min(0, max(x, y)-half)
	return math.Erfc((past-0.15)/math.Hypot(0.05, 0.046)/math.Sqrt2) / 2
}

// The order of the log changes nothing, and a hole withdrawn leaves what was
// before, to the last digit.
func TestBoxMetOrderAndVoid(t *testing.T) {
	d := newDug(3, asbuilt.Roughly, 3)
	d.met("X", asbuilt.Edge)
	one := *middle(t, d)
	d.met("Y", asbuilt.On)
	two := *middle(t, d)
	assert.NotEqual(t, one, two)
	for range 3 {
		d.rng.Shuffle(len(d.job.Readings), func(i, k int) {
			r := d.job.Readings
			r[i], r[k] = r[k], r[i]
		})
		assert.Equal(t, two, *middle(t, d))
	}
	for _, id := range []string{"Y", "YA", "YB", "YC"} {
		d.job.Readings = append(d.job.Readings, survey.Reading{ID: "v" + id, Kind: survey.Void, Target: id})
	}
	assert.Equal(t, one, *middle(t, d))
}

// A second reading at another place of the box narrows on average, and the
// region still holds the box as often as it says within three standard errors.
func TestSecondHoleNarrows(t *testing.T) {
	const lots = 20
	for _, second := range []asbuilt.Spot{asbuilt.On, asbuilt.Edge, asbuilt.Corner} {
		before, after, in := 0.0, 0.0, 0.0
		for seed := range uint64(lots) {
			d := newDug(seed+1, asbuilt.Roughly, 0)
			d.met("X", asbuilt.Edge)
			before += middle(t, d).Landmarks95 / lots
			d.met("Y", second)
			l := where(t, d.job)
			s := l.Spot("box", asbuilt.Center)
			after += s.Landmarks95 / lots
			if d.off(l, "box").Norm() < s.Landmarks95 {
				in++
			}
		}
		t.Logf("an edge, then %s: within %.2f m, then %.2f m, inside %g of %d", second, before, after, in, lots)
		assert.Less(t, after, before)
		assert.Greater(t, in/lots, 0.95-3*math.Sqrt(0.95*0.05/lots), "%s", second)
	}
}

// A tank met, turned any way: it is no square. The regions hold its middle as
// often as they say within three standard errors.
func TestTankMet(t *testing.T) {
	const lots, long, wide = 15, 2.7, 1.6
	for _, spot := range []asbuilt.Spot{asbuilt.On, asbuilt.Edge, asbuilt.Corner} {
		in, within := 0.0, 0.0
		for seed := range uint64(lots) {
			d := newDug(seed+1, asbuilt.Roughly, 0)
			x, y := long*(d.rng.Float64()-0.5), wide*(d.rng.Float64()-0.5)
			if spot == asbuilt.Corner || spot == asbuilt.Edge && d.rng.Float64() < wide/(long+wide) {
				x = math.Copysign(long/2, x)
			}
			if spot == asbuilt.Corner || spot == asbuilt.Edge && math.Abs(x) < long/2 {
				y = math.Copysign(wide/2, y)
			}
			tank := d.Truth[asbuilt.SpotName{Part: "tank", Spot: asbuilt.Center}]
			d.hole("X", tank.Add(d.e.Scale(x)).Add(d.e.Right().Scale(y)), spot)
			d.job.Readings[len(d.job.Readings)-1].Target = "tank"
			l := where(t, d.job)
			require.Nil(t, l.Fit.Doubtful)
			s := l.Spot("tank", asbuilt.Center)
			within += s.Landmarks95 / lots
			if d.off(l, "tank").Norm() < s.Landmarks95 {
				in++
			}
		}
		t.Logf("tank, %s: within %.2f m, inside %g of %d", spot, within, in, lots)
		assert.Greater(t, in/lots, 0.95-3*math.Sqrt(0.95*0.05/lots), "%s", spot)
		assert.Less(t, within, 1.8, "half the diagonal of the tank is 1.57 m")
	}
}

// An empty hole beside a box that was met, past its corners, does not drive it
// away.
func TestEmptyHoleBesideTheBox(t *testing.T) {
	const lots = 20
	in := 0.0
	for seed := range uint64(lots) {
		d := newDug(seed+1, asbuilt.Roughly, 0)
		d.met("X", asbuilt.On)
		sin, cos := math.Sincos(2 * math.Pi * d.rng.Float64())
		d.hole("E", d.box.Add(geo.Vec{X: cos, Y: sin}.Scale(0.75)), "")
		d.job.Readings[len(d.job.Readings)-1] = survey.Reading{ID: "E", Kind: survey.Empty, Point: "E", Depth: metres(2)}
		l := where(t, d.job)
		if d.off(l, "box").Norm() < l.Spot("box", asbuilt.Center).Landmarks95 {
			in++
		}
	}
	assert.Greater(t, in/lots, 0.95-3*math.Sqrt(0.95*0.05/lots))
}
