package chart

import (
	"math"

	"asfound/geo"
)

// gridStep returns the distance between the lines of a grid in units: 1, 2 or 5
// times a power of ten, 20 mm apart or more on paper. per is metres of a unit.
func gridStep(s Scale, unit geo.Unit) (n, per float64) {
	per, ok := unit.Metres()
	if !ok {
		per = 1
	}
	n = step(s.Ground(20) / per)
	for s.Paper(n*per) < 20 {
		n = step(n * 2.5)
	}
	return n, per
}

// Coordinates are what the lines of a grid stand for. Without Of and At they are
// those of the ground, counted in Unit.
type Coordinates struct {
	Unit        geo.Unit              // a unit of length
	East, North string                // put before the numbers: E and N, or x and y where the plane knows no north
	Of          func(geo.Vec) geo.Vec // the coordinates, in Unit, of a place on the ground in metres
	At          func(geo.Vec) geo.Vec // its inverse
}

// leaning is the angle in degrees between grid north and up beyond which a
// number at the edge is easily taken for that of another line.
const leaning = 5

// Grid draws the neat line round a frame, ticks and their coordinates where
// the lines of the grid cross it, and crosses where the lines meet inside. Where
// the grid leans on the page by more than a few degrees it draws the neat line
// and the crosses alone.
func Grid(p *Page, f Frame, c Coordinates) {
	w := f.Window
	p.Rect(Style{Stroke: Black, Width: 0.4}, w)
	d, per := gridStep(f.Scale, c.Unit)
	if c.Of == nil || c.At == nil {
		c.Of = func(v geo.Vec) geo.Vec { return v.Scale(1 / per) }
		c.At = func(v geo.Vec) geo.Vec { return v.Scale(per) }
	}
	var corners []geo.Vec
	for _, v := range w.ring() {
		corners = append(corners, c.Of(f.Ground(v)))
	}
	middle, gw, gh, ok := Bounds(geo.Angle{}, corners...)
	if !ok || gw/d > 200 || gh/d > 200 {
		return
	}
	lo, hi := middle.Sub(geo.Vec{X: gw / 2, Y: gh / 2}), middle.Add(geo.Vec{X: gw / 2, Y: gh / 2})
	page := func(x, y float64) Point { return f.Page(c.At(geo.Vec{X: x, Y: y})) }
	up := page(middle.X, hi.Y).Sub(page(middle.X, lo.Y))
	upright := math.Abs(math.Atan2(up.X, -up.Y)) < leaning*math.Pi/180
	lines := func(from, size float64) []float64 {
		at := make([]float64, int(size/d)+1)
		for i := range at {
			at[i] = (math.Ceil(from/d) + float64(i)) * d
		}
		return at
	}
	xs, ys := lines(lo.X, gw), lines(lo.Y, gh)
	tick, text := Style{Stroke: Black, Width: 0.2}, Text{Size: 5.5, Color: Grey, Center: true, Align: Middle}
	within := func(v, from, size float64) bool { return v > from+8 && v < from+size-8 }
	for _, x := range xs {
		a, b := page(x, lo.Y), page(x, hi.Y)
		top, bottom := across(a, b, w.Y), across(a, b, w.Y+w.H)
		if upright && within(top, w.X, w.W) {
			p.Line(tick, Point{X: top, Y: w.Y}, Point{X: top, Y: w.Y - 1.5})
		}
		if upright && within(bottom, w.X, w.W) {
			p.Line(tick, Point{X: bottom, Y: w.Y + w.H}, Point{X: bottom, Y: w.Y + w.H + 1.5})
		}
		if upright && within(top, w.X, w.W) {
			p.Text(text, Point{X: top, Y: w.Y - 2.8}, c.East+" "+num(x))
		}
		for _, y := range ys {
			at := page(x, y)
			if w.Inset(2).Contains(Rect{X: at.X, Y: at.Y}) {
				faint := Style{Stroke: RGB(0x8c8c8c), Width: 0.12}
				p.Line(faint, at.Add(Point{X: -1}), at.Add(Point{X: 1}))
				p.Line(faint, at.Add(Point{Y: -1}), at.Add(Point{Y: 1}))
			}
		}
	}
	text.Turn = geo.Degrees(-90)
	for _, y := range ys {
		a, b := page(lo.X, y), page(hi.X, y)
		a, b = Point{X: a.Y, Y: a.X}, Point{X: b.Y, Y: b.X}
		left, right := across(a, b, w.X), across(a, b, w.X+w.W)
		if upright && within(left, w.Y, w.H) {
			p.Line(tick, Point{X: w.X, Y: left}, Point{X: w.X - 1.5, Y: left})
		}
		if upright && within(right, w.Y, w.H) {
			p.Line(tick, Point{X: w.X + w.W, Y: right}, Point{X: w.X + w.W + 1.5, Y: right})
		}
		if upright && within(left, w.Y, w.H) {
			p.Text(text, Point{X: w.X - 2.8, Y: left}, c.North+" "+num(y))
		}
	}
}

// across returns the X at which the line through a and b has this Y, which is
// NaN where it never does.
func across(a, b Point, y float64) float64 { return a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y) }
