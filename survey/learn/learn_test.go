package learn

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/simulate"
	"asfound/testdata/long"
	"asfound/testdata/must"
)

var usual = asbuilt.Factors{Scale: 1, Field: 1, Detail: 1}

// normal returns a case whose sheet shows its errors in scale, field and detail
// outright: so many of each, normal, of the given standard deviations.
func normal(r *rand.Rand, n int, sigma [3]float64) *Case {
	c := &Case{Trust: asbuilt.Roughly}
	var squares [3]float64
	for i := range squares {
		for range n {
			v := sigma[i] * r.NormFloat64()
			squares[i] += v * v
		}
	}
	for cell := range c.evidence {
		for i, k := range at(cell) {
			l := logAt(float64(k))
			c.evidence[cell] -= float64(n)*l + squares[i]/2*math.Exp(-2*l)
		}
	}
	return c
}

// Without a case the usual holds, and a group is as all sheets of its trust are.
func TestNothingLearned(t *testing.T) {
	got := ofTrust(nil)
	assert.InDelta(t, 1, got.Scale, 1e-12)
	assert.InDelta(t, 1, got.Field, 1e-12)
	assert.InDelta(t, 1, got.Detail, 1e-12)
	all := []*Case{normal(rand.New(rand.NewPCG(1, 1)), 50, [3]float64{2, 1, 1})}
	assert.InDelta(t, ofTrust(all).Scale, ofGroup(all, nil).Scale, 1e-12)
	assert.Empty(t, must.Have(Drafting(t.Context(), nil)).Groups)
}

// The root mean square of a standard deviation, given n errors and a lognormal prior,
// against the same by numerical integration on a grid forty times as fine and twice
// as wide (Gelman and others, Bayesian Data Analysis, ch. 3, normal data of known
// mean), to what the edge of the grid cuts off.
func TestFactorAgainstIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		n, sigma := rapid.IntRange(1, 12).Draw(t, "errors"), rapid.Float64Range(0.7, 2).Draw(t, "sigma")
		c := normal(r, n, [3]float64{sigma, 1, 1})
		square := 0.0 // of the errors, read back from two cells that differ in scale only
		a, b := c.evidence[0], c.evidence[steps*steps]
		square = 2 * (b - a + float64(n)*math.Log(ratio)) / (math.Exp(-2*logAt(0)) - math.Exp(-2*logAt(1)))
		rms := func(likely func(l float64) float64) float64 {
			top, bottom := 0.0, 0.0
			for k := -400; k <= 400; k++ {
				l := float64(k) * math.Log(ratio) / 40
				z := (l + trustSpread*trustSpread) / trustSpread
				w := math.Exp(-z*z/2) * likely(l)
				top, bottom = top+w*math.Exp(2*l), bottom+w
			}
			return math.Sqrt(top / bottom)
		}
		want := rms(func(l float64) float64 { return math.Exp(-float64(n)*l - square/2*math.Exp(-2*l)) })
		require.InDelta(t, 1, rms(func(float64) float64 { return 1 }), 1e-3)
		assert.InEpsilon(t, want, ofTrust([]*Case{c}).Scale, 0.15, "of %d errors of %.2f", n, sigma)
	})
}

// What is learned comes to what is so, from either side; what only some of the sheets
// say goes to their group; and it is used where it helps.
func TestLearnsAndShrinks(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	var all []*Case
	for i := range 60 {
		c := normal(r, 2, [3]float64{1, 1, 0.7})
		c.Decade = "1970s"
		if i%2 == 0 {
			c = normal(r, 2, [3]float64{1, 2.5, 0.7})
			c.By, c.Decade = "An Invented Drafter", "1980s"
		}
		all = append(all, c)
	}
	d := must.Have(Drafting(t.Context(), all))
	require.Len(t, d.Groups, 4, "%+v", d.Groups)
	trust := d.Groups[0]
	assert.InDelta(t, math.Sqrt((1+2.5*2.5)/2), trust.Field, 0.3)
	assert.InDelta(t, 1, trust.Scale, 0.15)
	assert.InDelta(t, 0.7, trust.Detail, 0.15)
	assert.Positive(t, trust.Gain)
	for _, g := range d.Groups[1:] {
		want := 2.5
		if g.Decade == "1970s" {
			want = 1
		}
		assert.InDelta(t, want, g.Field, 0.4, "%+v", g)
		assert.Positive(t, g.Gain, "%+v", g)
		assert.Equal(t, 30, g.Jobs)
	}
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	for i, g := range must.Have(Drafting(t.Context(), all)).Groups {
		assert.InDelta(t, d.Groups[i].Field, g.Field, 1e-9, "in another order")
		assert.Equal(t, d.Groups[i].Decade+d.Groups[i].By, g.Decade+g.By)
	}
	few := ofTrust(all[:1])
	assert.Less(t, math.Abs(math.Log(few.Field)), math.Log(2), "one job is not believed outright")
}

