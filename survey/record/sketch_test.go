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
			require.NoError(t, geojson.Encode(&b, record.New(old).Sketch(old)))
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
			for _, s := range old.Spots {
				n := next.Spot(s.Part, s.Spot)
				require.NotNil(t, n)
				was, is := s.At.Dist(a.At), n.At.Dist(z.At)
				assert.InDelta(t, was, is, s.Landmarks95+0.05, "%s %s", s.Part, s.Spot)
			}
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
	require.Contains(t, finding.Sentences(l.Fit.Warnings, geo.Foot), met)
	r := record.New(l)
	assert.Equal(t, []string{met}, finding.Sentences(r.Settled, geo.Foot))
	assert.NotContains(t, finding.Sentences(r.Doubts, geo.Foot), met)

	l.Fit.Warnings = []finding.Finding{finding.MetOneOf.New(finding.Word("hole", "H9"), finding.Readings("r99"), finding.Odds([]string{"L3"}, map[string]float64{"L3": 1})), finding.TurnUnknown.New()} // no such reading: never taken as settled
	open, settled := record.Warnings(l)
	assert.Equal(t, l.Fit.Warnings, open)
	assert.Empty(t, settled)
}

func located(t *testing.T, job *survey.Job) *locate.Location {
	t.Helper()
	solved, err := fit.Solve(job)
	require.NoError(t, err)
	l, err := locate.Locate(job, solved)
	require.NoError(t, err)
	return l
}
