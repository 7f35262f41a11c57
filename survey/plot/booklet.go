package plot

import (
	"asfound/geo/chart"
	"asfound/survey/finding"
)

// booklet sets headings, paragraphs and tables one below the other, and turns the
// page where one is full.
type booklet struct {
	m     *siteMap
	size  chart.Size
	which string // what the sheet is, beside its title
	pages []*chart.Page
	page  *chart.Page
	area  chart.Rect
	y     float64
}

// foot is the room in millimetres that the line at the foot of a page takes.
const foot = 6.0

func newBooklet(m *siteMap, which string) *booklet {
	f := &booklet{m: m, size: m.opt.Size, which: which}
	f.turn()
	return f
}

// turn begins a page.
func (f *booklet) turn() {
	title := f.m.titled(f.which)
	f.page = chart.NewPage(f.size, title)
	f.pages = append(f.pages, f.page)
	f.area = f.page.Area(margin)
	f.area.H -= foot
	a := f.area
	name := chart.Cut(f.m.title(), a.W*0.55, 13, true)
	f.page.Text(chart.Text{Size: 13, Strong: true}, vec(a.X, a.Y+5), name)
	right := f.which
	if p := f.m.permit(); p != "" {
		right += " · " + f.m.says(finding.PaperPermit.New(finding.Word("permit", p)))
	}
	if !f.m.opt.Date.IsZero() {
		right += " · " + f.m.day()
	}
	f.page.Text(chart.Text{Size: 8.5, Align: chart.Right}, vec(a.X+a.W, a.Y+5), chart.Cut(right, a.W-4-chart.TextWidth(name, 13, true), 8.5, false))
	f.page.Line(chart.Style{Stroke: chart.Black, Width: 0.5}, vec(a.X, a.Y+7), vec(a.X+a.W, a.Y+7))
	f.y = a.Y + 9
}

// left is the room in millimetres below what is set.
func (f *booklet) left() float64 { return f.area.Y + f.area.H - f.y }

// need turns the page where fewer than h millimetres are left on it.
func (f *booklet) need(h float64) {
	if f.left() < h {
		f.turn()
	}
}

// heading sets a heading, with room for at least h millimetres below it.
func (f *booklet) heading(text string, h float64) {
	f.need(8 + h)
	f.page.Text(chart.Text{Size: 10, Strong: true}, vec(f.area.X, f.y+5), text)
	f.y += 7
}

// paragraph sets a paragraph.
func (f *booklet) paragraph(size float64, strong bool, text string) {
	h := chart.ParagraphHeight(text, f.area.W, size, strong)
	f.need(min(h, f.area.H-12))
	f.page.Paragraph(chart.Text{Size: size, Strong: strong}, chart.Rect{X: f.area.X, Y: f.y, W: f.area.W, H: h}, text)
	f.y += h + 1.2
}

// framed sets a paragraph in a frame.
func (f *booklet) framed(size float64, strong bool, text string) {
	h := chart.ParagraphHeight(text, f.area.W-4, size, strong) + 3
	f.need(min(h, f.area.H-12))
	r := chart.Rect{X: f.area.X, Y: f.y, W: f.area.W, H: h}
	f.page.Rect(chart.Style{Stroke: chart.Black, Width: 0.7}, r)
	f.page.Paragraph(chart.Text{Size: size, Strong: strong}, chart.Rect{X: r.X + 2, Y: r.Y + 1.5, W: r.W - 4, H: r.H}, text)
	f.y += h + 2
}

// table sets a table, on as many pages as it takes, its head on each.
func (f *booklet) table(t *chart.Table) {
	for len(t.Rows) > 0 {
		f.need(t.RowHeight(-1) + t.RowHeight(0))
		n, bottom := t.Draw(f.page, vec(f.area.X, f.y), f.left())
		if n == 0 { // a row higher than a page: leave it out rather than go on for ever
			n = 1
		}
		t, f.y = t.Rest(n), bottom+2
	}
}

// spread gives columns their share of the width, of as many shares in all as
// the widths add up to.
func (f *booklet) spread(columns ...chart.Column) []chart.Column {
	sum := 0.0
	for _, c := range columns {
		sum += c.Width
	}
	for i := range columns {
		columns[i].Width *= f.area.W / sum
	}
	return columns
}

// number sets the foot of every page, counted from first of all.
func (f *booklet) number(pages []*chart.Page, first, all int, says string) {
	for i, p := range pages {
		a := p.Area(margin)
		t := chart.Text{Size: small, Color: chart.Grey}
		p.Text(t, vec(a.X, a.Y+a.H-0.5), chart.Cut(says, a.W-25, small, false))
		t.Align = chart.Right
		p.Text(t, vec(a.X+a.W, a.Y+a.H-0.5), f.m.says(finding.PaperPage.New(finding.Number("page", float64(first+i)), finding.Number("pages", float64(all)))))
	}
}
