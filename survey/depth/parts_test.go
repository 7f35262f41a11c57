package depth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
)

// before returns the mean and standard deviation of the height of something
// above the datum of the ground before anything is recorded or read, laterals
// level with one another or stepped.
func (m *Model) before(t *testing.T, q quantity, s structure) (mean, sigma float64) {
	t.Helper()
	for i := range m.beliefs {
		if suppositions[i].structure == s {
			b := m.beliefs[i]
			return b.expect(&q), math.Sqrt(b.variance(&q))
		}
	}
	t.Fatal("no such supposition")
	return 0, 0
}

// apart returns the difference of two quantities, without their ground.
func apart(q, w quantity) quantity { return q.plus(-1, w) }

// How far the parts of a system lie above one another before anything is known,
// by hand from the numbers of asbuilt/practice (each with its code) and of this
// package: the outlets of a box are equal to 6 mm (Ramsey MN 8.30), laterals
// begin level with them to 2 cm, or 0.2 ± 0.4 m lower where each follows its
// ground.
func TestStartsOfLaterals(t *testing.T) {
	f := newField(2, 20, 2.4, math.NaN())
	f.spots["box"] = geo.Vec{X: -0.3, Y: 0} // its wall is where L1 starts: no fall between
	m := solve(t, f)
	box, l1 := m.named["box"].invert, m.named["L1"].at(geo.Vec{})
	mean, sigma := m.before(t, apart(l1, box), level)
	assert.InDelta(t, 0, mean, 1e-12)
	assert.InDelta(t, math.Hypot(0.006, 0.02), sigma, 1e-12)
	mean, sigma = m.before(t, apart(l1, box), stepped)
	assert.InDelta(t, -0.2, mean, 1e-12)
	assert.InDelta(t, 0.4, sigma, 1e-12)

	// Below a drop box they are stepped whatever is supposed.
	f.job.Sketch.Parts[0].BoxKind = asbuilt.Drop
	m = solve(t, f)
	mean, sigma = m.before(t, apart(m.named["L1"].at(geo.Vec{}), m.named["box"].invert), level)
	assert.InDelta(t, -0.2, mean, 1e-12)
	assert.InDelta(t, 0.4, sigma, 1e-12)

	// Along it the fall is 0.002 ± 0.0015 a metre; a written grade is kept to 0.001.
	l1, end := m.named["L1"].at(geo.Vec{}), m.named["L1"].at(geo.Vec{X: 20})
	mean, sigma = m.before(t, apart(end, l1), level)
	assert.InDelta(t, -0.04, mean, 1e-12)
	assert.InDelta(t, 0.03, sigma, 1e-12)
	grade := 0.01
	f.job.Sketch.Parts[1].Grade = &grade
	m = solve(t, f)
	mean, sigma = m.before(t, apart(m.named["L1"].at(geo.Vec{X: 20}), m.named["L1"].at(geo.Vec{})), level)
	assert.InDelta(t, -0.2, mean, 1e-12)
	assert.InDelta(t, 0.02, sigma, 1e-12)
}

// A header into the inlet of a box ends 0.03 m above its outlets (1 in at least,
// Ramsey MN 8.30); halfway between tank and box it is as high as halfway between
// their inverts. One that joins one part only falls from it, or to it, by 1.5 %.
func TestHeadersByHand(t *testing.T) {
	tank, box := geo.Vec{X: -11.5, Y: -1.2}, geo.Vec{X: -1.5, Y: -1.2} // 10 m apart
	for _, tt := range []struct {
		name        string
		line        []geo.Vec
		tank        bool
		start, half float64 // of the header above the box's outlets
		sigma       float64 // at its start
	}{
		{"from the tank to the box", []geo.Vec{tank, box}, true, 0.03 + 0.15, (0.03 + 0.15 + 0.03) / 2, math.Sqrt(0.03*0.03 + 0.1*0.1 + 0.05*0.05)},
		{"to the box alone", []geo.Vec{tank, box}, false, 0.15, 0.075, math.Hypot(0.03, 0.05)},
		{"from the box alone", []geo.Vec{box, tank}, false, 0, -0.075, 0.03},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := newField(2, 20, 2.4, math.NaN())
			f.lines["H"] = tt.line
			f.job.Sketch.Parts = append(f.job.Sketch.Parts, asbuilt.Part{ID: "H", Kind: asbuilt.Header, Shapes: []asbuilt.Shape{{Form: asbuilt.Line, Vertices: asbuilt.Positions(tt.line...)}}})
			if tt.tank {
				f.spots["tank"] = tank
				f.job.Sketch.Parts = append(f.job.Sketch.Parts, asbuilt.Part{ID: "tank", Kind: asbuilt.Tank, Shapes: []asbuilt.Shape{{Form: asbuilt.Point, Vertices: asbuilt.Positions(tank)}}})
			}
			m := solve(t, f)
			out := m.named["box"].invert
			h := m.named["H"]
			mean, sigma := m.before(t, apart(h.at(tt.line[0]), out), level)
			assert.InDelta(t, tt.start, mean, 1e-9)
			assert.InDelta(t, tt.sigma, sigma, 1e-9)
			mean, _ = m.before(t, apart(h.at(tt.line[0].Lerp(tt.line[1], 0.5)), out), level)
			assert.InDelta(t, tt.half, mean, 1e-9)
		})
	}
}

