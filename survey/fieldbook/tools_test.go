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
	tools, has := s.Crew()
	assert.Equal(t, []survey.Tool{shovel}, tools)
	assert.Equal(t, &rod, has, "which digs nothing")

	s, problems = fieldbook.DecodeSettings(strings.NewReader(`{"tools": {"rod": {"layout": 0}}}`), "job.json")
	require.NoError(t, problems.Err())
	tools, has = s.Crew()
	assert.Equal(t, "shovel", tools[0].Name, "somebody has to open what it felt")
	assert.Zero(t, has.Layout)

	s, problems = fieldbook.DecodeSettings(strings.NewReader(`{}`), "job.json")
	require.NoError(t, problems.Err())
	assert.Empty(t, s.Tools)
	tools, has = s.Crew()
	assert.Equal(t, s.Hole.Radius, tools[0].Radius, "without a list the crew digs its usual hole")
	assert.Nil(t, has)
}

// A list of names is what an object of them is that changes nothing.
func TestToolsByName(t *testing.T) {
	list, problems := fieldbook.DecodeSettings(strings.NewReader(`{"tools": ["rod", "sonde", "shovel"]}`), "job.json")
	require.NoError(t, problems.Err())
	object, problems := fieldbook.DecodeSettings(strings.NewReader(`{"tools": {"shovel": {}, "rod": {}, "sonde": {}}}`), "job.json")
	require.NoError(t, problems.Err())
	assert.Equal(t, object, list)
	assert.Len(t, list.Tools, 2)
	assert.Len(t, list.Pushing, 1)
}

func TestToolProblems(t *testing.T) {
	for text, want := range map[string]string{
		`{"tools": "shovel"}`:                        "tools",
		`{"tools": ["shovel", "rode"]}`:              `tools: found "rode"; want rod, auger, shovel, excavator, cable, sonde`,
		`{"tools": {"spoon": {}}}`:                   `tools: found "spoon"`,
		`{"tools": {"shovel": {"start": -1}}}`:       "tools.shovel.start",
		`{"tools": {"shovel": {"layout": 5}}}`:       "tools.shovel.layout",
		`{"tools": {"shovel": {"colour": "red"}}}`:   "tools.shovel.colour",
		`{"tools": {"shovel": {"radius": "40 ft"}}}`: "tools.shovel.radius",
	} {
		_, problems := fieldbook.DecodeSettings(strings.NewReader(text), "job.json")
		require.Len(t, problems, 1, text)
		assert.Contains(t, problems.Err().Error(), want)
	}
}
