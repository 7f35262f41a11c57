package observe

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"asfound/asbuilt"
	"asfound/survey"
	"asfound/survey/drawing"
	"asfound/survey/finding"
)

// found is a hole that met a part: on its line (found_line.go), at one place of
// it (found_spot.go), or somewhere on a box or tank (contact.go).
var found = Kind{
	Name: survey.Found, One: "find", Many: "finds", Must: []string{"point", "target"}, May: []string{"spot", "depth", "feature", "runs", "facing", "flow"},
	Hole:   true,
	Sigmas: slices.Concat(foundLineSigmas, foundSpotSigmas, foundContactSigmas, foundRunsSigmas),
	Check:  checkFound,
	Observe: func(c *Case) Observation {
		r := c.reading()
		if c.Log.OnHeader(r) || c.Explanation.Without[r.ID] {
			return nil
		}
		part := c.Log.Job.Sketch.Part(cmp.Or(c.Explanation.Met[r.ID], r.Target))
		at, ok := c.place(r.Point)
		if part == nil || !ok || at >= 0 {
			return nil
		}
		m := meeting{source: c.source(), hole: at, point: r.Point, part: part.ID}
		if line, ok := c.Drawing.Lines[part.ID]; ok {
			return foundOnLine(c, m, part, line)
		}
		return foundAt(c, m, part)
	},
	Hint: func(a *Asked, r *survey.Reading, h *Hint) {
		if r.Point != a.Name {
			return
		}
		if v, sure, ok := a.Log.expected(a.At.network.Drawing, r, a.Explanation); ok && (!h.HasTarget || sure) {
			h.Target, h.HasTarget = a.At.Field(v), true
		}
	},
}

// meeting is a hole that met a part.
type meeting struct {
	source
	hole        Place
	point, part string
}

// What implements Observation.
func (m *meeting) What() string { return fmt.Sprintf("%s met %s", m.point, m.part) }

// Touches implements Observation.
func (m *meeting) Touches(to []Place) []Place { return append(to, m.hole) }

// Gross implements Observation.
func (*meeting) Gross() (cause finding.Finding, odds float64) {
	return finding.MetOtherThing.New(), oddsGross
}

const oddsTrench = 0.030 // the neighbouring trench, all together

// Blunders implements Observation: the other parts that a hole may have met,
// neighbours of the same kind.
func (m *meeting) Blunders(c *Case) (all []*Blunder) {
	r := c.reading()
	target := r.Target
	var same []string
	at := -1
	for i := range c.Log.Job.Sketch.Parts {
		p := &c.Log.Job.Sketch.Parts[i]
		if named := c.Log.Job.Sketch.Part(target); named != nil && p.Kind == named.Kind && p.Kind != asbuilt.Tank {
			if p.ID == target {
				at = len(same)
			}
			same = append(same, p.ID)
		}
	}
	if at < 0 || c.Explanation.Met[r.ID] != "" {
		return nil
	}
	sum := 0.0
	weigh := func(i int) float64 { return 1 / float64((i-at)*(i-at)) }
	for i := range same {
		if i != at {
			sum += weigh(i)
		}
	}
	for i, id := range same {
		if i != at {
			all = append(all, &Blunder{Odds: oddsTrench * weigh(i) / sum, Cause: finding.OtherTrench.New(finding.Parts(id, target)), Instead: "target " + id, Met: id})
		}
	}
	return all
}

// expected returns the drawn place that a hole met: sure where it is a single
// point, else the middle of the line.
func (l *Log) expected(d *drawing.Drawing, r *survey.Reading, e Explanation) (v drawing.Drawn, sure, ok bool) {
	target := r.Target
	if m := e.Met[r.ID]; m != "" {
		target = m
	}
	if k, ok := d.Spots[asbuilt.SpotName{Part: target, Spot: asbuilt.Center}]; ok {
		return d.Nodes[k].At, true, true
	}
	if r.Spot == asbuilt.Start || r.Spot == asbuilt.End {
		if k, ok := d.Spots[asbuilt.SpotName{Part: target, Spot: r.Spot}]; ok {
			return d.Nodes[k].At, true, true
		}
	}
	if line := d.Lines[target]; line != nil {
		a, c := d.Nodes[line[0]].At, d.Nodes[line[len(line)-1]].At
		return a.Lerp(c, 0.5), false, true
	}
	v, ok = d.Centroid(drawing.Field)
	return v, false, ok
}

