package belief

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"asfound/asbuilt"
	"asfound/asbuilt/practice"
	"asfound/geo"
	"asfound/survey"
	"asfound/survey/depth"
	"asfound/survey/encounter"
	"asfound/survey/posterior"
)

// Belief is what is believed of a job once its holes are in.
type Belief struct {
	posterior.Learned
	Strange   []survey.Reading     // holes on a line where hardly any was believed to pass
	Promised  float64              // chance of having met by now what the job seeks, each hole as the belief before it had it
	Posterior *posterior.Posterior // once the holes are in
	depth     map[string]shifted
}

// shifted is how holes changed the depth of a part: the mean and the standard
// deviation of how far it lies off the depth expected before, in standard
// deviations of that.
type shifted struct{ mean, sigma float64 }

// Learn updates what is believed with the holes of a job: the Posterior of what
// it returns includes them; post is unchanged. Where ctx is done it stops with its error.
func Learn(ctx context.Context, job *survey.Job, post *posterior.Posterior, depths *depth.Model) (*Belief, error) {
	l := learner{post: post, depths: depths, shift: map[string]int{}}
	l.parts = targets(job.Sketch, post)
	all := holes(job, post.Met)
	l.depthsOf(all, slices.ContainsFunc(job.Live(), func(r survey.Reading) bool { return r.Kind == survey.Rod }))
	var e posterior.Evidence
	e.Shifts = len(l.shift)
	live := job.Live()
	slices.SortStableFunc(live, func(a, b survey.Reading) int { return cmp.Compare(a.ID, b.ID) })
	hits := map[int]survey.Reading{} // by the number of the item
	followed, taken := l.followed(job, live)
	for i := range live {
		if taken[live[i].ID] {
			continue
		}
		if item := l.hit(job, &live[i]); item != nil {
			hits[len(e.Hits)] = live[i]
			e.Hits = append(e.Hits, item)
		}
		if item := l.runs(job, &live[i]); item != nil {
			e.Hits = append(e.Hits, item)
		}
		if item := l.sonde(job, &live[i]); item != nil {
			e.Hits = append(e.Hits, item)
		}
		if item := l.sign(job, &live[i]); item != nil {
			e.Hits = append(e.Hits, item)
		}
	}
	first := len(e.Hits)
	for _, f := range followed {
		e.Hits = append(e.Hits, f.item)
	}
	e.Hits = append(e.Hits, l.met(live)...)
	e.Hits = append(e.Hits, l.rods(job, live, &e.Shifts)...)
	var sought []int // items of what the job seeks
	for i := range all {
		for k := range l.parts {
			if item := l.item(&all[i], &l.parts[k]); item != nil {
				if p := l.parts[k].part; job.Settings.Seeks(p.ID, p.Kind) {
					sought = append(sought, len(e.Items))
				}
				e.Items = append(e.Items, item)
			}
		}
	}
	after, learned, err := post.Learn(ctx, e)
	if err != nil {
		return nil, err
	}
	b := &Belief{Learned: learned, Posterior: after, depth: map[string]shifted{}}
	missed := 1.0
	for _, n := range sought {
		missed *= learned.Items[n]
	}
	b.Promised = 1 - missed
	for i, p := range b.Hits {
		if hit, ok := hits[i]; ok && p < strange {
			b.Strange = append(b.Strange, hit)
		}
	}
	b.strangely(followed, first, hits)
	if b.Counts {
		b.lower(&l)
	}
	return b, nil
}

// strangely adds what was followed to where hardly any line was believed to pass: the
// stop with which the chance of a course, all that it says together, falls below its
// limit. The items of followed begin at first; hits has the rows of those of holes.
func (b *Belief) strangely(followed []evidence, first int, hits map[int]survey.Reading) {
	likely := 1.0
	for i, f := range followed {
		if f.begins {
			likely = 1
			for k, p := range b.Hits[:first] {
				if hits[k].ID == f.met && f.met != "" && p >= strange {
					likely = p
				}
			}
		}
		if f.due.ID == "" {
			continue
		}
		if likely *= b.Hits[first+i]; likely < f.limit {
			b.Strange = append(b.Strange, f.due)
			likely = 1
		}
	}
}

