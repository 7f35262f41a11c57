package belief

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/posterior"
)

// evidence is an item of a course, and the reading that it is due to, whose Point is
// the stop; one without an id says only which way the line runs there.
type evidence struct {
	item   posterior.Item
	due    survey.Reading
	limit  float64 // of the chance of the course so far: below it, an unknown line or one that was lost is likelier
	begins bool    // it is the first of its course
	met    string  // then the row of what the hole met where the course begins, which is evidence by itself; empty: none
}

// unknown is, as a share of those unknown lines that could be it, the chance of a
// course below which it is ten times likelier that it is one of them, or was lost, than
// any line that there is.
const unknown = 1.1 * practice.StrayHit

// followed returns what the lines say that were followed, and the rows of holes that
// this takes in: what those met and which way the line ran there. By themselves they
// would say once more that some line lies there, which may be another one.
func (l *learner) followed(job *survey.Job, live []survey.Reading) (all []evidence, taken map[string]bool) {
	var left []survey.Reading
	for i := range live {
		_, from := l.post.PlaceOfPoint(live[i].From)
		_, to := l.post.PlaceOfPoint(live[i].To)
		if live[i].Kind == survey.Followed && from && to {
			left = append(left, live[i])
		}
	}
	taken = map[string]bool{}
	for len(left) > 0 {
		f := newFollower(l, job, live, &left[0])
		left = f.follow(left, taken)
		f.evidence[0].begins, f.evidence[0].met = true, f.met
		all = append(all, f.evidence...)
	}
	return all, taken
}

// follower makes evidence of one course: what each reading says given those before
// it. They stand in the order of their ids, as far as each continues from one before.
type follower struct {
	*learner
	job      *survey.Job
	live     []survey.Reading
	kind     asbuilt.Kind // of line
	ids      []string     // of the lines; empty: not drawn
	course   *course
	met      string  // the row of what the hole met where it begins; empty: none
	astray   float64 // share of unknown lines under its first stop that lie under all
	evidence []evidence
}

// newFollower returns a follower that starts where a reading does. What a row of its
// own says of that hole is evidence without it; where there is none, a line of the
// target lies there.
func newFollower(l *learner, job *survey.Job, live []survey.Reading, r *survey.Reading) *follower {
	f := &follower{learner: l, job: job, live: live, kind: job.Sketch.KindOf(r.Target), astray: 1}
	var lines []line
	for i := range job.Sketch.Parts {
		if p := &job.Sketch.Parts[i]; p.Kind == f.kind && len(l.post.PlacesOfLine(p.ID)) > 1 {
			lines, f.ids = append(lines, l.line(p)), append(f.ids, p.ID)
		}
	}
	if f.kind == asbuilt.Header {
		for _, j := range l.post.Joins() {
			lines, f.ids = append(lines, undrawn(j.Nodes)), append(f.ids, "")
		}
	}
	s, met := f.stop(r.From, f.among(r.Target))
	f.course = newCourse(lines, []stop{s}, nil)
	if met != nil {
		f.met = met.ID
		return f
	}
	due := *r
	due.Point = r.From
	f.add(newCourse(lines, nil, nil), f.course, due, strange)
	return f
}

// among returns which of the lines a target names.
func (f *follower) among(target string) []bool {
	may := make([]bool, len(f.ids))
	for i, id := range f.ids {
		may[i] = f.job.Sketch.Part(target) == nil || id == target
	}
	return may
}

// follow takes in the readings that continue from one another, and returns the
// others.
func (f *follower) follow(left []survey.Reading, taken map[string]bool) []survey.Reading {
	for {
		next := slices.IndexFunc(left, func(r survey.Reading) bool {
			return f.job.Sketch.KindOf(r.Target) == f.kind && (f.number(r.From) >= 0 || f.number(r.To) >= 0)
		})
		if next < 0 {
			return left
		}
		f.link(&left[next], taken)
		left = slices.Delete(left, next, next+1)
	}
}

// number returns which stop has a name, −1: none.
func (f *follower) number(name string) int {
	return slices.IndexFunc(f.course.stops, func(s stop) bool { return s.name == name })
}

// link takes in that one line was followed between two holes, then which way it was
// seen to run in that which is new.
func (f *follower) link(r *survey.Reading, taken map[string]bool) {
	before, due := f.course, *r
	due.Point = r.To
	stops := slices.Clone(before.stops)
	var ends [2]int
	var runs agrees
	for i, name := range []string{r.From, r.To} {
		if ends[i] = f.number(name); ends[i] >= 0 {
			continue
		}
		s, met := f.stop(name, f.among(string(f.kind)))
		due.Point = name
		if met != nil && !s.settled {
			due, taken[met.ID] = *met, true
		}
		runs, s.agrees = s.agrees, nil
		ends[i], stops = len(stops), append(stops, s)
	}
	links := append(slices.Clone(before.links), link{ends[0], ends[1], f.among(r.Target)})
	f.course = newCourse(before.lines, stops, links)
	f.astray *= f.course.astray(links[len(links)-1], func(s *stop) geo.Vec {
		v, _ := f.post.ExpectedPoint(s.name)
		return v
	})
	f.add(before, f.course, due, unknown*(f.astray+practice.Misfollowed))
	if runs != nil {
		stops = slices.Clone(stops)
		stops[len(stops)-1].agrees = runs
		seen := newCourse(before.lines, stops, links)
		f.add(f.course, seen, survey.Reading{}, 0)
		f.course = seen
	}
}

// add adds what a course says beside what it said before.
func (f *follower) add(before, after *course, due survey.Reading, limit float64) {
	f.evidence = append(f.evidence, evidence{func(places []geo.Vec, _ []float64) float64 {
		return min(0, math.Log(after.chance(places)/before.chance(places)))
	}, due, limit, false, ""})
}

// stop returns a hole or stake, and the row of the line that it met; without one,
// nil, and may is what lies there.
func (f *follower) stop(name string, may []bool) (s stop, met *survey.Reading) {
	at, _ := f.post.PlaceOfPoint(name)
	s = stop{name: name, at: at, radius: f.job.Settings.Hole.Radius, may: may}
	for i := range f.live {
		r := &f.live[i]
		if r.Kind != survey.Found || r.Point != name {
			continue
		}
		s.radius = f.job.HoleRadius(r)
		if f.job.Sketch.KindOf(r.Target) == f.kind {
			s.may = f.among(r.Target)
			if len(f.lines(f.job, r)) > 0 {
				s.agrees = f.direction(r)
			} else {
				s.settled = slices.Contains(s.may, true)
			}
			return s, r
		}
		// On a box or tank, the line may leave that on any side.
		if p := f.job.Sketch.Part(f.post.Met(r.ID)); p != nil {
			if body, ok := encounter.BodyOf(p); ok && !body.Line {
				s.radius += body.Reach
			}
		}
	}
	return s, nil
}
