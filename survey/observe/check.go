package observe

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo/language"
	"asfound/geo/spelling"
	"asfound/survey"
	"asfound/survey/finding"
)

// Check returns what is wrong between the log, the sketch and the settings.
// What is wrong within each was found when it was read.
func Check(j *survey.Job) asbuilt.Problems { return check(j).problems }

// Usable returns the job with only those of its readings that have no problem,
// and the problems of the others. A reading that withdraws one that is left out
// is left out too. What is left passes Check. The job is nil where the sketch
// or the settings are at fault.
func Usable(j *survey.Job) (*survey.Job, asbuilt.Problems) {
	c := check(j)
	if c.whole {
		return nil, c.problems
	}
	for i := range j.Readings {
		// Nothing depends on a void in turn: a void of a void is a problem
		// already. Nor does this bring back a fix to be checked: its void was
		// valid.
		if r := &j.Readings[i]; r.Kind == survey.Void && !c.wrong[i] && c.wrong[c.first[r.Target]] {
			c.add(i, "target", strconv.Quote(r.Target), finding.WantUsedReading.New())
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

// checker looks for what is wrong between the log, the sketch and the settings.
type checker struct {
	job      *survey.Job
	problems asbuilt.Problems
	whole    bool            // there is a problem that is in no reading
	wrong    []bool          // by reading
	first    map[string]int  // the reading of each id; of several with one id the first
	placed   func() []string // names that placed returns, once one asks
}

// add adds a problem of a reading.
func (c *checker) add(reading int, column, found string, want finding.Finding) {
	r := &c.job.Readings[reading]
	c.wrong[reading] = true
	c.problems = append(c.problems, asbuilt.Problem{File: r.File, Row: r.Row, Reading: r.ID, Field: column, Found: found, Want: want.In(language.English), Wanted: want})
}

func check(j *survey.Job) *checker {
	c := &checker{job: j, wrong: make([]bool, len(j.Readings)), first: map[string]int{}}
	c.placed = sync.OnceValue(func() []string { return placed(j) })
	if j.Sketch == nil {
		c.whole = true
		c.problems.Addf("sketch.geojson", "", "", "no sketch", "the as-built sketch, which the log refers to")
		return c
	}
	if len(c.parts(j.Settings.Seek)) == 0 {
		c.whole = true
		want := c.targets(j.Settings.Seek)
		c.problems = append(c.problems, asbuilt.Problem{File: "job.json", Field: "seek", Found: strconv.Quote(j.Settings.Seek), Want: want.In(language.English), Wanted: want})
	}
	for i := range j.Readings {
		r := &j.Readings[i]
		if k, twice := c.first[r.ID]; twice {
			other := &j.Readings[k]
			c.add(i, "id", strconv.Quote(r.ID), finding.WantOwnID.New(finding.Number("row", float64(other.Row)), finding.Word("file", other.File)))
			continue
		}
		c.first[r.ID] = i
	}
	for i := range j.Readings {
		k := KindNamed(j.Readings[i].Kind)
		if k == nil {
			k = &Kind{}
		}
		c.names(i, k)
		if k.Check != nil {
			k.Check(c, i)
		}
	}
	for _, k := range Kinds {
		if k.CheckAll != nil {
			k.CheckAll(c)
		}
	}
	return c
}

// placed returns the holes and stakes that some row of the log helps to place, the
// withdrawn ones included: to withdraw a tape makes no other row wrong.
func placed(j *survey.Job) (names []string) {
	for i := range j.Readings {
		r := &j.Readings[i]
		if k := KindNamed(r.Kind); k != nil && k.Locates != nil {
			for _, n := range k.Locates(r) {
				if j.Sketch.Part(n) == nil {
					names = append(names, n)
				}
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// names reports names of parts where a landmark, a hole or a stake is expected.
func (c *checker) names(reading int, k *Kind) {
	r := &c.job.Readings[reading]
	for _, n := range [...]struct{ column, name string }{{"point", r.Point}, {"from", r.From}, {"to", r.To}} {
		p := c.job.Sketch.Part(n.name)
		if p == nil {
			continue
		}
		wanted := finding.WantPoint.New(finding.Parts(p.ID), kindOf(p))
		if k.Hole {
			wanted = finding.WantHoleName.New(finding.Parts(p.ID), kindOf(p))
		}
		if _, ok := p.Point(asbuilt.Center); !ok || k.Hole {
			c.add(reading, n.column, strconv.Quote(n.name), wanted)
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

// named reports whether a row of the log, a withdrawn one included, names a point.
func (c *checker) named(point string) bool {
	return slices.ContainsFunc(c.job.Readings, func(r survey.Reading) bool {
		return slices.Contains([]string{r.Point, r.From, r.To}, point)
	})
}

// unnamed are the kinds that a hole may meet though the sketch has none: where a
// box feeds trenches there are headers, drawn or not.
func (c *checker) unnamed() []string {
	if len(c.parts(string(asbuilt.Header))) == 0 && len(c.parts(string(asbuilt.Box))) > 0 {
		return []string{string(asbuilt.Header)}
	}
	return nil
}

// targets says what a target may be: a part, or a kind of part or one of others.
func (c *checker) targets(wrong string, others ...string) finding.Finding {
	return c.choice(wrong, findable, others...)
}

// choice says what a target may be where it is of some kinds of part alone.
func (c *checker) choice(wrong string, of []asbuilt.Kind, others ...string) finding.Finding {
	var ids, kinds []string
	for i := range c.job.Sketch.Parts {
		if p := &c.job.Sketch.Parts[i]; slices.Contains(of, p.Kind) {
			ids = append(ids, p.ID)
			if !slices.Contains(kinds, string(p.Kind)) {
				kinds = append(kinds, string(p.Kind))
			}
		}
	}
	kinds = append(kinds, others...)
	all := append(ids, kinds...)
	if len(ids) > 12 {
		ids = append(ids[:12], "…")
	}
	want := finding.WantPartOrKind.New(finding.Word("ids", strings.Join(ids, ", ")), finding.Word("kinds", strings.Join(kinds, ", ")))
	return meant(want, wrong, all)
}

// meant adds to what is wanted the name that was probably meant.
func meant(want finding.Finding, wrong string, names []string) finding.Finding {
	if n := spelling.Nearest(wrong, names); n != "" {
		return finding.WantMeant.New(finding.About(want), finding.Word("name", n))
	}
	return want
}

// kindOf names the kind of a part.
func kindOf(p *asbuilt.Part) finding.Argument { return finding.Word("kind", string(p.Kind)) }

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
		if r.Stopped == survey.StopUtility {
			all = append(all, practice.UtilityMet(r.Point, r.ID))
		}
		for _, n := range []string{r.From, r.To} {
			if m := spelling.Nearest(n, marks); used[n] == 1 && m != "" {
				all = append(all, finding.NameOnce.New(finding.Readings(r.ID), finding.Word("file", r.File), finding.Number("row", float64(r.Row)), finding.Word("name", n), finding.Parts(m)))
			}
		}
	}
	return all
}
