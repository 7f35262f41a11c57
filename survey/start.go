package survey

import (
	"math"

	"asfound/asbuilt"
	"asfound/geo"
)

// layout is the prior of the five unknowns that lay the drawing on the field.
type layout struct {
	mean, sigma [layUnknowns]float64
}

// pair is a drawn point whose place in the field is roughly known from a fix.
type pair struct {
	drawn, at geo.Vec
	weight    float64
}

// layouts returns the layouts from which to start: one where the turn of the
// drawing is known or can be worked out from fixes, twelve where it is not.
// It is the one place that knows how a frame is held.
func (b *book) layouts(d *drawing, e explanation) []layout {
	f := draftingOf(d.sketch.Trust)
	l := layout{}
	l.mean[layScale], l.sigma[layScale] = math.Log(d.scale), d.scaleSD
	l.sigma[layStretch] = f.stretch
	l.sigma[layTurn] = unknownNorthSigma
	if up := d.sketch.Up; up != nil {
		l.mean[layTurn], l.sigma[layTurn] = -up.Bearing.Radians(), math.Max(up.Sigma.Radians(), heldSigma)
		if d.fault.kind == Turned {
			l.mean[layTurn] += math.Pi / 2 * float64(d.fault.quarter)
		}
	}
	if b.frame.Kind == Local {
		l.sigma[layE], l.sigma[layN] = heldSigma, heldSigma
		if !b.north {
			l.sigma[layTurn] = heldSigma
		}
		return []layout{l}
	}
	l.sigma[layE], l.sigma[layN] = wideSigma, wideSigma
	if d.sketch.Plane == asbuilt.WGS84 {
		// The plane of such a sketch is metres about its own origin, which is
		// the origin of the frame.
		l.mean[layE], l.mean[layN] = d.centre.X, d.centre.Y
		s := 10 * f.shift
		l.sigma[layE], l.sigma[layN] = s, s
		if d.sketch.Up == nil {
			l.sigma[layTurn] = f.turn
		}
		return []layout{l}
	}
	pairs := b.pairs(d, e)
	turn, known := l.mean[layTurn], d.sketch.Up != nil
	if t, apart := turnOf(pairs, d.scale); apart && !known {
		turn, known = t, true
	}
	turns := []float64{turn}
	if !known {
		turns = turns[:0]
		for k := range 12 {
			turns = append(turns, float64(k)*math.Pi/6)
		}
	}
	var all []layout
	for _, t := range turns {
		m := l
		m.mean[layTurn] = t
		var drawn, at geo.Vec
		sum := 0.0
		for _, p := range pairs {
			drawn, at, sum = drawn.Add(p.drawn.Scale(p.weight)), at.Add(p.at.Scale(p.weight)), sum+p.weight
		}
		if sum > 0 {
			g := drawn.Scale(d.scale / sum).Rotate(geo.Radians(t))
			m.mean[layE], m.mean[layN] = at.X/sum-g.X, at.Y/sum-g.Y
		}
		all = append(all, m)
	}
	return all
}

// pairs returns the drawn points that a satellite fix was taken of, straight
// or through a hole that met them.
func (b *book) pairs(d *drawing, e explanation) (pairs []pair) {
	for i := range b.readings {
		r := &b.readings[i]
		if r.Kind != GNSS {
			continue
		}
		at := b.frame.Site.Vec(r.Position)
		p, ok := b.lookup(d, r.Point)
		if ok && p >= 0 {
			pairs = append(pairs, pair{d.nodes[p].at, at, 1})
			continue
		}
		for j := range b.readings {
			f := &b.readings[j]
			if f.Kind != Found || f.Point != r.Point {
				continue
			}
			if v, sure, ok := b.expected(d, f, e); ok {
				w := 0.2
				if sure {
					w = 1
				}
				pairs = append(pairs, pair{v, at, w})
			}
		}
	}
	return pairs
}