// A tank and laterals that no box ties together lie about one level of their
// own, 0.8 m below the ground; a part that has no place has a depth all the same.
func TestWithoutABox(t *testing.T) {
	f := newField(2, 20, 2.4, math.NaN())
	delete(f.spots, "box")
	f.spots["tank"] = geo.Vec{X: -9}
	f.job.Sketch.Parts[0] = asbuilt.Part{ID: "tank", Kind: asbuilt.Tank}
	for i := range f.job.Sketch.Parts {
		f.job.Sketch.Parts[i].From = ""
	}
	m := solve(t, f)
	for _, id := range []string{"tank", "L1"} {
		mean, _ := m.before(t, m.named[id].at(geo.Vec{}), level)
		assert.InDelta(t, -0.8, mean, 1e-12, id)
	}
	mean, sigma := m.before(t, apart(m.named["L1"].at(geo.Vec{}), m.named["L2"].at(geo.Vec{Y: -2.4})), level)
	assert.InDelta(t, 0, mean, 1e-12)
	assert.InDelta(t, math.Hypot(0.006, 0.02)*math.Sqrt2, sigma, 1e-12)
	mean, sigma = m.before(t, apart(m.named["tank"].invert, m.system()), level)
	assert.InDelta(t, 0, mean, 1e-12)
	assert.InDelta(t, 0.1, sigma, 1e-12)

	delete(f.spots, "tank")
	m = solve(t, f)
	_, ok := m.At("tank", geo.Vec{}, "")
	assert.True(t, ok)
}

// What the parts reach above and below their inverts: laterals in gravel 2 in
// over the crown and 6 in below the pipe, a box 0.25 m and 4 in (Ramsey MN
// 8.30), a tank 0.4 m and 1.3 m (common practice, no published source).
func TestFeaturesByHand(t *testing.T) {
	f := newField(1, 20, 2.4, math.NaN())
	f.spots["tank"] = geo.Vec{X: -9}
	f.job.Sketch.Parts = append(f.job.Sketch.Parts, asbuilt.Part{ID: "tank", Kind: asbuilt.Tank})
	m := solve(t, f)
	for _, tt := range []struct {
		part        string
		feature     survey.Feature
		mean, sigma float64
	}{
		{"L1", survey.Crown, practice.PipeOutside, 0.003}, {"L1", survey.Top, practice.PipeOutside + 0.0508, 0.03}, {"L1", survey.Bottom, -0.1524, 0.08},
		{"box", survey.Top, 0.25, 0.10}, {"box", survey.Bottom, -0.10, 0.05}, {"tank", survey.Top, 0.40, 0.15}, {"tank", survey.Bottom, -1.3, 0.2},
	} {
		mean, sigma := m.before(t, one(m.named[tt.part].features[tt.feature]), level)
		assert.InDelta(t, tt.mean, mean, 1e-12, "%s of %s", tt.feature, tt.part)
		assert.InDelta(t, tt.sigma, sigma, 1e-12, "%s of %s", tt.feature, tt.part)
	}
}

