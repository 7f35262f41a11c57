package survey

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/spelling"
	"asfound/geo/geodesy"
	"asfound/survey/finding"
)

// farApart is the distance in metres at which two fixes cannot be of one lot.
const farApart = 1000

// Check returns what is wrong between the log, the sketch and the settings.
// What is wrong within each was found when it was read.
func (j *Job) Check() asbuilt.Problems {
	var ps asbuilt.Problems
	if j.Sketch == nil {
		ps.Addf("sketch.geojson", "", "", "no sketch", "the as-built sketch, which the log refers to")
		return ps
	}
	if len(j.parts(j.Settings.Seek)) == 0 {
		ps.Addf("job.json", "", "seek", strconv.Quote(j.Settings.Seek), "%s", j.targets(j.Settings.Seek))
	}
	rows := map[string]*Reading{}
	for i := range j.Readings {
		r := &j.Readings[i]
		if other := rows[r.ID]; other != nil {
			ps.Addf(r.File, r.place(), "id", strconv.Quote(r.ID), "an id of its own; %s of %s has this one", other.place(), other.File)
		}
		rows[r.ID] = r
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		for _, n := range [...]struct{ column, name string }{{"point", r.Point}, {"from", r.From}, {"to", r.To}} {
			p := j.Sketch.Part(n.name)
			if p == nil {
				continue
			}
			if _, ok := p.Point(asbuilt.Center); !ok || r.Kind == Found || r.Kind == Empty {
				ps.Addf(r.File, r.place(), n.column, strconv.Quote(n.name), "%s", nameWanted(r, p))
			}
		}
		switch r.Kind {
		case Found:
			j.checkFound(r, &ps)
		case Condition:
			if len(j.parts(r.Target)) == 0 {
				ps.Addf(r.File, r.place(), "target", strconv.Quote(r.Target), "%s", j.targets(r.Target))
			}
		case Void:
			switch other := rows[r.Target]; {
			case other == nil:
				ps.Addf(r.File, r.place(), "target", strconv.Quote(r.Target), "the id of a reading; a row without one is called r and its row number")
			case other.Kind == Void:
				ps.Addf(r.File, r.place(), "target", strconv.Quote(r.Target), "the id of a reading that is not a void itself; to bring a reading back, log it again")
			}
		}
	}
	j.checkFixes(&ps)
	return ps
}

func (r *Reading) place() string { return "row " + strconv.Itoa(r.Row) }

func nameWanted(r *Reading, p *asbuilt.Part) string {
	if r.Kind == Found || r.Kind == Empty {
		return fmt.Sprintf("the name of the hole, such as H1; %s is a %s of the sketch", p.ID, p.Kind)
	}
	return fmt.Sprintf("a landmark, a hole or a stake; %s is a %s, which is no single point", p.ID, p.Kind)
}

// parts returns the parts that a target names: by id, with ".start" or ".end"
// after it, or by kind.
func (j *Job) parts(target string) (parts []*asbuilt.Part) {
	id := strings.TrimSuffix(strings.TrimSuffix(target, ".start"), ".end")
	for i := range j.Sketch.Parts {
		p := &j.Sketch.Parts[i]
		if p.ID == target || string(p.Kind) == target {
			parts = append(parts, p)
		}
		if p.ID == id && id != target && len(p.Shapes) > 0 && p.Shapes[0].Form == asbuilt.Line {
			parts = append(parts, p)
		}
	}
	return parts
}

// findable are the kinds of part that a hole can meet.
var findable = []asbuilt.Kind{asbuilt.Box, asbuilt.Tank, asbuilt.Header, asbuilt.Lateral, asbuilt.Port}

// targets says what a target may be.
func (j *Job) targets(wrong string) string {
	var ids, kinds []string
	for i := range j.Sketch.Parts {
		if p := &j.Sketch.Parts[i]; slices.Contains(findable, p.Kind) {
			ids = append(ids, p.ID)
			if !slices.Contains(kinds, string(p.Kind)) {
				kinds = append(kinds, string(p.Kind))
			}
		}
	}
	all := append(ids, kinds...)
	if len(ids) > 12 {
		ids = append(ids[:12], "…")
	}
	s := fmt.Sprintf("a part of the sketch (%s) or a kind (%s)", strings.Join(ids, ", "), strings.Join(kinds, ", "))
	if n := spelling.Nearest(wrong, all); n != "" {
		s += "; did you mean " + n + "?"
	}
	return s
}

