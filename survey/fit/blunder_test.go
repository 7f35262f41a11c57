package fit_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/geodesy"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/posterior"
	"asfound/survey/testsite"
)

func braced(t testing.TB) *survey.Job {
	t.Helper()
	j, err := testsite.Braced()
	require.NoError(t, err)
	return j
}

// reading returns the tape between two points.
func readingOf(t testing.TB, j *survey.Job, from, to string) *survey.Reading {
	for i := range j.Readings {
		if r := &j.Readings[i]; r.Kind == survey.Tape && r.From == from && r.To == to {
			return r
		}
	}
	t.Fatal(from, to)
	return nil
}

// Blunders that crews make are found and named, and what the row should have
// said is given. The list of blunders is common practice, no published source.
func TestSlipsAreNamed(t *testing.T) {
	written := func(r *survey.Reading, text string) {
		l, err := geo.ParseLength(text, geo.Foot)
		require.NoError(t, err)
		r.Value = &l
	}
	longer := func(feet float64) func(j *survey.Job) *survey.Reading {
		return func(j *survey.Job) *survey.Reading {
			r := readingOf(t, j, "B", "H2")
			written(r, geo.FormatLength(r.Value.Metres+feet*0.3048, geo.Foot))
			return r
		}
	}
	for _, tt := range []struct {
		name    string
		spoil   func(j *survey.Job) *survey.Reading
		says    finding.Code
		instead string
	}{
		{"a foot long", longer(1), finding.FootLong, "34' 0\""},
		{"a foot short", longer(-1), finding.FootShort, "34' 0\""},
		{"ten feet long", longer(10), finding.TenLong, "34' 0\""},
		{"inches as tenths, 1.8 inches off", func(j *survey.Job) *survey.Reading {
			r := readingOf(t, j, "A", "H3") // 87' 9"
			require.Equal(t, `87' 9"`, r.Value.Written)
			written(r, "87.9")
			return r
		}, "", ""},
		{"digits", func(j *survey.Job) *survey.Reading {
			r := readingOf(t, j, "A", "H2")
			require.Equal(t, `61' 2"`, r.Value.Written)
			written(r, `16' 2"`)
			return r
		}, finding.DigitsChanged, `61' 2"`},
		{"another corner", func(j *survey.Job) *survey.Reading {
			r := readingOf(t, j, "C", "H2")
			r.From = "D"
			return r
		}, finding.OtherCorner, "from C"},
		{"the neighbouring trench", func(j *survey.Job) *survey.Reading {
			for i := range j.Readings {
				if r := &j.Readings[i]; r.Kind == survey.Found && r.Target == "L2" {
					r.Target = "L3"
					return r
				}
			}
			return nil
		}, finding.OtherTrench, "target L2"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j := braced(t)
			clean, err := fit.Solve(t.Context(), j)
			require.NoError(t, err)
			require.Empty(t, clean.Suspects, "the clean job accuses nobody")
			r := tt.spoil(j)
			f, err := fit.Solve(t.Context(), j)
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
	spoilt := func(station, offset string) *fit.Suspect {
		j := braced(t)
		s, err := geo.ParseLength(station, geo.Metre)
		require.NoError(t, err)
		o, err := geo.ParseLength(offset, geo.Metre)
		require.NoError(t, err)
		j.Readings = append(j.Readings, survey.Reading{ID: "rb", Kind: survey.Baseline, From: "A", To: "B", Point: "H1", Value: &s, Offset: &o},
			// Tapes alone cannot tell right from left: two other offsets can.
			survey.Reading{ID: "rc", Kind: survey.Baseline, From: "A", To: "B", Point: "H4", Value: testsite.Metres(8), Offset: testsite.Metres(14.28)},
			survey.Reading{ID: "rd", Kind: survey.Baseline, From: "A", To: "B", Point: "H2", Value: testsite.Metres(16), Offset: testsite.Metres(9.56)})
		f, err := fit.Solve(t.Context(), j)
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

// A faulty sheet is recognised, with the right words and odds, and the answer
// is as good as on the sound sheet.
func TestFaultsOfASheet(t *testing.T) {
	site := func() *survey.Job {
		j := braced(t)
		j.Sketch.Up = &asbuilt.Up{Bearing: geo.Degrees(0), Sigma: geo.Degrees(10)}
		j.Sketch.Parts = append(j.Sketch.Parts, asbuilt.Part{ID: "house", Kind: asbuilt.Building, Shapes: []asbuilt.Shape{{Form: asbuilt.Polygon,
			Vertices: []asbuilt.Position{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 9}, {X: 0, Y: 9}}}}})
		at, err := geodesy.New(-123.4, -48.9)
		require.NoError(t, err)
		lot := geodesy.NewSite(at, 0)
		for i, v := range []geo.Vec{{X: 0, Y: 0}, {X: 12, Y: 0}, {X: 12, Y: 9}, {X: 0, Y: 9}, {X: 10, Y: -7.12}, {X: 24, Y: -11.8}} {
			j.Readings = append(j.Readings, survey.Reading{ID: fmt.Sprintf("g%d", i), Kind: survey.GNSS, Point: []string{"A", "B", "C", "D", "H1", "H3"}[i], Position: lot.LonLat(v), Accuracy: 1.5})
		}
		return j
	}
	each := func(s *asbuilt.Sketch, do func(p *asbuilt.Part, v asbuilt.Position) asbuilt.Position) {
		for i := range s.Parts {
			for k := range s.Parts[i].Shapes {
				for n, v := range s.Parts[i].Shapes[k].Vertices {
					s.Parts[i].Shapes[k].Vertices[n] = do(&s.Parts[i], v)
				}
			}
		}
	}
	for _, tt := range []struct {
		fault drawing.Fault
		spoil func(s *asbuilt.Sketch)
		says  string
	}{
		{drawing.Mirrored, func(s *asbuilt.Sketch) {
			each(s, func(_ *asbuilt.Part, v asbuilt.Position) asbuilt.Position { return asbuilt.Position{X: -v.X, Y: v.Y} })
		}, "mirrored"},
		{drawing.Turned, func(s *asbuilt.Sketch) { s.Up.Bearing = geo.Degrees(180) }, "north seems to be 180° off"},
		{drawing.Scaled, func(s *asbuilt.Sketch) { s.Ratio = 0.3048 }, "3.28 times"},
		{drawing.Walled, func(s *asbuilt.Sketch) {
			each(s, func(p *asbuilt.Part, v asbuilt.Position) asbuilt.Position {
				if drawing.GroupOf(p.Kind) == drawing.House {
					return v
				}
				m := asbuilt.Position{X: 6, Y: 4.5}
				return v.Sub(m).Rotate(geo.Degrees(90)).Add(m)
			})
		}, "another wall"},
		{drawing.Named, func(s *asbuilt.Sketch) {
			s.Part("A").ID, s.Part("B").ID, s.Part("C").ID, s.Part("D").ID = "x", "A", "B", "C"
			s.Part("x").ID = "D"
		}, "crew's corner"},
	} {
		t.Run(string(tt.fault), func(t *testing.T) {
			j := site()
			sound, err := fit.Solve(t.Context(), j)
			require.NoError(t, err)
			require.Empty(t, sound.Sheet)
			want, _ := posterior.Of(sound).Spot(asbuilt.SpotName{Part: "box", Spot: asbuilt.Center})
			tt.spoil(j.Sketch)
			f, err := fit.Solve(t.Context(), j)
			require.NoError(t, err)
			require.NotEmpty(t, f.Sheet)
			assert.Equal(t, tt.fault, f.Sheet[0].Fault)
			assert.Greater(t, f.Sheet[0].Odds, 0.9)
			assert.Contains(t, f.Sheet[0].Finding.Says(finding.English(geo.Foot)), tt.says)
			assert.NotEmpty(t, f.Sheet[0].Finding.Settles(finding.English(geo.Foot)))
			got, _ := posterior.Of(f).Spot(asbuilt.SpotName{Part: "box", Spot: asbuilt.Center})
			assert.Less(t, got.At.Dist(want.At), 0.3)
		})
	}
}
