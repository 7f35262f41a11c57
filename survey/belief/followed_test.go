package belief_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/simulate"
	"asfound/testdata/long"
	"asfound/testdata/must"
)

// staked returns a job with points taped from the house's corners: P, Q, R ...
func staked(t *testing.T, j *survey.Job, at ...geo.Vec) *survey.Job {
	loc := where(t, j)
	k := *j
	k.Readings = append([]survey.Reading{}, j.Readings...)
	for i, v := range at {
		name := string(rune('P' + i))
		for _, mark := range []string{"A", "B", "C"} {
			d := loc.Spot(mark, asbuilt.Center).At.Dist(v)
			k.Readings = append(k.Readings, survey.Reading{ID: "x" + name + mark, Kind: survey.Tape, From: mark, To: name, Value: metres(d)})
		}
	}
	return &k
}

// with returns a job with more readings.
func with(j *survey.Job, more ...survey.Reading) *survey.Job {
	k := *j
	k.Readings = append(append([]survey.Reading{}, j.Readings...), more...)
	return &k
}

// follow is the reading that a line was followed.
func follow(from, to, target string) survey.Reading {
	return survey.Reading{ID: "z" + from + to, Kind: survey.Followed, From: from, To: to, Target: target}
}

// found is the reading that a hole met a line.
func found(point, target string) survey.Reading {
	return survey.Reading{ID: "y" + point, Kind: survey.Found, Point: point, Target: target, Spot: asbuilt.On, Feature: survey.Top}
}

// agree compares where draws have the box with weighing very many others.
func agree(t *testing.T, after, d *draws, likelihood func(i int) float64) {
	var sum, squares float64
	var mean geo.Vec
	weight := make([]float64, len(d.box))
	for i, b := range d.box {
		weight[i] = likelihood(i)
		sum += weight[i]
		mean = mean.Add(b.Sub(d.box[0]).Scale(weight[i]))
	}
	mean = mean.Scale(1 / sum).Add(d.box[0])
	square, off := 0.0, 0.0
	for i, b := range d.box {
		w := weight[i] / sum
		square, squares = square+w*b.Sub(mean).Dot(b.Sub(mean)), squares+w*w
	}
	got := geo.Mean(after.box)
	for _, b := range after.box {
		off += b.Sub(got).Dot(b.Sub(got)) / float64(len(after.box))
	}
	sd := math.Sqrt(square)
	t.Logf("box ± %.3f m; weighed ± %.3f by %.0f draws, %.3f m apart", math.Sqrt(off), sd, 1/squares, mean.Dist(got))
	assert.Less(t, mean.Dist(got), 0.12*sd)
	assert.InDelta(t, 1, math.Sqrt(off)/sd, 0.1)
}

// draws is draws of a belief: how far each line lies from each point, metres, and which
// way it runs as seen from there, clockwise from where A is seen, degrees.
type draws struct {
	box         []geo.Vec
	near, angle func(i int, line, point string) float64
	apart       func(i int, p, q string) float64 // metres between two points
}

func drawsOf(t *testing.T, j *survey.Job, n int) *draws {
	d := must.Have(where(t, j).Posterior.Draws(t.Context(), n))
	spot := func(part string) []geo.Vec { return d.Spots[asbuilt.SpotName{Part: part, Spot: asbuilt.Center}] }
	return &draws{spot("box"), func(i int, line, point string) float64 {
		near := math.Inf(1)
		for n, w := range d.Lines[line][i][1:] {
			far, _ := geo.SegmentDistance(d.Lines[line][i][n], w, d.Holes[point][i])
			near = min(near, far)
		}
		return near
	}, func(i int, line, point string) float64 {
		return clockwise(spot("A")[i], d.Holes[point][i], d.Lines[line][i][1].Sub(d.Lines[line][i][0]))
	}, func(i int, p, q string) float64 { return d.Holes[p][i].Dist(d.Holes[q][i]) }}
}

