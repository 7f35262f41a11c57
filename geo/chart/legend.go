package chart

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
