package belief_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// met returns a job with a hole taped from the house's corners to v and, if
// target is given, what it met.
func met(t *testing.T, j *survey.Job, v geo.Vec, target string) *survey.Job {
	loc := where(t, j)
	k := *j
	k.Readings = append([]survey.Reading{}, j.Readings...)
	for _, mark := range []string{"A", "B", "C"} {
		d := loc.Spot(mark, asbuilt.Center).At.Dist(v)
		k.Readings = append(k.Readings, survey.Reading{ID: "x" + mark, Kind: survey.Tape, From: mark, To: "X", Value: metres(d)})
	}
	if target != "" {
		k.Readings = append(k.Readings, survey.Reading{ID: "y", Kind: survey.Found, Point: "X", Target: target, Spot: asbuilt.On, Feature: survey.Top})
	}
	return &k
}

// piped returns an invented job whose sketch has the headers from the box to
// each lateral, or leaves them out as many sketches do.
func piped(seed uint64, drawn bool) *survey.Job { return pipes(seed, asbuilt.Roughly, drawn) }

// pipes is piped for a sheet that is drawn so well.
func pipes(seed uint64, trust asbuilt.Trust, drawn bool) *survey.Job {
	j := simulate.Invent(simulate.Order{Seed: seed, Trust: trust, Mix: simulate.Tapes}).Job
	box, _ := j.Sketch.Part("box").Point(asbuilt.Center)
	for k := range j.Sketch.Parts {
		if p := j.Sketch.Parts[k]; p.Kind == asbuilt.Lateral && drawn {
			start, _ := p.Point(asbuilt.Start)
			j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: "H" + p.ID, Kind: asbuilt.Header, Feature: len(j.Sketch.Parts) + 1,
				Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: []asbuilt.Position{box, start}}}})
		}
	}
	return j
}

// A hole on some header, and on some lateral, at places beside the believed box
// and past the near ends of the trenches: where the box is believed afterwards,
// against weighing very many draws of the belief before by whether one of the
// lines passes there, the undrawn pipe from the tank included, and whether the box
// does not lie in the hole as well.
func TestHitsAgainstBruteForce(t *testing.T) {
	for _, tt := range []struct {
		kind   asbuilt.Kind
		reach  float64 // of hole and line, metres
		soft   float64
		offset geo.Vec // of the hole from the believed box, along and across the trenches
	}{
		{asbuilt.Header, 0.15 + 0.057, 0.25, geo.Vec{X: 0.8, Y: 0.9}},
		{asbuilt.Header, 0.15 + 0.057, 0.25, geo.Vec{X: -1.5}},
		{asbuilt.Lateral, 0.15 + 0.45, 0.08, geo.Vec{X: 0.3, Y: -0.8}},
	} {
		j := piped(5, true)
		loc := where(t, j)
		line := loc.Posterior.ExpectedLine("L2")
		e := line[1].Sub(line[0]).Unit()
		v := loc.Spot("box", asbuilt.Center).At.Add(e.Scale(tt.offset.X)).Add(e.Right().Scale(tt.offset.Y))

		before := where(t, met(t, j, v, ""))
		d := must.Have(before.Posterior.Draws(t.Context(), 20000))
		box := d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		tank := d.Spots[asbuilt.SpotName{Part: "tank", Spot: asbuilt.Center}]
		require.NotNil(t, tank)
		deep := deepEnough(t, before, tt.kind, v)
		var sum float64
		var mean, square geo.Vec
		for i, b := range box {
			misses := 1.0
			for k := range j.Sketch.Parts {
				p := &j.Sketch.Parts[k]
				if p.Kind != tt.kind || d.Lines[p.ID] == nil {
					continue
				}
				near := math.Inf(1)
				for n, w := range d.Lines[p.ID][i][1:] {
					far, _ := geo.SegmentDistance(d.Lines[p.ID][i][n], w, d.Holes["X"][i])
					near = min(near, far)
				}
				misses *= 1 - max(0, min(1, 0.5+(tt.reach-near)/(2*tt.soft)))
			}
			if tt.kind == asbuilt.Header { // the pipe from the tank is not drawn, and is there
				near, _ := geo.SegmentDistance(tank[i], b, d.Holes["X"][i])
				misses *= 1 - max(0, min(1, 0.5+(tt.reach-near)/(2*tt.soft)))
			}
			// The hole shows, so far as it is deep enough, that it is not on the box.
			on := max(0, min(1, 0.5+(0.15+0.6/math.Sqrt(math.Pi)-b.Dist(d.Holes["X"][i]))/(2*0.08)))
			w := (1 - 0.98*misses) * (1 - 0.98*on*deep)
			sum += w
			b = b.Sub(box[0])
			mean = mean.Add(b.Scale(w))
			square = square.Add(geo.Vec{X: b.X * b.X, Y: b.Y * b.Y}.Scale(w))
		}
		mean, square = mean.Scale(1/sum), square.Scale(1/sum)
		sd := math.Sqrt(square.X + square.Y - mean.Dot(mean))

		after := where(t, met(t, j, v, string(tt.kind)))
		got := after.Spot("box", asbuilt.Center)
		var c float64
		all := must.Have(after.Posterior.Draws(t.Context(), 4000)).Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		var m geo.Vec
		for _, b := range all {
			m = m.Add(b.Scale(1 / float64(len(all))))
		}
		for _, b := range all {
			c += b.Sub(m).Dot(b.Sub(m)) / float64(len(all))
		}
		t.Logf("%s: %.1f %% of the draws agree; box %.2f m from where it was, ± %.2f; weighed %.2f, ± %.2f", tt.kind, 100*sum/float64(len(box)),
			got.At.Dist(loc.Spot("box", asbuilt.Center).At), math.Sqrt(c), mean.Add(box[0]).Dist(loc.Spot("box", asbuilt.Center).At), sd)
		assert.Less(t, mean.Add(box[0]).Dist(m), 0.12*sd, "%s", tt.kind)
		assert.InDelta(t, 1, math.Sqrt(c)/sd, 0.07, "%s", tt.kind)
	}
}