// What was followed, against weighing very many draws of the belief before. The
// likelihood is written out here once more, with its numbers: 1 in 20 followed
// wrongly, and then some line lies at each end; 1 in 50 lines is none of those drawn,
// and may run any way.
func TestFollowedAgainstBruteForce(t *testing.T) {
	headers := []string{"HL1", "HL2", "HL3", "HL4"}
	j := piped(5, true)
	for j.Sketch.Part(headers[len(headers)-1]) == nil {
		headers = headers[:len(headers)-1]
	}
	require.Greater(t, len(headers), 1)
	loc := where(t, j)
	line := loc.Posterior.ExpectedLine("HL2")
	side := line[1].Sub(line[0]).Unit().Right().Scale(0.15)
	at := []geo.Vec{line[0].Lerp(line[1], 0.5).Add(side), line[0].Lerp(line[1], 0.75), line[1].Sub(side)}
	j = staked(t, j, at...)
	d := drawsOf(t, j, 60000)
	under := func(d *draws, i int, k, p string) float64 {
		return max(0, min(1, 0.5+(0.15+0.057-d.near(i, k, p))/(2*0.25)))
	}
	// astray returns the share of straight lines through each point that also lie under
	// the next: by the angle that this fills, of all ways that a line may run.
	astray := func(i int, points ...string) float64 {
		share := 1.0
		for n := 1; n < len(points); n++ {
			share *= 2 * (0.15 + 0.057) / (math.Pi * d.apart(i, points[n-1], points[n]))
		}
		return share
	}
	// one returns the chance that one of some headers lies at all of some points.
	one := func(i int, of []string, points ...string) float64 {
		misses := 1.0
		for _, k := range of {
			all := 1.0
			for _, p := range points {
				all *= under(d, i, k, p)
			}
			misses *= 1 - all
		}
		return 1 - misses + 0.02*misses*astray(i, points...)
	}
	pair := func(i int) float64 {
		return 0.95*one(i, headers, "P", "Q") + 0.05*one(i, headers, "P")*one(i, headers, "Q")
	}
	runs := found("Q", "header")
	angle := geo.Degrees(math.Mod(clockwise(loc.Spot("A", asbuilt.Center).At, at[1], line[1].Sub(line[0]))+12+720, 360))
	runs.Runs, runs.Facing = &angle, "A"
	for _, tt := range []struct {
		name       string
		more       []survey.Reading
		likelihood func(i int) float64
	}{
		{"both ends dug", []survey.Reading{found("P", "header"), found("Q", "header"), follow("P", "Q", "header")}, pair},
		{"one end dug", []survey.Reading{found("P", "header"), follow("P", "Q", "header")}, pair},
		{"the other end dug", []survey.Reading{found("Q", "header"), follow("P", "Q", "header")}, pair},
		{"neither dug", []survey.Reading{follow("P", "Q", "header")}, pair},
		{"a header by its name", []survey.Reading{follow("P", "Q", "HL2")}, func(i int) float64 {
			hl2 := []string{"HL2"}
			return 0.95*one(i, hl2, "P", "Q") + 0.05*one(i, hl2, "P")*one(i, headers, "Q")
		}},
		{"one by its name, from some header", []survey.Reading{found("P", "header"), follow("P", "Q", "HL2")}, func(i int) float64 {
			return 0.95*one(i, []string{"HL2"}, "P", "Q") + 0.05*one(i, headers, "P")*one(i, headers, "Q")
		}},
		{"and seen to run", []survey.Reading{found("P", "header"), runs, follow("P", "Q", "header")}, func(i int) float64 {
			both, neither, alone, none := 1.0, 1.0, 1.0, 1.0
			for _, k := range headers {
				p, q := under(d, i, k, "P"), under(d, i, k, "Q")
				off := math.Mod(d.angle(i, k, "Q")-(*runs.Runs).Degrees()+1440, 180)
				off = min(off, 180-off)
				seen := 0.05 + 0.95*math.Exp(-off*off/(2*(36+100)))
				both, neither, alone, none = both*(1-p*q*seen), neither*(1-p*q), alone*(1-q*seen), none*(1-q)
			}
			return 0.95*(1-both+0.02*neither*0.05*astray(i, "P", "Q")) + 0.05*one(i, headers, "P")*(1-alone+0.02*none*0.05)
		}},
		{"on to a third hole", []survey.Reading{found("Q", "header"), follow("P", "Q", "header"), follow("Q", "R", "header")}, func(i int) float64 {
			return 0.95*0.95*one(i, headers, "P", "Q", "R") + 0.95*0.05*one(i, headers, "P", "Q")*one(i, headers, "R") +
				0.05*0.95*one(i, headers, "P")*one(i, headers, "Q", "R") + 0.05*0.05*one(i, headers, "P")*one(i, headers, "Q")*one(i, headers, "R")
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			after := drawsOf(t, with(j, tt.more...), 8000)
			agree(t, after, d, tt.likelihood)
			// How often the second header lies at both, or at one alone.
			for name, of := range map[string]func(p, q float64) float64{
				"both": func(p, q float64) float64 { return p * q },
				"P":    func(p, q float64) float64 { return p * (1 - q) },
				"Q":    func(p, q float64) float64 { return (1 - p) * q },
			} {
				var want, sum, got float64
				for i := range d.box {
					w := tt.likelihood(i)
					sum += w
					want += w * of(under(d, i, "HL2", "P"), under(d, i, "HL2", "Q"))
				}
				for i := range after.box {
					got += of(under(after, i, "HL2", "P"), under(after, i, "HL2", "Q")) / float64(len(after.box))
				}
				t.Logf("%s: %.3f, weighed %.3f", name, got, want/sum)
				assert.InDelta(t, want/sum, got, 0.012, name)
			}
		})
	}
}

