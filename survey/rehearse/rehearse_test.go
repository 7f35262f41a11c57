package rehearse_test

import (
	"io/fs"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
	"asfound/survey/rehearse"
	"asfound/testdata/must"
	"asfound/testdata/sites"
)

func site(t testing.TB, name string) (*locate.Location, *posterior.Draws, *probe.Plan) {
	fsys, err := fs.Sub(sites.Folders, name)
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	loc, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	draws := must.Have(loc.Posterior.Draws(t.Context(), 2000))
	plan, err := probe.New(t.Context(), loc, draws)
	require.NoError(t, err)
	return loc, draws, plan
}

// What is played agrees with what is planned: the first step, a line followed or a
// hole, meets what is sought as often as the plan says, to four standard errors of the plays; and
// a second rehearsal is the same.
func TestRehearsal(t *testing.T) {
	loc, draws, plan := site(t, "two-tapes")
	shares := 0
	o := rehearse.Options{Plays: 1000, Progress: func(share float64) {
		shares++
		assert.LessOrEqual(t, share, 1.0)
	}}
	r, err := rehearse.Play(t.Context(), loc, draws, plan, o)
	require.NoError(t, err)
	p := plan.ChanceNext
	if plan.Follow != nil {
		p = plan.Follow.Chance
	}
	assert.InDelta(t, p, r.First, 4*math.Sqrt(p*(1-p)/650)+0.02)
	ended := 0
	for _, n := range r.Count {
		ended += n
	}
	assert.InDelta(t, r.Found*1000, ended, 1e-6)
	assert.Greater(t, r.Found, 0.9)
	assert.True(t, r.Holes.Median <= r.Holes.Mean && r.Holes.Mean <= r.Holes.P90, "%+v", r.Holes)
	assert.Greater(t, r.Minutes.Mean, r.Holes.Mean, "no hole takes less than a minute")
	assert.Positive(t, shares)

	kinds := map[rehearse.Kind]rehearse.Offer{}
	for _, f := range r.Offers {
		kinds[f.Kind] = f
		t.Logf("%+v", f)
	}
	// A hole where the box is likeliest says more about it than a level shot,
	// which says nothing about where it lies.
	assert.Less(t, kinds[rehearse.NextHole].Radius.After, kinds[rehearse.Level].Radius.After)
	assert.Equal(t, kinds[rehearse.Level].Radius.Before, kinds[rehearse.Level].Radius.After)

	again, err := rehearse.Play(t.Context(), loc, draws, plan, o)
	require.NoError(t, err)
	assert.Equal(t, r, again)
}

// A belief that is round and normal is searched in about as many holes as
// there are footprints in it: 2πσ²/A + 1 for a perfect search in order of
// density (the mean rank of a draw of a round normal; Koopman 1957), a little
// more for a real one that overlaps its holes.
func TestRoundBelief(t *testing.T) {
	const sigma = 1.2
	rng := rand.New(rand.NewPCG(1, 2))
	var box []geo.Vec
	for range 4500 {
		box = append(box, geo.Vec{X: sigma * rng.NormFloat64(), Y: sigma * rng.NormFloat64()})
	}
	loc, _, plan := site(t, "two-tapes")
	draws := &posterior.Draws{N: len(box), Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: box}}
	at := plan.Holes[0].At // somewhere that tapes set out well
	for i := range box {
		box[i] = box[i].Add(at)
	}
	plan = &probe.Plan{Seek: "box", Holes: []probe.Proposal{{At: at, To: at}}}
	r, err := rehearse.Play(t.Context(), loc, draws, plan, rehearse.Options{Plays: 500})
	require.NoError(t, err)
	radius := 0.6/math.Sqrt(math.Pi) + 0.15
	perfect := 2*math.Pi*sigma*sigma/(math.Pi*radius*radius) + 1
	t.Logf("%.1f holes, a perfect search %.1f", r.Holes.Mean, perfect)
	assert.Greater(t, r.Holes.Mean, 0.9*perfect)
	assert.Less(t, r.Holes.Mean, 2*perfect)
}

func TestNothingToRehearse(t *testing.T) {
	_, err := rehearse.Play(t.Context(), nil, nil, nil, rehearse.Options{})
	require.Error(t, err)
	loc, draws, _ := site(t, "two-tapes")
	r, err := rehearse.Play(t.Context(), loc, draws, &probe.Plan{Seek: "box", Remark: []finding.Finding{finding.NowhereToDig.New(finding.Parts("box"))}}, rehearse.Options{})
	require.NoError(t, err)
	assert.Equal(t, finding.NowhereToDig, r.Remark[0].Code)
	assert.Zero(t, r.Plays)

	somewhere := &probe.Plan{Seek: "box", Holes: []probe.Proposal{{At: geo.Vec{X: 1}, To: geo.Vec{X: 1}}}}
	r, err = rehearse.Play(t.Context(), loc, &posterior.Draws{}, somewhere, rehearse.Options{})
	require.NoError(t, err)
	assert.Zero(t, r.Plays)
	assert.NotEmpty(t, r.Remark)

	// A search of draws that are not finite finds nothing, and nothing breaks.
	lost := &posterior.Draws{N: 3, Spots: map[asbuilt.SpotName][]geo.Vec{{Part: "box", Spot: asbuilt.Center}: {{X: math.NaN()}, {X: math.Inf(1)}, {X: 1e300}}}}
	r, err = rehearse.Play(t.Context(), loc, lost, somewhere, rehearse.Options{Plays: 5})
	require.NoError(t, err)
	assert.Zero(t, r.Found)
}
