package main

import (
	"asfound/asbuilt"
	"asfound/geo"
)

// practice is what is commonly done (no published source): cross the trenches
// with a row of holes from outside the field until the outermost is met,
// follow it to its distal end, step back by the length that the record gives,
// and search from there.
func practice(s *site, g *game) {
	p := newPlain(s)
	w := &walk{plain: p, game: g}
	n := len(s.lot.laterals)
	w.a, w.b = p.line(0)
	last, _ := p.line(n - 1)
	w.along = w.b.Sub(w.a).Unit()
	w.inward = w.along.Right()
	if last.Sub(w.a).Dot(w.inward) < 0 {
		w.inward = w.inward.Scale(-1)
	}
	end, ok := w.follow()
	if !ok {
		p.search(g, p.box(), w.along, w.dug, w.from)
		return
	}
	// The box lies from the start of the first lateral as it is drawn.
	long := s.job.Sketch.Part("L1").Length.Metres
	start := end.Sub(w.along.Scale(long))
	drawn := p.box().Sub(w.a)
	e := w.b.Sub(w.a).Unit()
	box := start.Add(w.along.Scale(drawn.Dot(e))).Add(w.along.Right().Scale(drawn.Dot(e.Right())))
	p.search(g, box, w.along, w.dug, w.from)
}

// walk is a dig along the outermost lateral.
type walk struct {
	*plain
	game   *game
	a, b   geo.Vec // the lateral as laid
	along  geo.Vec // as now believed
	inward geo.Vec // across the trenches, from the outermost on
	dug    []geo.Vec
	from   *stake // the first hole
}

// try digs at a place of the plane and reports what was met.
func (w *walk) try(v geo.Vec) answer {
	if w.game.over() {
		return answer{}
	}
	w.dug = append(w.dug, v)
	if w.from == nil {
		s, a := w.stake(w.game, v)
		w.from = &s
		return a
	}
	return w.from.dig(w.game, v)
}

// cross digs a row across the trenches until one is met: from one and a half
// spacings outside the first lateral inwards, at distances at which no trench
// is missed. Where the first hole already meets one the row began inside: it
// goes back outwards until there is room for no further trench.
func (w *walk) cross() (at geo.Vec, ok bool) {
	const step = 1.1 // trench of 0.9 m and hole, less a margin
	row := w.a.Lerp(w.b, 0.35)
	from := -3.5
	first := w.try(row.Add(w.inward.Scale(from)))
	if first.met == asbuilt.Lateral {
		at = row.Add(w.inward.Scale(from))
		for miss := 0; miss < 3 && !w.game.over(); {
			from -= step
			v := row.Add(w.inward.Scale(from))
			if w.try(v).met == asbuilt.Lateral {
				at, miss = v, 0
				continue
			}
			miss++
		}
		return at, !w.game.over()
	}
	for from < 25 && !w.game.over() {
		from += step
		v := row.Add(w.inward.Scale(from))
		if w.try(v).met == asbuilt.Lateral {
			return v, true
		}
	}
	return at, false
}

// follow crosses the trenches, goes along the first one met to its distal end
// and returns that.
func (w *walk) follow() (end geo.Vec, ok bool) {
	at, ok := w.cross()
	if !ok || w.game.over() {
		return at, false
	}
	const step = 3.0
	first, hit := at, at
	for !w.game.over() {
		next := hit.Add(w.along.Scale(step))
		met := false
		// Straight on, then to either side: off the trench or past its end?
		for _, off := range [3]float64{0, 0.6, -0.6} {
			v := next.Add(w.along.Right().Scale(off))
			a := w.try(v)
			if a.met == asbuilt.Lateral && a.spot == asbuilt.End {
				w.turn(first, v)
				return v, true
			}
			if a.met == asbuilt.Lateral {
				hit, met = v, true
				w.turn(first, hit)
				break
			}
			if w.game.over() {
				return hit, false
			}
		}
		if met {
			continue
		}
		// The end lies between: halve the stretch until it is known to 0.4 m.
		lo, hi := 0.0, step
		for hi-lo > 0.4 && !w.game.over() {
			mid := (lo + hi) / 2
			a := w.try(hit.Add(w.along.Scale(mid)))
			switch {
			case a.met == asbuilt.Lateral && a.spot == asbuilt.End:
				return hit.Add(w.along.Scale(mid)), true
			case a.met == asbuilt.Lateral:
				lo = mid
			default:
				hi = mid
			}
		}
		return hit.Add(w.along.Scale((lo + hi) / 2)), !w.game.over()
	}
	return hit, false
}

// turn takes the direction of the trench from two holes in it: far apart, for
// each may be near either side.
func (w *walk) turn(a, b geo.Vec) {
	if b.Dist(a) > 5 {
		w.along = b.Sub(a).Unit()
	}
}