// Where headers leave the box a pipe may be any of them, and what it was followed to
// tells which: there is one beyond the start of the trench before the last.
func TestFollowedSettlesWhichPipe(t *testing.T) {
	j := pipes(5, asbuilt.ToScale, true)
	loc := where(t, j)
	line := loc.Posterior.ExpectedLine("HL4")
	j = with(staked(t, j, line[0].Lerp(line[1], 0.05), line[0].Lerp(line[1], 0.95)), found("P", "header"))
	before, after := where(t, j).Posterior.MetOdds("yP"), where(t, with(j, follow("P", "Q", "header"))).Posterior.MetOdds("yP")
	t.Logf("before %v; after %v", before, after)
	assert.Less(t, before["HL4"], 0.3)
	assert.Greater(t, after["HL4"], 0.95)
}

// A hole between two trenches, far from another on one of them, is on that from which
// the crew followed it.
func TestFollowedSettlesWhichTrench(t *testing.T) {
	for _, side := range []string{"L2", "L3"} {
		j := pipes(5, asbuilt.Roughly, false)
		loc := where(t, j)
		l2, l3 := loc.Posterior.ExpectedLine("L2"), loc.Posterior.ExpectedLine("L3")
		end := len(l2) - 1
		from := loc.Posterior.ExpectedLine(side)
		far := l2[0].Lerp(l2[end], 0.9).Lerp(l3[0].Lerp(l3[end], 0.9), 0.5)
		j = with(staked(t, j, far, from[0].Lerp(from[end], 0.1)), found("P", "lateral"), found("Q", side))
		before, after := where(t, j).Posterior.MetOdds("yP"), where(t, with(j, follow("P", "Q", "lateral"))).Posterior.MetOdds("yP")
		t.Logf("before %v; after %v", before, after)
		assert.Less(t, before[side], 0.8)
		assert.Greater(t, after[side], 0.95)
	}
}

// The order of the log changes nothing, and a withdrawn row has no effect.
func TestFollowedOrderAndVoid(t *testing.T) {
	j := piped(5, true)
	loc := where(t, j)
	line := loc.Posterior.ExpectedLine("HL2")
	j = staked(t, j, line[0].Lerp(line[1], 0.5), line[0].Lerp(line[1], 0.7), line[0].Lerp(line[1], 0.9))
	j = with(j, found("Q", "header"))
	full := with(j, follow("R", "Q", "header"), follow("P", "Q", "HL2"))
	want := where(t, full)
	back := with(full)
	slices.Reverse(back.Readings)
	assert.Equal(t, want.Spots, where(t, back).Spots)
	assert.Equal(t, want.Corridors, where(t, back).Corridors)

	alone := where(t, j)
	assert.NotEqual(t, alone.Spot("box", asbuilt.Center).At, want.Spot("box", asbuilt.Center).At)
	gone := with(full, survey.Reading{ID: "v1", Kind: survey.Void, Target: "zRQ"}, survey.Reading{ID: "v2", Kind: survey.Void, Target: "zPQ"})
	assert.Equal(t, alone.Spots, where(t, gone).Spots)
	assert.Equal(t, alone.Corridors, where(t, gone).Corridors)
}

// A line that the crew cannot have kept to is reported, with the place where it left
// what is believed; one along a trench or a header is not.
func TestFollowedStrangely(t *testing.T) {
	for target, id := range map[string]string{"lateral": "L2", "header": "HL2"} {
		j := pipes(3, asbuilt.Roughly, true)
		line := where(t, j).Posterior.ExpectedLine(id)
		j = staked(t, j, line[0].Lerp(line[1], 0.5), line[0].Lerp(line[1], 0.9), line[0].Add(geo.Vec{X: 60, Y: 40}))
		assert.Empty(t, finding.With(where(t, with(j, follow("P", "Q", target))).Learnt, finding.HoleStrange))
		strange := []finding.Finding{finding.HoleStrange.New(finding.Word("hole", "R"), finding.Readings("zPR"), finding.Parts(target))}
		for _, more := range [][]survey.Reading{{follow("P", "R", target)}, {found("P", target), follow("P", "Q", target), follow("P", "R", target)}} {
			assert.Equal(t, strange, finding.With(where(t, with(j, more...)).Learnt, finding.HoleStrange), target)
		}
	}
}

