package belief

import (
	"cmp"
	"maps"
	"slices"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/survey"
	"asfound/survey/encounter"
	"asfound/survey/posterior"
)

// strange is the chance below which a line met is one too many, twice
// practice.StrayHit.
const strange = 2 * practice.StrayHit

// hole is a hole of the log, and down to what depth it shows what is there.
type hole struct {
	name    string
	radius  float64 // metres
	depth   float64 // metres from the ground; known where stated
	stated  bool
	stopped bool   // it ended before it was deep enough
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
			h = &hole{name: r.Point, radius: job.Settings.Hole.Radius, stopped: true}
			all[r.Point] = h
		}
		if r.Radius != nil {
			h.radius = r.Radius.Metres
		}
		if r.Depth != nil && (!h.stated || r.Depth.Metres > h.depth) {
			h.depth, h.stated = r.Depth.Metres, true
		}
		h.stopped = h.stopped && r.Stopped != ""
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

// target is a part that a hole may meet, and where it lies.
type target struct {
	part *asbuilt.Part
	encounter.Body
	encounter.Places
}

// targets returns the parts whose absence a hole can show. Headers are left
// out: how they run between their drawn places is a guess.
func targets(sketch *asbuilt.Sketch, post *posterior.Posterior) (all []target) {
	for i := range sketch.Parts {
		p := &sketch.Parts[i]
		body, ok := encounter.BodyOf(p)
		if !ok || p.Kind == asbuilt.Header || p.Kind == asbuilt.Port {
			continue
		}
		t := target{part: p, Body: body}
		if body.Line {
			t.Vertices = post.PlacesOfLine(p.ID)
			ok = len(t.Vertices) >= 2
		} else {
			t.Centre, ok = post.Place(asbuilt.SpotName{Part: p.ID, Spot: asbuilt.Center})
		}
		if ok {
			all = append(all, t)
		}
	}
	return all
}
