package belief

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/survey"
	"asfound/survey/posterior"
)

// How surely a hole meets what it is over. Judgement, no published source; a
// chance is never 1, so that one missed trench does not rule the truth out.
const (
	MeetsBox  = 0.98 // that a hole over a box or a tank, and deep enough, meets it
	MeetsLine = 0.97 // the same of a trench
	Rim       = 0.08 // metres by which the edge of a hole or of a part may be out, either way
	Floor     = 0.08 // metres by which the bottom of a hole, or the top of a part, may be out, either way
	Run       = 0.25 // metres by which a header may run beside where it is drawn between its ends, either way
	Stray     = 0.02 // chance that a line met is none of those drawn, or not where its kind is said to be
	strange   = 0.04 // chance below which a line met is one too many, twice Stray
	Unstated  = 0.5  // chance that a hole went deep enough where its depth was not written
)

// hole is a hole of the log, and how far down it shows what is there.
type hole struct {
	name    string
	radius  float64 // metres
	depth   float64 // metres from the ground; known where stated
	stated  bool
	met     string // part that it met, empty: none
	line    bool   // it met a lateral or header
	structs bool   // it met anything else
}

// holes returns the holes of a job by name, what several readings say of one
// hole put together: a hole that was deepened counts once, to its full depth.
func holes(job *survey.Job, met func(reading string) string) []hole {
	all := map[string]*hole{}
	live := job.Live()
	slices.SortStableFunc(live, func(a, b survey.Reading) int { return cmp.Compare(a.ID, b.ID) })
	for i := range live {
		r := &live[i]
		if r.Kind != survey.Empty && r.Kind != survey.Found {
			continue
		}
		h := all[r.Point]
		if h == nil {
			h = &hole{name: r.Point, radius: job.Settings.Hole.Radius}
			all[r.Point] = h
		}
		if r.Radius != nil {
			h.radius = r.Radius.Metres
		}
		if r.Depth != nil && (!h.stated || r.Depth.Metres > h.depth) {
			h.depth, h.stated = r.Depth.Metres, true
		}
		if r.Kind == survey.Empty {
			continue
		}
		h.met = met(r.ID)
		kind := asbuilt.Kind(r.Target)
		if p := job.Sketch.Part(h.met); p != nil {
			kind = p.Kind
		}
		if kind == asbuilt.Lateral || kind == asbuilt.Header {
			h.line = true
		} else {
			h.structs = true
		}
	}
	var out []hole
	for _, name := range slices.Sorted(maps.Keys(all)) {
		out = append(out, *all[name])
	}
	return out
}

// shows reports whether a hole would have met a part of a kind if it were
// there. A hole on a line shows that it is not on a box or tank; of other
// lines it shows nothing, since they may join there, and a hole on a box or
// tank shows nothing of the lines that join it.
func (h *hole) shows(kind asbuilt.Kind) bool {
	switch {
	case h.structs:
		return false
	case h.line:
		return kind == asbuilt.Box || kind == asbuilt.Tank
	}
	return true
}

// target is a part that a hole may meet: a disc about a place, or a strip about
// a line.
type target struct {
	part   *asbuilt.Part
	place  int   // of the middle, where line is nil
	line   []int // places of its vertices
	reach  float64
	chance float64
}

// targets returns the parts whose absence a hole can show. Headers are left
// out: how they run between the places drawn of them is a guess.
func targets(sketch *asbuilt.Sketch, post *posterior.Posterior) (all []target) {
	for i := range sketch.Parts {
		p := &sketch.Parts[i]
		t := target{part: p, chance: MeetsBox}
		switch p.Kind {
		case asbuilt.Lateral:
			t.line, t.reach, t.chance = post.PlacesOfLine(p.ID), practice.Width(p)/2, MeetsLine
			if len(t.line) < 2 {
				continue
			}
		case asbuilt.Box: // the disc of its area: it may be turned any way
			t.reach = practice.BoxSide(p) / math.Sqrt(math.Pi)
		case asbuilt.Tank:
			t.reach = math.Sqrt(practice.TankLength * practice.TankWidth / math.Pi)
		default:
			continue
		}
		if t.line == nil {
			k, ok := post.Place(asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center})
			if !ok {
				continue
			}
			t.place = k
		}
		all = append(all, t)
	}
	return all
}

// ramp returns how surely something lies within an edge that is inside by so
// many metres and may be out by soft either way.
func ramp(inside, soft float64) float64 { return max(0, min(1, 0.5+inside/(2*soft))) }
