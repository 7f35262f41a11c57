package main

import (
	"context"
	"github.com/urfave/cli/v2"

	"asfound/survey/finding"
	"asfound/survey/locate"
)

// question is the common part of the commands about where the parts of a job
// lie: the job is read and located, the answer is begun.
type question struct {
	format   string
	location *locate.Location
	to       finding.Reader
	progress *progress
	answer   *answer // its files are nil where none are wanted
}

// asking returns the action of a command that answers in one of the formats.
// say fills in the answer and its files.
func (s *session) asking(formats []string, say func(ctx context.Context, q *question) error) cli.ActionFunc {
	return func(c *cli.Context) error {
		format, err := formatOf(c, formats...)
		if err != nil {
			return err
		}
		job, err := s.open(c)
		if err != nil {
			return err
		}
		to, err := readerOf(c, job)
		if err != nil {
			return err
		}
		p := watch(s.stderr, steps)
		defer p.done()
		loc, err := locateJob(c.Context, job, p)
		if err != nil {
			return err
		}
		a := &answer{format: format, fit: loc.Fit, to: to, progress: p}
		if writes(c, format) {
			a.files = &outbox{dir: c.String("out")}
		}
		if err := say(c.Context, &question{format, loc, to, p, a}); err != nil {
			return err
		}
		return s.deliver(c, a)
	}
}
