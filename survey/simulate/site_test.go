package simulate

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/fit"
)

// everything is an order with every kind of mess except a wrong sheet.
func everything(seed uint64) Order {
	return Order{Seed: seed, Trust: asbuilt.Roughly, Mix: Braced, Holes: 5, Depths: true, Unknown: 2, Empty: 4, Blunder: Foot}
}

func TestSameSeedSameSite(t *testing.T) {
	a, b := Invent(everything(7)), Invent(everything(7))
	assert.Equal(t, a.Job, b.Job)
	assert.Equal(t, a.Truth, b.Truth)
	assert.NotEqual(t, a.Job.Readings, Invent(everything(8)).Job.Readings)
}

// The mess comes on top: the same lot, the same sketch and the same errors
// of the crew as without it.
func TestMessLeavesTheLotAlone(t *testing.T) {
	o := everything(3)
	messy := Invent(o)
	clean := Invent(Order{Seed: o.Seed, Trust: o.Trust, Mix: o.Mix, Holes: o.Holes})
	assert.Equal(t, clean.Truth, messy.Truth)
	assert.Equal(t, clean.Job.Sketch, messy.Job.Sketch)
	taped := map[[2]string]*geo.Length{}
	for _, r := range clean.Job.Readings {
		taped[[2]string{r.From, r.To}] = r.Value
	}
	differ := 0
	for _, r := range messy.Job.Readings {
		was, ok := taped[[2]string{r.From, r.To}]
		if ok && r.Kind == survey.Tape && !reflect.DeepEqual(was, r.Value) && r.ID != messy.Blundered.Reading {
			differ++
		}
	}
	assert.Zero(t, differ, "tapes that differ beside the blunder")
}

func TestBlunderIsInOneReading(t *testing.T) {
	for _, b := range Blunders {
		t.Run(string(b.Blunder), func(t *testing.T) {
			made := 0
			for seed := uint64(1); seed <= 10; seed++ {
				s := Invent(Order{Seed: seed, Trust: asbuilt.ToScale, Mix: b.Mix, Holes: 3, Blunder: b.Blunder})
				if s.Blundered.Reading == "" {
					continue
				}
				made++
				for i, r := range s.Job.Readings {
					same := reflect.DeepEqual(r, s.Blundered.Clean.Readings[i])
					assert.Equal(t, r.ID != s.Blundered.Reading, same, r.ID)
				}
				assert.Positive(t, s.Blundered.By)
			}
			assert.Greater(t, made, 7)
		})
	}
}

// Worked by hand: 36' 2" is 434 inches.
func TestBlundersReadAsWritten(t *testing.T) {
	tenths, inches := Site{Order: Order{Seed: 2}}, Site{Order: Order{Seed: 1}}
	read := func(s *Site, text string) *survey.Reading {
		return &survey.Reading{Kind: survey.Tape, From: "A", To: "H1", Value: s.read(text)}
	}
	assert.Equal(t, "36.2", tenths.write(36.2*0.3048).Written)
	assert.Equal(t, `36' 2"`, inches.write(434*0.0254).Written)
	assert.InDelta(t, 37.2*0.3048, tenths.misread(Foot, read(&tenths, "36.2"), 1).Metres, 1e-9)
	assert.InDelta(t, 26.2*0.3048, tenths.misread(TenFeet, read(&tenths, "36.2"), -1).Metres, 1e-9)
	assert.InDelta(t, 434*0.0254, tenths.misread(Tenths, read(&tenths, "36.2"), 1).Metres, 1e-9)
	assert.InDelta(t, 36.2*0.3048, inches.misread(Tenths, read(&inches, `36' 2"`), 1).Metres, 1e-9)
	s := Invent(Order{Seed: 2, Trust: asbuilt.ToScale, Mix: Tapes})
	assert.Contains(t, []string{"63.2", "32.6"}, s.transposed("36.2").Written)
	assert.Nil(t, s.transposed("33.3"))
}

// An empty hole met nothing: no part within reach that is not deeper than it
// went.
func TestEmptyHolesMeetNothing(t *testing.T) {
	empty, shallow := 0, 0
	for seed := uint64(1); seed <= 30; seed++ {
		s := Invent(Order{Seed: seed, Trust: asbuilt.Roughly, Mix: Tapes, Empty: 5})
		for _, r := range s.Job.Readings {
			if r.Kind != survey.Empty {
				continue
			}
			empty++
			at := s.Holes[r.Point]
			for k := range s.plan.start {
				d, u := geo.SegmentDistance(s.plan.start[k], s.plan.end[k], at)
				if d < 0.45+0.15 {
					shallow++
					assert.Less(t, r.Depth.Metres, s.down.depth(lateral(k), u)-0.05+0.02, "to the tenth of a foot as written")
				}
			}
		}
	}
	assert.Equal(t, 150, empty)
	assert.Positive(t, shallow, "some holes were too shallow")
}

