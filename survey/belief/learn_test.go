package belief_test

import (
	"context"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

func metres(v float64) *geo.Length { return &geo.Length{Metres: v, Unit: geo.Metre} }

// lot is a job with holes on laterals, depths, and nothing about the box.
func lot(seed uint64, empty int) *survey.Job {
	return simulate.Invent(simulate.Order{Seed: seed, Trust: asbuilt.Roughly, Mix: simulate.Offsets, Holes: 4, Unknown: 1, Empty: empty, Depths: true}).Job
}

func where(t require.TestingT, j *survey.Job) *locate.Location {
	solved, err := fit.Solve(context.Background(), j)
	require.NoError(t, err)
	loc, err := locate.Locate(context.Background(), j, solved)
	require.NoError(t, err)
	return loc
}

// emptyAt returns a job with one more hole, offset from the wall A–B, that met
// nothing down to a depth in metres. Where A, B and v lie is as located.
func emptyAt(j *survey.Job, loc *locate.Location, v geo.Vec, depth float64) *survey.Job {
	a, b := loc.Spot("A", asbuilt.Center).At, loc.Spot("B", asbuilt.Center).At
	along := b.Sub(a).Unit()
	k := *j
	k.Readings = append([]survey.Reading{}, j.Readings...)
	k.Readings = append(k.Readings,
		survey.Reading{ID: "x1", Kind: survey.Baseline, From: "A", To: "B", Point: "X", Value: metres(v.Sub(a).Dot(along)), Offset: metres(v.Sub(a).Dot(along.Right()))},
		survey.Reading{ID: "x2", Kind: survey.Empty, Point: "X", Depth: metres(depth)})
	return &k
}

// The order of the log changes nothing, to the last digit.
func TestOrderDoesNotMatter(t *testing.T) {
	j := lot(1, 6)
	want := where(t, j)
	require.Greater(t, want.Excluded, 0.05, "the empty holes matter")
	checks := 0
	rapid.Check(t, func(t *rapid.T) {
		if checks++; checks > 8 {
			return
		}
		k := *j
		k.Readings = rapid.Permutation(j.Readings).Draw(t, "order")
		got := where(t, &k)
		if !reflect.DeepEqual(want.Spots, got.Spots) || !reflect.DeepEqual(want.Corridors, got.Corridors) || want.Excluded != got.Excluded {
			t.Fatalf("another order, another belief")
		}
	})
}

// Withdrawing an empty hole restores the belief before it.
func TestVoidRestores(t *testing.T) {
	for _, empty := range []int{0, 5} {
		j := lot(2, empty)
		want := where(t, j)
		k := emptyAt(j, want, want.Spot("box", asbuilt.Center).At, 1.5)
		require.NotEqual(t, want.Spots, where(t, k).Spots)
		k.Readings = append(k.Readings, survey.Reading{ID: "y1", Kind: survey.Void, Target: "x1"}, survey.Reading{ID: "y2", Kind: survey.Void, Target: "x2"})
		got := where(t, k)
		assert.Equal(t, want.Spots, got.Spots)
		assert.Equal(t, want.Corridors, got.Corridors)
	}
}

// within returns the share of the draws that have the box within a metre of v.
func within(loc *locate.Location, v geo.Vec, reach float64) (share float64) {
	d := must.Have(loc.Posterior.Draws(context.Background(), 1000))
	for _, w := range d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}] {
		if w.Dist(v) < reach {
			share += 1 / float64(d.N)
		}
	}
	return share
}

// A hole that went deep where the box was believed takes the belief away from
// there; one that went only to the box's expected depth moves it less, and one
// that was too shallow hardly at all. The counts are of ten sites together, so
// that one site's luck does not decide.
func TestDeepAndShallow(t *testing.T) {
	var was, deep, level, shallow float64
	for seed := uint64(1); seed <= 10; seed++ {
		j := lot(seed, 0)
		before := where(t, j)
		box := before.Spot("box", asbuilt.Center)
		at := func(depth float64) *locate.Location { return where(t, emptyAt(j, before, box.At, max(0.01, depth))) }
		was += within(before, box.At, 0.3)
		deep += within(at(box.Depth.Mean+3*box.Depth.Sigma), box.At, 0.3)
		level += within(at(box.Depth.Mean), box.At, 0.3)
		little := at(box.Depth.Mean - 3*box.Depth.Sigma)
		shallow += within(little, box.At, 0.3)
		assert.InDelta(t, box.Depth.Mean, little.Spot("box", asbuilt.Center).Depth.Mean, 0.2*box.Depth.Sigma, "to what resampling some hundred draws leaves")
		assert.Less(t, little.Spot("box", asbuilt.Center).At.Dist(box.At), 0.1*box.Landmarks95)
	}
	t.Logf("%.3f became %.3f after a deep hole, %.3f after one to the expected depth, %.3f after a shallow one", was, deep, level, shallow)
	assert.Less(t, deep, 0.45*was)
	assert.Less(t, level, 0.8*was)
	assert.Greater(t, level, 1.5*deep)
	assert.InDelta(t, was, shallow, 0.12*was)
}

// Holes to the expected depth and no deeper, all over where the box lies, push
// its depth down: it must be somewhere.
func TestBoxIsPushedDown(t *testing.T) {
	j := lot(3, 0)
	loc := where(t, j)
	box := *loc.Spot("box", asbuilt.Center)
	k := j
	for i := range 25 {
		off := geo.Vec{X: 0.55 * float64(i%5-2), Y: 0.55 * float64(i/5-2)}
		k = emptyAt(k, loc, box.At.Add(off), box.Depth.Mean)
		for n := range 2 {
			r := &k.Readings[len(k.Readings)-1-n]
			r.ID, r.Point = r.ID+string(rune('a'+i)), r.Point+string(rune('a'+i))
		}
	}
	after := where(t, k).Spot("box", asbuilt.Center)
	t.Logf("%.3f ± %.3f m became %.3f ± %.3f m", box.Depth.Mean, box.Depth.Sigma, after.Depth.Mean, after.Depth.Sigma)
	assert.Greater(t, after.Depth.Mean, box.Depth.Mean+0.15*box.Depth.Sigma)
	assert.Less(t, after.Depth.Sigma, 1.02*box.Depth.Sigma)
}

// A hole that met a lateral shows that the box is not there, as an empty one to
// the same depth does.
func TestFoundIsNotTheBox(t *testing.T) {
	j := lot(4, 0)
	loc := where(t, j)
	box := loc.Spot("box", asbuilt.Center)
	was := within(loc, box.At, 0.4)
	k := emptyAt(j, loc, box.At, box.Depth.Mean+3*box.Depth.Sigma)
	r := &k.Readings[len(k.Readings)-1]
	r.Kind, r.Target, r.Feature = survey.Found, string(asbuilt.Lateral), survey.Bottom
	assert.Less(t, within(where(t, k), box.At, 0.4), 0.5*was)
}
