package browser

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
)

// TestRod is a crew with a probe rod, whose holes take long: the plan says where to put
// the rod down and shows the stabs, a press on each that felt something logs the grid
// with its stakes, and the next plan takes it in. A single stab at a stake is logged by
// itself.
func TestRod(t *testing.T) {
	long.Only(t, "some seconds in a browser")
	folder := t.TempDir()
	for _, name := range []string{"sketch.geojson", "readings.csv", "job.json"} {
		text, err := os.ReadFile(filepath.Join("../../testdata/sites/demo", name))
		require.NoError(t, err)
		if name == "job.json" {
			var job map[string]any
			require.NoError(t, json.Unmarshal(text, &job))
			job["tools"] = map[string]any{"rod": map[string]any{}, "shovel": map[string]any{"start": 300}}
			job["follow"] = map[string]any{"loses": 1}
			text, err = json.Marshal(job)
			require.NoError(t, err)
		}
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), text, 0o600))
	}
	s := newSite(t)
	b := open(t, phone)
	b.visit(s.url + "/")
	b.bringFolder(folder)
	b.sees("First try the rod")
	b.sees("A rod pierces")
	b.look("phone-rod-plan")
	before := b.radius()
	b.press("Log what the rod felt")
	b.sees("Base line")
	b.press("Line 1, stab 2")
	b.press("Line 1, stab 3")
	b.look("phone-rod-grid")
	b.press("Save all")
	b.sees("Undo")
	b.settled()
	contacts, stabs := 0, 0
	for _, r := range b.logged("rod") {
		n := 1
		if r["value"] != "" {
			require.NoError(t, json.Unmarshal([]byte(r["value"]), &n))
		}
		stabs += n
		if r["target"] == "contact" {
			contacts += n
		}
	}
	assert.Equal(t, 2, contacts)
	assert.GreaterOrEqual(t, stabs, 6)
	assert.NotEqual(t, before, b.radius(), "the belief takes them in")
	assert.NotContains(t, b.text(), "▲ readings.csv")

	b.press("Measure")
	b.press("a probe rod")
	b.press("one stab")
	b.fill("At", "S1")
	b.fill("It felt", "contact")
	b.keys("4")
	b.look("phone-rod")
	b.press("Save")
	b.sees("Undo")
	rows := b.logged("rod")
	last := rows[len(rows)-1]
	assert.Equal(t, []string{"S1", "contact"}, []string{last["point"], last["target"]})
}
