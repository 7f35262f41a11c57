package probe

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/finding"
	"asfound/survey/locate"
	"asfound/survey/playout"
)

// Follow is a pipe or trench to be followed from the hole that opened it, to what
// is sought.
type Follow struct {
	Seek    string    // what is sought
	Hole    string    // of the log; empty: the hole of the step
	Met     Met       // MetHeader or MetTrench: what is followed
	At      geo.Vec   // where it begins, field frame
	Toward  geo.Vec   // unit vector, the way along it
	Facing  string    // landmark from which Clock is counted; empty: there is none
	Clock   geo.Angle // of Toward, clockwise from Facing
	Length  float64   // metres to what is sought
	Sigma   float64   // its standard deviation
	Chance  float64   // that it leads there and is not lost on the way
	Minutes float64   // that this is expected to take, opening what is sought included

	Cautions []finding.Finding
}

// Finding says where to go: before another hole, or on from the hole of a step.
func (f *Follow) Finding() finding.Finding {
	if f.Hole == "" {
		return finding.FollowOn.New(finding.Word("clock", geo.Clock(f.Clock)), finding.Parts(f.Facing, f.Seek), finding.Number("length", f.Length), finding.Number("minutes", f.Minutes))
	}
	return finding.FollowLine.New(finding.Word("line", f.Line()), finding.Word("hole", f.Hole), finding.Word("clock", geo.Clock(f.Clock)), finding.Parts(f.Facing, f.Seek),
		finding.Number("length", f.Length), finding.Number("within", geo.Between95*f.Sigma), finding.Number("minutes", f.Minutes), finding.Number("chance", f.Chance))
}

// Line names what is followed, for people.
func (f *Follow) Line() string {
	if f.Met == MetTrench {
		return "trench"
	}
	return "pipe"
}

// face counts the direction of the line from the nearest landmark, which a crew at
// the hole turns to; ok is false where there is none to turn to.
func (f *Follow) face(l *locate.Location) (ok bool) {
	const near = 1.0 // metres: too near to turn to. Judgement
	best := math.Inf(1)
	for i := range l.Spots {
		s := &l.Spots[i]
		if d := s.At.Dist(f.At); s.Kind == asbuilt.Landmark && d > near && d < best {
			best, f.Facing = d, s.Part
			f.Clock = geo.Degrees(math.Mod(geo.Bearing(geo.Vec{}, f.Toward).Degrees()-geo.Bearing(f.At, s.At).Degrees()+720, 360))
		}
	}
	return f.Facing != ""
}

// before reports whether to follow the line before digging a hole: where that
// fails the hole is dug after all, so that it has to take less than its chance of
// what the hole and those after it would take.
func (f *Follow) before(c choice) bool { return f.Minutes < f.Chance*c.score }

// exposing returns the minutes of opening what is sought, once its place is known.
func (b *belief) exposing() float64 {
	t := playout.Opener(b.Tools)
	for _, i := range b.all {
		if v, ok := playout.Goal(b.Site, int(i)); ok {
			if d, ok := b.DepthAt(0, v); ok {
				return t.Minutes(practice.MetDepth * b.Limited(encounter.StopDepth(d), t))
			}
		}
	}
	return t.Minutes(1)
}

// followFrom is a first estimate of the minutes that are to be expected after a
// hole has met a line, in draws by weights, if that is followed; search are the
// minutes of a search that goes on instead.
func (b *belief) followFrom(h *hole, met encounter.Outcome, draws []share, search float64) float64 {
	sum, far := 0.0, 0.0
	for _, s := range draws {
		goal, ok := playout.Goal(b.Site, int(s.draw))
		if !ok {
			return math.Inf(1)
		}
		sum, far = sum+s.w, far+s.w*goal.Dist(h.At)
	}
	l := playout.Straight(b.Follow, met, far/sum)
	return l.Minutes + b.expose + (1-l.Chance)*search
}

