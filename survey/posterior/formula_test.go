package posterior

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

// How far a draw lies off in standard deviations is the root of vᵀ C⁻¹ v
// (Mahalanobis 1936), the inverse of two by two by hand.
func TestReachesIsMahalanobis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		a, b, r := number("a", 0.1, 5), number("b", 0.1, 5), number("r", -0.95, 0.95)
		c := geo.Cov{XX: a * a, XY: r * a * b, YY: b * b}
		v := geo.Vec{X: number("x", -9, 9), Y: number("y", -9, 9)}
		det := c.XX*c.YY - c.XY*c.XY
		want := math.Sqrt((c.YY*v.X*v.X - 2*c.XY*v.X*v.Y + c.XX*v.Y*v.Y) / det)
		about := geo.Vec{X: 3, Y: -4}
		assert.InDelta(t, want, reaches([]geo.Vec{about.Add(v)}, about, c)[0], 1e-6*(1+want))
	})
}

// The 95 % quantile rests on the draws within a standard error of it and on no
// other: of 1000 on those of rank 950 ± 6.9 (√(1000 · 0.95 · 0.05), binomial). Of
// the numbers 1 … n it is theirs at 95 %.
func TestQuantile95(t *testing.T) {
	v := make([]float64, 1000)
	for i := range v {
		switch {
		case i >= 957:
			v[i] = 1000
		case i >= 943:
			v[i] = 1
		}
	}
	assert.InDelta(t, 1, quantile95(v), 1e-12)
	for _, n := range []int{1, 2, 7, 20, 100, 4000} {
		v := rand.New(rand.NewPCG(1, 1)).Perm(n)
		f := make([]float64, n)
		for i := range v {
			f[i] = float64(v[i] + 1)
		}
		assert.InDelta(t, 0.95*float64(n)+0.5, quantile95(f), 0.55, "of %d", n)
	}
	assert.Zero(t, quantile95(nil))
}

// Square across a bent line, by plane geometry: at its ends square to its ends, at
// a right bend half way between.
func TestAcrossALine(t *testing.T) {
	s := &Strip{At: []geo.Vec{{}, {X: 10}, {X: 10, Y: 5}}}
	for v, want := range []geo.Vec{{Y: -1}, {X: math.Sqrt(0.5), Y: -math.Sqrt(0.5)}, {X: 1}} {
		assert.Less(t, s.across(v).Dist(want), 1e-12, "vertex %d", v)
	}
}

// draw returns roots of n places, of three numbers each.
func draw(t *rapid.T, n int) (root [][2][]float64) {
	for range n {
		var r [2][]float64
		for axis := range r {
			r[axis] = rapid.SliceOfN(rapid.Float64Range(-3, 3), 3, 3).Draw(t, "root")
		}
		root = append(root, r)
	}
	return root
}

// Roots turn and flip with the places: a small displacement comes to lie where
// moving both its ends takes it.
func TestRotate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		by := geo.Motion{Flip: rapid.Bool().Draw(t, "flip"), Turn: geo.Degrees(rapid.Float64Range(-180, 180).Draw(t, "turn")), To: geo.Vec{X: 1, Y: 2}}
		root := draw(t, 2)
		var want []geo.Vec
		for _, r := range root {
			for k := range r[0] {
				want = append(want, by.Move(geo.Vec{X: r[0][k], Y: r[1][k]}).Sub(by.Move(geo.Vec{})))
			}
		}
		rotate(root, by)
		for i, r := range root {
			for k := range r[0] {
				assert.Less(t, want[3*i+k].Dist(geo.Vec{X: r[0][k], Y: r[1][k]}), 1e-9)
			}
		}
	})
}

// Relative to one landmark a place is uncertain as its difference from it is:
// Cov(p) + Cov(q) − Cov(p, q) − Cov(q, p). Relative to two, their mean is fixed
// and so is the direction between them, and whatever turns or shifts all places
// alike is gone (Baarda, S-Transformations and Criterion Matrices, 1981).
func TestTiedTo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		root := draw(t, 3)
		at := []geo.Vec{{X: 1, Y: 2}, {X: 4, Y: 6}, {X: -3, Y: 7}}
		one := tiedTo(root, at, []int{1})
		c := pointCov(one, 0)
		p, q := pointCov(root, 0), pointCov(root, 1)
		assert.InDelta(t, p.XX+q.XX-2*dot(root[0][0], root[1][0]), c.XX, 1e-9)
		assert.InDelta(t, p.YY+q.YY-2*dot(root[0][1], root[1][1]), c.YY, 1e-9)
		assert.InDelta(t, p.XY+q.XY-dot(root[0][0], root[1][1])-dot(root[1][0], root[0][1]), c.XY, 1e-9)
		assert.Equal(t, geo.Cov{}, pointCov(one, 1))

		two := tiedTo(root, at, []int{0, 1})
		// A shift and a small turn of everything, put on top, change nothing.
		moved := make([][2][]float64, len(root))
		shift, turn := geo.Vec{X: rapid.Float64Range(-2, 2).Draw(t, "dx"), Y: rapid.Float64Range(-2, 2).Draw(t, "dy")}, rapid.Float64Range(-1, 1).Draw(t, "turn")
		for i, r := range root {
			for axis := range 2 {
				moved[i][axis] = append([]float64{}, r[axis]...)
			}
			moved[i][0][1] += shift.X - turn*at[i].Y
			moved[i][1][1] += shift.Y + turn*at[i].X
		}
		again := tiedTo(moved, at, []int{0, 1})
		u := at[1].Sub(at[0]).Unit()
		for k := range 3 {
			a, b := geo.Vec{X: two[0][0][k], Y: two[0][1][k]}, geo.Vec{X: two[1][0][k], Y: two[1][1][k]}
			assert.Less(t, a.Add(b).Norm(), 1e-9, "their mean stays")
			assert.InDelta(t, 0, u.Cross(b.Sub(a)), 1e-9, "so does the direction")
			for i := range two {
				for axis := range 2 {
					assert.InDelta(t, two[i][axis][k], again[i][axis][k], 1e-9)
				}
			}
		}
		assert.Equal(t, root, tiedTo(root, at, nil))
	})
}

