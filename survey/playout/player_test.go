package playout

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/depth"
	"asfound/survey/encounter"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
	"asfound/testdata/must"
)

// spade takes 10 minutes and 5 a metre, and overlooks nothing.
var spade = survey.Tool{Name: "spade", Radius: 0.15, Start: 10, PerMetre: 5, Notices: 1, Opens: true}

// riser is a top that stands out of the ground, so that any hole shows it.
var riser = depth.Depth{Mean: -2, Sigma: 0.2}

// field is a site whose parts lie at the given places in its draws: what is
// sought first. Nothing is in the way, and no hole is too shallow for any of them.
func field(n int, sought int, parts []asbuilt.Part, d posterior.Draws) *encounter.Site {
	d.N = n
	s := &encounter.Site{N: n, Tools: []survey.Tool{spade}, Follow: survey.DefaultSettings().Following(), Ground: encounter.NewGround(nil, nil, false),
		Depth: func(string, geo.Vec) (depth.Depth, bool) { return riser, true }}
	s.Ground.SetOut = func(geo.Vec) encounter.Stake { return encounter.Stake{Sigma: 0.02} }
	for i := range parts {
		o, ok := encounter.NewObject(&parts[i], "", &d)
		if !ok {
			panic(parts[i].ID)
		}
		o.Sought, o.Notices = i < sought, 1
		s.Objects = append(s.Objects, o)
	}
	return s
}

// boxes is a field on which only a box lies.
func boxes(at []geo.Vec) *encounter.Site {
	return field(len(at), 1, []asbuilt.Part{testsite.Box("box", 0.6, 0, 0)},
		posterior.Draws{Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: at}})
}

// apart returns draws of a box that lies at one of several places 5 m apart: in
// each three draws one after another at the place that turn has, of which a play
// takes the first for the truth and believes the others.
func apart(draws int, turn ...int) (at []geo.Vec) {
	for i := range draws {
		k := turn[i/3%len(turn)]
		at = append(at, geo.Vec{X: 5 * float64(k%8), Y: 5 * float64(k/8)})
	}
	return at
}

// count returns 0 … n−1.
func count(n int) (all []int) {
	for i := range n {
		all = append(all, i)
	}
	return all
}

// before is a plan's only hole, where nothing can be.
func before() *Step {
	return &Step{Hole: encounter.Hole{At: geo.Vec{X: -50}, Tool: &spade, Radius: 0.15, Sigma: 0.02}}
}

// A box that lies at one of three places as likely takes (3 + 1)/2 holes, each
// place being found by as many plays; with 4/7, 2/7 and 1/7, the likeliest first,
// 4/7 + 4/7 + 3/7. Source: Stone, Theory of Optimal Search (1975), ch. 4, as for
// HolesToSearch.
func TestPlaysAreTheSearch(t *testing.T) {
	for _, tt := range []struct {
		turn  []int
		mean  float64
		count []int
	}{
		{count(3), 2, []int{70, 70, 70}},
		{[]int{0, 1, 0, 2, 0, 1, 0}, 11. / 7, []int{120, 60, 30}},
	} {
		holes, done := 0, 0.0
		r, err := Play(t.Context(), boxes(apart(2520, tt.turn...)), before(),
			Options{Plays: 210, Watch: func(encounter.Hole) { holes++ }, Rest: func(share float64) bool {
				assert.Greater(t, share, done)
				done = share
				return true
			}})
		require.NoError(t, err)
		assert.Equal(t, 210, r.Found)
		assert.Equal(t, 4, holes, "a plan's hole that meets nothing, and one for each place")
		assert.InDelta(t, 1, done, 1e-12)
		assert.InDelta(t, 1+tt.mean, r.Mean(), 1e-9)
		assert.Equal(t, append([]int{0}, tt.count...), r.Count)
		require.Len(t, r.Minutes, 210)
		// An empty hole goes down to where the top lies above with 95 %, the plan's
		// to no depth, and the last to 0.8 of that.
		stop := encounter.StopDepth(riser)
		for i, n := range r.Holes {
			assert.InDelta(t, 10+(n-2)*(10+5*stop)+10+5*practice.MetDepth*stop, r.Minutes[i], 1e-9)
		}
	}
}

