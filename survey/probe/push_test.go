package probe_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
)

// tanked is a lot with a tank whose place is known to 0.3 m, and a box 10 m from it,
// to so many metres.
func tanked(sigma float64, pushes ...string) (*locate.Location, *posterior.Draws) {
	r := rand.New(rand.NewPCG(4, 4))
	var box, tank []geo.Vec
	for range 2000 {
		box = append(box, geo.Vec{X: 10 + sigma*r.NormFloat64(), Y: sigma * r.NormFloat64()})
		tank = append(tank, geo.Vec{X: 0.3 * r.NormFloat64(), Y: 0.3 * r.NormFloat64()})
	}
	loc, d := lot(box)
	loc.Job.Sketch.Parts = append(loc.Job.Sketch.Parts, asbuilt.Part{ID: "tank", Kind: asbuilt.Tank})
	d.Spots[asbuilt.SpotName{Part: "tank", Spot: asbuilt.Center}] = tank
	for _, name := range pushes {
		p, _ := survey.PushingNamed(name)
		loc.Job.Settings.Pushing = append(loc.Job.Settings.Pushing, p)
	}
	return loc, d
}

func pushOf(t *testing.T, loc *locate.Location, d *posterior.Draws) *probe.Push {
	plan, err := nextAlone.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.NotEmpty(t, plan.Holes, "what to dig where it does not get there")
	return plan.Push
}

// With the box 3 m out either way, tens of holes are to be expected by themselves: a
// camera takes 60 and 20 minutes, a cable 60 and 15, and gets there 85 times in 100.
// After the camera the box lies within a circle of a standard deviation of 0.05 m,
// 10 % of its depth and half its reach, after the cable in a piece of a ring: the
// holes are those of a search of very many draws of either.
func TestPushByHand(t *testing.T) {
	loc, d := tanked(3, survey.PushSonde)
	p := pushOf(t, loc, d)
	require.NotNil(t, p)
	assert.Equal(t, []any{"sonde", "tank", "box", 80.0, 0.85, false}, []any{p.Action, p.From, p.Seek, p.Minutes, p.Chance, p.Opened})
	sonde := p.Holes
	says := p.Finding().Says(finding.English(geo.Metre))
	assert.Contains(t, says, "First open the tank, push a camera with a sonde from its outlet to the box, and locate it from above: about 80 minutes, chance 85 % that it gets there.")
	var codes []string
	for _, c := range p.Cautions {
		codes = append(codes, string(c.Code))
	}
	assert.Equal(t, []string{"never-enter", "disease", "utilities", "code-decides"}, codes)

	p = pushOf(t, func() *locate.Location { loc, d = tanked(3, survey.PushCable); return loc }(), d)
	require.NotNil(t, p)
	assert.Equal(t, []any{"cable", 75.0, 0.85}, []any{p.Action, p.Minutes, p.Chance})
	assert.Contains(t, p.Finding().Says(finding.English(geo.Metre)), "push a cable from its outlet to the box, and measure the cable")
	t.Logf("holes after a camera %.2f, after a cable %.2f", sonde, p.Holes)
	assert.GreaterOrEqual(t, sonde, 1.0)
	assert.Less(t, sonde, 1.7)

	// A search by hand: rings of hole and box, 0.65 m apart, over a Gaussian of the
	// ring piece: 0.07 of 10 m and 0.45 m along, 11.7° of 10 m across.
	along, across := math.Hypot(0.7, 0.45), 10*math.Hypot(6, 10)*math.Pi/180
	r := rand.New(rand.NewPCG(5, 5))
	cells := map[[2]int]float64{}
	step := math.Sqrt(math.Pi) * (0.61/math.Sqrt(math.Pi) + 0.15) // squares of the area of the footprint
	for range 200000 {
		x, y := along*r.NormFloat64(), across*r.NormFloat64()
		cells[[2]int{int(math.Floor(x / step)), int(math.Floor(y / step))}] += 1.0 / 200000
	}
	want := 0.0
	rest := make([]float64, 0, len(cells))
	for _, w := range cells {
		rest = append(rest, w)
	}
	for n := 1; len(rest) > 0; n++ { // the likeliest first
		best := 0
		for k := range rest {
			if rest[k] > rest[best] {
				best = k
			}
		}
		want += float64(n) * rest[best]
		rest = append(rest[:best], rest[best+1:]...)
	}
	if want > 5 { // and beyond that a hole shows more than its own place
		want = 5 * (1 + math.Log(want/5))
	}
	t.Logf("by hand %.2f", want)
	assert.InDelta(t, want, p.Holes, 0.25*want, "its prior of 3 m narrows the piece a little")

	loc, d = tanked(3, survey.PushCable, survey.PushSonde)
	assert.Equal(t, "sonde", pushOf(t, loc, d).Action, "it takes less in all")
}

