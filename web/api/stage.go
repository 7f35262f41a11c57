package api

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/language"
	"asfound/geo/spelling"
	"asfound/survey/answer"
	"asfound/survey/export"
	"asfound/survey/finding"
	"asfound/web/entry"
)

// MaxRequest is the most bytes of a request that a stage reads: the largest
// sketch that is read, and as much again for the log.
const MaxRequest = 2 * entry.MaxBody

// Stage answers one request. An error is an *answer.Refusal, or that of ctx where it is
// done.
type Stage func(ctx context.Context, request []byte) ([]byte, error)

// Stages are all stages by the name under which they are asked for.
var Stages = func() map[string]Stage {
	all := map[string]Stage{}
	for name, s := range stages {
		all[name] = func(ctx context.Context, request []byte) ([]byte, error) {
			return s.run(ctx, &Memory{forgets: true}, request)
		}
	}
	return all
}()

// Form is the request and the answer of a stage, as zero values of their types.
type Form struct{ Request, Answer any }

// Forms are the forms of all stages by name.
var Forms = func() map[string]Form {
	all := map[string]Form{}
	for name, s := range stages {
		all[name] = s.form
	}
	return all
}()

// stage answers one request with the help of a memory.
type stage struct {
	run  func(ctx context.Context, m *Memory, request []byte) ([]byte, error)
	form Form
}

var stages = map[string]stage{
	"check":    answering(check),
	"belief":   answering(belief),
	"preview":  answering(preview),
	"plan":     answering(plan),
	"paper":    answering(paper),
	"without":  answering(without),
	"length":   answering(length),
	"lonlat":   answering(lonLat),
	"question": answering(ask),
}

// Run answers a request to the stage of that name. The error is an *answer.Refusal, or
// that of ctx: the work stops soon after it is done.
//
// The engine does not panic, and is tested for it; the libraries below it are
// not ours. Where one does, the request is refused: a phone in a field must not
// lose its engine to one odd job.
func Run(ctx context.Context, name string, request []byte) (answer []byte, err error) {
	return run(ctx, &Memory{forgets: true}, name, request)
}

func run(ctx context.Context, m *Memory, name string, request []byte) (answer []byte, err error) {
	s, ok := stages[name]
	if !ok {
		return nil, refuse("no stage %q; want %s", name, spelling.OneOf(name, slices.Sorted(maps.Keys(stages))))
	}
	defer func() {
		if p := recover(); p != nil {
			m.keep(content{}, nil)
			*m = Memory{forgets: m.forgets} // it may be half done
			var q struct{ Language language.Tag }
			_ = json.Unmarshal(request, &q) // it was read before
			answer, err = nil, refuseFor(finding.Refuse(finding.EngineFailed.New(finding.Word("why", fmt.Sprint(p))), nil), q.Language)
		}
	}()
	return s.run(ctx, m, request)
}

// answering makes a stage of a function of Go values.
func answering[Request, Answer any](f func(context.Context, *Memory, *Request) (Answer, error)) stage {
	run := func(ctx context.Context, m *Memory, request []byte) ([]byte, error) {
		q := new(Request)
		return answered(request, q, func() (any, error) { return f(ctx, m, q) })
	}
	var q Request
	var a Answer
	return stage{run, Form{q, a}}
}

// answered reads a request into q, and writes the answer to it. An unknown member
// of a request is ignored: an older engine must serve a newer page as well as it
// can.
func answered(request []byte, q any, f func() (any, error)) ([]byte, error) {
	if len(request) > MaxRequest {
		return nil, refuse("a request of %d bytes; at most %d are read", len(request), MaxRequest)
	}
	if err := json.Unmarshal(request, q); err != nil {
		return nil, refuse("the request is malformed: %v", err)
	}
	answer, err := f()
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(answer); err != nil {
		return nil, refuse("the answer cannot be written: %v", err)
	}
	return bytes.TrimSpace(b.Bytes()), nil
}

// refuseFor refuses a request because of an error of the engine, in a language
// and with its finding where it is one. That the work was stopped is no refusal, and
// stays as it is.
func refuseFor(err error, in language.Tag) error {
	var r *finding.Refusal
	switch {
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	case !errors.As(err, &r):
		return refuse("%v", err)
	}
	return refused(r, in)
}

// refused is a refusal of the engine for a reader of a language.
func refused(r *finding.Refusal, in language.Tag) *answer.Refusal {
	to := finding.Reader{Unit: geo.Metre, Language: in}
	return &answer.Refusal{Says: r.For(to), Finding: &export.NewFindings([]finding.Finding{r.Finding}, to)[0]}
}

// unreadable refuses a job whose sketch or settings are at fault.
func unreadable(problems asbuilt.Problems, in language.Tag) error {
	out := refused(finding.Refuse(finding.JobUnreadable.New(), nil), in)
	out.Problems = export.NewProblems(problems, in)
	return out
}

func refuse(format string, args ...any) error {
	return &answer.Refusal{Says: fmt.Sprintf(format, args...)}
}
