package fit

import (
	"context"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/adjust"
	"asfound/survey/drawing"
	"asfound/survey/finding"
	"asfound/survey/observe"
)

// ErrNothing says that a sketch has nothing to fit.
var ErrNothing error = finding.Refuse(finding.NothingToFit.New(), nil)

// Prepared is a sketch made ready to be fitted again and again, as holes come
// in. It caches what it works out, which makes later fits faster and changes no
// answer: one goroutine at a time.
type Prepared struct {
	sketch *asbuilt.Sketch
	faults []drawing.Hypothesis
	sheets map[drawing.Hypothesis]*drawing.Sheet
	solver adjust.Solver
}

// Prepare makes a sketch ready. It is an error for the sketch to hold nothing
// that can be located.
func Prepare(s *asbuilt.Sketch) (*Prepared, error) {
	p := &Prepared{sketch: s, faults: drawing.Hypotheses(s), sheets: map[drawing.Hypothesis]*drawing.Sheet{}}
	t, err := p.sheet(p.faults[0])
	if err != nil {
		return nil, err
	}
	if len(t.Drawing.Nodes) == 0 {
		return nil, ErrNothing
	}
	return p, nil
}

// sheet returns the sheet with a fault.
func (p *Prepared) sheet(f drawing.Hypothesis) (*drawing.Sheet, error) {
	t := p.sheets[f]
	if t == nil {
		t = drawing.NewSheet(p.sketch, f)
		p.sheets[f] = t
	}
	_, err := t.At(t.Drawing.Scale)
	return t, err
}

// problem is a job on a prepared sketch: what is adjusted.
type problem struct {
	*Prepared
	log *observe.Log
	ctx context.Context // of the call; a problem lives no longer
}

// stopped reports whether the call is to end. Explanations that are not tried after
// that are missing from what is worked out, so that it must not be returned.
func (p *problem) stopped() bool { return p.ctx.Err() != nil }

// Solve fits a job: Prepare and Refit in one.
func Solve(ctx context.Context, job *survey.Job) (*Fit, error) {
	p, err := Prepare(job.Sketch)
	if err != nil {
		return nil, err
	}
	return p.Refit(ctx, job)
}

// Refit fits a job whose sketch is the prepared one. It is an error where no
// fit could be computed; a fit that was computed but must not be trusted says
// so in Doubtful. Where ctx is done it stops with its error.
func (prepared *Prepared) Refit(ctx context.Context, job *survey.Job) (*Fit, error) {
	p := &problem{prepared, observe.NewLog(job), ctx}
	plain, ambiguous, err := p.solve(Explanation{Fault: p.faults[0]}, nil)
	if err != nil {
		return nil, err
	}
	beam, written := p.branch(plain, ambiguous)
	beam, written, ambiguous = p.branchFaults(beam, written, ambiguous)
	all, err := p.spread(beam)
	if err != nil {
		return nil, err
	}
	if p.stopped() {
		return nil, ctx.Err()
	}
	f := newFit(p.log, all, &written, ambiguous)
	if f.withoutLineHits, err = p.withoutLineHits(beam); err != nil {
		return nil, err
	}
	p.suspect(f, &written)
	if p.stopped() {
		return nil, ctx.Err()
	}
	return f, nil
}

// Preview fits a job as Refit does, but assumes that the sheet is drawn as badly
// as such sheets usually are, and that the likeliest explanation of the previous
// fit (its fault of the sheet and its blunders) still holds. That fit must be of
// the same prepared sketch; nil: none. It can be shown while Refit is still at
// work. Where the last reading changes none of these assumptions the two differ
// little; where it does, only Refit says so.
func (prepared *Prepared) Preview(ctx context.Context, job *survey.Job, before *Fit) (*Fit, error) {
	p := &problem{prepared, observe.NewLog(job), ctx}
	e := Explanation{Fault: p.faults[0]}
	if before != nil {
		e.Fault, e.Blunders = before.components[0].Explanation.Fault, before.components[0].Explanation.Blunders
	}
	plain, ambiguous, err := p.solve(e, nil)
	if err != nil {
		return nil, err
	}
	beam := p.branchTurned(p.branchTied(p.branchMet([]Component{plain})), ambiguous)
	if p.stopped() {
		return nil, ctx.Err()
	}
	written := beam[0]
	f := newFit(p.log, weigh(append([]Component(nil), beam...)), &written, ambiguous)
	if f.withoutLineHits, err = p.withoutLineHits(beam); err != nil {
		return nil, err
	}
	if p.stopped() {
		return nil, ctx.Err()
	}
	return f, nil
}
