package observe

import (
	"cmp"
	"maps"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/drawing"
)

const (
	PointSigma = 30   // metres: a hole or stake about where it is first guessed to lie
	HeldSigma  = 1e-3 // metres and radians: only holds the frame
)

// Log is the readings of a job made ready to be observed: the live ones in an
// order of their own that does not depend on the order of the log, the points
// that they name, and the frame they are brought into.
type Log struct {
	Job          *survey.Job
	Readings     []survey.Reading
	Frame        survey.Frame
	Points       []Point
	SessionSigma []float64 // of each satellite session: standard deviation of its common part, metres
	North        bool      // some reading, or the sheet, says where north is
	Magnetic     bool      // some bearing is magnetic

	index    map[string]int       // of points by name
	sessions map[string]int       // by name
	accuracy map[string][]float64 // of the fixes of each session
}

// NewLog makes the readings of a job ready.
func NewLog(job *survey.Job) *Log {
	l := &Log{Job: job, Readings: job.Live(), index: map[string]int{}, sessions: map[string]int{}, accuracy: map[string][]float64{}}
	slices.SortStableFunc(l.Readings, func(x, y survey.Reading) int {
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.ID, y.ID))
	})
	l.North = sheetHasNorth(job.Sketch)
	for i := range l.Readings {
		r := &l.Readings[i]
		k := KindNamed(r.Kind)
		for _, name := range []string{r.Point, r.From, r.To} {
			l.name(name, r, k)
		}
		if k != nil && k.Prepare != nil {
			k.Prepare(l, r)
		}
	}
	for _, k := range slices.Sorted(maps.Keys(l.accuracy)) {
		l.sessions[k] = len(l.SessionSigma)
		l.SessionSigma = append(l.SessionSigma, fixCommon*drawing.Median(l.accuracy[k])/geo.Within95)
	}
	l.Frame = l.frame()
	return l
}

// sheetHasNorth reports whether a sheet tells where north is.
func sheetHasNorth(s *asbuilt.Sketch) bool { return s.Up != nil || s.Plane == asbuilt.WGS84 }

// name makes a point of a name that the sketch does not have.
func (l *Log) name(name string, r *survey.Reading, k *Kind) {
	if name == "" || l.Job.Sketch.Part(name) != nil {
		return
	}
	if _, spot := l.Job.Sketch.SpotNamed(name); spot && r.Kind == survey.Cable {
		return
	}
	i, ok := l.index[name]
	if !ok {
		i = len(l.Points)
		l.index[name] = i
		l.Points = append(l.Points, Point{Name: name, Radius: l.Job.Settings.Hole.Radius})
	}
	if r.Radius != nil && k != nil && k.Hole {
		l.Points[i].Radius = r.Radius.Metres
	}
}

// LayoutAt returns the first of the unknowns that lay the drawing on the field.
func (l *Log) LayoutAt() int { return 2*len(l.Points) + 2*len(l.SessionSigma) + 1 }

// Point returns the number of a point of the log.
func (l *Log) Point(name string) (number int, ok bool) {
	number, ok = l.index[name]
	return number, ok
}

// Lookup returns the place that a name stands for: a point of the log, or a
// landmark or part of the sketch by its centre. ok is false for a part without
// one.
func (l *Log) Lookup(d *drawing.Drawing, name string) (p Place, ok bool) {
	if i, ok := l.index[name]; ok {
		return HolePlace(i), true
	}
	k, ok := d.Spots[asbuilt.SpotName{Part: name, Spot: asbuilt.Center}]
	return Place(k), ok
}

// Reading returns a live reading by its id and kind, nil where there is none.
func (l *Log) Reading(id string, kind survey.Kind) *survey.Reading {
	for i := range l.Readings {
		if r := &l.Readings[i]; r.ID == id && r.Kind == kind {
			return r
		}
	}
	return nil
}

// Observations returns the observations of a job under an explanation. The
// order is that of the readings, then of the sketch.
func (l *Log) Observations(d *drawing.Drawing, e Explanation) []Observation {
	var all []Observation
	for i := range l.Readings {
		if o := l.Observe(d, i, e); o != nil {
			all = append(all, o)
		}
	}
	if d.Sketch.Known == nil { // else what is written was counted when that was worked out
		all = append(all, written(d)...)
	}
	if len(e.Blunders) == 0 {
		return all
	}
	for i, o := range all {
		if b := e.Blunders[o.ID()]; b != nil && b.Change != nil {
			all[i] = b.Change(o)
		}
	}
	return slices.DeleteFunc(all, func(o Observation) bool {
		b := e.Blunders[o.ID()]
		return b != nil && b.Out
	})
}

// Observe returns the observation of reading i, nil: it says nothing of where
// things lie in plan.
func (l *Log) Observe(d *drawing.Drawing, i int, e Explanation) Observation {
	if k := KindNamed(l.Readings[i].Kind); k != nil && k.Observe != nil {
		return k.Observe(&Case{l, d, e, i})
	}
	return nil
}

// Blunders lists what may be wrong with one reading under an explanation, all
// being its observations; an error of any size comes last.
func (l *Log) Blunders(d *drawing.Drawing, e Explanation, all []Observation) []*Blunder {
	return Blunders(&Case{l, d, e, all[0].Reading()}, all)
}

// Changed returns the observations of a reading as they would be without a
// blunder.
func (l *Log) Changed(d *drawing.Drawing, all []Observation, b *Blunder) (changed []Observation) {
	if b.Met != "" {
		if o := l.Observe(d, all[0].Reading(), Explanation{Met: map[string]string{b.Reading: b.Met}}); o != nil {
			changed = append(changed, o)
		}
		return changed
	}
	for _, o := range all {
		changed = append(changed, b.Change(o))
	}
	return changed
}

// Datum returns the landmarks that relative regions refer to, as nodes of a
// drawing: those that readings or written ties were taken from, else all of
// them.
func (l *Log) Datum(d *drawing.Drawing) []int {
	used := map[string]bool{}
	for i := range l.Readings {
		r := &l.Readings[i]
		used[r.Point], used[r.From], used[r.To] = true, true, true
	}
	for i := range d.Sketch.Parts {
		for _, t := range d.Sketch.Parts[i].Ties {
			used[t.From] = true
		}
	}
	var some, all []int
	for i := range d.Sketch.Parts {
		p := &d.Sketch.Parts[i]
		if k, ok := d.Spots[asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center}]; ok && p.Kind == asbuilt.Landmark {
			all = append(all, k)
			if used[p.ID] {
				some = append(some, k)
			}
		}
	}
	if len(some) >= 2 {
		return some
	}
	return all
}
