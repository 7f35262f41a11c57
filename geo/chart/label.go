package chart

import (
	"math"

	"asfound/geo"
)

// Label is a text that belongs to a place and may be put beside it.
type Label struct {
	Text   Text // Size, Strong, Color; the rest is chosen
	Lines  []string
	Short  []string // what will do where there is no room beside the place for Lines; nil: nothing less will
	At     Point    // on the page
	Radius float64  // of the sign at At, millimetres: the label keeps off it
	Toward Point    // the preferred side, on the page; zero: the usual order
	Kind   string   // among the signs of a kind it shows which is meant; "": there is only one
}

// Labels places labels beside their places so that they keep within a frame,
// off one another and, as far as there is room, off what is drawn. A label is
// nearer to its own sign than to any other of its kind, or a leader line joins it to
// its sign and it keeps clear of the others.
type Labels struct {
	Frame Rect
	boxes []Rect     // labels placed, and signs: never covered
	lines [][2]Point // drawn lines: crossed where there is no other room
	tapes [][2]Point // lines that have to be read: crossed only where all else fails
	leads [][2]Point // leader lines: never crossed
	signs []sign
}

// sign is what a label of its kind could be taken to belong to.
type sign struct {
	kind   string
	at     Point
	radius float64 // millimetres
}

// Sign says where a sign of a kind and of a radius in millimetres is drawn, so that no label of another sign of that
// kind is nearer to it than to its own. All signs come before the first label.
func (l *Labels) Sign(kind string, at Point, radius float64) {
	if finite(at) {
		l.signs = append(l.signs, sign{kind, at, radius})
	}
}

// clear is how far in millimetres a label that a leader joins to its sign keeps off
// the others of its kind.
const clear = 0.8

// nearer is by how much in millimetres a label is nearer to its own sign.
const nearer = 0.8

// Keep keeps labels off r as off other labels.
func (l *Labels) Keep(r Rect) { l.boxes = append(l.boxes, r) }

// KeepLine makes labels avoid a line where there is other room.
func (l *Labels) KeepLine(line ...Point) {
	for i := 1; i < len(line); i++ {
		l.lines = append(l.lines, [2]Point{line[i-1], line[i]})
	}
}

// KeepTape makes labels avoid a line of which a length has to be read, more than others.
func (l *Labels) KeepTape(line ...Point) {
	for i := 1; i < len(line); i++ {
		l.tapes = append(l.tapes, [2]Point{line[i-1], line[i]})
	}
}

// sides are the places round a point in order of preference: map makers
// put a name to the upper right first (Imhof, Positioning Names on Maps, The
// American Cartographer 2, 1975, from memory).
var sides = [12]Point{{X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: -1}, {X: -1, Y: 1}, {X: 1}, {X: -1}, {Y: -1}, {Y: 1},
	{X: 0.4, Y: -1}, {X: -0.4, Y: -1}, {X: 0.4, Y: 1}, {X: -0.4, Y: 1}}

// rings are the distances in millimetres off its place at which a label is
// tried: beside it, and further off with a leader line.
var rings = [...]float64{0.7, 3.5, 7, 11, 16, 22, 29}

// Place draws a label where it fits best: at one of the places beside its
// point, else further off with a leader line. whole is false where Short was
// drawn, drawn is false where every place would have covered another label.
func (l *Labels) Place(p *Page, label Label) (drawn, whole bool) {
	if !finite(label.At) || len(label.Lines) == 0 {
		return true, true
	}
	if label.Short == nil {
		ok := l.try(p, label, label.Lines, len(rings))
		return ok, ok
	}
	if l.try(p, label, label.Lines, 2) {
		return true, true
	}
	return l.try(p, label, label.Short, len(rings)), false
}

// try draws lines within the first reach rings, if there is room.
func (l *Labels) try(p *Page, label Label, lines []string, reach int) bool {
	w, h := 0.0, LineHeight(label.Text.Size)*float64(len(lines))
	for _, s := range lines {
		w = max(w, TextWidth(s, label.Text.Size, label.Text.Strong))
	}
	best, cost, ring := Rect{}, math.Inf(1), 0
	for k, off := range rings[:reach] {
		if cost < 3*float64(k) { // nothing further off can be better
			break
		}
		for i, side := range sides {
			r := beside(label.At, side, label.Radius+off, w, h)
			dislike := 0.15 * float64(i)
			if label.Toward != (Point{}) {
				dislike = 2 - 2*side.Unit().dot(label.Toward.Unit())
			}
			if !l.belongs(r, label, k > 0) {
				continue
			}
			if c, ok := l.cost(r, label, k > 0); ok && c+dislike+3*float64(k) < cost {
				best, cost, ring = r, c+dislike+3*float64(k), k
			}
		}
	}
	if math.IsInf(cost, 1) {
		return false
	}
	if ring > 0 {
		to := nearestIn(best, label.At)
		from := label.At.Lerp(to, min(1, label.Radius/max(label.At.Dist(to), 1e-9)))
		p.Line(Style{Stroke: Grey, Width: 0.15}, from, to)
		l.leads = append(l.leads, [2]Point{from, to})
	}
	t := label.Text
	t.Halo = true
	if best.X+best.W <= label.At.X+0.1 {
		t.Align = Right
	}
	for i, s := range lines {
		at := Point{X: best.X, Y: best.Y + LineHeight(t.Size)*(float64(i)+0.78)}
		if t.Align == Right {
			at.X += best.W
		}
		p.Text(t, at, s)
	}
	l.Keep(best)
	return true
}