// expected returns the drawn place that a hole met: sure where it is a single
// point, else the middle of the line.
func (b *book) expected(d *drawing, r *Reading, e explanation) (v geo.Vec, sure, ok bool) {
	target := r.Target
	if m := e.met[r.ID]; m != "" {
		target = m
	}
	if k, ok := d.spots[SpotName{target, asbuilt.Center}]; ok {
		return d.nodes[k].at, true, true
	}
	if r.Spot == asbuilt.Start || r.Spot == asbuilt.End {
		if k, ok := d.spots[SpotName{target, r.Spot}]; ok {
			return d.nodes[k].at, true, true
		}
	}
	if line := d.lines[target]; line != nil {
		a, c := d.nodes[line[0]].at, d.nodes[line[len(line)-1]].at
		return a.Lerp(c, 0.5), false, true
	}
	v, ok = d.centroid(field)
	return v, false, ok
}

// turnOf returns the turn of the drawing that brings its points best onto their
// fixes; apart is false where they lie too close together to tell.
func turnOf(pairs []pair, scale float64) (turn float64, apart bool) {
	var drawn, at []geo.Vec
	var weight []float64
	for _, p := range pairs {
		drawn, at, weight = append(drawn, p.drawn), append(at, p.at), append(weight, p.weight)
	}
	h := geo.FitHelmert(drawn, at, weight)
	a, ok := h.Turn()
	return a.Radians(), ok && h.Spread()*scale*scale > 25 // metres squared
}

// startPoints fills y with starting places of the points of the log, the nodes
// lying where y's layout has them. It returns the names of the points that only
// two distances place, so that the other crossing would do as well.
// Two circles: any textbook on trilateration, e.g. Ghilani & Wolf ch. 14.
func (b *book) startPoints(n *network, y []float64, e explanation) (ambiguous map[string]geo.Vec) {
	n.place(y)
	ambiguous = map[string]geo.Vec{}
	placed := make([]bool, len(b.points))
	where := func(name string) (geo.Vec, bool) {
		p, ok := b.lookup(n.drawing, name)
		if !ok || p < 0 && !placed[-p-1] {
			return geo.Vec{}, false
		}
		return n.where(y, p), true
	}
	set := func(i int, v geo.Vec) {
		y[2*i], y[2*i+1] = v.X, v.Y
		placed[i] = true
	}
	middle := geo.Vec{}
	if c, ok := n.drawing.centroid(field); ok {
		middle = n.fieldOf(y, c)
	}
	for pass := range 4 {
		for i, pt := range b.points {
			if placed[i] {
				continue
			}
			g := b.hints(n, y, e, pt.name, where)
			want := middle
			if g.hasTarget {
				want = g.target
			}
			switch {
			case g.hasFix:
				set(i, g.fix)
			case len(g.rings) >= 2:
				near, far, third := g.cross(want)
				if !third {
					if e.turned[pt.name] {
						near, far = far, near
					}
					ambiguous[pt.name] = far
				}
				set(i, near)
			case pass < 2: // something better may turn up
			case len(g.rings) == 1:
				r := g.rings[0]
				dir := want.Sub(r.at).Unit()
				if g.hasDirection {
					dir = g.direction
				}
				set(i, r.at.Add(dir.Scale(r.radius)))
			case g.hasTarget:
				set(i, g.target)
			case pass == 3:
				set(i, want)
			}
		}
	}
	return ambiguous
}

// fieldOf returns where the layout of y brings a drawn place, without any
// discrepancy.
func (n *network) fieldOf(y []float64, drawn geo.Vec) geo.Vec {
	t := y[n.lay:n.node]
	sx, sy := math.Exp(t[layScale]+t[layStretch]), math.Exp(t[layScale]-t[layStretch])
	return geo.Vec{X: t[layE], Y: t[layN]}.Add(n.turn(geo.Vec{X: sx * drawn.X, Y: sy * drawn.Y}))
}

// ring is a distance from a known place.
type ring struct {
	at     geo.Vec
	radius float64
}

// hint is what the readings tell of where a point lies.
type hint struct {
	fix, target, direction          geo.Vec
	hasFix, hasTarget, hasDirection bool
	rings                           []ring
}

