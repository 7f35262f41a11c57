package plot

import (
	"strconv"

	"asfound/asbuilt"
	"asfound/geo"
	"asfound/geo/chart"
	"asfound/survey"
	"asfound/survey/finding"
	"asfound/survey/locate"
)

// lists returns the pages that say in words what had no room on the map.
func (m *siteMap) lists(size chart.Size) (pages []*chart.Page) {
	area := chart.Rect{W: size.W, H: size.H}.Inset(margin)
	var page *chart.Page
	y := area.Y + area.H
	turn := func() {
		lists := m.says(finding.PaperLists.New(finding.Word("which", m.opt.Heading)))
		page = chart.NewPage(size, m.titled(lists))
		pages = append(pages, page)
		page.Text(chart.Text{Size: 13, Strong: true}, vec(area.X, area.Y+5), chart.Cut(m.title(), area.W*0.72, 13, true))
		page.Text(chart.Text{Size: 10, Align: chart.Right}, vec(area.X+area.W, area.Y+5), lists)
		page.Line(chart.Style{Stroke: chart.Black, Width: 0.5}, vec(area.X, area.Y+7), vec(area.X+area.W, area.Y+7))
		y = area.Y + 12
	}
	for _, list := range []struct {
		name  string
		table *chart.Table
	}{{m.word(finding.PaperParts), m.partTable(area.W)}, {m.word(finding.PaperHolesDug), m.holeTable(area.W)}} {
		rest := list.table
		for len(rest.Rows) > 0 {
			if y+8+rest.RowHeight(-1)+rest.RowHeight(0) > area.Y+area.H {
				turn()
			}
			page.Text(chart.Text{Size: 9, Strong: true}, vec(area.X, y+3), list.name)
			n, bottom := rest.Draw(page, vec(area.X, y+5), area.Y+area.H-y-5)
			if n == 0 { // a row higher than a page: leave it out rather than go on for ever
				n = 1
			}
			rest, y = rest.Rest(n), bottom+6
			if len(rest.Rows) > 0 {
				y = area.Y + area.H
			}
		}
	}
	return pages
}

// partTable lists the spots of the system.
func (m *siteMap) partTable(width float64) *chart.Table {
	t := &chart.Table{Size: 8, Columns: columns(width, m.heads(finding.PaperHeadPart, finding.PaperHeadSpot, finding.PaperHeadState)...)}
	for _, s := range m.loc.Spots {
		if !buried(s.Kind) || s.Kind == asbuilt.Header {
			continue
		}
		east, north := m.coordinates(s.At)
		row := []string{s.Part, m.reader().Name(string(s.Spot)), m.reader().Name(string(s.State)), east, north, geo.FormatLength(s.Landmarks95, m.opt.Unit), "", ""}
		if s.Depth != nil {
			row[6], row[7] = m.depth(*s.Depth), m.reader().Name(string(s.Depth.Feature))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// holeTable lists the holes of the log.
func (m *siteMap) holeTable(width float64) *chart.Table {
	t := &chart.Table{Size: 8, Columns: columns(width, m.heads(finding.PaperHeadHole, finding.PaperHeadMetWhat, finding.PaperHeadSpot)...)}
	for i := range m.loc.Holes {
		h := &m.loc.Holes[i]
		east, north := m.coordinates(h.At)
		row := []string{h.Name, m.emptyBy(h), "", east, north, geo.FormatLength(h.Ellipse.SemiMajor, m.opt.Unit), "", ""}
		if h.Met != "" {
			row[1], row[2] = h.Met, m.reader().Name(string(h.Spot))
		}
		if h.Depth != nil {
			row[6] = geo.FormatDepth(*h.Depth, m.opt.Unit)
			if h.Met != "" {
				row[7] = m.reader().Name(string(orTop(*h)))
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func orTop(h locate.Hole) survey.Feature {
	if h.Feature == "" {
		return survey.Top
	}
	return h.Feature
}

// heads returns the heads of a table: the first three, the two coordinates, and how
// sure and how deep.
func (m *siteMap) heads(first ...finding.Code) (heads []string) {
	for _, c := range first {
		heads = append(heads, m.word(c))
	}
	if m.knowsNorth() {
		heads = append(heads, m.word(finding.PaperEast), m.word(finding.PaperNorth))
	} else {
		heads = append(heads, "x", "y")
	}
	return append(heads, m.word(finding.PaperHeadWithin), m.word(finding.PaperHeadDepth), m.word(finding.PaperHeadToWhat))
}

// coordinates writes those of a place as the grid of the map has them, in
// decimals.
func (m *siteMap) coordinates(at geo.Vec) (east, north string) {
	write := func(v float64) string { return geo.FormatLength(v, m.opt.Unit) }
	if m.opt.Unit == geo.Foot {
		write = geo.FormatTenths
	}
	if _, ok := m.crs(); ok {
		xy, known := m.loc.Frame.Grid(at)
		if !known {
			return "", ""
		}
		at, write = xy, func(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }
	}
	return write(at.X), write(at.Y)
}

// columns spreads heads evenly over a width; numbers, from the fourth to the
// seventh, stand to the right.
func columns(width float64, heads ...string) (cols []chart.Column) {
	for i, h := range heads {
		c := chart.Column{Head: h, Width: width / float64(len(heads))}
		if i >= 3 && i <= 6 {
			c.Align = chart.Right
		}
		cols = append(cols, c)
	}
	return cols
}