// A plan is followed as far as it goes: to the place that it names first, after
// nothing to the one that it names next. Who says so leaves off.
func TestPlaysFollowThePlan(t *testing.T) {
	hole := func(x float64) encounter.Hole {
		return encounter.Hole{At: geo.Vec{X: x}, Tool: &spade, Radius: 0.15, Sigma: 0.02}
	}
	first := &Step{Hole: hole(10)}
	first.Next[encounter.None] = &Step{Hole: hole(5)}
	var dug []geo.Vec
	s := boxes(apart(2520, count(3)...))
	r := must.Have(Play(t.Context(), s, first, Options{Plays: 210, Watch: func(h encounter.Hole) { dug = append(dug, h.At) }}))
	require.Len(t, dug, 3)
	assert.Equal(t, []geo.Vec{hole(10).At, hole(5).At}, dug[:2])
	assert.InDelta(t, 2, r.Mean(), 1e-9)
	assert.Equal(t, []int{70, 70, 70}, r.Count)
	assert.Empty(t, s.Ground.Dug, "what was dug is filled in again")

	r = must.Have(Play(t.Context(), s, first, Options{Plays: 210, Rest: func(share float64) bool { return share < 0.3 }}))
	assert.Len(t, r.Holes, 70)
	assert.Zero(t, (&Result{}).Mean())
}

// Where a tenth of the truths lie far from all that is believed, those are dug for
// sixty times in vain, and the others are found before.
func TestMostHoles(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	var at []geo.Vec
	for i := range 900 {
		at = append(at, geo.Vec{X: 12 * rng.Float64(), Y: 12 * rng.Float64()})
		if i%30 == 0 {
			at[i] = geo.Vec{X: 200, Y: 200}
		}
	}
	holes := 0
	r := must.Have(Play(t.Context(), boxes(at), before(), Options{Plays: 300, Watch: func(h encounter.Hole) { holes++ }}))
	assert.Equal(t, 60, holes, "one after another, for all that they meet is nothing")
	require.Len(t, r.Holes, 300)
	sum, most := 0, 0
	for _, n := range r.Count {
		sum += n
	}
	for _, n := range r.Holes {
		if n == 60 {
			most++
		}
	}
	assert.Equal(t, r.Found, sum)
	assert.LessOrEqual(t, len(r.Count), 60)
	assert.Less(t, r.Found, 271)
	assert.Greater(t, r.Found, 60, "sixty holes each find more than one of 270 truths, on average")
	assert.GreaterOrEqual(t, most, 300-r.Found)
}

// Where no hole may be dug nothing is found.
func TestNowhereToDig(t *testing.T) {
	s := boxes(apart(27, count(9)...))
	s.Ground.SetOut = func(v geo.Vec) encounter.Stake { return encounter.Stake{Others: []geo.Vec{{X: math.NaN()}}} }
	r := must.Have(Play(t.Context(), s, before(), Options{Plays: 9}))
	assert.Zero(t, r.Found)
	assert.Equal(t, slices.Repeat([]float64{Most}, 9), r.Holes)
	assert.Empty(t, r.Count)
}

// What a rod has felt is opened: the rod's minutes and the spade's.
func TestFeltIsOpened(t *testing.T) {
	s := boxes(apart(27, 0))
	rod := survey.Tool{Name: "rod", Radius: 0.02, Start: 1, PerMetre: 1, Notices: 1}
	s.Tools = []survey.Tool{rod, spade}
	r := must.Have(Play(t.Context(), s, &Step{Hole: encounter.Hole{Tool: &rod, Radius: 0.02, Sigma: 0.02, Stop: 1}}, Options{Plays: 9}))
	require.Equal(t, 9, r.Found)
	assert.InDelta(t, 1+practice.MetDepth+10+5, r.Minutes[0], 1e-9)
}

