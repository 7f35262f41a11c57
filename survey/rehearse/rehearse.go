package rehearse

import (
	"context"
	"errors"
	"slices"

	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/playout"
	"asfound/survey/posterior"
	"asfound/survey/probe"
)

const (
	// Most is the most holes that are dug in one play.
	Most = playout.Most

	usualPlays = 1000
)

// Options say how to rehearse. The zero value is the default.
type Options struct {
	Plays    int                 // 0: 1000
	Progress func(share float64) // called now and then with the share of the work done, 0 to 1; nil: not called
}

// Rehearsal is the result of the plays.
type Rehearsal struct {
	Seek    string
	Plays   int
	Found   float64           // share of the plays in which what is sought was met within Most holes
	Holes   Spread            // until it was met; Most where it was not
	Minutes Spread            // of digging until then, by the table of tools
	Count   []int             // of the plays that ended with hole i+1
	First   float64           // chance that the first hole meets it
	Offers  []Offer           // what a further reading would buy
	Remark  []finding.Finding // why nothing could be rehearsed
	Plan    *probe.Plan
}

// Spread is how a number is spread over the plays.
type Spread struct {
	Median, Mean, P90 float64 // P90: nine plays in ten stayed within it
}

// Play rehearses the dig of a plan on draws of what is believed: it is played out
// as the plan itself is for its expected number of holes (survey/playout), only
// more often. The first holes are those of the plan's tree.
//
// The same location, draws and plan give the same rehearsal. Where ctx is done it
// stops with its error.
func Play(ctx context.Context, loc *locate.Location, draws *posterior.Draws, plan *probe.Plan, o Options) (*Rehearsal, error) {
	if loc == nil || loc.Job == nil || loc.Job.Sketch == nil || draws == nil || plan == nil {
		return nil, errors.New("a rehearsal needs a location of a job, draws of it and a plan")
	}
	if o.Plays <= 0 {
		o.Plays = usualPlays
	}
	r := &Rehearsal{Seek: plan.Seek, Plan: plan}
	if len(plan.Holes) == 0 {
		r.Remark = plan.Remark
		return r, nil
	}
	s, _ := probe.NewSite(loc, draws)
	if draws.N == 0 || len(s.Sought()) == 0 {
		r.Remark = []finding.Finding{finding.NothingToPlay.New()}
		return r, nil
	}
	r.Plays = o.Plays
	played, err := playout.Play(ctx, s, plan.Script(s), playout.Options{Plays: o.Plays, Rest: func(share float64) bool {
		if o.Progress != nil {
			o.Progress(share)
		}
		return true
	}})
	if err != nil {
		return nil, err
	}
	r.sum(played)
	if err := r.offer(ctx, loc, draws, s); err != nil {
		return nil, err
	}
	return r, nil
}

// sum works out the spreads.
func (r *Rehearsal) sum(p *playout.Result) {
	r.Holes, r.Minutes, r.Count = spreadOf(p.Holes), spreadOf(p.Minutes), p.Count
	r.Found = float64(p.Found) / float64(len(p.Holes))
	if len(r.Count) > 0 {
		r.First = float64(r.Count[0]) / float64(len(p.Holes))
	}
}

func spreadOf(v []float64) (s Spread) {
	v = slices.Sorted(slices.Values(v))
	if len(v) == 0 {
		return s
	}
	for _, x := range v {
		s.Mean += x / float64(len(v))
	}
	at := func(q float64) float64 { return v[min(len(v)-1, int(q*float64(len(v))))] }
	s.Median, s.P90 = at(0.5), at(0.9)
	return s
}