// From a hole by which the fit has placed a trench, what lies along is that trench: of
// the first hole nothing is weighed again. Against weighing draws, written out; the
// second hole lies half-way to the next trench.
func TestFollowedFromWhatTheFitPlaced(t *testing.T) {
	j := piped(5, true)
	loc := where(t, j).Posterior
	line, next := loc.ExpectedLine("L2"), loc.ExpectedLine("L3")
	start := found("P", "L2")
	start.Spot = asbuilt.Start
	j = with(staked(t, j, line[0], line[0].Lerp(line[1], 0.9).Lerp(next[0].Lerp(next[1], 0.9), 0.5)), start)
	d := drawsOf(t, j, 60000)
	under := func(d *draws, i int, k string) float64 {
		return max(0, min(1, 0.5+(0.15+0.45-d.near(i, k, "Q"))/(2*0.08)))
	}
	likelihood := func(i int) float64 {
		misses := 1.0
		for _, k := range []string{"L1", "L2", "L3", "L4"} {
			misses *= 1 - under(d, i, k)
		}
		return 0.95*under(d, i, "L2") + 0.05*(1-0.98*misses)
	}
	after := drawsOf(t, with(j, follow("P", "Q", "lateral")), 8000)
	agree(t, after, d, likelihood)
	for _, k := range []string{"L2", "L3"} {
		var want, sum, got float64
		for i := range d.box {
			w := likelihood(i)
			sum += w
			want += w * under(d, i, k)
		}
		for i := range after.box {
			got += under(after, i, k) / float64(len(after.box))
		}
		t.Logf("%s: %.3f, weighed %.3f", k, got, want/sum)
		assert.InDelta(t, want/sum, got, 0.015, k)
	}
}

// Invented lots whose box is known: a pipe that nobody drew is met where it enters a
// trench, and followed more than half of the way to the box. Regions that hold 95 % still do, and the
// box is likelier to be where it is than by the first hole alone. By way of another
// hole it is called strange on one lot in five at most.
func TestFollowedHoldsTheTruth(t *testing.T) {
	lots := long.Size(t, 20, 150)
	for _, trust := range []asbuilt.Trust{asbuilt.ToScale, asbuilt.Roughly, asbuilt.NotToScale} {
		inside, before, strange, gain := 0, 0, 0, 0.0
		for seed := range uint64(lots) {
			s := simulate.Invent(simulate.Order{Seed: 100 + seed, Trust: trust, Mix: simulate.Tapes})
			place := func(part string, spot asbuilt.Spot) geo.Vec { return s.Truth[asbuilt.SpotName{Part: part, Spot: spot}] }
			box, start := place("box", asbuilt.Center), place("L2", asbuilt.Start)
			rng := rand.New(rand.NewPCG(seed, 1))
			j := with(s.Job, found("P", "header"))
			for i, v := range []geo.Vec{start.Lerp(box, 0.15), start.Lerp(box, 0.7), start.Lerp(box, 0.4)} {
				name := string(rune('P' + i))
				for _, mark := range []string{"A", "B", "C", "D"} {
					d := place(mark, asbuilt.Center).Dist(v) + 0.02*rng.NormFloat64()
					j = with(j, survey.Reading{ID: "x" + name + mark, Kind: survey.Tape, From: mark, To: name, Value: metres(d)})
				}
			}
			// score returns whether the 95 % region holds the true box, and the logarithm
			// of the belief's density there, blurred by 0.3 m.
			score := func(j *survey.Job) (holds bool, density float64) {
				loc := where(t, j)
				a, b := loc.Spot("A", asbuilt.Center).At, loc.Spot("B", asbuilt.Center).At
				along, across := geo.AlongAcross(place("A", asbuilt.Center), place("B", asbuilt.Center), box)
				e := b.Sub(a).Unit()
				v := a.Add(e.Scale(along)).Add(e.Right().Scale(across))
				all := must.Have(loc.Posterior.Draws(t.Context(), 2000)).Spots[asbuilt.SpotName{Part: "box", Spot: asbuilt.Center}]
				for _, w := range all {
					density += math.Exp(-w.Sub(v).Dot(w.Sub(v))/(2*0.3*0.3)) / float64(len(all))
				}
				r := loc.Spot("box", asbuilt.Center)
				return r.At.Dist(v) < r.Landmarks95, math.Log(density)
			}
			held, was := score(j)
			holds, is := score(with(j, follow("P", "Q", "header")))
			if held {
				before++
			}
			if holds {
				inside++
			}
			if len(finding.With(where(t, with(j, follow("P", "R", "header"), follow("R", "Q", "header"))).Learnt, finding.HoleStrange)) > 0 {
				strange++
			}
			gain += (is - was) / float64(lots)
		}
		t.Logf("%s: %d of %d boxes inside, %d before; log density at the true box %+.2f; by way of a third hole %d are called strange", trust, inside, lots, before, gain, strange)
		// 0, 8 and 28 of 150 were measured.
		assert.Less(t, float64(strange), 0.2*float64(lots)+3*math.Sqrt(0.2*0.8*float64(lots)))
		assert.Greater(t, float64(inside), 0.95*float64(lots)-3*math.Sqrt(0.95*0.05*float64(lots)))
		assert.Positive(t, gain)
	}
}