// The opener is whoever opens a metre soonest: of the table the excavator, 4 + 3
// + 1 minutes against the shovel's 39; a rod only where nothing opens.
func TestOpener(t *testing.T) {
	byName := func(names ...string) (all []survey.Tool) {
		for _, n := range names {
			tool, ok := survey.ToolNamed(n)
			require.True(t, ok)
			all = append(all, tool)
		}
		return all
	}
	for _, tt := range []struct {
		crew []string
		want string
	}{{[]string{"rod", "shovel", "excavator"}, "excavator"}, {[]string{"excavator", "shovel", "auger"}, "excavator"}, {[]string{"auger", "shovel", "rod"}, "shovel"}, {[]string{"rod", "auger"}, "rod"}} {
		assert.Equal(t, tt.want, Opener(byName(tt.crew...)).Name)
	}
}

// What a hole meets is dealt by its chances: as u passes their running sum.
func TestAnswer(t *testing.T) {
	s := boxes([]geo.Vec{{}})
	h := encounter.Hole{At: geo.Vec{X: 0.5}, Radius: 0.15, Sigma: 0.02, Tool: &spade, Stop: 2}
	s.Show(&h, 0)
	c := s.Chances(0, &h)[encounter.Sought]
	require.Greater(t, c, 0.2)
	require.Less(t, c, 0.8)
	assert.Equal(t, encounter.Sought, Answer(s, 0, &h, 0))
	assert.Equal(t, encounter.Sought, Answer(s, 0, &h, c-1e-9))
	assert.Equal(t, encounter.None, Answer(s, 0, &h, c+1e-9))
	assert.Equal(t, encounter.None, Answer(s, 0, &h, 1))
}

// Truths are every third draw, lie evenly over all of them and are none of those believed, of which there
// are at most 1500, evenly too, all of one weight.
func TestDeal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, plays := rapid.IntRange(1, 12000).Draw(t, "draws"), rapid.IntRange(1, 200).Draw(t, "plays")
		p := &player{ctx: context.Background(), Site: &encounter.Site{N: n}, options: Options{Plays: plays}}
		truths, b := p.deal()
		require.Len(t, truths, plays)
		isTruth := map[int]bool{}
		for i, tr := range truths {
			assert.InDelta(t, float64(i)*float64(n)/float64(plays), tr.draw, 6+float64(n)*3/float64(max(n, 9)))
			isTruth[tr.draw] = true
			assert.Zero(t, tr.draw%3, "every third draw, however few there are")
		}
		assert.LessOrEqual(t, len(b), 1500)
		sum := 0.0
		for i, q := range b {
			sum += q.weight
			assert.InDelta(t, float64(i)/float64(len(b)), float64(q.draw)/float64(n), 3/float64(len(b)))
			assert.False(t, n >= 9 && isTruth[q.draw])
			assert.Zero(t, q.shift)
		}
		assert.InDelta(t, 1, sum, 1e-9)
		if n < 9 {
			assert.Len(t, b, n, "so few are all believed")
		} else {
			assert.Len(t, b, min(1500, n-(n+2)/3))
		}
	})
}

// twoLines is a belief of a box at the origin, and of a trench that runs along
// y = −10 in the first half of the draws and along y = −20 in the second.
func twoLines(n int) (*player, belief) {
	var box []geo.Vec
	var line [][]geo.Vec
	b := make(belief, 0, n)
	for i := range n {
		y := -10.0
		if 2*i >= n {
			y = -20
		}
		box = append(box, geo.Vec{})
		line = append(line, []geo.Vec{{X: -5, Y: y}, {X: 5, Y: y}})
		b = append(b, particle{draw: i, weight: 1 / float64(n)})
	}
	s := field(n, 1, []asbuilt.Part{testsite.Box("box", 0.6, 0, 0), testsite.Trench("L1", 0.9, geo.Vec{}, geo.Vec{})}, posterior.Draws{
		Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: box}, Lines: map[string][][]geo.Vec{"L1": line}})
	return &player{ctx: context.Background(), Site: s, tool: &spade, sigma: 0.02}, b
}

