package pipeline_test

import (
	"io/fs"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey/fit"
	"asfound/survey/folder"
	"asfound/survey/pipeline"
	"asfound/survey/probe"
	"asfound/testdata/sites"
)

// A sketch prepared for another job of the same sheet, and a plan made step by
// step, give the same as a job worked through at once: the phone, which does the
// one, and the command line, which does the other, agree.
func TestAtOnceAndBitByBit(t *testing.T) {
	fsys, err := fs.Sub(sites.Folders, "day-before")
	require.NoError(t, err)
	job, problems := folder.Read(fsys)
	require.Empty(t, problems)
	once, err := pipeline.Locate(t.Context(), job, nil)
	require.NoError(t, err)
	ready, err := fit.Prepare(job.Sketch)
	require.NoError(t, err)
	other := *job
	other.Readings = nil
	_, err = pipeline.Locate(t.Context(), &other, ready)
	require.NoError(t, err)
	again, err := pipeline.Locate(t.Context(), job, ready)
	require.NoError(t, err)
	require.NotEmpty(t, once.Spots)
	require.Len(t, again.Spots, len(once.Spots))
	for i := range once.Spots {
		assert.Equal(t, once.Spots[i].At, again.Spots[i].At, once.Spots[i].Part)
		assert.Equal(t, once.Spots[i].Landmarks95, again.Spots[i].Landmarks95)
	}

	plan, err := pipeline.Plan(t.Context(), once)
	require.NoError(t, err)
	work, err := pipeline.Work(t.Context(), again)
	require.NoError(t, err)
	var last *probe.Plan
	bits := 0
	for p := range work {
		last = p
		bits++
	}
	require.NotNil(t, last)
	assert.Greater(t, bits, 1, "a plan comes in more than one bit")
	require.NotEmpty(t, plan.Holes)
	assert.Equal(t, plan.Holes[0].At, last.Holes[0].At)
	assert.Equal(t, plan.ExpectedHoles, last.ExpectedHoles)
}

// A sketch with nothing to locate is refused.
func TestNothingToLocate(t *testing.T) {
	fsys, err := fs.Sub(sites.Folders, "day-before")
	require.NoError(t, err)
	job, _ := folder.Read(fsys)
	empty := *job
	empty.Sketch = &asbuilt.Sketch{}
	_, err = pipeline.Locate(t.Context(), &empty, nil)
	assert.Error(t, err)
}