// A depth taped to soil is good to 4 cm, to what can be seen to 2, and along a
// pipe 1.5 cm of its own unevenness come in; a shot is good to 2 cm, or to what
// the row says, and no better than a millimetre.
func TestSigmasOfReadings(t *testing.T) {
	f := newField(1, 20, 2.4, math.NaN())
	want := map[string]float64{}
	for _, tt := range []struct {
		part    string
		feature survey.Feature
		sigma   float64
	}{{"L1", survey.Crown, math.Hypot(0.02, 0.015)}, {"L1", survey.Top, math.Hypot(0.04, 0.015)}, {"L1", survey.Bottom, math.Hypot(0.04, 0.015)}, {"box", survey.Top, 0.02}, {"box", survey.Bottom, 0.04}} {
		want[f.found(tt.part, 0.5, 0.9, tt.feature)] = tt.sigma
	}
	shot := f.level(geo.Vec{}, 7)
	want[shot] = 0.02
	for _, s := range [][2]float64{{0.05, 0.05}, {1e-9, 0.001}} {
		id := f.level(geo.Vec{X: s[0]}, 7)
		f.job.Readings[len(f.job.Readings)-1].Sigma = metres(s[0])
		want[id] = s[1]
	}
	m := solve(t, f)
	seen := 0
	for _, o := range m.obs {
		if sigma, ok := want[o.id]; ok {
			assert.InDelta(t, sigma, o.sigma, 1e-12, o.what)
			seen++
		}
	}
	require.Equal(t, len(want), seen)
	// A chamber is hard on top.
	f.job.Sketch.Parts[1].Bed = asbuilt.Chamber
	m = solve(t, f)
	for _, o := range m.obs {
		if o.id == f.job.Readings[1].ID {
			assert.InDelta(t, math.Hypot(0.02, 0.015), o.sigma, 1e-12)
		}
	}
}

// The correlation of two depths against its definition, the covariance over both
// standard deviations, of a mixture: second moments about the means of the
// suppositions by their weights, less the product of the means. What the pipes
// share, the box and the header's fall, makes it positive.
func TestCorrelationByItsDefinition(t *testing.T) {
	f := newField(2, 20, 2.4, 0.61)
	f.found("L1", 0.5, 0.9, survey.Crown)
	f.level(geo.Vec{X: 3}, 7)
	m := solve(t, f)
	at := []geo.Vec{{X: 10}, {X: 10, Y: -2.4}}
	a, b := m.depth(m.named["L1"], at[0], survey.Top), m.depth(m.named["L2"], at[1], survey.Top)
	var ma, mb, aa, bb, ab float64
	for i := range m.beliefs {
		k := &m.beliefs[i]
		mean, cov := k.joint([]*quantity{&a, &b})
		for j, q := range []*quantity{&a, &b} {
			mu, v := k.predict(q)
			assert.InDelta(t, mu, mean[j], 1e-9)
			assert.InDelta(t, v, cov[j][j], 1e-9)
		}
		ma, mb = ma+k.weight*mean[0], mb+k.weight*mean[1]
		aa, bb, ab = aa+k.weight*(cov[0][0]+mean[0]*mean[0]+0.015*0.015), bb+k.weight*(cov[1][1]+mean[1]*mean[1]+0.015*0.015), ab+k.weight*(cov[0][1]+mean[0]*mean[1])
	}
	want := (ab - ma*mb) / math.Sqrt((aa-ma*ma)*(bb-mb*mb))
	got := m.Correlation([]string{"L1", "L2", "nowhere"}, append(at, geo.Vec{}))
	assert.InDelta(t, want, got[0][1], 1e-9)
	assert.InDelta(t, want, got[1][0], 1e-9)
	assert.Equal(t, []float64{0, 0, 1}, got[2])
	assert.Positive(t, want)
}

// Unknown datums begin at the mean of the heights above them, so that heights
// above the sea cost no digits: levels of 100 and 102 m, and recorded inverts of
// 431.5 and 431.1 m, 0.8 m below the ground. A void row counts no more.
func TestDatumsBeginAtTheMean(t *testing.T) {
	f := newField(2, 20, 2.4, math.NaN())
	f.job.Sketch.Parts[1].Invert, f.job.Sketch.Parts[2].Invert = metres(431.50), metres(431.10)
	f.found("L1", 0.5, 0.9, survey.Crown)
	f.level(geo.Vec{}, 100)
	f.level(geo.Vec{X: 5}, 102)
	gone := f.level(geo.Vec{X: 9}, 900)
	f.log(survey.Reading{Kind: survey.Void, Target: gone})
	m := solve(t, f)
	assert.InDelta(t, 101, m.unknowns[m.datum].mean[level], 1e-9)
	assert.InDelta(t, 431.3+0.8, m.unknowns[m.base].mean[level], 1e-9)
}