// share returns the weight of the first half of twoLines.
func share(b belief) (first, all float64) {
	for _, q := range b {
		all += q.weight
		if 2*q.draw < len(b) {
			first += q.weight
		}
	}
	return first, all
}

// What is believed after a hole, by Bayes' rule: a hole that notices the trench
// with 0.8 lies over it or not as likely. After nothing 0.2/(0.2 + 1); after a
// trench 1/(1 + s), where it may be a stray one with s = 0.02 and else with 0.8 +
// 0.2 s.
func TestAfterByBayes(t *testing.T) {
	p, b := twoLines(1000)
	p.Objects[1].Notices = 0.8
	h := encounter.Hole{At: geo.Vec{Y: -10}, Radius: 0.15, Sigma: 0.02, Tool: &spade, Stop: 2}
	p.Show(&h, 0)
	rng := rand.New(rand.NewPCG(1, 1))
	first, all := share(p.after(b, &h, encounter.None, rng))
	assert.InDelta(t, 1, all, 1e-9)
	assert.InDelta(t, 0.2/1.2, first, 1e-9)
	first, all = share(p.after(b, &h, encounter.Trench, rng))
	assert.InDelta(t, 1, all, 1e-9)
	met := 0.8 + 0.2*practice.StrayHit
	assert.InDelta(t, met/(met+practice.StrayHit), first, 1e-9)

	// A draw that is moved meets what the hole, moved back, meets.
	for i := range b {
		b[i].shift = geo.Vec{Y: 10}
	}
	p.Show(&h, b.moved())
	assert.InDelta(t, 10, b.moved(), 1e-12)
	first, _ = share(p.after(b, &h, encounter.None, rng))
	assert.InDelta(t, 1/1.2, first, 1e-9)
}

// Few draws that are left are drawn anew and each moved a little, so that mean and
// covariance stay: Liu and West (2001). Over many belief it comes out within four
// standard errors.
func TestAnewKeepsMeanAndSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	const n = 400
	var at []geo.Vec
	var b belief
	for i := range n {
		x, y := rng.NormFloat64(), rng.NormFloat64()
		at = append(at, geo.Vec{X: 3 + 2*x, Y: -4 + 1.2*x + 0.9*y})
		b = append(b, particle{draw: i, weight: 2 * rng.Float64() / n})
	}
	sum := 0.0
	for i := range b {
		sum += b[i].weight
	}
	for i := range b {
		b[i].weight /= sum
	}
	p := &player{ctx: context.Background(), Site: boxes(at)}
	// spread is mean and covariance of a belief, by their definitions.
	spread := func(b belief, from geo.Vec) (m geo.Vec, xx, xy, yy float64) {
		for _, q := range b {
			v := p.lies(q).Sub(from)
			m = m.Add(v.Scale(q.weight))
			xx, xy, yy = xx+q.weight*v.X*v.X, xy+q.weight*v.X*v.Y, yy+q.weight*v.Y*v.Y
		}
		return m, xx - m.X*m.X, xy - m.X*m.Y, yy - m.Y*m.Y
	}
	m, xx, xy, yy := spread(b, geo.Vec{})
	const times = 100
	var all belief
	step := 0.0
	for range times {
		once := p.resample(b, 100, rng)
		require.Len(t, once, keep)
		for _, q := range once {
			assert.InDelta(t, 1.0/keep, q.weight, 1e-12)
			step += q.shift.Dot(q.shift) / (keep * times)
			q.weight /= times
			all = append(all, q)
		}
	}
	gm, gxx, gxy, gyy := spread(all, geo.Vec{})
	assert.InDelta(t, m.X, gm.X, 0.03)
	assert.InDelta(t, m.Y, gm.Y, 0.03)
	assert.InDelta(t, xx, gxx, 0.03*xx)
	assert.InDelta(t, xy, gxy, 0.03*xx)
	assert.InDelta(t, yy, gyy, 0.03*yy)
	// Less than the bandwidth that a density of 100 draws is best drawn with, the
	// root of their number's −1/3 (Scott 1992, two dimensions), or all detail goes.
	assert.Less(t, math.Sqrt(step/(xx+yy)), math.Pow(100, -1.0/6))
	assert.Greater(t, step, 0.0)
}

