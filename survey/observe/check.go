package observe

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/asbuilt/spelling"
	"asfound/survey"
	"asfound/survey/finding"
)

// checker looks for what is wrong between the log, the sketch and the settings.
type checker struct {
	job   *survey.Job
	rows  map[string]*survey.Reading // by id
	found asbuilt.Problems
}

// add adds what is wrong with a column of a reading.
func (c *checker) add(r *survey.Reading, column, value, wanted string) {
	c.found.Addf(r.File, row(r), column, value, "%s", wanted)
}

func row(r *survey.Reading) string { return "row " + strconv.Itoa(r.Row) }

// Check returns what is wrong between the log, the sketch and the settings.
// What is wrong within each was found when it was read.
func Check(j *survey.Job) asbuilt.Problems {
	c := checker{job: j, rows: map[string]*survey.Reading{}}
	if j.Sketch == nil {
		c.found.Addf("sketch.geojson", "", "", "no sketch", "the as-built sketch, which the log refers to")
		return c.found
	}
	if len(c.parts(j.Settings.Seek)) == 0 {
		c.found.Addf("job.json", "", "seek", strconv.Quote(j.Settings.Seek), "%s", c.targets(j.Settings.Seek))
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		if other := c.rows[r.ID]; other != nil {
			c.add(r, "id", strconv.Quote(r.ID), fmt.Sprintf("an id of its own; %s of %s has this one", row(other), other.File))
		}
		c.rows[r.ID] = r
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		k := KindNamed(r.Kind)
		if k == nil {
			k = &Kind{}
		}
		c.names(r, k)
		if k.Check != nil {
			k.Check(&c, r)
		}
	}
	for _, k := range Kinds {
		if k.CheckAll != nil {
			k.CheckAll(&c)
		}
	}
	return c.found
}

// names reports names of parts where a landmark, a hole or a stake is meant.
func (c *checker) names(r *survey.Reading, k *Kind) {
	for _, n := range [...]struct{ column, name string }{{"point", r.Point}, {"from", r.From}, {"to", r.To}} {
		p := c.job.Sketch.Part(n.name)
		if p == nil {
			continue
		}
		wanted := fmt.Sprintf("a landmark, a hole or a stake; %s is a %s, which is no single point", p.ID, p.Kind)
		if k.Hole {
			wanted = fmt.Sprintf("the name of the hole, such as H1; %s is a %s of the sketch", p.ID, p.Kind)
		}
		if _, ok := p.Point(asbuilt.Center); !ok || k.Hole {
			c.add(r, n.column, strconv.Quote(n.name), wanted)
		}
	}
}

// parts returns the parts that a target names: by id, with ".start" or ".end"
// after it, or by kind.
func (c *checker) parts(target string) (parts []*asbuilt.Part) {
	id := strings.TrimSuffix(strings.TrimSuffix(target, ".start"), ".end")
	for i := range c.job.Sketch.Parts {
		p := &c.job.Sketch.Parts[i]
		if p.ID == target || string(p.Kind) == target {
			parts = append(parts, p)
		}
		if p.ID == id && id != target && len(p.Shapes) > 0 && p.Shapes[0].Form == asbuilt.Line {
			parts = append(parts, p)
		}
	}
	return parts
}

// targets says what a target may be.
func (c *checker) targets(wrong string) string {
	var ids, kinds []string
	for i := range c.job.Sketch.Parts {
		if p := &c.job.Sketch.Parts[i]; slices.Contains(findable, p.Kind) {
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

// Cautions returns what is allowed but looks like a blunder: holes that nothing
// locates, names that are one letter off a landmark's.
func Cautions(j *survey.Job) (all []finding.Finding) {
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
		if k := KindNamed(r.Kind); k != nil && k.Locates != nil {
			for _, n := range k.Locates(r) {
				located[n] = true
			}
		}
	}
	seen := map[string]bool{}
	for i := range live {
		r := &live[i]
		k := KindNamed(r.Kind)
		if k != nil && k.Hole && !located[r.Point] && !seen[r.Point] {
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
