package fieldbook_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/survey"
	"asfound/survey/fieldbook"
)

// Tools that are named come from the table, with what is written changed; a
// bare number is in the job's unit (0.3048 m to the foot, 85 FR 62698).
func TestTools(t *testing.T) {
	s, problems := fieldbook.DecodeSettings(strings.NewReader(`{"unit": "ft", "tools": {"shovel": {"start": 7, "radius": 0.5}, "rod": {}}}`), "job.json")
	require.NoError(t, problems.Err())
	rod, _ := survey.ToolNamed("rod")
	shovel, _ := survey.ToolNamed("shovel")
	shovel.Start, shovel.Radius = 7, 0.1524
	assert.Equal(t, []survey.Tool{rod, shovel}, s.Crew())

	s, problems = fieldbook.DecodeSettings(strings.NewReader(`{}`), "job.json")
	require.NoError(t, problems.Err())
	assert.Empty(t, s.Tools)
	assert.Equal(t, s.Hole.Radius, s.Crew()[0].Radius, "without a list the crew digs its usual hole")
}

func TestToolProblems(t *testing.T) {
	for text, want := range map[string]string{
		`{"tools": ["shovel"]}`:                      "tools",
		`{"tools": {"spoon": {}}}`:                   "tools.spoon",
		`{"tools": {"shovel": {"start": -1}}}`:       "tools.shovel.start",
		`{"tools": {"shovel": {"colour": "red"}}}`:   "tools.shovel.colour",
		`{"tools": {"shovel": {"radius": "40 ft"}}}`: "tools.shovel.radius",
	} {
		_, problems := fieldbook.DecodeSettings(strings.NewReader(text), "job.json")
		require.Len(t, problems, 1, text)
		assert.Contains(t, problems.Err().Error(), want)
	}
}