// Usual sheets gain nothing: what eight of them with two errors each say is nearer to 1
// than those errors alone would put it (standard deviation of the logarithm of a
// standard deviation, 1/√2n), and it is hardly ever used.
func TestUsualSheetsStayUsual(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	gained, far := 0, 0.0
	const firms = 60
	for range firms {
		var all []*Case
		for range 8 {
			all = append(all, normal(r, 2, [3]float64{1, 1, 1}))
		}
		g := must.Have(Drafting(t.Context(), all)).Groups[0]
		for _, l := range logs(g.Factors) {
			far += l * l / (3 * firms)
		}
		if g.Gain > 0 {
			gained++
		}
	}
	assert.LessOrEqual(t, gained, firms/8, "of %d; without the standard error it is 13", firms)
	assert.Less(t, math.Sqrt(far), 1/math.Sqrt(2*16), "no farther off than sixteen errors alone would put it")
}

// Between the points of the grid it is a cubic in each logarithm, and flat beyond.
func TestBetween(t *testing.T) {
	var grid axes
	curve := func(l [3]float64) float64 { return 2*l[0] - 3*l[1]*l[1]*l[1] + l[2]*l[2]*l[0] }
	for cell := range grid {
		grid[cell] = curve(logs(factorsAt(cell)))
	}
	grid.finely(func(u [3]float64, v float64) {
		assert.InDelta(t, curve([3]float64{logAt(u[0]), logAt(u[1]), logAt(u[2])}), v, 1e-9)
	})
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) float64 {
			return math.Exp(rapid.Float64Range(logAt(0), logAt(steps-1)).Draw(t, name))
		}
		f := asbuilt.Factors{Scale: draw("scale"), Field: draw("field"), Detail: draw("detail")}
		assert.InDelta(t, curve(logs(f)), grid.between(f), 1e-9)
	})
	far := asbuilt.Factors{Scale: 100, Field: 1, Detail: 0.01}
	edge := asbuilt.Factors{Scale: math.Exp(logAt(steps - 1)), Field: 1, Detail: math.Exp(logAt(0))}
	assert.InDelta(t, grid.between(edge), grid.between(far), 1e-9)
	assert.InDelta(t, grid[0], grid.between(factorsAt(0)), 1e-9)
}

// Sheets that say that they are roughly to scale and are not, and the other way
// round, by an invented county that is not drawn by the model: every factor goes
// where it should, what is learned makes jobs that were not among those it was
// learned from likelier, and sheets of honest trust are left about as they are.
func TestCountyOfMislabelledSheets(t *testing.T) {
	if testing.Short() {
		t.Skip("216 fits a job")
	}
	n := uint64(long.Size(t, 3, 6))
	jobs := func(drawn asbuilt.Trust, from uint64) (all []*Case) {
		for seed := range n {
			s := simulate.Invent(simulate.Order{Seed: from + seed, Trust: drawn, Mix: simulate.Mixes[0], Holes: 4, Depths: true})
			s.Job.Sketch.Trust = asbuilt.Roughly
			c, err := NewCase(t.Context(), s.Job)
			require.NoError(t, err)
			all = append(all, c)
		}
		return all
	}
	for drawn, want := range map[asbuilt.Trust][2]float64{asbuilt.NotToScale: {1.2, 4}, asbuilt.ToScale: {0.3, 0.9}, asbuilt.Roughly: {0.6, 1.4}} {
		if drawn == asbuilt.Roughly && !long.Asked() {
			continue
		}
		g := must.Have(Drafting(t.Context(), jobs(drawn, 500))).Groups[0]
		t.Logf("%s, said to be roughly to scale: %+v, gain %.1f", drawn, g.Factors, g.Gain)
		for i, f := range []float64{g.Scale, g.Field, g.Detail} {
			assert.Greater(t, f, want[0], "%s, factor %d", drawn, i)
			assert.Less(t, f, want[1], "%s, factor %d", drawn, i)
		}
		if drawn == asbuilt.Roughly {
			continue
		}
		assert.Positive(t, g.Gain)
		unseen := 0.0
		for _, c := range jobs(drawn, 900)[:n/3] {
			unseen += c.evidence.between(g.Factors) - c.evidence.between(usual)
		}
		assert.Positive(t, unseen, "%s: jobs that were not learned from", drawn)
	}
}

// A corrected as-built is no sheet.
func TestKnownIsNoSheet(t *testing.T) {
	_, err := NewCase(t.Context(), &survey.Job{Sketch: &asbuilt.Sketch{Known: &asbuilt.Known{}}})
	assert.ErrorIs(t, err, ErrKnown)
}