// Where hardly any draw is left there are keep of them again.
func TestAfterDrawsAnew(t *testing.T) {
	p := &player{ctx: context.Background(), Site: boxes(apart(900, count(90)...)), tool: &spade, sigma: 0.02}
	_, b := (&player{ctx: context.Background(), Site: p.Site, options: Options{Plays: 1}}).deal()
	h := encounter.Hole{At: geo.Vec{}, Radius: 0.15, Sigma: 0.02, Tool: &spade, Stop: 2}
	p.Show(&h, 0)
	rng := rand.New(rand.NewPCG(1, 1))
	assert.Len(t, p.after(b, &h, encounter.None, rng), len(b), "a place of ninety less: all are kept")
	next := p.after(b, &h, encounter.Sought, rng)
	require.Len(t, next, keep)
	near := 0
	for _, q := range next {
		if p.lies(q).Norm() < 15 {
			near++
		}
	}
	assert.Greater(t, near, keep/4, "mostly where it was met")
}

// Systematic sampling takes each as often as its weight asks, one more or less.
func TestSampleByWeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		weight := rapid.SliceOfN(rapid.Float64Range(0.01, 1), 1, 40).Draw(t, "weight")
		n := rapid.IntRange(1, 200).Draw(t, "n")
		sum := 0.0
		for _, w := range weight {
			sum += w
		}
		var b belief
		for i, w := range weight {
			b = append(b, particle{draw: i, weight: w / sum})
		}
		u := rapid.Float64Range(0, 0.999).Draw(t, "u")
		times := make([]int, len(b))
		some := b.sample(n, func() float64 { return u })
		require.Len(t, some, n)
		for _, q := range some {
			times[q.draw]++
			assert.InDelta(t, 1/float64(n), q.weight, 1e-12)
		}
		for i, k := range times {
			assert.Less(t, math.Abs(float64(k)-b[i].weight*float64(n)), 1+1e-6)
		}
	})
}

