package chart

import (
	"asfound/geo"
)

// Align is which side of a text its place is at.
type Align int

// Alignments.
const (
	Left Align = iota
	Middle
	Right
)

// Text is how a text is set. The zero Text but for Size is black, regular,
// upright, and begins at its place with its baseline there.
type Text struct {
	Size   float64 // points
	Strong bool    // bold
	Align  Align
	Center bool // the place is at half the height of a capital, not on the baseline
	Turn   geo.Angle
	Color  Color // zero: black
	Halo   bool  // a white edge, so that it can be read over lines
}

type text struct {
	Text
	at Point // where the baseline begins
	s  string
	w  float64 // millimetres
}

func (t text) draw(w writer) { w.text(t) }

// Text sets s on one line. Turn is clockwise on the page, about the place.
func (p *Page) Text(t Text, at Point, s string) {
	s = printable(s, t.Strong)
	if s == "" || !(t.Size > 0) || !finite(at, Point{X: t.Turn.Degrees()}) {
		return
	}
	if t.Color == (Color{}) {
		t.Color = Black
	}
	w := TextWidth(s, t.Size, t.Strong)
	var d Point
	switch t.Align {
	case Middle:
		d.X = -w / 2
	case Right:
		d.X = -w
	}
	if t.Center {
		d.Y = capHeight * t.Size * mmPerPoint / 2
	}
	// Y runs down, so what is counter-clockwise in mathematics is clockwise here.
	p.add(text{t, at.Add(d.Rotate(t.Turn)), s, w})
}

// LineHeight returns the distance in millimetres between lines of size points.
func LineHeight(size float64) float64 { return 1.25 * size * mmPerPoint }

// Paragraph sets s in lines no wider than r, from its top, as far as r
// reaches, and returns the height taken in millimetres. What does not fit is
// cut short with …; measure with ParagraphHeight to make room.
func (p *Page) Paragraph(t Text, r Rect, s string) float64 {
	lines := Wrap(s, r.W, t.Size, t.Strong)
	step := LineHeight(t.Size)
	if most := max(1, int((r.H+1e-9)/step)); len(lines) > most {
		lines = lines[:most]
		lines[most-1] = Cut(lines[most-1]+"…", r.W, t.Size, t.Strong)
	}
	x := r.X
	switch t.Align {
	case Middle:
		x += r.W / 2
	case Right:
		x += r.W
	}
	for i, l := range lines {
		p.Text(t, Point{X: x, Y: r.Y + step*(float64(i)+0.78)}, l)
	}
	return step * float64(len(lines))
}

// ParagraphHeight returns the height in millimetres that s takes in lines of
// width millimetres at size points.
func ParagraphHeight(s string, width, size float64, strong bool) float64 {
	return LineHeight(size) * float64(len(Wrap(s, width, size, strong)))
}
