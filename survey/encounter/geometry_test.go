package encounter

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
)

// meetsByGrid reports whether any point of a hole, looked at on a grid finer than
// a hundredth of its radius squared, lies in a trench that ends square: the whole
// of what Inside works out by formula.
func meetsByGrid(a, b geo.Vec, half float64, v geo.Vec, r float64) bool {
	const n = 60
	u, long := b.Sub(a).Unit(), b.Dist(a)
	for i := -n; i <= n; i++ {
		for j := -n; j <= n; j++ {
			d := geo.Vec{X: r * float64(i) / n, Y: r * float64(j) / n}
			if d.Norm() > r {
				continue
			}
			w := v.Add(d).Sub(a)
			if s := u.Dot(w); s >= 0 && s <= long && math.Abs(u.Cross(w)) <= half {
				return true
			}
		}
	}
	return false
}

// A hole reaches into a trench where a point of it lies in the trench, and into a
// box where its centre is no farther than both radii. The test leaves out the
// corners of a trench, which a hole reaches round by at most 0.42 of its radius
// more than the formula allows, and what is within a grid's step of the edge.
func TestInsideIsThatAPointOfTheHoleLiesInIt(t *testing.T) {
	const r, half = 0.15, 0.4572
	rng := rand.New(rand.NewPCG(1, 1))
	a, b := geo.Vec{X: 1, Y: 2}, geo.Vec{X: 5, Y: 5}
	trench := Object{Body: Body{Line: true, Reach: half}, Kind: asbuilt.Lateral, pieces: pieces([][]geo.Vec{{a, b}}, 1)}
	u := b.Sub(a).Unit()
	hits, misses := 0, 0
	for range 4000 {
		v := a.Add(u.Scale(-1 + 7*rng.Float64())).Add(u.Right().Scale(2 * (2*rng.Float64() - 1)))
		in, spot := trench.Inside(0, &Hole{At: v, Radius: r}, 1)
		s, off := u.Dot(v.Sub(a)), math.Abs(u.Cross(v.Sub(a)))
		corner := off > half && (s < 0 || s > 5)
		if math.Abs(in) < r/40 || corner {
			continue
		}
		assert.Equal(t, meetsByGrid(a, b, half, v, r), in > 0, "%v: %.3f", v, in)
		if in <= 0 {
			misses++
			continue
		}
		hits++
		want := asbuilt.Spot("")
		switch {
		case s < r:
			want = asbuilt.Start
		case s > 5-r:
			want = asbuilt.End
		}
		assert.Equal(t, want, spot, "%.3f m along", s)
	}
	assert.Greater(t, hits, 400)
	assert.Greater(t, misses, 400)
}

// What a slot meets is what a hole meets somewhere along it.
func TestASlotIsAllItsHoles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, size float64) geo.Vec {
			return geo.Vec{X: rapid.Float64Range(-size, size).Draw(t, name+"x"), Y: rapid.Float64Range(-size, size).Draw(t, name+"y")}
		}
		slot := Hole{At: at("slot", 4), Slot: at("way", 3), Radius: 0.2}
		disc := Object{Body: Body{Reach: 0.34}, spots: []geo.Vec{at("box", 4)}}
		line := Object{Body: Body{Line: true, Reach: 0.45}, Kind: asbuilt.Lateral, pieces: pieces([][]geo.Vec{{at("a", 4), at("b", 4)}}, 1)}
		if slot.Slot.Norm() < 0.1 || line.pieces[0].long[0] < 2 {
			t.Skip()
		}
		best := [2]float64{math.Inf(-1), math.Inf(-1)}
		const n = 400
		for k := range n + 1 {
			h := Hole{At: slot.At.Add(slot.Slot.Scale(float64(k) / n)), Radius: slot.Radius}
			for o, in := range []*Object{&disc, &line} {
				d, _ := in.Inside(0, &h, 20)
				best[o] = max(best[o], d)
			}
		}
		d, _ := disc.Inside(0, &slot, 20)
		// The holes stand length/n apart, so the best of them is at most half of that
		// off the best there is, and never better.
		assert.GreaterOrEqual(t, d, best[0]-1e-9)
		assert.LessOrEqual(t, d, best[0]+slot.Slot.Norm()/(2*n)+1e-9)
		// A line is judged where the slot crosses it or comes nearest to it: never
		// more than the best of its holes, and the same where that is between the ends.
		d, _ = line.Inside(0, &slot, 20)
		assert.LessOrEqual(t, d, best[1]+0.01)
		u, _ := line.Along(0)
		v := nearest(slot.At.Sub(line.pieces[0].a[0]), slot.At.Add(slot.Slot).Sub(line.pieces[0].a[0]), u)
		if s := u.Dot(v); s > 0.65 && s < line.pieces[0].long[0]-0.65 {
			assert.InDelta(t, best[1], d, 2e-2)
		}
	})
}

// The distance that empty holes are weighed by is the least of a fine walk along
// the line, and anything no nearer where it is far.
func TestDistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var at []geo.Vec
		for range 5 {
			at = append(at, geo.Vec{X: rapid.Float64Range(-9, 9).Draw(t, "x"), Y: rapid.Float64Range(-9, 9).Draw(t, "y")})
		}
		line, spot := Places{Vertices: []int{0, 1, 2}}, Places{Centre: 3}
		v, far := at[4], rapid.Float64Range(0.1, 12).Draw(t, "far")
		walk := math.Inf(1)
		for k := range 2 {
			for i := range 2001 {
				walk = min(walk, at[k].Lerp(at[k+1], float64(i)/2000).Dist(v))
			}
		}
		assert.InDelta(t, min(far, walk), line.Distance(at, v, far), 0.01)
		assert.InDelta(t, min(far, at[3].Dist(v)), spot.Distance(at, v, far), 1e-9)
	})
}
