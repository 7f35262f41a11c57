package probe

import (
	"context"
	"errors"
	"iter"

	"asfound/asbuilt"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/posterior"
)

const (
	mostHoles = 8    // of a plan: after so many empty ones a crew should reconsider
	levels    = 3    // of the tree
	enough    = 0.97 // chance at which a plan ends
	unlikely  = 0.05 // share of the belief left by empty holes below which the plan is in doubt; judgement
)

// New plans the digging for the part that the job seeks, from a location and
// draws of it. Where no hole may be proposed the plan is empty and its Remark
// says why.
//
// The next hole is the one after which the least digging is to be expected:
// its own minutes and, for each thing that it may meet, those of the search
// that is left then (one step of the dynamic programme of optimal search,
// with the cost to go estimated: see playout.CostToGo).
func New(ctx context.Context, loc *locate.Location, draws *posterior.Draws) (*Plan, error) {
	return Options{}.Plan(ctx, loc, draws)
}

// Plan is New with options. Where ctx is done it stops with its error.
func (o Options) Plan(ctx context.Context, loc *locate.Location, draws *posterior.Draws) (plan *Plan, err error) {
	work, err := o.Work(ctx, loc, draws)
	if err != nil {
		return nil, err
	}
	for p, err := range work {
		if err != nil {
			return nil, err
		}
		plan = p
	}
	return plan, nil
}

// Work is Plan in steps, for callers that have other work to do in between: it
// yields the plan, the same one each time, first with its next hole, then after
// each further hole, and finally complete. ctx is that of all steps: where it is done
// the last step is its error.
func (o Options) Work(ctx context.Context, loc *locate.Location, draws *posterior.Draws) (iter.Seq2[*Plan, error], error) {
	if loc == nil || loc.Job == nil || loc.Job.Sketch == nil || draws == nil {
		return nil, errors.New("a plan needs a location of a job and draws of it")
	}
	return func(yield func(*Plan, error) bool) { o.work(ctx, loc, draws, yield) }, nil
}

// work does what Work yields.
func (o Options) work(ctx context.Context, loc *locate.Location, draws *posterior.Draws, yield func(*Plan, error) bool) {
	plan := &Plan{Seek: loc.Job.Settings.Seek, Cautions: cautions(loc)}
	if draws.N == 0 {
		plan.Remark = []finding.Finding{finding.NoDraws.New()}
		yield(plan, nil)
		return
	}
	s, hole := newSite(ctx, loc, draws)
	if len(s.Sought()) == 0 {
		plan.Remark = []finding.Finding{finding.NoneToSeek.New(finding.Parts(plan.Seek))}
		if hole != "" {
			plan.Remark = []finding.Finding{finding.AlreadyMet.New(finding.Parts(plan.Seek), finding.Word("hole", hole))}
		}
		yield(plan, nil)
		return
	}
	b := s.believe()
	if loc.Promised > 1-unlikely {
		plan.Cautions = append(plan.Cautions, finding.BeliefUsedUp.New(finding.Number("share", loc.Promised)))
	}
	b.divide(s.Tools[0].Radius)
	left := false // by whoever asked for the plan
	s.rest = func() bool {
		if s.stopped() {
			return false
		}
		left = !yield(plan, nil)
		s.leave = left
		return !left
	}
	if b.fill(plan, o); !left && s.stopped() {
		yield(nil, ctx.Err())
	}
}

// believe returns the belief in which every draw counts the same.
func (s *site) believe() *belief {
	b := &belief{site: s, weight: make([]float64, s.N)}
	for i := range b.weight {
		b.weight[i] = 1 / float64(s.N)
	}
	return b
}

// fill finds the holes of a plan, each for the case that those before it have
// come up empty, and its tree. It pauses between holes, and stops when asked to.
func (b *belief) fill(plan *Plan, o Options) {
	most := o.Holes
	if most <= 0 {
		most = mostHoles
	}
	now, left, reached := b, 1.0, 0.0
	take := func(c choice) {
		h := now.propose(c)
		h.Rank = len(plan.Holes) + 1
		plan.Holes = append(plan.Holes, h)
		reached += left * c.chance
		left *= 1 - c.chance
	}
	c, ok := b.best(o.Greedy, full)
	if !o.Greedy && !b.stopped() {
		plan.Follow, plan.Push, plan.Rod = b.first(c, ok)
	}
	if b.stopped() {
		return
	}
	if ok {
		take(c)
		plan.ChanceNext = plan.Holes[0].Chance
		if !b.rest() {
			return
		}
		if o.Levels >= 0 {
			tree := b.grow(c, o)
			if b.leave {
				return
			}
			plan.Tree = tree
		}
		if b.expect(plan, o); b.leave {
			return
		}
	}
	old := len(b.Ground.Dug)
	for ok && len(plan.Holes) < most && reached < enough {
		b.Ground.Dug = append(b.Ground.Dug, c.At)
		if now = now.after(&c.hole, none); now.effective() <= 1 {
			break
		}
		if c, ok = now.best(o.Greedy, brief); b.stopped() {
			return
		}
		if !ok || o.Greedy && c.chance < 1e-3 {
			break
		}
		take(c)
		if !b.rest() {
			return
		}
	}
	b.Ground.Dug = b.Ground.Dug[:old]
	plan.Remark = b.remark(plan, reached)
	b.rest()
}

// remark says what to do when a plan comes to its end.
func (b *belief) remark(plan *Plan, reached float64) (all []finding.Finding) {
	n := len(plan.Holes)
	switch {
	case n == 0:
		all = append(all, finding.NowhereToDig.New(finding.Parts(plan.Seek)))
	case n > 1 && reached < enough:
		all = append(all, finding.PlanEnds.New(finding.Number("holes", float64(n)), finding.Parts(plan.Seek), finding.Number("chance", reached)))
	default:
		return nil
	}
	if b.loc.Promised >= mostly {
		all = append(all, finding.MostlySearched.New(finding.Number("share", b.loc.Promised), finding.Parts(plan.Seek)))
	}
	return append(all, b.helps()...)
}

// mostly is the share of the belief above which a plan reports that empty holes
// have ruled it out; judgement.
const mostly = 0.8

// helps says what would show more than further digging, the most useful first:
// a camera shows the box itself, a port a trench.
func (b *belief) helps() (ways []finding.Finding) {
	var tanks, ports []string
	tapes := 0
	for i := range b.loc.Job.Sketch.Parts {
		switch p := &b.loc.Job.Sketch.Parts[i]; p.Kind {
		case asbuilt.Tank:
			tanks = append(tanks, p.ID)
		case asbuilt.Port:
			ports = append(ports, p.ID)
		case asbuilt.Landmark:
			tapes++
		}
	}
	if len(tanks) > 0 {
		ways = append(ways, finding.CameraHelps.New(finding.Parts(tanks...)))
	} else {
		ways = append(ways, finding.OutletHelps.New())
	}
	if len(ports) > 0 {
		ways = append(ways, finding.PortHelps.New(finding.Parts(ports...)))
	}
	if tapes < 3 {
		ways = append(ways, finding.LandmarkHelps.New())
	}
	return append(ways, finding.TapesHelp.New())
}