// Along draws one line of text along the segment a–b, beside or over it and
// the right way up, where it covers no other label. It reports whether there
// was such a place.
func (l *Labels) Along(p *Page, t Text, a, b Point, s string) bool {
	if !finite(a, b) {
		return true
	}
	if a.X > b.X || a.X == b.X && a.Y < b.Y {
		a, b = b, a // read from the left, or from the right side of the sheet
	}
	w, h := TextWidth(s, t.Size, t.Strong), LineHeight(t.Size)
	dir := b.Sub(a).Unit()
	up := dir.right() // Y runs down: the right-hand normal of mathematics points up
	if a.Dist(b) < w {
		return false
	}
	for _, off := range []float64{0, 0.75 * h, -0.75 * h} {
		for _, u := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82} {
			middle := a.Lerp(b, u).Add(up.Scale(off))
			if a.Dist(b)*min(u, 1-u) < w/2 {
				continue
			}
			cover := strip(middle, dir, w, h)
			if !l.free(cover) {
				continue
			}
			t.Align, t.Center, t.Halo, t.Turn = Middle, true, true, geo.Radians(math.Atan2(dir.Y, dir.X))
			p.Text(t, middle, s)
			l.boxes = append(l.boxes, cover...)
			return true
		}
	}
	return false
}

// strip covers a turned line of text with upright squares.
func strip(middle, dir Point, w, h float64) (cover []Rect) {
	n := int(w/h) + 1
	for i := range n {
		c := middle.Add(dir.Scale(((float64(i)+0.5)/float64(n) - 0.5) * w))
		cover = append(cover, Rect{c.X - h/2, c.Y - h/2, h, h}.Inset(0.1*h))
	}
	return cover
}

// free reports whether all of cover lies within the frame and off other labels.
func (l *Labels) free(cover []Rect) bool {
	for _, c := range cover {
		if !l.Frame.Contains(c) {
			return false
		}
		for _, b := range l.boxes {
			if b.Overlap(c) > 0 {
				return false
			}
		}
	}
	return true
}

// beside returns the rectangle of a label off millimetres from at.
func beside(at, side Point, off, w, h float64) Rect {
	d := off
	if math.Abs(side.X) == 1 && side.Y != 0 { // the corner is as far off as a side would be
		d *= math.Sqrt2 / 2
	}
	return Rect{at.X + side.X*(d+w/2) - w/2, at.Y + side.Y*(d+h/2) - h/2, w, h}
}

// belongs reports whether a label at r is taken for that of its own sign.
func (l *Labels) belongs(r Rect, label Label, leader bool) bool {
	own := nearestIn(r, label.At).Dist(label.At) - label.Radius
	for _, s := range l.signs {
		if s.kind != label.Kind || s.at == label.At {
			continue
		}
		off := nearestIn(r, s.at).Dist(s.at) - s.radius
		if leader && off < clear || !leader && off < own+nearer {
			return false
		}
	}
	return true
}

// cost returns how bad a place is; ok is false where it must not be used.
func (l *Labels) cost(r Rect, label Label, leader bool) (c float64, ok bool) {
	if !l.Frame.Inset(0.5).Contains(r) {
		return 0, false
	}
	for _, b := range l.boxes {
		if b.Overlap(r) > 0 {
			return 0, false
		}
	}
	for _, s := range l.lines {
		if crosses(r, s[0], s[1]) {
			c += 2.5
		}
	}
	for _, s := range l.tapes {
		if crosses(r, s[0], s[1]) {
			c += 12
		}
	}
	for _, s := range l.leads {
		if crosses(r, s[0], s[1]) {
			return 0, false
		}
	}
	if leader {
		to := nearestIn(r, label.At)
		for _, s := range l.leads { // two leaders that cross are taken for one another
			if segmentsCross(label.At, to, s[0], s[1]) {
				return 0, false
			}
		}
		for _, b := range l.boxes { // a leader through another label or sign misleads
			if !b.Contains(Rect{X: label.At.X, Y: label.At.Y}) && crosses(b, label.At, to) {
				c += 6
			}
		}
	}
	return c, true
}

// nearestIn returns the place of r that is nearest to v.
func nearestIn(r Rect, v Point) Point {
	return Point{X: min(max(v.X, r.X), r.X+r.W), Y: min(max(v.Y, r.Y), r.Y+r.H)}
}

// segmentsCross reports whether two segments cross one another.
func segmentsCross(a, b, c, d Point) bool {
	ab, cd := b.Sub(a), d.Sub(c)
	return ab.cross(c.Sub(a))*ab.cross(d.Sub(a)) < 0 && cd.cross(a.Sub(c))*cd.cross(b.Sub(c)) < 0
}

// crosses reports whether the segment a–b has a place in r (Liang & Barsky
// 1984: the parameter range left after each side).
func crosses(r Rect, a, b Point) bool {
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