// follow works out what it brings to follow the line of a kind that a hole of a
// radius in metres has met, which lies at a place in each draw. ok is false where
// no line leads on, and where the way leads through what must not be dug.
func (b *belief) follow(met encounter.Outcome, radius float64, at func(i int32) geo.Vec) (f Follow, ok bool) {
	trench := met != encounter.Header
	f.Seek, f.Met = b.seek, MetHeader
	if trench {
		f.Met = MetTrench
	}
	type way struct {
		encounter.Way
		draw int32
		from geo.Vec
		w    float64
	}
	var ways []way
	var sum, chance, length, square, minutes, all, covered float64
	stride := max(1, int32(math.Round(b.effective()))/few) // by number, so that a draw of no weight does not change which others count
	for _, i := range b.support(1) {
		if i%stride != 0 {
			continue
		}
		goal, ok := playout.Goal(b.Site, int(i))
		if !ok {
			return f, false
		}
		v, before := at(i), sum
		all += b.weight[i]
		for n := range b.Objects {
			o := &b.Objects[n]
			if !o.Line || o.Sought || (o.Kind == asbuilt.Lateral) != trench || !o.Near(v, radius+o.Out) {
				continue
			}
			p, _ := o.Met(int(i), &hole{At: v, Radius: radius})
			y, ok := o.Way(int(i), v, goal)
			if w := p * b.weight[i]; ok && w > 0 {
				l := playout.Legs(b.Follow, trench, y.Along, y.Gap)
				ways = append(ways, way{y, i, v, w})
				sum, chance, minutes = sum+w, chance+w*l.Chance, minutes+w*l.Minutes
				length, square = length+w*(y.Along+y.Gap), square+w*(y.Along+y.Gap)*(y.Along+y.Gap)
				f.Toward, f.At = f.Toward.Add(y.Toward.Scale(w)), f.At.Add(v.Scale(w))
			}
		}
		if sum > before {
			covered += b.weight[i]
		}
	}
	if sum == 0 || f.Toward.Norm() == 0 {
		return f, false
	}
	f.Length, f.At, f.Toward = length/sum, f.At.Scale(1/sum), f.Toward.Unit()
	f.Sigma = math.Sqrt(max(0, square/sum-f.Length*f.Length))
	f.Chance = chance / sum * covered / all
	wrong, best := 0.0, &ways[0]
	for k := range ways {
		if ways[k].Toward.Dot(f.Toward) < 0 {
			wrong += ways[k].w / sum
		} else if ways[k].w > best.w {
			best = &ways[k]
		}
	}
	f.Minutes = (1+wrong)*minutes/sum + b.expose
	goal, _ := playout.Goal(b.Site, int(best.draw))
	deep := 0.0 // not known
	if d, ok := b.DepthAt(0, goal); ok {
		deep = encounter.StopDepth(d)
	}
	if c, ok := practice.Deep(deep, b.loc.Job.Settings.EntryDepth); ok {
		f.Cautions = append(f.Cautions, c)
	}
	return f, f.face(b.loc) && b.Ground.Passable(best.from, best.from.Add(best.Toward.Scale(best.Along)), goal)
}

// lineMet returns what kind of line a hole of the log has met.
func (b *belief) lineMet(h *locate.Hole) (met encounter.Outcome, ok bool) {
	switch b.loc.Job.Sketch.KindOf(h.Met) {
	case asbuilt.Lateral:
		return encounter.Trench, true
	case asbuilt.Header:
		return encounter.Header, true
	}
	return encounter.None, false
}

// followNew returns the line to be followed that a hole has just met, where that
// costs less than another hole does; nil where it does not.
func (b *belief) followNew(h *hole, met encounter.Outcome, instead choice) *Follow {
	if !playout.Leads(h, met) {
		return nil
	}
	f, ok := b.follow(met, h.Radius, func(int32) geo.Vec { return h.At })
	if !ok || !f.before(instead) {
		return nil
	}
	return &f
}

// followed reports whether the log says that a line was followed from or to a hole:
// where that has not met what is sought, the line was lost, or leads elsewhere.
func (s *site) followed(hole string) bool {
	return slices.ContainsFunc(s.loc.Job.Live(), func(r survey.Reading) bool {
		return r.Kind == survey.Followed && (r.From == hole || r.To == hole)
	})
}

// followOpen returns the line to be followed from a hole of the log that takes
// the fewest minutes for its chance, if there is one.
func (b *belief) followOpen() (best *Follow) {
	for k := range b.loc.Holes {
		if b.stopped() {
			return nil
		}
		h := &b.loc.Holes[k]
		met, line := b.lineMet(h)
		places := b.draws.Holes[h.Name]
		if !line || len(places) != b.N || b.followed(h.Name) {
			continue
		}
		f, ok := b.follow(met, h.Radius, func(i int32) geo.Vec { return places[i] })
		if f.Hole = h.Name; ok && (best == nil || f.Minutes*best.Chance < best.Minutes*f.Chance) {
			best = &f
		}
	}
	return best
}