// learner makes evidence of holes.
type learner struct {
	post   *posterior.Posterior
	depths *depth.Model
	parts  []target
	shift  map[string]int // of each part whose depth matters: its row of root
	root   [][]float64    // rows whose products are the correlations of depths
}

// depthsOf prepares the depths of the parts: what a hole says of the depth of
// one says something of the others. any says that there is something else that went
// to a depth.
func (l *learner) depthsOf(all []hole, any bool) {
	for i := range all {
		any = any || all[i].stated || all[i].line
	}
	if !any || l.depths == nil {
		return
	}
	var names []string
	var at []geo.Vec
	for i := range l.parts {
		id := l.parts[i].part.ID
		v, ok := l.middle(&l.parts[i])
		if d, known := l.depths.At(id, v, ""); !ok || !known || !(d.Sigma > 0) {
			continue
		}
		l.shift[id] = len(names)
		names, at = append(names, id), append(at, v)
	}
	r := mat.NewSymDense(max(1, len(names)), nil)
	r.SetSym(0, 0, 1)
	for i, row := range l.depths.Correlation(names, at) {
		for j := range i {
			r.SetSym(i, j, 0.999*row[j]) // slightly off 1, so that there is a root
		}
		r.SetSym(i, i, 1)
	}
	var c mat.Cholesky
	root := mat.NewTriDense(max(1, len(names)), mat.Lower, nil)
	if c.Factorize(r) {
		c.LTo(root)
	} else { // then each for itself
		for i := range len(names) {
			root.SetTri(i, i, 1)
		}
	}
	for i := range names {
		row := make([]float64, i+1)
		for j := range row {
			row[j] = root.At(i, j)
		}
		l.root = append(l.root, row)
	}
}

// middle returns the expected middle of a part.
func (l *learner) middle(t *target) (geo.Vec, bool) {
	if !t.Line {
		return l.post.Expected(asbuilt.SpotName{Part: t.part.ID, Spot: asbuilt.Center})
	}
	line := l.post.ExpectedLine(t.part.ID)
	if len(line) < 2 {
		return geo.Vec{}, false
	}
	return line[0].Lerp(line[len(line)-1], 0.5), true
}

// off returns how far a part lies off its expected depth in a draw, in standard
// deviations.
func off(root, shift []float64) (z float64) {
	for k, v := range root {
		z += v * shift[k]
	}
	return z
}

// item returns what follows from a hole not having met a part; nil: nothing.
func (l *learner) item(h *hole, t *target) posterior.Item {
	if t.part.ID == h.met || !h.shows(t.part.Kind) {
		return nil
	}
	at, ok := l.post.PlaceOfPoint(h.name)
	if !ok {
		return nil
	}
	v, _ := l.post.ExpectedPoint(h.name)
	within := t.Reach + h.radius
	var deep func(shift []float64) float64 // worked out for the few parts that are near
	return func(places []geo.Vec, shift []float64) float64 {
		p := encounter.Within(within-t.Distance(places, places[at], within+t.Out), t.Out)
		if p == 0 {
			return 0
		}
		if deep == nil {
			deep = l.deep(h, t, v)
		}
		return math.Log1p(-t.Notices * p * deep(shift))
	}
}

// hit returns what follows from a hole having met a line between its ends; nil:
// nothing. The place of the hole is given: the question is how likely one of
// the lines was to pass there.
func (l *learner) hit(job *survey.Job, r *survey.Reading) posterior.Item {
	at, ok := l.post.PlaceOfPoint(r.Point)
	if !ok {
		return nil
	}
	lines := l.lines(job, r)
	if len(lines) == 0 {
		return nil
	}
	radius := job.HoleRadius(r)
	return func(places []geo.Vec, _ []float64) float64 {
		misses := 1.0
		for k := range lines {
			misses *= 1 - lines[k].under(places, places[at], radius)
		}
		return math.Log(1 - (1-practice.StrayHit)*misses)
	}
}