func TestSpoiledSheets(t *testing.T) {
	drawn := func(s *Site, a, b string) float64 {
		v, _ := s.Job.Sketch.Part(a).Point(asbuilt.Center)
		w, _ := s.Job.Sketch.Part(b).Point(asbuilt.Center)
		return v.Dist(w)
	}
	for _, w := range Wrongs {
		o := Order{Seed: 5, Trust: asbuilt.ToScale, Mix: w.Mix, Holes: 5, Up: true}
		sound := Invent(o)
		o.Wrong = w.Wrong
		wrong := Invent(o)
		var up geo.Angle
		if w.Wrong != Other {
			up = geo.Radians(wrong.Job.Sketch.Up.Bearing.Radians() - sound.Job.Sketch.Up.Bearing.Radians())
		}
		switch w.Wrong {
		case Mirrored:
			v, _ := sound.Job.Sketch.Part("box").Point(asbuilt.Center)
			m, _ := wrong.Job.Sketch.Part("box").Point(asbuilt.Center)
			assert.Equal(t, asbuilt.Position{X: -v.X, Y: v.Y}, m)
		case Quarter:
			assert.InDelta(t, 90, math.Abs(up.Signed().Degrees()), 1e-9)
		case Half:
			assert.InDelta(t, 180, math.Abs(up.Signed().Degrees()), 1e-9)
		case WrongScale:
			assert.Contains(t, []float64{0.5, 2}, wrong.Job.Sketch.Ratio)
		case WrongUnit:
			assert.InDelta(t, 0.3048, drawn(wrong, "A", "box")/drawn(sound, "A", "box"), 1e-12)
		case WrongWall:
			assert.InDelta(t, drawn(sound, "tank", "box"), drawn(wrong, "tank", "box"), 1e-9)
			assert.Equal(t, drawn(sound, "A", "B"), drawn(wrong, "A", "B"))
			assert.NotEqual(t, drawn(sound, "A", "box"), drawn(wrong, "A", "box"))
		case WrongCorners:
			assert.Contains(t, []float64{drawn(sound, "B", "box"), drawn(sound, "D", "box")}, drawn(wrong, "A", "box"))
		case Other:
			assert.NotEqual(t, sound.Job.Sketch.Parts, wrong.Job.Sketch.Parts)
		}
	}
}

// Cochran, Sampling Techniques, 3rd ed., eq. 11.30: three clusters of 2, 2 and 4
// with 2, 0 and 4 in. Worked by hand: p = 6/8; residuals 0.5, −1.5 and 1;
// √(3/2 · 3.5) / 8 = 0.2864.
func TestShareTakesSitesAsTheSample(t *testing.T) {
	var s Share
	for site, in := range [][]bool{{true, true}, {false, false}, {true, true, true, true}} {
		for _, v := range in {
			s.Add(uint64(site), v)
		}
	}
	assert.Equal(t, 0.75, s.Rate())
	assert.InDelta(t, 0.2864, s.Error(), 1e-4)
	var all Share
	all.Join(s, 1)
	all.Join(s, 2)
	assert.Equal(t, 16, all.All)
	assert.InDelta(t, 0.1811, all.Error(), 1e-4, "√(6/5 · 7) / 16")
}

func ExampleInvent() {
	s := Invent(Order{Seed: 1, Trust: asbuilt.Roughly, Mix: Tapes, Holes: 2})
	f, err := fit.Solve(context.Background(), s.Job)
	fmt.Println(err, f.Frame.Kind, f.Doubtful == nil)
	// Output: <nil> local true
}

func ExampleSite_Assess() {
	s := Invent(Order{Seed: 1, Trust: asbuilt.ToScale, Mix: Both, Holes: 3, Unknown: 1})
	score, err := s.Assess()
	fmt.Println(err, len(score.Spots), len(score.Met), score.Met[0].Right)
	// Output: <nil> 14 1 true
}

func TestEveryCellCanBeInvented(t *testing.T) {
	for _, c := range append(Clean(), Messy()...) {
		for seed := uint64(1); seed <= 2; seed++ {
			s := Invent(c.On(seed))
			require.NotNil(t, s.Job.Sketch.Part("box"))
			for _, r := range s.Job.Readings {
				require.NotEmpty(t, r.ID)
				if r.Value != nil && r.Kind == survey.Tape {
					require.Positive(t, r.Value.Metres, r.ID)
					require.NotEmpty(t, r.Value.Written)
				}
			}
		}
	}
}