// A cell has the area of what a hole finds: a disc of both radii, so that a field
// of 40 m by 40 m holds 1600/(π R²) of them; a strip across a line is twice both
// radii wide. Another division has its edges half a cell, of a line a quarter of
// one, from those of the one before.
func TestCells(t *testing.T) {
	d := &posterior.Draws{N: 1, Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: {{}}}, Lines: map[string][][]geo.Vec{"L1": {{{}, {X: 3, Y: 4}}}}}
	box, line := testsite.Box("box", 0.6, 0, 0), testsite.Trench("L1", 0.9, geo.Vec{}, geo.Vec{})
	spot, ok := encounter.NewObject(&box, "", d)
	require.True(t, ok)
	strip, ok := encounter.NewObject(&line, "", d)
	require.True(t, ok)

	c := NewCells(&spot, 0.15, 0, 0)
	rng := rand.New(rand.NewPCG(3, 3))
	for range 100000 {
		c.Cell(0, geo.Vec{X: 40 * rng.Float64(), Y: 40 * rng.Float64()})
	}
	r := spot.Reach + 0.15
	assert.InEpsilon(t, 1600/(math.Pi*r*r), float64(c.Len()), 0.06, "and those on the rim")

	// edges walks along a direction and notes where a new cell begins.
	edges := func(c *Cells, u geo.Vec) (at []float64) {
		last := c.Cell(0, geo.Vec{})
		for k := range 8000 {
			x := 0.001 * float64(k)
			if n := c.Cell(0, u.Scale(x)); n != last {
				last, at = n, append(at, x)
			}
		}
		return at
	}
	// lag is by what share of a cell the edges of one lie beyond those of another.
	lag := func(a, b []float64, side float64) float64 { return math.Mod((a[1]-b[1])/side+2, 1) }
	side := r * math.Sqrt(math.Pi)
	for shift := range Shifts {
		for axis, u := range []geo.Vec{{X: 1}, {Y: 1}} {
			at := edges(NewCells(&spot, 0.15, shift, 0), u)
			require.Greater(t, len(at), 4)
			assert.InDelta(t, side, (at[4]-at[0])/4, 0.001)
			assert.InDelta(t, 0.5*float64(shift>>axis&1), lag(edges(NewCells(&spot, 0.15, 0, 0), u), at, side), 0.01)
		}
	}
	wide := 2 * (0.45 + 0.15)
	across := geo.Vec{X: 0.8, Y: -0.6}
	lags := map[int]bool{}
	for shift := range Shifts {
		c := NewCells(&strip, 0.15, shift, 0)
		at := edges(c, across)
		require.Greater(t, len(at), 4)
		assert.InDelta(t, wide, (at[4]-at[0])/4, 0.001)
		lags[int(math.Round(4*lag(at, edges(NewCells(&strip, 0.15, 0, 0), across), wide)))%4] = true
		for k := range 100 { // off the line, for that is an edge itself
			c.Cell(0, across.Scale(0.1).Add(geo.Vec{X: 0.06, Y: 0.08}.Scale(float64(k))))
			require.LessOrEqual(t, c.Len(), len(at)+1, "along the line it is one cell")
		}
		n := c.Len()
		assert.Equal(t, c.Cell(0, geo.Vec{X: math.NaN()}), c.Cell(0, geo.Vec{Y: math.NaN()}))
		assert.Equal(t, n+1, c.Len(), "what is no place has one of its own")
	}
	assert.Len(t, lags, 4, "four divisions, a quarter apart")
}

// Of two parts that are sought, the one that fewer holes find: it lies at one of
// two places, the other at one of six.
func TestQuickest(t *testing.T) {
	for first := range 2 {
		spots := map[asbuilt.SpotName][]geo.Vec{}
		var parts []asbuilt.Part
		for k, places := range [2]int{6, 2} {
			id := []string{"six", "two"}[k]
			for i := range 600 {
				name := asbuilt.SpotName{Part: id, Spot: asbuilt.Center}
				spots[name] = append(spots[name], geo.Vec{X: 5 * float64(i%places), Y: 100 * float64(k)})
			}
			parts = append(parts, testsite.Box(id, 0.6, 0, 0))
		}
		if first == 1 {
			slices.Reverse(parts)
		}
		p := &player{ctx: context.Background(), Site: field(600, 2, parts, posterior.Draws{Spots: spots}), options: Options{Plays: 10}, tool: &spade}
		_, b := p.deal()
		assert.Equal(t, "two", p.Objects[p.quickest(b)].Part)
	}
}