// hints gathers what the readings tell of a point from places already known.
func (b *book) hints(n *network, y []float64, e explanation, name string, where func(string) (geo.Vec, bool)) (g hint) {
	for i := range b.readings {
		r := &b.readings[i]
		if e.slips[r.ID] != nil {
			continue
		}
		switch {
		case r.Kind == GNSS && r.Point == name && b.frame.Site != nil:
			g.fix, g.hasFix = b.frame.Site.Vec(r.Position), true
		case r.Kind == Baseline && r.Point == name && r.Value != nil && r.Offset != nil:
			a, ok := where(r.From)
			c, ok2 := where(r.To)
			if ok && ok2 {
				along := c.Sub(a).Unit()
				g.fix = a.Add(along.Scale(r.Value.Metres)).Add(along.Right().Scale(r.Offset.Metres))
				g.hasFix = true
			}
		case r.Kind == Found && r.Point == name:
			if v, sure, ok := b.expected(n.drawing, r, e); ok && (!g.hasTarget || sure) {
				g.target, g.hasTarget = n.fieldOf(y, v), true
			}
		}
		other := ""
		switch name {
		case r.From:
			other = r.To
		case r.To:
			other = r.From
		}
		if other == "" || other == name {
			continue
		}
		at, ok := where(other)
		if !ok {
			continue
		}
		switch {
		case r.Kind == Tape && r.Value != nil:
			d := r.Value.Metres
			if r.Rise != nil {
				d = math.Sqrt(math.Max(0, d*d-r.Rise.Metres*r.Rise.Metres))
			}
			g.rings = append(g.rings, ring{at, d})
		case r.Kind == Bearing:
			s, c := math.Sincos(r.Azimuth.Radians())
			g.direction, g.hasDirection = geo.Vec{X: s, Y: c}, true
			if name == r.From {
				g.direction = g.direction.Scale(-1)
			}
		}
	}
	return g
}

// cross returns the two crossings of the pair of rings that meets squarest,
// the better one first: by a further ring where there is one (third is true),
// else the one nearer to want.
func (g hint) cross(want geo.Vec) (near, far geo.Vec, third bool) {
	best := -1.0
	var bi, bj int
	for i := range g.rings {
		for j := range i {
			a, c := g.rings[i], g.rings[j]
			d := a.at.Dist(c.at)
			if d < 0.1 {
				continue
			}
			cos := (a.radius*a.radius + c.radius*c.radius - d*d) / (2 * a.radius * c.radius)
			if sin2 := 1 - cos*cos; sin2 > best {
				best, bi, bj = sin2, i, j
			}
		}
	}
	if bi == bj {
		r := g.rings[0]
		v := r.at.Add(want.Sub(r.at).Unit().Scale(r.radius))
		return v, v, true
	}
	near, far = circles(g.rings[bi], g.rings[bj])
	misfit := func(v geo.Vec) (q float64) {
		for k, r := range g.rings {
			if k != bi && k != bj {
				q += math.Abs(v.Dist(r.at) - r.radius)
			}
		}
		return q
	}
	mn, mf := misfit(near), misfit(far)
	third = math.Abs(mn-mf) > 0.5
	if third && mf < mn || !third && far.Dist(want) < near.Dist(want) {
		near, far = far, near
	}
	return near, far, third
}

// circles returns the two points at the given distances from two places; where
// the circles do not meet, the point between them twice, moved a little to
// either side so that a fit can leave it.
func circles(a, c ring) (left, right geo.Vec) {
	d := a.at.Dist(c.at)
	e := c.at.Sub(a.at).Scale(1 / d)
	x := (d*d + a.radius*a.radius - c.radius*c.radius) / (2 * d)
	h := math.Sqrt(math.Max(0.01, a.radius*a.radius-x*x))
	foot := a.at.Add(e.Scale(x))
	return foot.Sub(e.Right().Scale(h)), foot.Add(e.Right().Scale(h))
}
