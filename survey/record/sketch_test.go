package record_test

import (
	"bytes"
	"io/fs"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/asbuilt/geojson"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/locate"
	"asfound/survey/record"
	"asfound/testdata/must"
	"asfound/testdata/sites"
)

// The corrected as-built serves the next crew as its sketch: read back without
// a reading, it puts every spot where the record has it, seen from the first
// landmark, within what the record claims.
func TestTheNextCrewFindsItAgain(t *testing.T) {
	for _, name := range []string{"demo", "metric-gnss", "two-tapes", "day-before"} {
		t.Run(name, func(t *testing.T) {
			fsys, err := fs.Sub(sites.Folders, name)
			require.NoError(t, err)
			job, problems := folder.Read(fsys)
			require.NoError(t, problems.Err())
			old := located(t, job)

			var b bytes.Buffer
			require.NoError(t, geojson.Encode(&b, must.Have(record.New(old).Sketch(t.Context(), old))))
			sketch, problems := geojson.Decode(&b, "asbuilt.geojson")
			require.NoError(t, problems.Err())
			next := located(t, &survey.Job{Settings: job.Settings, Sketch: sketch})
			assert.Empty(t, next.Fit.Doubtful)

			mark := old.Spots[0].Part
			for i := range old.Spots {
				if old.Spots[i].Kind == asbuilt.Landmark {
					mark = old.Spots[i].Part
					break
				}
			}
			a, z := old.Spot(mark, asbuilt.Center), next.Spot(mark, asbuilt.Center)
			ratio, many := 0.0, 0.0
			for _, s := range old.Spots {
				n := next.Spot(s.Part, s.Spot)
				require.NotNil(t, n)
				was, is := s.At.Dist(a.At), n.At.Dist(z.At)
				assert.InDelta(t, was, is, s.Landmarks95+0.05, "%s %s", s.Part, s.Spot)
				if s.Kind == asbuilt.Landmark {
					continue
				}
				// It knows as much as the first did, to the sampling error of a covariance and
				// of a radius of which heavy tails were made one number.
				assert.InEpsilon(t, s.Landmarks95, n.Landmarks95, 0.12, "%s %s", s.Part, s.Spot)
				ratio += n.Landmarks95 / s.Landmarks95
				many++
				assert.InDelta(t, s.Depth.Mean, n.Depth.Mean, max(0.07, s.Depth.Sigma/4), "%s %s", s.Part, s.Spot)
				assert.InDelta(t, s.Depth.Sigma, n.Depth.Sigma, 0.09, "%s %s", s.Part, s.Spot)
			}
			assert.InDelta(t, 1, ratio/many, 0.05, "all regions together")
		})
	}
}

// Which trench a hole met is not a warning where it is practically certain: the demo's H1 met L3 by
// truth.json. Any other warning remains one.
func TestWhichTrenchWarnsOnlyWhereOpen(t *testing.T) {
	fsys, err := fs.Sub(sites.Folders, "demo")
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	l := located(t, job)
	const met = "H1 (r16) is L3 (over 99 %)"
	require.Contains(t, finding.Sentences(l.Fit.Warnings, finding.English(geo.Foot)), met)
	r := record.New(l)
	assert.Equal(t, []string{met}, finding.Sentences(r.Settled, finding.English(geo.Foot)))
	assert.NotContains(t, finding.Sentences(r.Doubts, finding.English(geo.Foot)), met)

	l.Fit.Warnings = []finding.Finding{finding.MetOneOf.New(finding.Word("hole", "H9"), finding.Readings("r99"), finding.Odds([]string{"L3"}, map[string]float64{"L3": 1})), finding.TurnUnknown.New()} // no such reading: never taken as settled
	open, settled := record.Warnings(l)
	assert.Equal(t, l.Fit.Warnings, open)
	assert.Empty(t, settled)
}

func located(t *testing.T, job *survey.Job) *locate.Location {
	t.Helper()
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	l, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	return l
}

// The next crew starts from what the first knew: two tapes and one hole on the far end
// of a trench tell it more about the others, since they were known together; and a part
// that someone has drawn in since is not known at all.
func TestTheNextCrewDigsOn(t *testing.T) {
	fsys, err := fs.Sub(sites.Folders, "two-tapes")
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.NoError(t, problems.Err())
	old := located(t, job)
	sketch := must.Have(record.New(old).Sketch(t.Context(), old))
	require.NotNil(t, sketch.Known)
	end := old.Spot("L2", asbuilt.End)
	next := &survey.Job{Settings: job.Settings, Sketch: sketch}
	var marks []locate.Spot
	for _, s := range old.Spots {
		if s.Kind == asbuilt.Landmark {
			marks = append(marks, s)
		}
	}
	off := geo.Vec{X: 0.3, Y: -0.2} // from where it was expected
	for i, m := range marks {
		d := geo.Length{Metres: m.At.Dist(end.At.Add(off)), Unit: geo.Metre}
		next.Readings = append(next.Readings, survey.Reading{ID: m.Part, Kind: survey.Tape, From: m.Part, To: "H1", Value: &d})
		if i == 2 {
			break
		}
	}
	next.Readings = append(next.Readings, survey.Reading{ID: "f", Kind: survey.Found, Point: "H1", Target: "L2", Spot: asbuilt.End})
	l := located(t, next)
	assert.Empty(t, l.Fit.Doubtful)
	assert.Less(t, l.Spot("L2", asbuilt.End).Landmarks95, 0.5*end.Landmarks95)
	for _, part := range []string{"L3", "box"} { // drawn with it, and wrong with it
		spot := asbuilt.Center
		if part != "box" {
			spot = asbuilt.End
		}
		assert.Less(t, l.Spot(part, spot).Landmarks95, old.Spot(part, spot).Landmarks95, part)
	}

	sketch.Parts = append(sketch.Parts, asbuilt.Part{ID: "box2", Kind: asbuilt.Box, Shapes: []asbuilt.Shape{{Form: asbuilt.Point, Vertices: asbuilt.Positions(end.At)}}})
	require.Empty(t, sketch.Check("asbuilt.geojson"))
	l = located(t, &survey.Job{Settings: job.Settings, Sketch: sketch})
	assert.Greater(t, l.Spot("box2", asbuilt.Center).Landmarks95, 20.0)
	assert.InEpsilon(t, end.Landmarks95, l.Spot("L2", asbuilt.End).Landmarks95, 0.1)
}