// How many holes are to be expected of one at a place, by hand: the box lies at one
// of four places, 4/10, 3/10, 2/10 and 1/10. At the likeliest 1 + 0.6 · (3 + 2·2 +
// 3)/6; where nothing is one for nothing more than the search, 4/10 + 6/10 + 6/10 +
// 4/10. The next is dug at the likeliest, as deep as the box may lie.
func TestJudgeByHand(t *testing.T) {
	var at []geo.Vec
	for k, n := range []int{1, 2, 3, 4} {
		for range 100 * n {
			at = append(at, geo.Vec{X: 5 * float64(k)})
		}
	}
	p := &player{ctx: context.Background(), Site: boxes(at), tool: &spade, sigma: 0.02}
	var b belief
	for i := range at {
		b = append(b, particle{draw: i, weight: 1 / float64(len(at))})
	}
	s := p.newSearch(b)
	assert.InDelta(t, 2, s.holes(b.weights()), 1e-9)
	assert.InDelta(t, 1+0.6*10/6, p.judge(b, s, geo.Vec{X: 15}), 1e-9)
	assert.InDelta(t, 1+0.9*(4+2*3+3*2)/9, p.judge(b, s, geo.Vec{}), 1e-9)
	assert.InDelta(t, 3, p.judge(b, s, geo.Vec{X: -20}), 1e-9)
	h, ok := p.next(b)
	require.True(t, ok)
	assert.Less(t, h.At.Dist(geo.Vec{X: 15}), 0.3)
	assert.InDelta(t, encounter.StopDepth(riser), h.Stop, 1e-12)
	assert.InDelta(t, math.Hypot(0.02, practice.DigOff), h.Sigma, 1e-12)

	// Moved by a metre, all of it is.
	for i := range b {
		b[i].shift = geo.Vec{Y: 1}
	}
	s = p.newSearch(b)
	assert.InDelta(t, 1+0.6*10/6, p.judge(b, s, geo.Vec{X: 15, Y: 1}), 1e-9)
	h, _ = p.next(b)
	assert.Less(t, h.At.Dist(geo.Vec{X: 15, Y: 1}), 0.3)
}

// Places worth a hole: the likeliest first, where most of the belief is; then,
// where there is much to search, some on trenches, their ends among them. None is
// off limits, nor two the same hole.
func TestPlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	const n = 3000
	var box []geo.Vec
	var line [][]geo.Vec
	var b belief
	for i := range n {
		at := geo.Vec{X: 4 * rng.NormFloat64(), Y: 4 * rng.NormFloat64()}
		if i%3 == 0 { // a third lies close together
			at = geo.Vec{X: 3 + 0.1*rng.NormFloat64(), Y: -2 + 0.1*rng.NormFloat64()}
		}
		box = append(box, at)
		y := -30 + rng.NormFloat64()
		line = append(line, []geo.Vec{{X: -8, Y: y}, {X: 8, Y: y}})
		b = append(b, particle{draw: i, weight: 1.0 / n})
	}
	trench := func(id string) asbuilt.Part { return testsite.Trench(id, 0.9, geo.Vec{}, geo.Vec{}) }
	p := &player{ctx: context.Background(), tool: &spade, sigma: 0.02, Site: field(n, 1, []asbuilt.Part{testsite.Box("box", 0.6, 0, 0), trench("L1"), trench("L2")}, posterior.Draws{
		Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: box}, Lines: map[string][][]geo.Vec{"L1": line, "L2": line}})}
	narrow := p.places(b, false)
	require.NotEmpty(t, narrow)
	assert.LessOrEqual(t, len(narrow), likeliest)
	assert.Less(t, narrow[0].Dist(geo.Vec{X: 3, Y: -2}), 0.3)
	all := p.places(b, true)
	assert.Equal(t, narrow, all[:len(narrow)])
	more := all[len(narrow):]
	assert.Greater(t, len(more), 4)
	assert.LessOrEqual(t, len(more), stations)
	ends, between := 0, 0
	for _, v := range more {
		assert.InDelta(t, -30, v.Y, 5, "on the trench")
		if math.Abs(math.Abs(v.X)-8) < 1e-9 {
			ends++
		} else {
			between++
		}
	}
	assert.Positive(t, ends)
	assert.Greater(t, between, ends)
	for i, v := range all {
		for _, w := range all[:i] {
			assert.GreaterOrEqual(t, v.Dist(w), practice.SameHole)
		}
	}
	p.Ground.Dug = []geo.Vec{{X: 3, Y: -2}}
	for _, v := range p.places(b, true) {
		assert.GreaterOrEqual(t, v.Dist(p.Ground.Dug[0]), practice.SameHole)
	}
}
