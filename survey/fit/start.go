package fit

import (
	"math"

	"asfound/geo"
	"asfound/survey/drawing"
	"asfound/survey/observe"
)

// startPoints fills y with starting places of the points of the log, the nodes
// lying where y's layout has them. It returns the names of the points that only
// two distances place, so that the other crossing would do as well.
// Two circles: any textbook on trilateration, e.g. Ghilani & Wolf ch. 14.
func (p *problem) startPoints(n *observe.Network, y []float64, e Explanation) (ambiguous map[string]geo.Vec) {
	at := n.At(y)
	ambiguous = map[string]geo.Vec{}
	placed := make([]bool, len(p.log.Points))
	where := func(name string) (geo.Vec, bool) {
		k, ok := p.log.Lookup(n.Drawing, name)
		if i, hole := k.Hole(); !ok || hole && !placed[i] {
			return geo.Vec{}, false
		}
		return at.Where(k), true
	}
	set := func(i int, v geo.Vec) {
		n.Set(y, i, v)
		placed[i] = true
	}
	middle := geo.Vec{}
	if c, ok := n.Drawing.Centroid(drawing.Field); ok {
		middle = at.Field(c)
	}
	for pass := range 4 {
		for i, pt := range p.log.Points {
			if placed[i] {
				continue
			}
			g := hint((&observe.Asked{Log: p.log, Explanation: e.Explanation, Name: pt.Name, At: at, Where: where}).Hints())
			want := middle
			if g.HasTarget {
				want = g.Target
			}
			switch {
			case g.HasFix:
				set(i, g.Fix)
			case len(g.Rings) >= 2:
				near, far, third := g.cross(want)
				if !third {
					if e.turned[pt.Name] {
						near, far = far, near
					}
					ambiguous[pt.Name] = far
				}
				set(i, near)
			case pass < 2: // something better may turn up
			case len(g.Rings) == 1:
				r := g.Rings[0]
				dir := want.Sub(r.At).Unit()
				if g.HasDirection {
					dir = g.Direction
				}
				set(i, r.At.Add(dir.Scale(r.Radius)))
			case g.HasTarget:
				set(i, g.Target)
			case pass == 3:
				set(i, want)
			}
		}
	}
	return ambiguous
}

// hint is what the readings say about where a point lies.
type hint observe.Hint

// cross returns the two crossings of the pair of rings that meets squarest,
// the better one first: by a further ring where there is one (third is true),
// else the one nearer to want.
func (g hint) cross(want geo.Vec) (near, far geo.Vec, third bool) {
	best := -1.0
	var bi, bj int
	for i := range g.Rings {
		for j := range i {
			a, c := g.Rings[i], g.Rings[j]
			d := a.At.Dist(c.At)
			if d < 0.1 {
				continue
			}
			cos := (a.Radius*a.Radius + c.Radius*c.Radius - d*d) / (2 * a.Radius * c.Radius)
			if sin2 := 1 - cos*cos; sin2 > best {
				best, bi, bj = sin2, i, j
			}
		}
	}
	if bi == bj {
		r := g.Rings[0]
		v := r.At.Add(want.Sub(r.At).Unit().Scale(r.Radius))
		return v, v, true
	}
	near, far = circles(g.Rings[bi], g.Rings[bj])
	misfit := func(v geo.Vec) (q float64) {
		for k, r := range g.Rings {
			if k != bi && k != bj {
				q += math.Abs(v.Dist(r.At) - r.Radius)
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
func circles(a, c observe.Ring) (left, right geo.Vec) {
	d := a.At.Dist(c.At)
	e := c.At.Sub(a.At).Scale(1 / d)
	x := (d*d + a.Radius*a.Radius - c.Radius*c.Radius) / (2 * d)
	h := math.Sqrt(math.Max(0.01, a.Radius*a.Radius-x*x))
	foot := a.At.Add(e.Scale(x))
	return foot.Sub(e.Right().Scale(h)), foot.Add(e.Right().Scale(h))
}
