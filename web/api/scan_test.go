package api

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/web/entry"
)

// A scan that the sketch names is missed only where it is not among the files of the
// job: those kept, and those about to be.
func TestScanIsKept(t *testing.T) {
	sketch := json.RawMessage(`{"type": "FeatureCollection", "sketch": {"plane": "paper", "unit": "ft", "trust": "to-scale", "scan": "scan.jpg"}, "features": [
		{"type": "Feature", "id": "box", "properties": {"part": "box"}, "geometry": {"type": "Point", "coordinates": [3, 4]}}]}`)
	for _, tt := range []struct {
		files []string
		ok    bool
	}{{nil, false}, {[]string{"photo.jpg"}, false}, {[]string{"photo.jpg", "scan.jpg"}, true}, {[]string{"./scan.jpg"}, true}} {
		c, refused := check(t.Context(), nil, &CheckRequest{Job: Job{Sketch: sketch, Files: tt.files}})
		require.Nil(t, refused)
		assert.Equal(t, tt.ok, c.OK, "%v: %v", tt.files, c.Problems)
	}
	assert.Equal(t, []string{"scan.jpg", "notes.txt"}, JobOf(&entry.Job{Files: []entry.File{{Name: "scan.jpg"}, {Name: "notes.txt"}}}).Files)
}
