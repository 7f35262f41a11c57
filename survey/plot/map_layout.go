package plot

import (
	"asfound/geo/chart"
	"asfound/survey/finding"
)

// Measures of the sheet, millimetres and points.
const (
	margin   = 10.0 // what office printers leave white, and a little
	heading  = 9.0  // band above the map
	ticks    = 4.5  // for the coordinates round the neat line
	gutter   = 3.0
	panel    = 66.0 // width of the panel beside the map on a sheet on its side
	northBox = 17.0 // height of the arrow
	small    = 6.5  // points: legend and notes
	room     = 9.0  // left beside the content for its labels
	over     = 5.0  // left above and below it: labels are wider than high
)

// layout is how a sheet is divided.
type layout struct {
	size   chart.Size
	lying  bool
	frame  chart.Frame
	banner chart.Rect // for a warning, no height if there is none
	block  chart.Rect // title block
	north  chart.Rect
	bar    chart.Rect
	legend chart.Rect
	notes  chart.Rect
	cols   int          // of the legend
	terse  map[int]bool // see scene
}

// layout divides the sheet. The legend depends on what is on the map, and the
// map on the room that the legend leaves: a trial sheet is drawn until the
// legend has the room it needs. Of upright and lying the one with the larger
// scale is taken, upright if they are the same.
func (m *siteMap) layout() layout {
	best, found := layout{}, false
	for _, lying := range []bool{false, true} {
		l, fits := m.tried(lying)
		if fits && (!found || l.frame.Scale < best.frame.Scale) {
			best, found = l, true
		}
	}
	if !found {
		best, _ = m.tried(false)
	}
	return best
}

func (m *siteMap) tried(lying bool) (l layout, fits bool) {
	var entries []chart.Entry
	for range 3 {
		l, fits = m.divide(lying, entries)
		s := m.scene(chart.NewPage(l.size, ""), l)
		s.draw()
		l.terse = map[int]bool{rankHole: s.crowded[rankHole], rankLateral: s.crowded[rankLateral]}
		if len(s.entries()) <= len(entries) {
			break
		}
		entries = s.entries()
	}
	return l, fits
}

// divide divides the sheet for a legend of the given entries; fits is false
// where it leaves too little room for a map.
func (m *siteMap) divide(lying bool, entries []chart.Entry) (l layout, fits bool) {
	l = layout{size: m.opt.Size, lying: lying}
	if lying {
		l.size = l.size.Landscape()
	}
	area := chart.Rect{W: l.size.W, H: l.size.H}.Inset(margin)
	area.Y, area.H = area.Y+heading, area.H-heading
	if text := m.warning(); text != "" {
		l.banner = chart.Rect{X: area.X, Y: area.Y, W: area.W, H: chart.ParagraphHeight(text, area.W-4, 8.5, true) + 2.5}
		area.Y, area.H = area.Y+l.banner.H+gutter/2, area.H-l.banner.H-gutter/2
	}
	var window chart.Rect
	if lying {
		window = m.beside(&l, area, entries)
	} else {
		window = m.below(&l, area, entries)
	}
	l.frame.Window = chart.Rect{X: window.X + ticks, Y: window.Y + ticks, W: window.W - 1.5*ticks, H: window.H - 1.5*ticks}
	center, w, h, _ := chart.Bounds(m.opt.Turn, m.content()...)
	inner := l.frame.Window.Inset(room)
	inner.H = l.frame.Window.H - 2*over
	l.frame.Center, l.frame.Turn = center, m.opt.Turn
	l.frame.Scale = chart.FitScale(w, h, inner, m.opt.Unit)
	return l, l.frame.Window.H >= 0.4*l.size.H && l.frame.Window.W >= 0.4*l.size.W
}

