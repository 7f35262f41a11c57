package pipeline_test

import (
	"context"
	"runtime"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/fit"
	"asfound/survey/learn"
	"asfound/survey/locate"
	"asfound/survey/pipeline"
	"asfound/survey/rehearse"
	"asfound/survey/simulate"
)

// within is how soon work stops once its context is done.
const within = 100 * time.Millisecond

// asked is a context that notes how long work goes on between two questions whether it
// is done, in time of the processor, which other programs do not lengthen. It is done
// after so many.
type asked struct {
	context.Context
	most    int // questions; 0: it is never done
	times   int
	last    time.Duration
	longest time.Duration // between two questions
}

// Err implements context.Context.
func (a *asked) Err() error {
	now := busy()
	a.longest = max(a.longest, now-a.last)
	a.last = now
	if a.times++; a.most > 0 && a.times > a.most {
		return context.Canceled
	}
	return nil
}

// busy returns the time that this thread has had the processor.
func busy() time.Duration {
	var u syscall.Rusage
	const thread = 1 // RUSAGE_THREAD of getrusage(2), Linux
	if syscall.Getrusage(thread, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// heavy is a job with many readings: 24 holes of which some met some lateral, and so
// many that met nothing.
func heavy(empty int) *survey.Job {
	return simulate.Invent(simulate.Order{Seed: 3, Trust: asbuilt.Roughly, Mix: simulate.Offsets, Holes: 24, Unknown: 8, Empty: empty, Depths: true}).Job
}

// misread is a job of which every fourth tape is a metre off: hard to explain.
func misread() *survey.Job {
	job := heavy(60)
	for i := range job.Readings {
		if r := &job.Readings[i]; r.Kind == survey.Tape && i%4 == 0 {
			off := *r.Value
			off.Metres++
			r.Value = &off
		}
	}
	return job
}

// Every stage asks often enough whether it is to end that it stops within 100 ms, and
// where it stops it says so and gives no answer. The job is so heavy that a stage which
// asks too seldom is noticed: each works for several times as long.
func TestStops(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector makes everything ten times slower")
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	job, wrong := heavy(60), misread()
	ready, err := fit.Prepare(job.Sketch)
	require.NoError(t, err)
	solved, err := ready.Refit(t.Context(), job)
	require.NoError(t, err)
	l, err := locate.Locate(t.Context(), job, solved)
	require.NoError(t, err)
	doubtful, err := fit.Prepare(wrong.Sketch)
	require.NoError(t, err)
	few := simulate.Invent(simulate.Order{Seed: 4, Trust: asbuilt.Roughly, Mix: simulate.Braced}).Job
	easy, err := pipeline.Locate(t.Context(), few, nil)
	require.NoError(t, err)
	dig, err := pipeline.Plan(t.Context(), easy)
	require.NoError(t, err)
	for _, tt := range []struct {
		name string
		run  func(ctx context.Context) (answer bool, err error)
	}{
		{"fit", func(ctx context.Context) (bool, error) { f, err := doubtful.Refit(ctx, wrong); return f != nil, err }},
		{"locate", func(ctx context.Context) (bool, error) {
			l, err := locate.Locate(ctx, job, solved)
			return l != nil, err
		}},
		{"draws", func(ctx context.Context) (bool, error) { d, err := pipeline.Draws(ctx, l); return d != nil, err }},
		{"plan", func(ctx context.Context) (bool, error) { p, err := pipeline.Plan(ctx, l); return p != nil, err }},
		{"rehearse", func(ctx context.Context) (bool, error) {
			r, err := pipeline.Rehearse(ctx, easy, dig, rehearse.Options{Plays: 300})
			return r != nil, err
		}},
		{"learn", func(ctx context.Context) (bool, error) {
			c, err := learn.NewCase(ctx, few)
			return c != nil, err
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			runtime.LockOSThread()
			defer runtime.UnlockOSThread()
			from := busy()
			whole := &asked{Context: t.Context(), last: from}
			answer, err := tt.run(whole)
			require.NoError(t, err)
			assert.True(t, answer)
			_ = whole.Err() // what was worked out after the last question
			t.Logf("%v in all, %d questions, at most %v between two", (busy() - from).Round(time.Millisecond), whole.times, whole.longest.Round(time.Millisecond/10))
			assert.Less(t, whole.longest, within)
			for _, part := range []int{20, 2} {
				half := &asked{Context: t.Context(), most: whole.times / part, last: busy()}
				answer, err = tt.run(half)
				_ = half.Err()
				require.ErrorIs(t, err, context.Canceled)
				assert.False(t, answer, "what is not complete is no answer")
				assert.Less(t, half.longest, within)
				assert.Less(t, half.times-half.most, 200, "it goes on though it was told to end")
			}
		})
	}
}
