package belief_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/testdata/must"
)

// ran returns a job whose hole X, at v, met a header that runs clockwise from
// where A is seen, and the way that water was seen to flow in it.
func ran(t *testing.T, j *survey.Job, v geo.Vec, degrees float64, flow survey.Flow) *survey.Job {
	k := met(t, j, v, string(asbuilt.Header))
	a := geo.Degrees(degrees)
	r := &k.Readings[len(k.Readings)-1]
	require.Equal(t, "y", r.ID)
	r.Runs, r.Facing, r.Flow = &a, "A", flow
	return k
}

// clockwise returns the angle from the direction of A to that of w as seen from v,
// degrees.
func clockwise(a, v, w geo.Vec) float64 {
	return (math.Atan2(w.X, w.Y) - math.Atan2(a.Sub(v).X, a.Sub(v).Y)) * 180 / math.Pi
}

// A pipe in a hole, and the direction in which it runs, a little and a good deal off
// that of the second header: where the box is believed afterwards, against weighing very many
// draws of the belief before. The likelihood is written out here once more, with
// its numbers: a normal density of 6° and, for the course of a header, 10°, about
// the direction of every header that may lie there; 1 in 20 misread; 1 in 50 some
// other pipe.
func TestDirectionAgainstBruteForce(t *testing.T) {
	for _, tt := range []struct {
		flow survey.Flow
		off  float64
	}{{"", 8}, {survey.FlowAlong, 8}, {survey.FlowAgainst, 8}, {"", 35}, {survey.FlowAlong, -35}} {
		flow := tt.flow
		j := piped(5, true)
		loc := where(t, j)
		line := loc.Posterior.ExpectedLine("HL2")
		a := loc.Spot("A", asbuilt.Center).At
		v := line[0].Lerp(line[1], 0.5)
		degrees := math.Mod(clockwise(a, v, line[1].Sub(line[0]))+tt.off+720, 360)

		d := must.Have(where(t, met(t, j, v, "")).Posterior.Draws(t.Context(), 40000))
		box := d.Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		var sum float64
		var mean geo.Vec
		weight := make([]float64, len(box))
		for i, b := range box {
			misses, others := 1.0, 1.0
			x := d.Holes["X"][i]
			for k := range j.Sketch.Parts {
				p := &j.Sketch.Parts[k]
				if p.Kind != asbuilt.Header {
					continue
				}
				from, to := d.Lines[p.ID][i][0], d.Lines[p.ID][i][1]
				far, _ := geo.SegmentDistance(from, to, x)
				under := max(0, min(1, 0.5+(0.15+0.057-far)/(2*0.25)))
				off := math.Mod(clockwise(d.Spots[asbuilt.SpotName{Part: "A", Spot: asbuilt.Center}][i], x, to.Sub(from))-degrees+1440, 360)
				switch flow {
				case "": // either way along
					off = math.Mod(off, 180)
					off = min(off, 180-off)
				case survey.FlowAlong:
					off = min(off, 360-off)
				default:
					off = math.Abs(off - 180)
				}
				misses *= 1 - under
				others *= 1 - under*(0.05+0.95*math.Exp(-off*off/(2*(36+100))))
			}
			weight[i] = 1 - others + 0.02*misses*0.05
			sum += weight[i]
			mean = mean.Add(b.Sub(box[0]).Scale(weight[i]))
		}
		mean = mean.Scale(1 / sum).Add(box[0])
		square := 0.0
		for i, b := range box {
			square += weight[i] / sum * b.Sub(mean).Dot(b.Sub(mean))
		}
		sd := math.Sqrt(square)

		all := must.Have(where(t, ran(t, j, v, degrees, flow)).Posterior.Draws(t.Context(), 8000)).Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
		got, off := geo.Mean(all), 0.0
		for _, b := range all {
			off += b.Sub(got).Dot(b.Sub(got)) / float64(len(all))
		}
		t.Logf("flow %q, %v° off: box ± %.2f m; weighed ± %.2f, %.2f m apart", flow, tt.off, math.Sqrt(off), sd, mean.Dist(got))
		assert.Less(t, mean.Dist(got), 0.12*sd, "flow %q", flow)
		assert.InDelta(t, 1, math.Sqrt(off)/sd, 0.1, "flow %q", flow)
	}
}

// The direction of a pipe makes the box surer than the pipe alone does, whether or
// not the sketch has the headers drawn; counted from another point it does little
// harm.
func TestDirectionTells(t *testing.T) {
	narrower := 0.0
	for seed := uint64(1); seed <= 6; seed++ {
		j := piped(seed, seed%2 == 0)
		loc := where(t, j)
		box, a := loc.Spot("box", asbuilt.Center).At, loc.Spot("A", asbuilt.Center).At
		start := loc.Spot("L1", asbuilt.Start).At
		v := box.Lerp(start, 0.5)
		alone := where(t, met(t, j, v, "header")).Spot("box", asbuilt.Center).Landmarks95
		with := where(t, ran(t, j, v, math.Mod(clockwise(a, v, start.Sub(box))+720, 360), "")).Spot("box", asbuilt.Center).Landmarks95
		narrower += math.Log(with/alone) / 6
	}
	t.Logf("radius after a direction, against that without: %.2f", math.Exp(narrower))
	assert.Less(t, math.Exp(narrower), 0.95)
}

// A direction tells nothing where it cannot: the row is withdrawn, or the point
// that it was counted from is.
func TestDirectionWithdrawn(t *testing.T) {
	j := piped(5, true)
	box := where(t, j).Spot("box", asbuilt.Center).At
	v := box.Add(geo.Vec{X: 0.7})
	alone := where(t, met(t, j, v, "header")).Spot("box", asbuilt.Center)

	k := ran(t, j, v, 70, "")
	direct := where(t, k).Spot("box", asbuilt.Center)
	assert.NotEqual(t, alone.At, direct.At)
	y := k.Readings[len(k.Readings)-1]
	y.ID, y.Runs, y.Facing, y.Flow = "z", nil, "", ""
	k.Readings = append(k.Readings, survey.Reading{ID: "void", Kind: survey.Void, Target: "y"}, y)
	assert.InDelta(t, 0, where(t, k).Spot("box", asbuilt.Center).At.Dist(alone.At), 0.05*alone.Landmarks95)
}

// Where the sketch has one header and not the others, a pipe may be one of those:
// beside the way to a lateral that has none, it is not taken for the drawn one.
func TestPipeThatNobodyDrew(t *testing.T) {
	j := piped(5, false)
	tank, ok := j.Sketch.Part("tank").Point(asbuilt.Center)
	require.True(t, ok)
	box, _ := j.Sketch.Part("box").Point(asbuilt.Center)
	j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: "effluent", Kind: asbuilt.Header, Feature: len(j.Sketch.Parts) + 1,
		Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: []asbuilt.Position{tank, box}}}})
	loc := where(t, j)
	v := loc.Spot("box", asbuilt.Center).At.Lerp(loc.Spot("L1", asbuilt.Start).At, 0.7)
	odds := where(t, met(t, j, v, "header")).Posterior.MetOdds("y")
	assert.Greater(t, odds[""], 0.5, "likelier than the drawn one")
	v = loc.Spot("box", asbuilt.Center).At.Lerp(loc.Spot("tank", asbuilt.Center).At, 0.6)
	odds = where(t, met(t, j, v, "header")).Posterior.MetOdds("y")
	assert.Greater(t, odds["effluent"], 0.5, "likelier than those not drawn")
}
