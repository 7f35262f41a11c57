package chart

import (
	"math"
	"strconv"
	"strings"

	"asfound/geo"
)

// Arrow draws a north arrow of the given height in millimetres about at,
// pointing as north lies in a frame turned by turn.
func Arrow(p *Page, at geo.Vec, height float64, turn geo.Angle) {
	a := geo.Radians(-turn.Radians()) // Y runs down
	to := func(x, y float64) geo.Vec { return at.Add(geo.Vec{X: x * height, Y: -y * height}.Rotate(a)) }
	edge := Style{Stroke: Black, Width: 0.25}
	left, right := edge, edge
	left.Fill, right.Fill = White, Black
	p.Polygon(left, []geo.Vec{to(0, 0.28), to(-0.16, -0.5), to(0, -0.36)})
	p.Polygon(right, []geo.Vec{to(0, 0.28), to(0.16, -0.5), to(0, -0.36)})
	p.Text(Text{Size: height * 0.24 / mmPerPoint / capHeight * 0.8, Strong: true, Align: Middle, Center: true}, to(0, 0.42), "N")
}

// UpMark draws the sign of a sheet that does not know north, of the given
// height in millimetres: an open arrow up, and words.
func UpMark(p *Page, at geo.Vec, height float64, turn geo.Angle) {
	a := geo.Radians(-turn.Radians())
	to := func(x, y float64) geo.Vec { return at.Add(geo.Vec{X: x * height, Y: -y * height}.Rotate(a)) }
	s := Style{Stroke: Black, Width: 0.35, Dash: []float64{1, 0.7}}
	p.Line(s, to(0, -0.12), to(0, 0.5))
	s.Dash = nil
	p.Line(s, to(-0.12, 0.34), to(0, 0.5), to(0.12, 0.34))
	t := Text{Size: 5.5, Align: Middle, Strong: true}
	p.Text(t, at.Add(geo.Vec{Y: 0.3 * height}), "up of sheet")
	p.Text(t, at.Add(geo.Vec{Y: 0.3*height + LineHeight(5.5)}), "NOT NORTH")
}

// BarLength returns the length in metres of a scale bar no longer than most
// millimetres: 1, 2 or 5 times a power of ten of unit, and how many divisions
// it has.
func BarLength(s Scale, unit geo.Unit, most float64) (metres float64, divisions int) {
	per, ok := unit.Metres()
	if !ok {
		per = 1
	}
	n := step(s.Ground(most) / per)
	divisions = 5
	if lead := n / math.Pow(10, math.Floor(math.Log10(n)+1e-9)); math.Abs(lead-2) < 0.01 {
		divisions = 4
	}
	return n * per, divisions
}

// ScaleBar draws a scale bar in unit, no longer than most millimetres, from
// at, its lower left corner. It shows the true scale even of a copy in another
// size.
func ScaleBar(p *Page, at geo.Vec, s Scale, unit geo.Unit, most float64) {
	if _, ok := unit.Metres(); !ok {
		unit = geo.Metre
	}
	metres, n := BarLength(s, unit, most)
	per, _ := unit.Metres()
	long, high := s.Paper(metres), 1.8
	p.Group("scale-bar", nil, func() {
		for i := range n {
			st := Style{Stroke: Black, Width: 0.2, Fill: Black}
			if i%2 == 1 {
				st.Fill = White
			}
			p.Rect(st, Rect{at.X + long*float64(i)/float64(n), at.Y - high, long / float64(n), high})
		}
		for i := range n + 1 {
			x := at.X + long*float64(i)/float64(n)
			p.Line(Style{Stroke: Black, Width: 0.2}, geo.Vec{X: x, Y: at.Y - high - 0.8}, geo.Vec{X: x, Y: at.Y - high})
			if i%2 == 1 && i != n {
				continue
			}
			label := strconv.FormatFloat(math.Round(metres/per*float64(i)/float64(n)*1000)/1000, 'f', -1, 64)
			t := Text{Size: 6.5, Align: Middle}
			if i == n {
				w := TextWidth(label, t.Size, false)
				t.Align = Left
				x -= w / 2
				label += " " + unitWord(unit)
			}
			p.Text(t, geo.Vec{X: x, Y: at.Y - high - 1.4}, label)
		}
	})
}

func unitWord(u geo.Unit) string {
	switch u {
	case geo.Foot:
		return "feet"
	case geo.Metre:
		return "metres"
	}
	return string(u)
}

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
// along it, and crosses where grid lines meet inside. In a turned frame it
// draws the neat line and the crosses alone, for a tick on the edge would not
// stand for one coordinate.
func Grid(p *Page, f Frame, unit geo.Unit) {
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
		return strings.TrimPrefix(strconv.FormatFloat(math.Round(i*d/per*100)/100, 'f', -1, 64), "-0")
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
			p.Text(t, geo.Vec{X: at.X, Y: w.Y - 2.8}, "E "+orZero(name(x)))
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
			p.Text(t, geo.Vec{X: w.X - 2.8, Y: at.Y}, "N "+orZero(name(y)))
		}
	}
}

func orZero(s string) string {
	if s == "" {
		return "0"
	}
	return s
}

// Entry is a line of a legend: a word or two, and what draws the sign in the
// rectangle given.
type Entry struct {
	Text string
	Draw func(p *Page, r Rect)
}

// Legend draws entries in columns across r, from its top, and returns the
// height taken in millimetres.
func Legend(p *Page, r Rect, size float64, columns int, entries []Entry) float64 {
	columns = max(1, columns)
	sign := Rect{W: 9, H: 3.4}
	wide := r.W / float64(columns)
	rows := (len(entries) + columns - 1) / columns
	y := r.Y
	for row := range rows {
		high := 0.0
		for c := range columns {
			i := c*rows + row // down the columns
			if i >= len(entries) {
				continue
			}
			x := r.X + float64(c)*wide
			if entries[i].Draw != nil {
				entries[i].Draw(p, Rect{x, y + 0.3, sign.W, sign.H})
			}
			words := Rect{x + sign.W + 1.5, y + 0.5, wide - sign.W - 3, r.H}
			high = max(high, p.Paragraph(Text{Size: size}, words, entries[i].Text)+1, sign.H+0.9)
		}
		y += high
	}
	return y - r.Y
}

// LegendHeight returns the height in millimetres that Legend takes in a width
// of millimetres.
func LegendHeight(width, size float64, columns int, entries []Entry) float64 {
	return Legend(NewPage(Size{}, ""), Rect{W: width, H: 1e6}, size, columns, entries)
}