// below puts block, arrow and bar, legend and notes under the map.
func (m *siteMap) below(l *layout, area chart.Rect, entries []chart.Entry) (window chart.Rect) {
	l.cols = 3
	if len(entries) > 0 && len(entries) < 5 {
		l.cols = 2
	}
	notes := chart.ParagraphHeight(m.notes(), area.W-3, small, false) + 2
	legend := 5 + chart.LegendHeight(area.W, small, l.cols, entries)
	wide := area.W * 0.6
	block := max(m.block(wide, 0).Height(), northBox+12)
	bottom := area.Y + area.H
	l.notes = chart.Rect{X: area.X, Y: bottom - notes, W: area.W, H: notes}
	l.legend = chart.Rect{X: area.X, Y: l.notes.Y - gutter/2 - legend, W: area.W, H: legend}
	l.block = chart.Rect{X: area.X, Y: l.legend.Y - gutter - block, W: wide, H: block}
	rest := chart.Rect{X: area.X + wide + gutter, Y: l.block.Y, W: area.W - wide - gutter, H: block}
	l.north = chart.Rect{X: rest.X, Y: rest.Y, W: rest.W, H: northBox}
	l.bar = chart.Rect{X: rest.X, Y: rest.Y + northBox, W: rest.W, H: 12}
	return chart.Rect{X: area.X, Y: area.Y, W: area.W, H: l.block.Y - gutter - area.Y}
}

// beside puts them in a panel to the right of the map.
func (m *siteMap) beside(l *layout, area chart.Rect, entries []chart.Entry) (window chart.Rect) {
	l.cols = 1
	x, y := area.X+area.W-panel, area.Y
	next := func(h float64) chart.Rect {
		r := chart.Rect{X: x, Y: y, W: panel, H: h}
		y += h + gutter
		return r
	}
	l.block = next(m.block(panel, 0).Height())
	l.north = next(northBox)
	l.bar = next(8)
	l.legend = next(5 + chart.LegendHeight(panel, small, l.cols, entries))
	l.notes = next(chart.ParagraphHeight(m.notes(), panel-3, small, false) + 2)
	if over := y - gutter - (area.Y + area.H); over > 0 {
		return chart.Rect{} // the panel is too short: no map in this way
	}
	l.notes.Y = area.Y + area.H - l.notes.H
	return chart.Rect{X: area.X, Y: area.Y, W: area.W - panel - gutter, H: area.H}
}

// furnish draws what stands round the map.
func (m *siteMap) furnish(p *chart.Page, l layout, s *scene) {
	area := p.Area(margin)
	p.Text(chart.Text{Size: 13, Strong: true}, vec(area.X, area.Y+5), chart.Cut(m.title(), area.W*0.72, 13, true))
	which := m.opt.Heading
	if s.short > 0 {
		which = m.says(finding.PaperListsFollow.New(finding.Word("which", which)))
	}
	p.Text(chart.Text{Size: 10, Align: chart.Right}, vec(area.X+area.W, area.Y+5), which)
	p.Line(chart.Style{Stroke: chart.Black, Width: 0.5}, vec(area.X, area.Y+7), vec(area.X+area.W, area.Y+7))
	if text := m.warning(); text != "" {
		p.Rect(chart.Style{Stroke: chart.Black, Width: 0.7}, l.banner)
		p.Paragraph(chart.Text{Size: 8.5, Strong: true}, l.banner.Inset(1.25), text)
	}
	chart.Grid(p, l.frame, m.grid())

	m.block(l.block.W, l.frame.Scale).Draw(p, vec(l.block.X, l.block.Y), l.block.H+1)
	at := vec(l.north.X+l.north.W/2, l.north.Y+l.north.H/2)
	if m.knowsNorth() {
		chart.Arrow(p, at, northBox, l.frame.Turn)
	} else {
		chart.UpMark(p, at, northBox-3, l.frame.Turn, m.upWords()...)
	}
	long, _ := chart.BarLength(l.frame.Scale, m.opt.Unit, l.bar.W-14)
	chart.ScaleBar(p, vec(l.bar.X+(l.bar.W-l.frame.Scale.Paper(long)-6)/2, l.bar.Y+7), l.frame.Scale, m.opt.Unit, m.barUnit(), l.bar.W-14)

	p.Text(chart.Text{Size: 7.5, Strong: true}, vec(l.legend.X, l.legend.Y+3), m.word(finding.PaperOnThisMap))
	p.Group("legend", nil, func() {
		chart.Legend(p, chart.Rect{X: l.legend.X, Y: l.legend.Y + 4.5, W: l.legend.W, H: l.legend.H}, small, l.cols, s.entries())
	})
	p.Rect(chart.Style{Stroke: chart.Black, Width: 0.3}, l.notes)
	notes := l.notes.Inset(1)
	notes.X, notes.W = l.notes.X+1.5, l.notes.W-3
	p.Paragraph(chart.Text{Size: small}, notes, m.notes())
}
