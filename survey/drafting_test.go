package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"asfound/asbuilt"
)

// A sheet is judged by its drafter's, else by its decade's, else by its trust's; what
// gained nothing is not used, nor anything for the sketch of a finished job.
func TestDraftingOfASheet(t *testing.T) {
	group := func(jobs int, trust asbuilt.Trust, by, decade string, gain float64) DraftingGroup {
		return DraftingGroup{trust, asbuilt.Learned{Jobs: jobs, By: by, Decade: decade}, gain}
	}
	d := &Drafting{[]DraftingGroup{group(1, asbuilt.Roughly, "", "", 1), group(2, asbuilt.Roughly, "An Invented Drafter", "", 1), group(3, asbuilt.Roughly, "", "1980s", 1),
		group(4, asbuilt.Roughly, "", "1970s", 0), group(5, asbuilt.ToScale, "Another", "", 1)}}
	for _, tt := range []struct {
		sketch asbuilt.Sketch
		jobs   int // 0: nothing is known
	}{
		{asbuilt.Sketch{Trust: asbuilt.Roughly}, 1},
		{asbuilt.Sketch{Trust: asbuilt.Roughly, By: " an  invented DRAFTER", Drawn: "May 1984"}, 2},
		{asbuilt.Sketch{Trust: asbuilt.Roughly, By: "Another", Drawn: "5/12/1984"}, 3},
		{asbuilt.Sketch{Trust: asbuilt.Roughly, Drawn: "1974-05-12"}, 1},
		{asbuilt.Sketch{Trust: asbuilt.Roughly, Drawn: "sheet 19845"}, 1},
		{asbuilt.Sketch{Trust: asbuilt.ToScale}, 0},
		{asbuilt.Sketch{Trust: asbuilt.Roughly, Known: &asbuilt.Known{}}, 0},
	} {
		j := &Job{Sketch: &tt.sketch, Settings: Settings{Drafting: d}}
		j.Draft()
		if tt.jobs == 0 {
			assert.Nil(t, tt.sketch.Learned, "%+v", tt.sketch)
			continue
		}
		if assert.NotNil(t, tt.sketch.Learned, "%+v", tt.sketch) {
			assert.Equal(t, tt.jobs, tt.sketch.Learned.Jobs, "%+v", tt.sketch)
		}
	}
	(&Job{}).Draft()
}
