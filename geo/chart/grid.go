package chart

import (
	"math"

	"asfound/geo"
)

// GridStep returns the distance in metres between the ticks of a grid: 1, 2 or
// 5 times a power of ten of unit, ten or more where the scale allows, 20 mm
// apart or more on paper.
func GridStep(s Scale, unit geo.Unit) float64 {
	per, ok := unit.Metres()
	if !ok {
		per = 1
	}
	n := step(s.Ground(20) / per)
	for s.Paper(n*per) < 20 {
		n = step(n * 2.5)
	}
	return n * per
}

// Grid draws the neat line round a frame, ticks and their coordinates in unit
// along it, and crosses where grid lines meet inside. east and north are put
// before the numbers: E and N, or x and y where the plane knows no north. In a
// turned frame it draws the neat line and the crosses alone, for a tick on the
// edge would not stand for one coordinate.
func Grid(p *Page, f Frame, unit geo.Unit, east, north string) {
	w := f.Window
	p.Rect(Style{Stroke: Black, Width: 0.4}, w)
	if _, ok := unit.Metres(); !ok {
		unit = geo.Metre
	}
	per, _ := unit.Metres()
	d := GridStep(f.Scale, unit)
	var corners []geo.Vec
	for _, c := range w.ring() {
		corners = append(corners, f.Ground(c))
	}
	middle, gw, gh, ok := Bounds(geo.Angle{}, corners...)
	if !ok || gw/d > 200 || gh/d > 200 {
		return
	}
	lo := middle.Sub(geo.Vec{X: gw / 2, Y: gh / 2})
	first := geo.Vec{X: math.Ceil(lo.X / d), Y: math.Ceil(lo.Y / d)}
	tick, text := Style{Stroke: Black, Width: 0.2}, Text{Size: 5.5, Color: Grey, Center: true}
	name := func(i float64) string {
		return num(i * d / per)
	}
	upright := math.Abs(f.Turn.Signed().Degrees()) < 1e-6
	nx, ny := int(gw/d)+1, int(gh/d)+1
	for i := range nx {
		x := first.X + float64(i)
		at := f.Page(geo.Vec{X: x * d, Y: middle.Y})
		if upright && at.X > w.X+8 && at.X < w.X+w.W-8 {
			p.Line(tick, geo.Vec{X: at.X, Y: w.Y}, geo.Vec{X: at.X, Y: w.Y - 1.5})
			p.Line(tick, geo.Vec{X: at.X, Y: w.Y + w.H}, geo.Vec{X: at.X, Y: w.Y + w.H + 1.5})
			t := text
			t.Align = Middle
			p.Text(t, geo.Vec{X: at.X, Y: w.Y - 2.8}, east+" "+name(x))
		}
		for j := range ny {
			c := f.Page(geo.Vec{X: x * d, Y: (first.Y + float64(j)) * d})
			if w.Inset(2).Contains(Rect{X: c.X, Y: c.Y}) {
				faint := Style{Stroke: RGB(0x8c8c8c), Width: 0.12}
				p.Line(faint, c.Add(geo.Vec{X: -1}), c.Add(geo.Vec{X: 1}))
				p.Line(faint, c.Add(geo.Vec{Y: -1}), c.Add(geo.Vec{Y: 1}))
			}
		}
	}
	for j := range ny {
		y := first.Y + float64(j)
		at := f.Page(geo.Vec{X: middle.X, Y: y * d})
		if upright && at.Y > w.Y+8 && at.Y < w.Y+w.H-8 {
			p.Line(tick, geo.Vec{X: w.X, Y: at.Y}, geo.Vec{X: w.X - 1.5, Y: at.Y})
			p.Line(tick, geo.Vec{X: w.X + w.W, Y: at.Y}, geo.Vec{X: w.X + w.W + 1.5, Y: at.Y})
			t := text
			t.Align, t.Turn = Middle, geo.Degrees(-90)
			p.Text(t, geo.Vec{X: w.X - 2.8, Y: at.Y}, north+" "+name(y))
		}
	}
}
