package entry_test

import (
	"io/fs"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/sites"
	"asfound/web/entry"
)

// What finished jobs say of sheets travels with a job to the phones and back: the
// content of the file that job.json names stands in its place.
func TestDraftingTravels(t *testing.T) {
	sub, err := fs.Sub(sites.Folders, "two-tapes")
	require.NoError(t, err)
	site := fstest.MapFS{}
	for _, name := range []string{"sketch.geojson", "readings.csv"} {
		data, err := fs.ReadFile(sub, name)
		require.NoError(t, err)
		site[name] = &fstest.MapFile{Data: data}
	}
	site["job.json"] = text(`{"unit": "m", "drafting": "county.json"}`)
	site["county.json"] = text(`{"groups": [{"trust": "roughly", "jobs": 12, "scale": 1, "field": 0.5, "detail": 1, "gain": 2}]}`)
	j, _, held := bring(t, site)
	job, problems := j.Read()
	require.NoError(t, problems.Err())
	require.NotNil(t, job.Sketch.Learned)
	assert.Equal(t, 0.5, job.Sketch.Learned.Field)

	back, _, _ := bring(t, send(t, j, held))
	job, problems = back.Read()
	require.NoError(t, problems.Err())
	assert.Equal(t, 12, job.Sketch.Learned.Jobs)

	// Saved by an editor that puts a byte order mark before it.
	site["county.json"] = text("\uFEFF" + string(site["county.json"].Data))
	marked, _, _ := bring(t, site)
	job, problems = marked.Read()
	require.NoError(t, problems.Err())
	assert.Equal(t, 12, job.Sketch.Learned.Jobs)

	site["county.json"] = text(`{"groups": [{"trust": "roughly", "jobs": 12}]}`)
	_, _, err = entry.FromFolder(site, "j", counter(), noon, "Office")
	assert.ErrorContains(t, err, "county.json, groups[0].scale: found nothing")
	delete(site, "county.json")
	_, _, err = entry.FromFolder(site, "j", counter(), noon, "Office")
	assert.ErrorContains(t, err, `job.json, drafting: found "county.json"`)
}
