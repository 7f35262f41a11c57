package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/plot"
	"asfound/survey/probe"
	"asfound/survey/simulate"
	"asfound/testdata/must"
)

// A crew with a camera is told to push it from the tank first, in one sentence and
// with its cautions: on the terminal, and on the first page of the paper.
func TestPushIsSaid(t *testing.T) {
	job := simulate.Invent(simulate.Order{Seed: 3, Trust: asbuilt.NotToScale, Mix: simulate.Tapes}).Job
	p, _ := survey.PushingNamed(survey.PushSonde)
	job.Settings.Pushing = []survey.Pushing{p}
	solved, err := fit.Solve(t.Context(), job)
	require.NoError(t, err)
	loc, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	plan, err := probe.Options{Levels: -1, Plays: 50}.Plan(t.Context(), loc, must.Have(loc.Posterior.Draws(t.Context(), 1000)))
	require.NoError(t, err)
	require.NotNil(t, plan.Push, "a sheet that is not to scale")
	says := plan.Push.Finding().Says(finding.English(job.Settings.Unit))
	assert.True(t, strings.HasPrefix(says, "First open the tank, push a camera with a sonde from its outlet to the box"), says)

	var b bytes.Buffer
	sayHoles(&b, finding.English(job.Settings.Unit), loc, plan, len(plan.Holes))
	terminal := strings.Join(strings.Fields(b.String()), " ")
	assert.Contains(t, terminal, says)
	assert.Contains(t, terminal, "that a camera from the tank gets there")
	d, err := plot.DigPlan(loc, plan, plot.MapOptions{})
	require.NoError(t, err)
	paper := onPaper(t, d)
	for _, c := range append([]finding.Finding{plan.Push.Finding()}, plan.Push.Cautions...) {
		assert.Contains(t, paper, c.Says(finding.English(job.Settings.Unit)))
		if c.Code != finding.PushSonde {
			assert.Contains(t, terminal, c.Says(finding.English(job.Settings.Unit)))
		}
	}
	assert.Contains(t, paper, "NEXT HOLE, if the camera does not get there")
}
