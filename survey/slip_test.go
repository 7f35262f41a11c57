package survey

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey/finding"
)

// braced is a job on a sheet that is drawn right, with four holes that four
// tapes each place, as a crew writes them: feet and inches.
func braced(t testing.TB) *Job {
	j := &Job{Settings: DefaultSettings(), Sketch: smallSketch(asbuilt.Roughly)}
	add := func(r Reading) {
		r.ID = fmt.Sprintf("r%02d", len(j.Readings)+2)
		j.Readings = append(j.Readings, r)
	}
	corner := map[string]geo.Vec{"A": {X: 0, Y: 0}, "B": {X: 12, Y: 0}, "C": {X: 12, Y: 9}, "D": {X: 0, Y: 9}}
	tape := func(from, to string, a, b geo.Vec) {
		l, err := geo.ParseLength(geo.FormatLength(a.Dist(b), geo.Foot), geo.Foot)
		require.NoError(t, err)
		add(Reading{Kind: Tape, From: from, To: to, Value: &l})
	}
	for _, w := range []string{"AB", "BC", "CD", "DA", "AC", "BD"} {
		tape(w[:1], w[1:], corner[w[:1]], corner[w[1:]])
	}
	for i, h := range []struct {
		at     geo.Vec
		target string
		spot   asbuilt.Spot
	}{{geo.Vec{X: 10, Y: -7.12}, "L1", ""}, {geo.Vec{X: 16, Y: -9.56}, "L2", ""}, {geo.Vec{X: 24, Y: -11.8}, "L3", asbuilt.End}, {geo.Vec{X: 8, Y: -14.28}, "L4", ""}} {
		name := fmt.Sprintf("H%d", i+1)
		for _, c := range []string{"A", "B", "C", "D"} {
			tape(c, name, corner[c], h.at)
		}
		add(Reading{Kind: Found, Point: name, Target: h.target, Spot: h.spot})
	}
	return j
}

// reading returns the tape between two points.
func (j *Job) reading(t testing.TB, from, to string) *Reading {
	for i := range j.Readings {
		if r := &j.Readings[i]; r.Kind == Tape && r.From == from && r.To == to {
			return r
		}
	}
	t.Fatal(from, to)
	return nil
}

// Slips that crews make are found and named, and what the row should have said
// is given. What slips there are is common practice, no published source.
func TestSlipsAreNamed(t *testing.T) {
	written := func(r *Reading, text string) {
		l, err := geo.ParseLength(text, geo.Foot)
		require.NoError(t, err)
		r.Value = &l
	}
	longer := func(feet float64) func(j *Job) *Reading {
		return func(j *Job) *Reading {
			r := j.reading(t, "B", "H2")
			written(r, geo.FormatLength(r.Value.Metres+feet*foot, geo.Foot))
			return r
		}
	}
	for _, tt := range []struct {
		name    string
		spoil   func(j *Job) *Reading
		says    finding.Code
		instead string
	}{
		{"a foot long", longer(1), finding.FootLong, "34' 0\""},
		{"a foot short", longer(-1), finding.FootShort, "34' 0\""},
		{"ten feet long", longer(10), finding.TenLong, "34' 0\""},
		{"inches as tenths, 1.8 inches off", func(j *Job) *Reading {
			r := j.reading(t, "A", "H3") // 87' 9"
			require.Equal(t, `87' 9"`, r.Value.Written)
			written(r, "87.9")
			return r
		}, "", ""},
		{"digits", func(j *Job) *Reading {
			r := j.reading(t, "A", "H2")
			require.Equal(t, `61' 2"`, r.Value.Written)
			written(r, `16' 2"`)
			return r
		}, finding.DigitsChanged, `61' 2"`},
		{"another corner", func(j *Job) *Reading {
			r := j.reading(t, "C", "H2")
			r.From = "D"
			return r
		}, finding.OtherCorner, "from C"},
		{"the neighbouring trench", func(j *Job) *Reading {
			for i := range j.Readings {
				if r := &j.Readings[i]; r.Kind == Found && r.Target == "L2" {
					r.Target = "L3"
					return r
				}
			}
			return nil
		}, finding.OtherTrench, "target L2"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j := braced(t)
			clean, err := Solve(j)
			require.NoError(t, err)
			require.Empty(t, clean.Suspects, "the clean job accuses nobody")
			r := tt.spoil(j)
			f, err := Solve(j)
			require.NoError(t, err)
			if tt.says == "" { // too small to be seen in any job: nobody is accused
				assert.Empty(t, f.Suspects)
				return
			}
			require.NotEmpty(t, f.Suspects)
			s := f.Suspects[0]
			assert.Equal(t, r.ID, s.Reading)
			assert.Equal(t, tt.says, s.Blunder.Code)
			assert.Greater(t, s.Odds, 0.9)
			assert.Greater(t, s.Better, 9.0)
			if tt.instead != "" {
				assert.Equal(t, tt.instead, s.Instead)
			}
			assert.Equal(t, "box", s.Sought)
		})
	}
}