// It is offered where it takes less, and not where the crew has nothing to push, has
// pushed, or nothing is known of a tank.
func TestPushWhereItHelps(t *testing.T) {
	loc, d := tanked(3, survey.PushSonde)
	loc.Holes = []locate.Hole{{Name: "H9", At: geo.Vec{}, Radius: 0.15, Met: "tank"}}
	p := pushOf(t, loc, d)
	require.NotNil(t, p)
	assert.True(t, p.Opened)
	assert.Equal(t, 20.0, p.Minutes, "the tank lies open")
	loc.Holes = nil
	j := loc.Job
	for name, r := range map[string]survey.Reading{
		"a cable":         {ID: "c", Kind: survey.Cable, From: "tank", To: "box", Value: &geo.Length{Metres: 9}},
		"a cable to it":   {ID: "c", Kind: survey.Cable, From: "box", To: "tank", Value: &geo.Length{Metres: 9}},
		"a sonde located": {ID: "c", Kind: survey.Sonde, Point: "S1", Target: "pipe", Depth: &geo.Length{Metres: 1}},
	} {
		k := *j
		k.Readings = append(append([]survey.Reading{}, j.Readings...), r)
		loc.Job = &k
		assert.Nil(t, pushOf(t, loc, d), name)
		k.Readings = append(k.Readings, survey.Reading{ID: "v", Kind: survey.Void, Target: "c"})
		assert.NotNil(t, pushOf(t, loc, d), "%s, withdrawn", name)
	}
	loc.Job = j
	j.Settings.Pushing[0].Open = 1e4
	assert.Nil(t, pushOf(t, loc, d), "the tank takes a week")
	for name, lot := range map[string]func() (*locate.Location, *posterior.Draws){
		"no such tool":          func() (*locate.Location, *posterior.Draws) { return tanked(3) },
		"the box is nearly met": func() (*locate.Location, *posterior.Draws) { return tanked(0.15, survey.PushSonde) },
		"no tank": func() (*locate.Location, *posterior.Draws) {
			loc, d := tanked(3, survey.PushSonde)
			delete(d.Spots, asbuilt.SpotName{Part: "tank", Spot: asbuilt.Center})
			return loc, d
		},
	} {
		loc, d := lot()
		assert.Nil(t, pushOf(t, loc, d), name)
	}
}

// What the plan expects before the first hole counts the tank, and the holes after it.
func TestPushIsExpected(t *testing.T) {
	loc, d := tanked(3, survey.PushSonde)
	plan, err := probe.Options{Holes: 1, Levels: -1, Plays: 400}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	require.NotNil(t, plan.Push)
	loc, d = tanked(3)
	bare, err := probe.Options{Holes: 1, Levels: -1, Plays: 400}.Plan(t.Context(), loc, d)
	require.NoError(t, err)
	want := 1 + 0.85*plan.Push.Holes + 0.15*bare.ExpectedHoles
	t.Logf("%.2f holes expected, %.2f by hand, %.2f without", plan.ExpectedHoles, want, bare.ExpectedHoles)
	assert.InDelta(t, want, plan.ExpectedHoles, 0.25*want)
}