// line is a line that a hole may have met.
type line struct {
	encounter.Body
	encounter.Places
	bend float64 // standard deviation of its direction at a place from that of the piece drawn there, radians
}

// under returns the chance that the line passes under a hole at v.
func (n *line) under(places []geo.Vec, v geo.Vec, radius float64) float64 {
	within := n.Reach + radius
	return encounter.Within(within-n.Distance(places, v, within+n.Out), n.Out)
}

// lines returns the lines that the hole of a reading may have met where the
// belief is to weigh that; none for any other reading.
func (l *learner) lines(job *survey.Job, r *survey.Reading) (lines []line) {
	for _, id := range l.post.Lines(r) {
		lines = append(lines, l.line(job.Sketch.Part(id)))
	}
	for _, j := range l.post.Undrawn(r) {
		lines = append(lines, undrawn(j.Nodes))
	}
	return lines
}

// undrawn returns a header that a sketch does not show, by its places.
func undrawn(places []int) line {
	return line{encounter.Pipe(), encounter.Places{Vertices: places}, practice.HeaderBend}
}

// line returns a lateral or header of the sketch.
func (l *learner) line(p *asbuilt.Part) line {
	body, _ := encounter.BodyOf(p)
	n := line{body, encounter.Places{Vertices: l.post.PlacesOfLine(p.ID)}, practice.TrenchBend}
	if p.Kind == asbuilt.Header {
		n.bend = practice.HeaderBend
	}
	return n
}

// deep returns the chance, in a draw of given shifts, that the top of a part
// lies above the bottom of a hole, which is expected at v. A hole that stopped on a
// rock or the like shows nothing where its depth says nothing.
func (l *learner) deep(h *hole, t *target, v geo.Vec) func(shift []float64) float64 {
	even := func([]float64) float64 { return practice.UnstatedDepth }
	if h.stopped {
		even = func([]float64) float64 { return 0 }
	}
	if l.depths == nil {
		return even
	}
	d, ok := l.depths.At(t.part.ID, v, "")
	if !ok || !(d.Sigma > 0) {
		return even
	}
	bottom := h.depth
	if !h.stated {
		// A hole that met a line went as deep as that lies.
		m, ok := l.depths.At(h.met, v, "")
		if !h.line || !ok {
			return even
		}
		bottom = m.Mean
	}
	k, ok := l.shift[t.part.ID]
	if !ok {
		return even
	}
	root := l.root[k]
	return func(shift []float64) float64 { return encounter.Reaches(bottom - d.Mean - d.Sigma*off(root, shift)) }
}

// lower works out from the draws how the holes changed the depths.
func (b *Belief) lower(l *learner) {
	shifts := b.Posterior.Shifts()
	for id, k := range l.shift {
		root := l.root[k]
		var sum, square, n float64
		for i := range shifts[0] {
			z := 0.0
			for j, v := range root {
				z += v * shifts[j][i]
			}
			sum, square, n = sum+z, square+z*z, n+1
		}
		mean := sum / n
		s := shifted{mean, math.Sqrt(max(0, square/n-mean*mean))}
		// What sampling error can explain is no change: two standard errors.
		if math.Abs(s.mean) < 2/math.Sqrt(n) && math.Abs(s.sigma-1) < 2/math.Sqrt(2*n) {
			continue
		}
		b.depth[id] = s
	}
}

// Depth returns a depth of a part once the holes are in, given what it was
// before, at the same place.
func (b *Belief) Depth(part string, before depth.Depth) depth.Depth {
	if s, ok := b.depth[part]; ok {
		before.Mean += s.mean * before.Sigma
		before.Sigma *= s.sigma
	}
	return before
}