func (j *Job) checkFound(r *Reading, ps *asbuilt.Problems) {
	var met []*asbuilt.Part
	for _, p := range j.parts(r.Target) {
		if slices.Contains(findable, p.Kind) {
			met = append(met, p)
		}
	}
	if len(met) == 0 || strings.Contains(r.Target, ".") && j.Sketch.Part(r.Target) == nil {
		ps.Addf(r.File, r.place(), "target", strconv.Quote(r.Target), "%s", j.targets(r.Target))
		return
	}
	line := met[0].Kind == asbuilt.Lateral || met[0].Kind == asbuilt.Header
	spots := []asbuilt.Spot{asbuilt.Center, asbuilt.Edge, asbuilt.Corner}
	switch {
	case line:
		spots = []asbuilt.Spot{asbuilt.On, asbuilt.Start, asbuilt.End, asbuilt.Edge}
	case met[0].Kind == asbuilt.Port:
		spots = []asbuilt.Spot{asbuilt.Center}
	}
	if r.Spot != "" && !slices.Contains(spots, r.Spot) {
		var names []string
		for _, s := range spots {
			names = append(names, string(s))
		}
		ps.Addf(r.File, r.place(), "spot", strconv.Quote(string(r.Spot)), "%s for a %s", strings.Join(names, ", "), met[0].Kind)
	}
}

// checkFixes reports fixes that lie too far from the first, or from the lot.
func (j *Job) checkFixes(ps *asbuilt.Problems) {
	var site *geodesy.Site
	from := ""
	switch {
	case j.Settings.Site != nil:
		site, from = geodesy.NewSite(j.Settings.Site.Position, 0), "the site in job.json"
	case j.Sketch.Origin != nil:
		site, from = geodesy.NewSite(*j.Sketch.Origin, 0), "the sketch"
	}
	for _, r := range j.Live() {
		if r.Kind != GNSS {
			continue
		}
		if site == nil {
			site, from = geodesy.NewSite(r.Position, 0), fmt.Sprintf("the fix of %s (%s)", r.Point, r.ID)
			continue
		}
		reach := float64(farApart)
		if j.Settings.Site != nil {
			reach += j.Settings.Site.Accuracy
		}
		if d := site.Vec(r.Position).Norm(); !(d <= reach) {
			ps.Addf(r.File, r.place(), "lon, lat", fmt.Sprintf("%.6f, %.6f, %.1f km from %s", r.Position.Lon.Degrees(), r.Position.Lat.Degrees(), d/1000, from),
				"a position on the lot; are longitude and latitude swapped, or is a minus sign lost?")
		}
	}
}

// Cautions returns what is allowed but looks like a blunder: holes that nothing
// locates, names that are one letter off a landmark's.
func (j *Job) Cautions() (all []finding.Finding) {
	located, used := map[string]bool{}, map[string]int{}
	var marks []string
	for i := range j.Sketch.Parts {
		if p := &j.Sketch.Parts[i]; p.Kind == asbuilt.Landmark {
			marks = append(marks, p.ID)
		}
	}
	live := j.Live()
	for i := range live {
		r := &live[i]
		for _, n := range []string{r.Point, r.From, r.To} {
			if n != "" && j.Sketch.Part(n) == nil {
				used[n]++
			}
		}
		switch r.Kind {
		case GNSS, Baseline:
			located[r.Point] = true
		case Tape, Bearing, Cable:
			located[r.From], located[r.To] = true, true
		}
	}
	seen := map[string]bool{}
	for i := range live {
		r := &live[i]
		if (r.Kind == Found || r.Kind == Empty) && !located[r.Point] && !seen[r.Point] {
			seen[r.Point] = true
			all = append(all, finding.HoleUnplaced.New(finding.Readings(r.ID), finding.Word("file", r.File), finding.Number("row", float64(r.Row)), finding.Word("hole", r.Point)))
		}
		for _, n := range []string{r.From, r.To} {
			if m := spelling.Nearest(n, marks); used[n] == 1 && m != "" {
				all = append(all, finding.NameOnce.New(finding.Readings(r.ID), finding.Word("file", r.File), finding.Number("row", float64(r.Row)), finding.Word("name", n), finding.Parts(m)))
			}
		}
	}
	return all
}
