package belief_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/belief"
	"asfound/survey/depth"
	"asfound/survey/fit"
	"asfound/survey/posterior"
	"asfound/survey/simulate"
)

// messy is a job of a roughly drawn site with 63 readings, 20 of them
// empty holes, and three holes that met some lateral.
func messy(seed uint64) *survey.Job {
	return simulate.Invent(simulate.Order{Seed: seed, Trust: asbuilt.Roughly, Mix: simulate.Offsets,
		Holes: 8, Unknown: 3, Empty: 20, Depths: true}).Job
}

// BenchmarkLearn times what comes after the fit: the covariances, the depths
// and the empty holes.
func BenchmarkLearn(b *testing.B) {
	job := messy(1)
	solved, err := fit.Solve(b.Context(), job)
	require.NoError(b, err)
	for b.Loop() {
		p := posterior.Of(solved)
		m, err := depth.Solve(b.Context(), job, newPlaces(job, p))
		require.NoError(b, err)
		belief.Learn(b.Context(), job, p, m)
	}
}

// BenchmarkBelief times the whole: the fit and all that follows.
func BenchmarkBelief(b *testing.B) {
	job := messy(1)
	prepared, err := fit.Prepare(job.Sketch)
	require.NoError(b, err)
	for b.Loop() {
		solved, err := prepared.Refit(b.Context(), job)
		require.NoError(b, err)
		p := posterior.Of(solved)
		m, err := depth.Solve(b.Context(), job, newPlaces(job, p))
		require.NoError(b, err)
		belief.Learn(b.Context(), job, p, m)
	}
}
