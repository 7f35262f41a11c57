package survey

import (
	"math"
	"slices"

	"asfound/asbuilt"
	"asfound/geo"
)

// Gauss is the belief about one point: where it is expected, and the 95 %
// regions about it. Frame coordinates, metres.
type Gauss struct {
	At       geo.Vec
	Cov      geo.Cov     // as a position in the frame, m²
	Ellipse  geo.Ellipse // 95 %
	Radius95 float64

	Relative      geo.Cov     // relative to the landmarks, m²
	FromLandmarks geo.Ellipse // 95 %
	Landmarks95   float64

	lobes, tied []lobe    // what the regions were made from: in the frame, and relative to the landmarks
	draws, near []geo.Vec // the same where evidence was learnt
}

// Posterior is what is believed of all points once the readings are in.
type Posterior struct {
	fit     *Fit
	members []member
	shift   geo.Vec               // brings fit coordinates to the frame
	onMarks func(geo.Vec) geo.Vec // lays the old sketch on the landmarks, nil: there are not two
	datum   []int                 // nodes of the landmarks that the relative regions refer to

	sigma map[string]float64 // of each part, once asked for

	explanations []explanation // that the members belong to
	loose        bool          // the members are the fit's loose components
	evidence     Evidence      // learnt, and counting
	learned      Learned
	draws        *Draws                        // the belief after the evidence, nil: it is that of the fit
	metLine      map[string]map[string]float64 // lineOdds, by reading id
	lift         geo.Vec                       // brings draws, which lie on the landmarks of the first member, onto the expected ones
}

// member is one component, and the uncertainty of every place where asked for.
type member struct {
	c      *component
	weight float64
	at     []geo.Vec      // nodes, then points, in the axes of the main member
	root   [][2][]float64 // spread's, of each place, x and y: its covariance with another is a product of these
	tied   [][2][]float64 // the same relative to the landmarks

	explanation int        // index into the posterior's
	by          geo.Motion // that brought it there
}

// spreads returns the members with their uncertainty worked out.
func (p *Posterior) spreads() []member {
	for i := range p.members {
		p.members[i].spread(p.datum)
	}
	return p.members
}

// pointCov returns the covariance of place i, m².
func pointCov(root [][2][]float64, i int) geo.Cov {
	x, y := root[i][0], root[i][1]
	return geo.Cov{XX: dot(x, x), XY: dot(x, y), YY: dot(y, y)}
}

// Posterior returns what is believed. It is not cheap: keep it.
func (f *Fit) Posterior() *Posterior {
	p := &Posterior{fit: f, sigma: map[string]float64{}}
	p.datum = f.book.datum(f.components[0].network.drawing)
	p.join(f.components)
	var drawn []geo.Vec
	for _, k := range p.datum {
		drawn = append(drawn, p.drawing().nodes[k].at)
	}
	if move, ok := geo.FitHelmert(drawn, pick(p.members[0].at, p.datum), nil).Similarity(); ok {
		p.onMarks = move
	}
	if marks := f.components[0].network.drawing.marks; f.Frame.Kind == Local && len(marks) > 0 {
		p.shift = p.expected(marks[0]).Scale(-1)
	}
	return p
}

// join makes the posterior one of the given components, all laid on the
// landmarks of the fit's likeliest.
func (p *Posterior) join(components []component) {
	main := p.fit.components[0].places()
	p.members, p.explanations = nil, nil
	seen := map[string]int{}
	for i := range components {
		c := &components[i]
		m := member{c: c, weight: c.weight}
		key := c.explanation.key()
		if _, ok := seen[key]; !ok {
			seen[key] = len(p.explanations)
			p.explanations = append(p.explanations, c.explanation)
		}
		m.explanation = seen[key]
		m.at = c.places()
		if p.fit.Frame.Kind == Local && (i > 0 || c != &p.fit.components[0]) {
			m.by = geo.Congruence(pick(m.at, p.datum), pick(main, p.datum), flat)
			for k, v := range m.at {
				m.at[k] = m.by.Move(v)
			}
		}
		p.members = append(p.members, m)
	}
}

func pick(at []geo.Vec, datum []int) []geo.Vec {
	var v []geo.Vec
	for _, k := range datum {
		v = append(v, at[k])
	}
	return v
}

