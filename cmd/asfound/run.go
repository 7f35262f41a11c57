package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"
)

// The exit codes of asfound.
const (
	Done     = 0 // the answer stands
	Refused  = 1 // the input was refused, or nothing could be computed
	Misused  = 2 // wrong usage
	Doubtful = 3 // the answer is given but must not be trusted as it stands
)

// usageError is wrong usage of the command line.
type usageError struct{ says, hint string }

func (e *usageError) Error() string { return e.says }

// doubt is the reason why an answer that was given must not be trusted.
type doubt string

func (d doubt) Error() string { return "do not trust this answer as it stands: " + string(d) }

// session is one run of the command: where it reads and writes.
type session struct {
	stdin  io.Reader
	stdout io.Writer // the result, nothing else
	stderr io.Writer // everything else
}

// Run runs the command with args, the words after its name, and returns its
// exit code. On failure nothing is written to stdout.
func Run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	s := &session{stdin, stdout, stderr}
	p, args, err := profiled(args)
	if err != nil {
		return s.report(err)
	}
	defer p.write(stderr)
	app := s.app()
	if words, ok := completing(args); ok {
		complete(app, words, stdout)
		return Done
	}
	args, err = arrange(app, args)
	if err == nil {
		err = app.RunContext(ctx, append([]string{app.Name}, args...))
	}
	return s.report(err)
}

// report says what went wrong and returns the exit code for it.
func (s *session) report(err error) int {
	var usage *usageError
	var d doubt
	switch {
	case err == nil:
		return Done
	case errors.As(err, &usage):
		fmt.Fprintln(s.stderr, "asfound:", usage.says)
		if usage.hint != "" {
			fmt.Fprintln(s.stderr, usage.hint)
		}
		return Misused
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(s.stderr, "asfound: stopped, nothing was written")
		return Refused
	case errors.As(err, &d):
		fmt.Fprintln(s.stderr, "asfound:", err)
		return Doubtful
	}
	fmt.Fprintln(s.stderr, "asfound:", err)
	return Refused
}

const about = `A job is a folder with sketch.geojson (the as-built sketch) and, as the work
goes on, readings.csv (the field log) and job.json (settings).

  asfound demo                      see the whole job on an invented lot
  asfound check lot7                is everything in folder lot7 readable?
  asfound locate lot7               where is the box, and how deep?
  asfound digplan lot7 --seek L3    where to dig next to meet lateral L3
  asfound record lot7 --out office  the corrected as-built, in folder office
  asfound locate lot7 --format json | jq .spots

Exit codes: 0 done; 1 the input was refused or nothing could be computed;
2 wrong usage; 3 an answer is given but must not be trusted as it stands.

Positions are predictions, not a locate: have utilities marked before any
hole. This is not a boundary survey. Local code and licensed practice decide.`

// app returns the command line: its commands and their help.
func (s *session) app() *cli.App {
	app := &cli.App{
		Name:        "asfound",
		HelpName:    "asfound",
		Usage:       "find where a buried septic field really lies, and where to dig next",
		UsageText:   "asfound COMMAND [flags] JOB",
		Description: about,
		Version:     version(),
		Reader:      s.stdin,
		Writer:      s.stdout,
		ErrWriter:   s.stderr,
		Commands: []*cli.Command{
			s.check(), s.fit(), s.locate(), s.digplan(), s.rehearse(), s.record(), s.learn(), s.demo(), s.serve(), s.backup(), s.audit(), s.salvage(), s.licences(), s.completion(),
		},
		ExitErrHandler: func(*cli.Context, error) {}, // report chooses the code
		OnUsageError:   misused,
		Action: func(c *cli.Context) error {
			return &usageError{"no command", strings.TrimSpace(short(c.App))}
		},
	}
	for _, c := range app.Commands {
		c.OnUsageError = misused
		c.HideHelpCommand = true
	}
	return app
}

// misused turns an error of the flag parser into wrong usage.
func misused(_ *cli.Context, err error, _ bool) error {
	return &usageError{err.Error(), "asfound help says what there is"}
}

// short lists the commands, a line each.
func short(app *cli.App) string {
	var b strings.Builder
	fmt.Fprintln(&b, app.UsageText)
	for _, c := range app.Commands {
		fmt.Fprintf(&b, "  %-12s%s\n", c.Name, c.Usage)
	}
	fmt.Fprintln(&b, "asfound help COMMAND says more.")
	return b.String()
}
