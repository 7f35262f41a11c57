//go:build race

package pipeline_test

const raceDetector = true
