package probe

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/playout"
)

// Push is to open a tank and push a cable, or a camera with a sonde, from its outlet
// to what is sought.
type Push struct {
	Seek    string // what is sought
	Action  string // survey.PushCable or survey.PushSonde
	From    string // the tank
	At      geo.Vec
	Opened  bool    // the tank has been met already
	Minutes float64 // that it is expected to take, opening the tank included
	Chance  float64 // that it gets there
	Holes   float64 // that are then expected until what is sought lies open

	hole     float64 // minutes of each
	Cautions []finding.Finding
}

// Finding says what to do.
func (p *Push) Finding() finding.Finding {
	parts, minutes, chance := finding.Parts(p.From, p.Seek), finding.Number("minutes", p.Minutes), finding.Number("chance", p.Chance)
	if p.Action == survey.PushSonde {
		return finding.PushSonde.New(parts, minutes, chance)
	}
	return finding.PushCable.New(parts, minutes, chance)
}

// What names what is pushed, for people.
func (p *Push) What() string {
	if p.Action == survey.PushSonde {
		return "camera"
	}
	return "cable"
}

// takes returns the minutes that are to be expected in all, where search are those of
// going on without it.
func (p *Push) takes(search float64) float64 {
	return p.Minutes + p.Chance*p.Holes*p.hole + (1-p.Chance)*search
}

// takes is the same of a line that is followed.
func (f *Follow) takes(search float64) float64 { return f.Minutes + (1-f.Chance)*search }

// first returns what is worth doing before a hole: a line that lies open is followed
// rather than the rod tried, and something is pushed in place of either where that
// takes fewer minutes in all. At most one is not nil.
func (b *belief) first(c choice, ok bool) (f *Follow, p *Push, r *Rod) {
	search := math.Inf(1)
	if ok {
		search = c.score
	}
	f, p = b.followOpen(), b.push(search)
	switch {
	case f != nil && ok && !f.before(c):
		f = nil
	case f != nil && (p == nil || f.takes(search) <= p.takes(search)):
		return f, nil, nil
	}
	if f == nil && ok {
		r = b.rod(c)
	}
	if p != nil && (r == nil || p.takes(search) <= r.takes) {
		return nil, p, nil
	}
	return nil, nil, r
}

// push returns what is best pushed from a tank, nil where digging on takes no longer
// than search, and where there is nothing to push, or no tank to push it from.
func (b *belief) push(search float64) (best *Push) {
	if sought := b.Sought(); len(sought) != 1 || sought[0].Kind != asbuilt.Box {
		return nil
	}
	for i := range b.loc.Job.Sketch.Parts {
		tank := &b.loc.Job.Sketch.Parts[i]
		places := b.draws.Spots[asbuilt.SpotName{Part: tank.ID, Spot: asbuilt.Center}]
		if tank.Kind != asbuilt.Tank || len(places) != b.N || b.pushed(tank.ID) {
			continue
		}
		if b.stopped() {
			return nil
		}
		for _, way := range b.loc.Job.Settings.Pushing {
			p := Push{Seek: b.seek, Action: way.Name, From: tank.ID, Opened: b.opened(tank.ID), Minutes: way.Minutes, Chance: way.Reaches, hole: b.mean}
			if !p.Opened {
				p.Minutes += way.Open
			}
			for k, v := range places {
				p.At = p.At.Add(v.Scale(b.weight[k]))
			}
			p.Holes = b.afterPush(way.Name, places)
			p.Cautions = []finding.Finding{finding.NeverEnter.New(), finding.Disease.New(), finding.Utilities.New(), finding.CodeDecides.New()}
			if p.takes(search) < search && (best == nil || p.takes(search) < best.takes(search)) || math.IsInf(search, 1) && best == nil {
				best = &p
			}
		}
	}
	return best
}

// opened reports whether a hole has met a tank.
func (b *belief) opened(tank string) bool {
	for i := range b.loc.Holes {
		if b.loc.Holes[i].Met == tank {
			return true
		}
	}
	return false
}

// pushed reports whether the log has what was pushed from a tank: a cable from there,
// or a transmitter, which does not say where it came from.
func (s *site) pushed(tank string) bool {
	return slices.ContainsFunc(s.loc.Job.Live(), func(r survey.Reading) bool {
		if r.Kind == survey.Sonde {
			return true
		}
		for _, name := range []string{r.From, r.To} {
			if spot, ok := s.loc.Job.Sketch.SpotNamed(name); ok && r.Kind == survey.Cable && spot.Part == tank {
				return true
			}
		}
		return false
	})
}

// pushTruths is how many draws in turn are taken for what a push would show.
const pushTruths = 24

// afterPush returns how many holes are to be expected once something has been pushed
// from a tank to the box. A transmitter leaves a small circle; a cable, with the
// direction in which its pipe leaves, a piece of a ring about the tank.
func (b *belief) afterPush(action string, tank []geo.Vec) (holes float64) {
	place := func(i int) geo.Vec {
		v, _ := b.Objects[0].Place(i, 0.5)
		return v
	}
	g := b.grids[0]
	cells := make([]float64, g.cells)
	truths := b.sample(pushTruths)
	for _, k := range truths {
		clear(cells)
		at := place(k)
		deep := practice.BoxCover.Mean
		if d, ok := b.DepthAt(0, at); ok {
			deep = d.Mean
		}
		s := math.Hypot(practice.SondeSigma(deep), b.Objects[0].Reach/2)
		to := at.Sub(tank[k])
		long, turn := math.Hypot(practice.CableShare*to.Norm(), practice.CableInside), math.Hypot(practice.OutletTurn, practice.HeaderBend)
		for _, i := range b.all {
			if b.weight[i] == 0 {
				continue
			}
			v := place(int(i))
			z := 0.0
			if action == survey.PushSonde {
				z = v.Dist(at) / s
			} else {
				w := v.Sub(tank[k])
				z = math.Hypot((w.Norm()-to.Norm())/long, math.Atan2(to.Cross(w), to.Dot(w))/turn)
			}
			if z < 4 {
				cells[g.cell[i]] += b.weight[i] * math.Exp(-z*z/2)
			}
		}
		holes += max(1, playout.CostToGo(playout.HolesToSearch(cells))) / float64(len(truths))
	}
	return holes
}
