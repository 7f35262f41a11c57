package sheet

import (
	"asfound/geo/chart"
)

// flow sets text, tables and boxes one below the other, on as many pages as
// they need.
type flow struct {
	size    chart.Size
	title   string
	heading string
	pages   []*chart.Page
	page    *chart.Page
	area    chart.Rect
	y       float64 // where the next thing goes
}

func newFlow(size chart.Size, title, heading string) *flow {
	f := &flow{size: size, title: title, heading: heading}
	f.turn()
	return f
}

// turn begins a page.
func (f *flow) turn() {
	f.page = chart.NewPage(f.size, f.heading+": "+f.title)
	f.pages = append(f.pages, f.page)
	f.area = chart.Rect{W: f.size.W, H: f.size.H}.Inset(margin)
	f.page.Text(chart.Text{Size: 13, Strong: true}, vec(f.area.X, f.area.Y+5), chart.Cut(f.title, f.area.W*0.72, 13, true))
	f.page.Text(chart.Text{Size: 10, Align: chart.Right}, vec(f.area.X+f.area.W, f.area.Y+5), f.heading)
	f.page.Line(chart.Style{Stroke: chart.Black, Width: 0.5}, vec(f.area.X, f.area.Y+7), vec(f.area.X+f.area.W, f.area.Y+7))
	f.y = f.area.Y + 11
}

// room begins a page where less than h millimetres are left.
func (f *flow) room(h float64) {
	if f.y+h > f.area.Y+f.area.H {
		f.turn()
	}
}

// text sets a paragraph.
func (f *flow) text(size float64, strong bool, s string) {
	h := chart.ParagraphHeight(s, f.area.W, size, strong)
	f.room(h)
	f.page.Paragraph(chart.Text{Size: size, Strong: strong}, chart.Rect{X: f.area.X, Y: f.y, W: f.area.W, H: h + 1}, s)
	f.y += h + 1.5
}

// list sets lines with a mark before each.
func (f *flow) list(size float64, lines []string) {
	for _, s := range lines {
		h := chart.ParagraphHeight(s, f.area.W-4, size, false)
		f.room(h)
		f.page.Text(chart.Text{Size: size}, vec(f.area.X, f.y+0.8*chart.LineHeight(size)), "–")
		f.page.Paragraph(chart.Text{Size: size}, chart.Rect{X: f.area.X + 4, Y: f.y, W: f.area.W - 4, H: h + 1}, s)
		f.y += h + 0.8
	}
	f.y++
}

// table sets a table under a name, going on over pages.
func (f *flow) table(name string, t *chart.Table) {
	for len(t.Rows) > 0 {
		f.room(8 + t.RowHeight(-1) + t.RowHeight(0))
		f.page.Text(chart.Text{Size: 9, Strong: true}, vec(f.area.X, f.y+3), name)
		n, bottom := t.Draw(f.page, vec(f.area.X, f.y+4.5), f.area.Y+f.area.H-f.y-4.5)
		if n == 0 { // a row higher than a page: leave it out rather than go on for ever
			n = 1
		}
		if t = t.Rest(n); len(t.Rows) > 0 {
			f.turn()
			continue
		}
		f.y = bottom + 4
	}
}

// even returns columns of one width, their text to the left.
func even(width float64, heads ...string) (cols []chart.Column) {
	for _, h := range heads {
		cols = append(cols, chart.Column{Head: h, Width: width / float64(len(heads))})
	}
	return cols
}