// kindOf returns what a reading says was met.
func (l *Log) kindOf(r *survey.Reading) asbuilt.Kind {
	return l.Job.Sketch.KindOf(r.Target)
}

// MayBe returns the parts of the kind that a hole met where its reading does
// not say which; nil where it does, or the reading is of no such hole.
func (l *Log) MayBe(r *survey.Reading) (ids []string) {
	if r.Kind != survey.Found || l.Job.Sketch.Part(r.Target) != nil {
		return nil
	}
	for i := range l.Job.Sketch.Parts {
		if p := &l.Job.Sketch.Parts[i]; string(p.Kind) == r.Target {
			ids = append(ids, p.ID)
		}
	}
	return ids
}

// Unnamed reports whether a hole met something of which the log gives the kind
// alone.
func (l *Log) Unnamed(r *survey.Reading) bool {
	return r.Kind == survey.Found && l.Job.Sketch.Part(r.Target) == nil
}

// Lines returns the laterals or headers that a hole may have met between their
// ends, by the reading of it; nil where a reading is of no such hole.
//
// Such a hole lies in a strip with sharp sides and ends, on one of several lines
// where the crew could not tell which, and what is sought may lie anywhere
// along. A Gaussian is a good enough substitute for judging readings and sheet,
// and where the ends are far away; but near an end it pins the line where it
// should only bound it. So the belief takes such holes out of the fit again and
// weighs them as evidence. The fit leaves out headers, which are short and all
// run together at the box.
func (l *Log) Lines(r *survey.Reading) (ids []string) {
	if r.Kind != survey.Found || r.Spot != "" && r.Spot != asbuilt.On && !(r.Spot == asbuilt.Edge && l.kindOf(r) == asbuilt.Header) {
		return nil
	}
	kind := l.kindOf(r)
	if kind != asbuilt.Lateral && kind != asbuilt.Header {
		return nil
	}
	if l.Job.Sketch.Part(r.Target) != nil {
		return []string{r.Target}
	}
	return l.MayBe(r)
}

// Undrawn returns the pipes that nobody drew which a hole may have met, by the reading
// of it: a crew that saw a pipe cannot tell whether the
// sketch has it.
func (l *Log) Undrawn(d *drawing.Drawing, r *survey.Reading) []drawing.Join {
	if r.Kind == survey.Found && r.Target == string(asbuilt.Header) && l.Job.Sketch.Part(r.Target) == nil {
		return d.Joins()
	}
	return nil
}

// OnHeader reports whether a reading is of a hole on a header, which the fit
// leaves out.
func (l *Log) OnHeader(r *survey.Reading) bool {
	return l.kindOf(r) == asbuilt.Header && len(l.Lines(r)) > 0
}

// Met reports whether a reading says that the hole of a name met a part.
func (l *Log) Met(point string) bool {
	return slices.ContainsFunc(l.Readings, func(r survey.Reading) bool { return r.Kind == survey.Found && r.Point == point })
}

// checkFound reports a target or a spot that a hole cannot have met.
func checkFound(c *checker, i int) {
	r := &c.job.Readings[i]
	var met []*asbuilt.Part
	for _, p := range c.parts(r.Target) {
		if slices.Contains(findable, p.Kind) {
			met = append(met, p)
		}
	}
	if slices.Contains(c.unnamed(), r.Target) {
		met = append(met, &asbuilt.Part{Kind: asbuilt.Kind(r.Target)})
	}
	if len(met) == 0 || strings.Contains(r.Target, ".") && c.job.Sketch.Part(r.Target) == nil {
		c.add(i, "target", strconv.Quote(r.Target), c.targets(r.Target, c.unnamed()...))
		return
	}
	line := met[0].Kind == asbuilt.Lateral || met[0].Kind == asbuilt.Header
	if r.Runs != nil {
		c.runs(i, line)
	}
	spots := []asbuilt.Spot{asbuilt.On, asbuilt.Center, asbuilt.Edge, asbuilt.Corner}
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
		c.add(i, "spot", strconv.Quote(string(r.Spot)), finding.WantSpotOf.New(finding.Word("spots", strings.Join(names, ", ")), kindOf(met[0])))
	}
}