// What no reading tells of lies, where there is no landmark to judge it from, as
// far off as anything that is drawn about the house: of a sheet drawn roughly
// √(0.205² + 0.8²/4) m, and 4 % of the way to the nearest landmark besides, half
// of it in each axis.
func TestSurroundingSigma(t *testing.T) {
	p := taped(t)
	assert.InDelta(t, math.Sqrt(0.205*0.205+0.16+0.0004*25), p.SurroundingSigma(asbuilt.Position{X: 3, Y: -4}), 1e-9, "5 m from corner A")
	// The same place on a sheet of 2 m a unit is 10 m from A.
	p.drawing().Scale = 2
	assert.InDelta(t, math.Sqrt(0.205*0.205+0.16+0.0004*100), p.SurroundingSigma(asbuilt.Position{X: 3, Y: -4}), 1e-9)
	p.mix.datum = nil
	assert.InDelta(t, math.Sqrt(0.205*0.205+0.16), p.SurroundingSigma(asbuilt.Position{X: 3, Y: -4}), 1e-9)
}

// unnamed is a job in which a hole met a lateral, no one knows which.
func unnamed(t *testing.T) *fit.Fit {
	j := testsite.Taped()
	j.Readings = append(j.Readings, survey.Reading{ID: "x", Kind: survey.Found, Point: "H3", Target: "lateral"})
	for from, d := range map[string]float64{"A": 17.03, "B": 12.55} {
		j.Readings = append(j.Readings, survey.Reading{ID: "x" + from, Kind: survey.Tape, From: from, To: "H3", Value: testsite.Metres(d)})
	}
	f, err := fit.Solve(t.Context(), j)
	require.NoError(t, err)
	require.Greater(t, len(f.Components()), 1)
	return f
}

// All members are laid on the main one, which stays where its fit has it.
func TestMembersLieOnTheMainOne(t *testing.T) {
	f := unnamed(t)
	m := Of(f).mix
	main := f.Components()[0].Places()
	for i, v := range m.members[0].at {
		assert.Equal(t, main[i], v)
	}
	for _, one := range m.members {
		assert.Less(t, geo.Mean(fit.Pick(one.at, m.datum)).Dist(geo.Mean(fit.Pick(main, m.datum))), 1e-6, "the middle of their landmarks is one")
	}
}

// Before evidence no explanation goes unheard, however small its weight: a fifth
// of the draws is dealt evenly to all. Their weights make up for it.
func TestNoExplanationGoesUnheard(t *testing.T) {
	m := Of(unnamed(t)).mix
	k := len(m.explanations)
	require.Greater(t, k, 1)
	item := func([]geo.Vec, []float64) float64 { return -0.1 }
	const n = 2000
	s := must.Have(newPopulation(t.Context(), m, n, Evidence{Items: []Item{item}}))
	heard, weight, want := make([]int, k), make([]float64, k), make([]float64, k)
	all := 0.0
	for _, d := range s.each {
		heard[m.members[d.member].explanation]++
		weight[m.members[d.member].explanation] += d.weight
		all += d.weight
	}
	for i := range m.members {
		want[m.members[i].explanation] += m.weight(i)
	}
	for i := range heard {
		assert.GreaterOrEqual(t, heard[i], n/5/k-len(m.members))
		assert.InDelta(t, want[i], weight[i]/all, 0.01)
	}
}

// In every draw a hole lies where its tapes have it: their lengths, from the
// corners of the same draw, are on average those that were read.
func TestHolesOfDraws(t *testing.T) {
	d := must.Have(taped(t).Draws(t.Context(), 1000))
	for _, tt := range []struct {
		from, to string
		read     float64
	}{{"A", "H1", 17}, {"B", "H1", 9.78}, {"A", "H2", 26.77}, {"B", "H2", 16.86}} {
		mean := 0.0
		for i := range d.N {
			mean += d.Spots[asbuilt.SpotName{Part: tt.from, Spot: asbuilt.Center}][i].Dist(d.Holes[tt.to][i]) / float64(d.N)
		}
		assert.InDelta(t, tt.read, mean, 0.05, "%s to %s", tt.from, tt.to)
	}
}
