// Package pipeline puts the stages of a job together, once for the command line,
// the phone and the tests: fit and locate, plan, rehearse. Reading and checking the
// files of a job comes first, in survey/folder. The record follows from a location
// alone, in survey/record; drawing and writing the results are in survey/plot and
// survey/export.
//
// Every stage is a function of the one before it, without side effects. It stops soon
// after its context is done, with the error of that and without an answer. Lengths
// are metres in the field frame of the job.
package pipeline

import (
	"context"
	"iter"

	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/locate"
	"asfound/survey/posterior"
	"asfound/survey/probe"
	"asfound/survey/rehearse"
)

// Ways is how many draws of where everything may lie a plan is made on: chances
// are then good to a percent or so.
const Ways = 2000

// Locate fits a job and works out where everything lies. ready is its prepared
// sketch, where there is one; nil: it is prepared here. The error is a
// *finding.Refusal where nothing can be computed; an answer that must not be
// trusted says so in Fit.Doubtful.
func Locate(ctx context.Context, job *survey.Job, ready *fit.Prepared) (*locate.Location, error) {
	if ready == nil {
		p, err := fit.Prepare(job.Sketch)
		if err != nil {
			return nil, err
		}
		ready = p
	}
	solved, err := ready.Refit(ctx, job)
	if err != nil {
		return nil, err
	}
	return locate.Locate(ctx, job, solved)
}

// Draws returns the draws that plans and plays of a location are made on.
func Draws(ctx context.Context, l *locate.Location) (*posterior.Draws, error) {
	return l.Posterior.Draws(ctx, Ways)
}

// Plan makes the whole plan of digging for what the job seeks.
func Plan(ctx context.Context, l *locate.Location) (*probe.Plan, error) {
	d, err := Draws(ctx, l)
	if err != nil {
		return nil, err
	}
	return probe.New(ctx, l, d)
}

// Work plans as Plan does, step by step: the next hole comes first.
func Work(ctx context.Context, l *locate.Location) (iter.Seq2[*probe.Plan, error], error) {
	d, err := Draws(ctx, l)
	if err != nil {
		return nil, err
	}
	return probe.Options{}.Work(ctx, l, d)
}

// Rehearse plays the dig of a plan many times on what is believed.
func Rehearse(ctx context.Context, l *locate.Location, plan *probe.Plan, o rehearse.Options) (*rehearse.Rehearsal, error) {
	d, err := Draws(ctx, l)
	if err != nil {
		return nil, err
	}
	return rehearse.Play(ctx, l, d, plan, o)
}