// datum returns the landmarks that relative regions refer to: those that
// readings or written ties were taken from, else all of them.
func (b *book) datum(d *drawing) []int {
	used := map[string]bool{}
	for i := range b.readings {
		r := &b.readings[i]
		used[r.Point], used[r.From], used[r.To] = true, true, true
	}
	for i := range d.sketch.Parts {
		for _, t := range d.sketch.Parts[i].Ties {
			used[t.From] = true
		}
	}
	var some, all []int
	for i := range d.sketch.Parts {
		p := &d.sketch.Parts[i]
		if k, ok := d.spots[SpotName{p.ID, asbuilt.Center}]; ok && p.Kind == asbuilt.Landmark {
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

// places returns where the component has every node and point.
func (c *component) places() []geo.Vec {
	n := c.network
	n.place(c.solution.Y)
	at := slices.Clone(n.at)
	for i := range n.points {
		at = append(at, n.where(c.solution.Y, holePlace(i)))
	}
	return at
}

// roots returns, for each node and point, the vectors whose products are
// covariances.
func (c *component) roots() [][2][]float64 {
	n := c.network
	n.place(c.solution.Y)
	total := len(n.drawing.nodes) + len(n.points)
	roots := make([][2][]float64, total)
	for i := range roots {
		p := place(i)
		if i >= len(n.drawing.nodes) {
			p = holePlace(i - len(n.drawing.nodes))
		}
		for axis, g := range [2]geo.Vec{{X: 1}, {Y: 1}} {
			w := make(dense, n.size)
			n.gradient(w, p, g)
			c.solution.Factor.Forward(w)
			roots[i][axis] = w
		}
	}
	return roots
}

// spread works out the uncertainty of every place, once it is asked for: a
// belief that follows evidence never asks.
func (m *member) spread(datum []int) {
	if m.root != nil {
		return
	}
	m.root = m.c.roots()
	m.rotate(m.by)
	m.tied = relative(m.root, m.at, datum)
}

// rotate turns the roots with the places they belong to.
func (m *member) rotate(by geo.Motion) {
	if by == (geo.Motion{}) {
		return
	}
	s, c := math.Sincos(by.Turn.Radians())
	for _, r := range m.root {
		for k := range r[0] {
			x, y := r[0][k], r[1][k]
			if by.Flip {
				x = -x
			}
			r[0][k], r[1][k] = c*x-s*y, s*x+c*y
		}
	}
}

// flat is by how much in metres landmarks must be off a line to tell its sides.
// Tapes alone do not tell which way round their landmarks stand, but whoever
// stands among them sees it: a sheet seen from its back has its parts on the
// same side of them.
const flat = 0.3

// relative returns the roots of places relative to the datum: the
// S-transformation of Baarda (S-Transformations and Criterion Matrices, 1981)
// that takes the mean shift, and with two or more landmarks the mean turn, of
// the datum out of everything. at is where everything lies.
func relative(root [][2][]float64, at []geo.Vec, datum []int) [][2][]float64 {
	if len(datum) == 0 {
		return root
	}
	mine := make([]geo.Vec, len(datum))
	for i, k := range datum {
		mine[i] = at[k]
	}
	size := len(root[0][0])
	shift := [2][]float64{make([]float64, size), make([]float64, size)}
	turn := make([]float64, size)
	c := geo.Mean(mine)
	var inertia float64
	for i, p := range datum {
		r, arm := root[p], mine[i].Sub(c)
		inertia += arm.Dot(arm)
		for k := range size {
			shift[0][k] += r[0][k] / float64(len(datum))
			shift[1][k] += r[1][k] / float64(len(datum))
			turn[k] += -arm.Y*r[0][k] + arm.X*r[1][k]
		}
	}
	for k := range turn {
		if len(datum) < 2 || inertia < 1e-6 {
			turn[k] = 0
			continue
		}
		turn[k] /= inertia
	}
	out := make([][2][]float64, len(root))
	for i, r := range root {
		arm := at[i].Sub(c)
		x, y := make([]float64, size), make([]float64, size)
		for k := range size {
			x[k] = r[0][k] - shift[0][k] + arm.Y*turn[k]
			y[k] = r[1][k] - shift[1][k] - arm.X*turn[k]
		}
		out[i] = [2][]float64{x, y}
	}
	return out
}