// A baseline offset on the wrong side, and a station from the wrong end.
func TestSlipsOfABaseline(t *testing.T) {
	spoilt := func(station, offset string) *Suspect {
		j := braced(t)
		s, err := geo.ParseLength(station, geo.Metre)
		require.NoError(t, err)
		o, err := geo.ParseLength(offset, geo.Metre)
		require.NoError(t, err)
		j.Readings = append(j.Readings, Reading{ID: "rb", Kind: Baseline, From: "A", To: "B", Point: "H1", Value: &s, Offset: &o},
			// Tapes alone do not tell right from left: two other offsets do.
			Reading{ID: "rc", Kind: Baseline, From: "A", To: "B", Point: "H4", Value: metres(8), Offset: metres(14.28)},
			Reading{ID: "rd", Kind: Baseline, From: "A", To: "B", Point: "H2", Value: metres(16), Offset: metres(9.56)})
		f, err := Solve(j)
		require.NoError(t, err)
		if len(f.Suspects) == 0 {
			return nil
		}
		return &f.Suspects[0]
	}
	assert.Nil(t, spoilt("10.00", "7.12"), "as it is: the field lies right of A to B")
	s := spoilt("10.00", "-7.12")
	require.NotNil(t, s)
	assert.Equal(t, "rb", s.Reading)
	assert.Equal(t, finding.LeftForRight, s.Blunder.Code)
	s = spoilt("2.00", "7.12")
	require.NotNil(t, s)
	assert.Equal(t, finding.Backwards.New(finding.Word("from", "B"), finding.Word("instead", "A")), s.Blunder)
}

// The figures of a length: what changing neighbouring digits over, and inches
// for tenths, make of it.
func TestFigures(t *testing.T) {
	texts := func(all []geo.Length) string {
		var s []string
		for _, l := range all {
			s = append(s, l.Written)
		}
		return strings.Join(s, "; ")
	}
	assert.Equal(t, "63.2; 32.6", texts(transposed("36.2", geo.Foot)))
	assert.Equal(t, `84' 5"`, texts(transposed(`48' 5"`, geo.Foot)), "feet and inches are two numbers")
	assert.Empty(t, transposed("44", geo.Foot))
	assert.Equal(t, `12' 6"`, texts(misread("12.6", geo.Foot)))
	assert.Equal(t, `12' 11"`, texts(misread("12.11", geo.Foot)))
	assert.Equal(t, "12.6 ft", texts(misread(`12' 6"`, geo.Foot)))
	assert.Empty(t, misread("12.6", geo.Metre))
	assert.Empty(t, misread("12.75", geo.Foot))
}

// A sheet with a fault is known for it, by its words and its odds, and the
// answer is as good as on the sound sheet.
func TestFaultsOfASheet(t *testing.T) {
	site := func() *Job {
		j := braced(t)
		j.Sketch.Up = &asbuilt.Up{Bearing: geo.Degrees(0), Sigma: geo.Degrees(10)}
		j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: "house", Kind: asbuilt.Building, Shapes: []asbuilt.Shape{{Form: asbuilt.Polygon,
			Vertices: []geo.Vec{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 9}, {X: 0, Y: 9}}}}})
		at, err := geodesy.New(-123.4, -48.9)
		require.NoError(t, err)
		lot := geodesy.NewSite(at, 0)
		for i, v := range []geo.Vec{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 9}, {X: 0, Y: 9}, {X: 10, Y: -7.12}, {X: 24, Y: -11.8}} {
			j.Readings = append(j.Readings, Reading{ID: fmt.Sprintf("g%d", i), Kind: GNSS, Point: []string{"A", "B", "C", "D", "H1", "H3"}[i], Position: lot.LonLat(v), Accuracy: 1.5})
		}
		return j
	}
	each := func(s *asbuilt.Sketch, do func(p *asbuilt.Part, v geo.Vec) geo.Vec) {
		for i := range s.Parts {
			for k := range s.Parts[i].Shapes {
				for n, v := range s.Parts[i].Shapes[k].Vertices {
					s.Parts[i].Shapes[k].Vertices[n] = do(&s.Parts[i], v)
				}
			}
		}
	}
	for _, tt := range []struct {
		fault Fault
		spoil func(s *asbuilt.Sketch)
		says  string
	}{
		{Mirrored, func(s *asbuilt.Sketch) {
			each(s, func(_ *asbuilt.Part, v geo.Vec) geo.Vec { return geo.Vec{X: -v.X, Y: v.Y} })
		}, "mirrored"},
		{Turned, func(s *asbuilt.Sketch) { s.Up.Bearing = geo.Degrees(180) }, "north looks 180° off"},
		{Scaled, func(s *asbuilt.Sketch) { s.Ratio = foot }, "3.28 times"},
		{Walled, func(s *asbuilt.Sketch) {
			each(s, func(p *asbuilt.Part, v geo.Vec) geo.Vec {
				if groupOf(p.Kind) == house {
					return v
				}
				m := geo.Vec{X: 6, Y: 4.5}
				return v.Sub(m).Rotate(geo.Degrees(90)).Add(m)
			})
		}, "another wall"},
		{Named, func(s *asbuilt.Sketch) {
			s.Part("A").ID, s.Part("B").ID, s.Part("C").ID, s.Part("D").ID = "x", "A", "B", "C"
			s.Part("x").ID = "D"
		}, "crew's corner"},
	} {
		t.Run(string(tt.fault), func(t *testing.T) {
			j := site()
			sound, err := Solve(j)
			require.NoError(t, err)
			require.Empty(t, sound.Sheet)
			want, _ := sound.Posterior().Spot(SpotName{"box", asbuilt.Center})
			tt.spoil(j.Sketch)
			f, err := Solve(j)
			require.NoError(t, err)
			require.NotEmpty(t, f.Sheet)
			assert.Equal(t, tt.fault, f.Sheet[0].Fault)
			assert.Greater(t, f.Sheet[0].Odds, 0.9)
			assert.Contains(t, f.Sheet[0].Finding.Says(geo.Foot), tt.says)
			assert.NotEmpty(t, f.Sheet[0].Finding.Settles(geo.Foot))
			got, _ := f.Posterior().Spot(SpotName{"box", asbuilt.Center})
			assert.Less(t, got.At.Dist(want.At), 0.3)
		})
	}
}
