package simulate

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/posterior"
)

// cells tries every cell that wanted picks on n lots each, logs it, and returns
// the sum of all.
func cells(t *testing.T, list []Cell, n int, wanted func(Cell) bool) (all Tally) {
	t.Helper()
	for i, c := range list {
		if !wanted(c) {
			continue
		}
		got, err := c.Cover(n)
		require.NoError(t, err)
		s := &got.Landmarks[2]
		t.Logf("%-12s %-7s %2d holes %-8s %5.1f ± %.1f %% of spots within 95 %%, doubtful %d, accused %d of %d",
			c.Order.Trust, c.Order.Mix, c.Order.Holes, c.Mess, 100*s.Rate(), 100*s.Error(), got.Doubtful, got.Accused, got.Sites)
		all.Join(got, uint64(i/len(HoleCounts)))
	}
	for i, level := range Levels {
		t.Logf("%2.0f %%: places %.1f ± %.1f, box %.1f ± %.1f, depths %.1f ± %.1f", 100*level, 100*all.Landmarks[i].Rate(), 100*all.Landmarks[i].Error(),
			100*all.Box[i].Rate(), 100*all.Box[i].Error(), 100*all.Depth[i].Rate(), 100*all.Depth[i].Error())
	}
	return all
}

// The regions hold the truth as often as they say, though neither the sketches
// nor the ground are drawn from the fit's model. Spots of one site are wrong
// together, so ten lots say nothing about a single cell: the sums by quality of
// drawing are held. The command coverage holds the cells.
func TestCoverageOfCleanJobs(t *testing.T) {
	if testing.Short() {
		t.Skip("360 fits")
	}
	for _, trust := range Trusts {
		all := cells(t, Clean(), 10, func(c Cell) bool {
			return c.Order.Trust == trust && (c.Order.Holes == 0 || c.Order.Holes == 2 || c.Order.Holes == 5)
		})
		for i, level := range Levels {
			slack := []float64{0.05, 0.04, 0.02}[i]
			assert.True(t, all.Landmarks[i].Within(level-slack, level+slack), "%s: places within %.0f %%: %.3f ± %.3f", trust, 100*level, all.Landmarks[i].Rate(), all.Landmarks[i].Error())
			assert.True(t, all.Depth[i].Within(level-slack-0.05, level+slack+0.05), "%s: depths within %.0f %%: %.3f ± %.3f", trust, 100*level, all.Depth[i].Rate(), all.Depth[i].Error())
		}
		assert.LessOrEqual(t, all.Doubtful, all.Sites/20, "clean jobs called doubtful")
		assert.LessOrEqual(t, all.Accused, all.Sites/20, "clean jobs accused")
	}
}

// Unknown trenches and empty holes leave the regions honest, and what is held
// for 95 % of a trench is right in 93 % at least.
func TestCoverageOfUnknownTrenchesAndEmptyHoles(t *testing.T) {
	if testing.Short() {
		t.Skip("135 fits")
	}
	all := cells(t, Messy(), 5, func(c Cell) bool {
		return c.Order.Mix != Fixes && (c.Mess == "unknown" && (c.Order.Holes == 2 || c.Order.Holes == 5) || c.Mess == "empty" && c.Order.Holes == 2)
	})
	assert.True(t, all.Landmarks[2].Within(0.90, 1), "places: %.3f ± %.3f", all.Landmarks[2].Rate(), all.Landmarks[2].Error())
	t.Logf("unknown trenches: %d, held for 95 %%: %d, right %.1f ± %.1f %%", all.Unknown.All, all.Sure.All, 100*all.Sure.Rate(), 100*all.Sure.Error())
	require.Greater(t, all.Sure.All, 50)
	assert.True(t, all.Sure.Within(0.93, 1), "right where 95 %% was claimed: %.3f ± %.3f", all.Sure.Rate(), all.Sure.Error())
}

// Of single tapes that are a foot off, in jobs whose geometry can reveal it, at
// least 90 % are found and 80 % named, held to what some sixty jobs can tell; at
// most 5 % of clean jobs are accused.
func TestFootIsFoundAndNamed(t *testing.T) {
	if testing.Short() {
		t.Skip("240 fits")
	}
	var revealed, found, named, accused, lots int
	for _, trust := range Trusts {
		x, err := Expose(Foot, Braced, trust, 40)
		require.NoError(t, err)
		t.Logf("%s: of %d lots %d reveal it; found %d, first %d, named %d; clean twins accused %d", trust, x.Lots, x.Revealed, x.Found, x.First, x.Named, x.Accused)
		revealed, found, named, accused, lots = revealed+x.Revealed, found+x.Found, named+x.Named, accused+x.Accused, lots+x.Lots
	}
	require.Greater(t, revealed, 30)
	least := func(p float64) float64 { n := float64(revealed); return n*p - 2*math.Sqrt(n*p*(1-p)) }
	assert.GreaterOrEqual(t, float64(found), least(0.9))
	assert.GreaterOrEqual(t, float64(named), least(0.8))
	assert.LessOrEqual(t, float64(accused), 0.05*float64(lots))
}

// sixty is a job with 60 readings and more on a 6-lateral site.
func sixty(t testing.TB) *survey.Job {
	for seed := uint64(1); ; seed++ {
		s := Invent(Order{Seed: seed, Trust: Trusts[1], Mix: Tapes, Holes: 18})
		if len(s.plan.start) == 6 {
			s.Job.Readings = s.Job.Readings[:60]
			return s.Job
		}
	}
}

func BenchmarkRefit(b *testing.B) {
	job := sixty(b)
	p, err := fit.Prepare(job.Sketch)
	require.NoError(b, err)
	for b.Loop() {
		if _, err := p.Refit(b.Context(), job); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPosterior(b *testing.B) {
	f, err := fit.Solve(b.Context(), sixty(b))
	require.NoError(b, err)
	for b.Loop() {
		posterior.Of(f)
	}
}
