package locate_test

import (
	"encoding/json"
	"io/fs"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/testdata/sites"
)

// truth is what truth.json says of an invented job.
type truth struct {
	Places map[string]geo.Vec
	Fill   float64
}

func (t *truth) UnmarshalJSON(b []byte) error {
	var raw struct {
		Places map[string][2]float64
		Fill   float64
	}
	if err := json.Unmarshal(b, &raw); err != nil {
		return err
	}
	t.Places, t.Fill = map[string]geo.Vec{}, raw.Fill
	for k, v := range raw.Places {
		t.Places[k] = geo.Vec{X: v[0], Y: v[1]}
	}
	return nil
}

func read(t *testing.T, name string) (*locate.Location, truth) {
	t.Helper()
	fsys, err := fs.Sub(sites.Folders, name)
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	loc, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	b, err := fs.ReadFile(fsys, "truth.json")
	require.NoError(t, err)
	var want truth
	require.NoError(t, json.Unmarshal(b, &want))
	return loc, want
}

// laid brings the truth onto the landmarks of a location.
func laid(loc *locate.Location, want truth) func(geo.Vec) geo.Vec {
	var from, to []geo.Vec
	var fc, tc geo.Vec
	for _, s := range loc.Spots {
		if v, ok := want.Places[s.Part]; ok && s.Kind == asbuilt.Landmark && loc.Posterior.Refers(s.Part) {
			from, to = append(from, v), append(to, s.At)
			fc, tc = fc.Add(v), tc.Add(s.At)
		}
	}
	n := 1 / float64(len(from))
	fc, tc = fc.Scale(n), tc.Scale(n)
	var dot, cross float64
	for i := range from {
		a, b := from[i].Sub(fc), to[i].Sub(tc)
		dot, cross = dot+a.Dot(b), cross+a.Cross(b)
	}
	turn := geo.Radians(math.Atan2(cross, dot))
	return func(v geo.Vec) geo.Vec { return v.Sub(fc).Rotate(turn).Add(tc) }
}

// The truth of every invented job lies within the stated regions: of all spots
// of a job at most one in ten outside its 95 % ellipse relative to the
// landmarks (spots of one job are wrong together), none outside twice it.
func TestSitesHoldTheirTruth(t *testing.T) {
	for _, name := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		t.Run(name, func(t *testing.T) {
			loc, want := read(t, name)
			move := laid(loc, want)
			out, all := 0, 0
			for _, s := range loc.Spots {
				key := s.Part
				if s.Spot != asbuilt.Center {
					key += "." + string(s.Spot)
				}
				v, ok := want.Places[key]
				if !ok {
					continue
				}
				d := move(v).Sub(s.At)
				sin, cos := math.Sincos(s.FromLandmarks.Bearing.Radians())
				r := math.Hypot(d.Dot(geo.Vec{X: sin, Y: cos})/s.FromLandmarks.SemiMajor, d.Dot(geo.Vec{X: cos, Y: -sin})/s.FromLandmarks.SemiMinor)
				assert.Less(t, r, 2.0, "%s lies %.2f m off", key, d.Norm())
				all++
				if r > 1 {
					out++
				}
			}
			require.Greater(t, all, 8)
			assert.LessOrEqual(t, out, max(1, all/10))
		})
	}
}

func TestDemo(t *testing.T) {
	loc, want := read(t, "demo")
	require.NotNil(t, loc.Fill)
	assert.InDelta(t, want.Fill, *loc.Fill, 0.15, "metres of fill")
	require.Len(t, loc.Fit.Suspects, 1)
	assert.Equal(t, "r12", loc.Fit.Suspects[0].Reading, "the tape from B to H1, a foot long")
	assert.Equal(t, finding.FootLong, loc.Fit.Suspects[0].Blunder.Code)
	met := finding.With(loc.Fit.Warnings, finding.MetOneOf)
	require.NotEmpty(t, met)
	assert.Equal(t, []string{"r16"}, met[0].Readings)
	assert.Equal(t, "L3", met[0].Parts[0])
	assert.Equal(t, locate.Seen, loc.Spot("L5", asbuilt.End).State)
	assert.Equal(t, locate.Inferred, loc.Spot("L5", asbuilt.Start).State)
	assert.Equal(t, locate.Inferred, loc.Spot("box", asbuilt.Center).State)
	for _, c := range loc.Corridors {
		require.Len(t, c.Half, len(c.Line))
		for _, h := range c.Half {
			assert.Greater(t, h, c.Width/2)
		}
	}
}

func TestMirroredSheetIsRecognised(t *testing.T) {
	loc, _ := read(t, "two-tapes")
	assert.True(t, loc.Fit.Mirrored)
}

func TestDayBeforeClaimsNothing(t *testing.T) {
	loc, _ := read(t, "day-before")
	assert.Equal(t, survey.Local, loc.Frame.Kind)
	_, ok := loc.Frame.LonLat(geo.Vec{})
	assert.False(t, ok)
	assert.Nil(t, loc.Fill)
}
