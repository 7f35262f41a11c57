package chart

import (
	"math"

	"asfound/geo"
)

// Label is a text that belongs to a place and may be put beside it.
type Label struct {
	Text   Text // Size, Strong, Color; the rest is chosen
	Lines  []string
	At     geo.Vec // on the page
	Radius float64 // of the sign at At, millimetres: the label keeps off it
}

// Labels places labels beside their places so that they keep within a frame,
// off one another and, as far as there is room, off what is drawn.
type Labels struct {
	Frame  Rect
	boxes  []Rect // labels placed and signs: never covered if anything else is free
	strict int
	lines  [][2]geo.Vec
}

// Keep keeps labels off r as off other labels.
func (l *Labels) Keep(r Rect) { l.boxes = append(l.boxes, r) }

// KeepLine makes labels avoid a line where there is other room.
func (l *Labels) KeepLine(line ...geo.Vec) {
	for i := 1; i < len(line); i++ {
		l.lines = append(l.lines, [2]geo.Vec{line[i-1], line[i]})
	}
}

// sides are the eight places round a point in the order in which they are
// liked: map makers put a name to the upper right first (Imhof, Positioning
// Names on Maps, The American Cartographer 2, 1975, from memory).
var sides = [8]geo.Vec{{X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: -1}, {X: -1, Y: 1}, {X: 1}, {X: -1}, {Y: -1}, {Y: 1}}

// Place draws a label where it fits best: at one of eight places beside its
// point, else further off with a leader line. It reports false, and draws
// nothing, where every place would cover another label.
func (l *Labels) Place(p *Page, label Label) bool {
	w, h := 0.0, LineHeight(label.Text.Size)*float64(len(label.Lines))
	for _, s := range label.Lines {
		w = max(w, TextWidth(s, label.Text.Size, label.Text.Strong))
	}
	if w == 0 || !finite(label.At) {
		return true
	}
	best, cost, far := Rect{}, math.Inf(1), false
	for ring, off := range []float64{0.7, 4, 8, 13, 19, 27} {
		for i, side := range sides {
			r := beside(label.At, side, label.Radius+off, w, h)
			c, ok := l.cost(r, label, ring > 0)
			if c += 0.15*float64(i) + 4*float64(ring); ok && c < cost {
				best, cost, far = r, c, ring > 0
			}
		}
		if cost < 4*float64(ring+1) { // nothing further off can be better
			break
		}
	}
	if math.IsInf(cost, 1) {
		return false
	}
	if far {
		to := nearestIn(best, label.At)
		from := label.At.Lerp(to, min(1, label.Radius/max(label.At.Dist(to), 1e-9)))
		p.Line(Style{Stroke: Grey, Width: 0.15}, from, to)
		l.KeepLine(from, to)
	}
	t := label.Text
	t.Halo = true
	right := best.X+best.W/2 < label.At.X && best.X+best.W <= label.At.X+0.1
	for i, s := range label.Lines {
		at := geo.Vec{X: best.X, Y: best.Y + LineHeight(t.Size)*(float64(i)+0.78)}
		if right {
			t.Align = Right
			at.X += best.W
		}
		p.Text(t, at, s)
	}
	l.Keep(best)
	return true
}

// beside returns the rectangle of a label off millimetres from at.
func beside(at, side geo.Vec, off, w, h float64) Rect {
	d := off
	if side.X != 0 && side.Y != 0 {
		d *= math.Sqrt2 / 2
	}
	return Rect{at.X + side.X*(d+w/2) - w/2, at.Y + side.Y*(d+h/2) - h/2, w, h}
}

// cost tells how bad a place is; ok is false where it must not be taken.
func (l *Labels) cost(r Rect, label Label, leader bool) (c float64, ok bool) {
	if !l.Frame.Inset(0.5).Contains(r) {
		return 0, false
	}
	for _, b := range l.boxes {
		if b.Overlap(r) > 0.02*r.W*r.H {
			return 0, false
		}
	}
	for _, s := range l.lines {
		if crosses(r, s[0], s[1]) {
			c += 2.5
		}
	}
	if leader {
		to := nearestIn(r, label.At)
		for _, b := range l.boxes { // a leader through another label or sign misleads
			if !b.Contains(Rect{X: label.At.X, Y: label.At.Y}) && crosses(b, label.At, to) {
				c += 6
			}
		}
	}
	return c, true
}

// nearestIn returns the place of r that is nearest to v.
func nearestIn(r Rect, v geo.Vec) geo.Vec {
	return geo.Vec{X: min(max(v.X, r.X), r.X+r.W), Y: min(max(v.Y, r.Y), r.Y+r.H)}
}

// crosses reports whether the segment a–b has a place in r (Liang & Barsky
// 1984: the parameter range left after each side).
func crosses(r Rect, a, b geo.Vec) bool {
	t0, t1 := 0.0, 1.0
	for _, s := range [4][2]float64{{a.X - b.X, a.X - r.X}, {b.X - a.X, r.X + r.W - a.X}, {a.Y - b.Y, a.Y - r.Y}, {b.Y - a.Y, r.Y + r.H - a.Y}} {
		p, q := s[0], s[1]
		switch {
		case p == 0 && q < 0:
			return false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0 <= t1
}
