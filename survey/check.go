package survey

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/geo/geodesy"
	"asfound/geo/spelling"
	"asfound/survey/finding"
)

// farApart is the distance in metres at which two fixes cannot be of one lot.
const farApart = 1000

// Check returns what is wrong between the log, the sketch and the settings.
// What is wrong within each was found when it was read.
func (j *Job) Check() asbuilt.Problems { return j.check().problems }

// Usable returns the job with those of its readings that nothing is wrong with,
// and what is wrong with the others. A reading that withdraws one that is left
// out is left out too. What is left passes Check. The job is nil where the
// sketch or the settings are at fault.
func (j *Job) Usable() (*Job, asbuilt.Problems) {
	c := j.check()
	if c.whole {
		return nil, c.problems
	}
	for i := range j.Readings {
		// Nothing can hang on a void in turn: a void of a void was wrong already.
		// Nor can a fix come back to be judged: its void was right.
		if r := &j.Readings[i]; r.Kind == Void && !c.wrong[i] && c.wrong[c.first[r.Target]] {
			c.addf(i, "target", strconv.Quote(r.Target), "the id of a reading that is used; this one has a problem itself")
		}
	}
	usable := *j
	usable.Readings = nil
	for i, r := range j.Readings {
		if !c.wrong[i] {
			usable.Readings = append(usable.Readings, r)
		}
	}
	return &usable, c.problems
}

// checked is what a check found.
type checked struct {
	job      *Job
	problems asbuilt.Problems
	whole    bool           // something is wrong that is in no reading
	wrong    []bool         // by reading
	first    map[string]int // the reading of each id; of several with one id the first
}

// addf adds a problem of a reading.
func (c *checked) addf(reading int, column, found, want string, args ...any) {
	r := &c.job.Readings[reading]
	c.wrong[reading] = true
	c.problems = append(c.problems, asbuilt.Problem{File: r.File, Row: r.Row, Reading: r.ID, Field: column, Found: found, Want: fmt.Sprintf(want, args...)})
}

func (j *Job) check() *checked {
	c := &checked{job: j, wrong: make([]bool, len(j.Readings)), first: map[string]int{}}
	if j.Sketch == nil {
		c.whole = true
		c.problems.Addf("sketch.geojson", "", "", "no sketch", "the as-built sketch, which the log refers to")
		return c
	}
	if len(j.parts(j.Settings.Seek)) == 0 {
		c.whole = true
		c.problems.Addf("job.json", "", "seek", strconv.Quote(j.Settings.Seek), "%s", j.targets(j.Settings.Seek))
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		if k, twice := c.first[r.ID]; twice {
			other := &j.Readings[k]
			c.addf(i, "id", strconv.Quote(r.ID), "an id of its own; %s of %s has this one", other.place(), other.File)
			continue
		}
		c.first[r.ID] = i
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		for _, n := range [...]struct{ column, name string }{{"point", r.Point}, {"from", r.From}, {"to", r.To}} {
			p := j.Sketch.Part(n.name)
			if p == nil {
				continue
			}
			if _, ok := p.Point(asbuilt.Center); !ok || r.Kind == Found || r.Kind == Empty {
				c.addf(i, n.column, strconv.Quote(n.name), "%s", nameWanted(r, p))
			}
		}
		switch r.Kind {
		case Found:
			c.found(i)
		case Condition:
			if len(j.parts(r.Target)) == 0 {
				c.addf(i, "target", strconv.Quote(r.Target), "%s", j.targets(r.Target))
			}
		case Void:
			switch k, ok := c.first[r.Target]; {
			case !ok:
				c.addf(i, "target", strconv.Quote(r.Target), "the id of a reading; a row without one is called r and its row number")
			case j.Readings[k].Kind == Void:
				c.addf(i, "target", strconv.Quote(r.Target), "the id of a reading that is not a void itself; to bring a reading back, log it again")
			}
		}
	}
	c.fixes()
	return c
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

func (c *checked) found(reading int) {
	j, r := c.job, &c.job.Readings[reading]
	var met []*asbuilt.Part
	for _, p := range j.parts(r.Target) {
		if slices.Contains(findable, p.Kind) {
			met = append(met, p)
		}
	}
	if len(met) == 0 || strings.Contains(r.Target, ".") && j.Sketch.Part(r.Target) == nil {
		c.addf(reading, "target", strconv.Quote(r.Target), "%s", j.targets(r.Target))
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
		c.addf(reading, "spot", strconv.Quote(string(r.Spot)), "%s for a %s", strings.Join(names, ", "), met[0].Kind)
	}
}

// fixes reports fixes that lie too far from the lot: from where the settings or
// the sketch have it, else from the first fix that nothing else is wrong with.
func (c *checked) fixes() {
	j := c.job
	var site *geodesy.Site
	from := ""
	switch {
	case j.Settings.Site != nil:
		site, from = geodesy.NewSite(j.Settings.Site.Position, 0), "the site in job.json"
	case j.Sketch.Origin != nil:
		site, from = geodesy.NewSite(*j.Sketch.Origin, 0), "the sketch"
	}
	withdrawn := map[string]bool{}
	for i, r := range j.Readings {
		if r.Kind == Void && !c.wrong[i] {
			withdrawn[r.Target] = true
		}
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		if r.Kind != GNSS || withdrawn[r.ID] {
			continue
		}
		if site == nil {
			if !c.wrong[i] {
				site, from = geodesy.NewSite(r.Position, 0), fmt.Sprintf("the fix of %s (%s)", r.Point, r.ID)
			}
			continue
		}
		reach := float64(farApart)
		if j.Settings.Site != nil {
			reach += j.Settings.Site.Accuracy
		}
		if d := site.Vec(r.Position).Norm(); !(d <= reach) {
			c.addf(i, "lon, lat", fmt.Sprintf("%.6f, %.6f, %.1f km from %s", r.Position.Lon.Degrees(), r.Position.Lat.Degrees(), d/1000, from),
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
