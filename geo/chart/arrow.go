package chart

import "asfound/geo"

// Arrow draws a north arrow of the given height in millimetres about at,
// pointing as north lies in a frame turned by turn.
func Arrow(p *Page, at Point, height float64, turn geo.Angle) {
	a := geo.Radians(-turn.Radians()) // Y runs down
	to := func(x, y float64) Point { return at.Add(Point{X: x * height, Y: -y * height}.Rotate(a)) }
	edge := Style{Stroke: Black, Width: 0.25}
	left, right := edge, edge
	left.Fill, right.Fill = White, Black
	p.Polygon(left, []Point{to(0, 0.28), to(-0.16, -0.5), to(0, -0.36)})
	p.Polygon(right, []Point{to(0, 0.28), to(0.16, -0.5), to(0, -0.36)})
	p.Text(Text{Size: height * 0.24 / mmPerPoint / capHeight * 0.8, Strong: true, Align: Middle, Center: true}, to(0, 0.42), "N")
}

// UpMark draws the sign for a sheet whose north is unknown, of the given height
// in millimetres: an open arrow pointing up, and lines of words.
func UpMark(p *Page, at Point, height float64, turn geo.Angle, words ...string) {
	a := geo.Radians(-turn.Radians())
	to := func(x, y float64) Point { return at.Add(Point{X: x * height, Y: -y * height}.Rotate(a)) }
	s := Style{Stroke: Black, Width: 0.35, Dash: []float64{1, 0.7}}
	p.Line(s, to(0, -0.12), to(0, 0.5))
	s.Dash = nil
	p.Line(s, to(-0.12, 0.34), to(0, 0.5), to(0.12, 0.34))
	t := Text{Size: 5.5, Align: Middle, Strong: true}
	for i, w := range words {
		p.Text(t, at.Add(Point{Y: 0.3*height + float64(i)*LineHeight(5.5)}), w)
	}
}