// deepEnough returns the chance that a hole at v, as deep as the nearest line of a
// kind, reaches the top of the box.
func deepEnough(t *testing.T, loc *locate.Location, kind asbuilt.Kind, v geo.Vec) float64 {
	near, met := math.Inf(1), ""
	for _, p := range loc.Job.Sketch.Parts {
		if p.Kind != kind {
			continue
		}
		line := loc.Posterior.ExpectedLine(p.ID)
		for i := range line[1:] {
			if far, _ := geo.SegmentDistance(line[i], line[i+1], v); far < near {
				near, met = far, p.ID
			}
		}
	}
	bottom, ok := loc.DepthAt(met, v)
	require.True(t, ok)
	top, ok := loc.DepthAt("box", v)
	require.True(t, ok)
	return 0.5 * math.Erfc((top.Mean-bottom.Mean)/top.Sigma/math.Sqrt2)
}

// Where several headers run together a pipe says little about where the box
// lies: a hole on one narrows the belief about the box, but never to less than
// the length of the pipes; and it does so whether or not the sketch shows the
// headers.
func TestPipesDoNotPinTheBox(t *testing.T) {
	for seed := uint64(1); seed <= 6; seed++ {
		for _, drawn := range []bool{true, false} {
			j := piped(seed, drawn)
			loc := where(t, j)
			was := loc.Spot("box", asbuilt.Center)
			after := where(t, met(t, j, was.At.Add(geo.Vec{X: 1}), "header")).Spot("box", asbuilt.Center)
			require.Greater(t, was.Landmarks95, 1.5)
			assert.Greater(t, after.Landmarks95, 0.8, "seed %d, drawn %v", seed, drawn)
			assert.Less(t, after.Landmarks95, 0.95*was.Landmarks95, "seed %d, drawn %v", seed, drawn)
		}
	}
}

// A pipe far from any that the sketch allows is reported; one where the headers
// are believed to lie is not.
func TestStrangeHits(t *testing.T) {
	j := piped(3, true)
	box := where(t, j).Spot("box", asbuilt.Center).At
	assert.Empty(t, finding.With(where(t, met(t, j, box.Add(geo.Vec{X: 0.7}), "header")).Learnt, finding.HoleStrange))
	said := where(t, met(t, j, box.Add(geo.Vec{X: 60, Y: 40}), "header")).Learnt
	require.NotEmpty(t, said)
	assert.Equal(t, finding.HoleStrange.New(finding.Word("hole", "X"), finding.Readings("y"), finding.Parts("header")), said[0])
}
